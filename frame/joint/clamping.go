package joint

import (
	"cmp"
	"fmt"
	"math"

	"tiploop/frame/constant"
)

// Plate is one of the two parts a screw joins, as its clamping feels it.
type Plate struct {
	E         float64 // MPa
	Nu        float64 // Poisson's ratio
	Thickness float64 // along the screw, mm
	// Depth is the distance from the contact face to the part's axis, where a beam model takes
	// over, mm. 0 leaves the spreading of the force out, for a part whose mesh holds it already.
	Depth float64
}

// Clamping is one screw and what it holds together.
type Clamping struct {
	Screw      Screw
	TorqueNmm  float64 // tightening torque, N·mm; 0 takes the preload from ProofShare
	ProofShare float64 // preload over proof load; 0 takes the typical proof_share
	Head       Head    // how the head sits; HeadUnsaid is proud
	Surface    Surface // of both faces
	Drilled    Plate   // the clamped part, with the through hole
	Tapped     Plate   // the part with the thread
	Shim       *Layer  // nil: none
	HalfAngle  float64 // of the pressure cone, degrees; 0 takes the typical cone_half_angle

	// What cuts the pressure zone. ZoneArea, when the caller has computed it (see PressureZone), goes before the two
	// radii, which cut the whole ring to the nearest obstacle. A computed area of 0 means that no face is left to press
	// on: such a screw is no clamping.
	ZoneArea      float64 // mm²; 0: not given
	EdgeRoom      float64 // distance to the nearest edge of the face, mm; 0: no edge near
	NeighbourRoom float64 // half the distance to the next screw, mm; 0: none near
}

// ClampingStiffness is a clamping as springs, with what they are made of. All stiffnesses are in N/mm, of the
// whole clamping; a spring that is not there is 0.
type ClampingStiffness struct {
	Preload              float64 // N
	ZoneInner, ZoneOuter float64 // radii of the pressure zone, mm; the outer one before ZoneArea cuts it
	ZoneArea             float64 // mm²
	Pressure             float64 // mean pressure in the zone, MPa

	Normal     float64 // along the screw, the screw's own stiffness included
	Tangential float64 // across the screw, alike in both directions

	// Against turning of the zone, as separate springs spread over it, the screw's own stiffness left out: about an
	// axis in the face, and about the screw.
	Tilt, Spin float64

	ContactNormal, ContactTangential                float64 // of all interfaces
	SpreadNormalDrilled, SpreadNormalTapped         float64 // of the metal between face and axis
	SpreadTangentialDrilled, SpreadTangentialTapped float64
	ShimNormal, ShimTangential                      float64 // of the shim itself
	ScrewAxial                                      float64 // of the screw, parallel to all the others
	LoadShare                                       float64 // Φ, the share of an axial load the screw takes

	// Forces at which the springs stop being true, N, when nothing but they acts: across the screw with the low friction,
	// along it in tension. Both start from LeastPreload, what is left of a screw that was tightened little and has
	// settled. See [ClampingStiffness.Use] for moments and for several at once.
	LeastPreload, SlipForce, OpenForce float64
}

// lightMetalE separates aluminium from steel, iron and brass by modulus, MPa: aluminium has 70,
// grey iron from about 88 up, brass 100.
const lightMetalE = 80e3

// tightening is what turning the screw works against.
func (s Clamping) tightening() Tightening {
	return Tightening{
		Thread:       Thread{s.Screw.D, s.Screw.Pitch},
		BearingOuter: s.Screw.HeadDiameter, Hole: s.Screw.Clearance,
		ThreadFriction: threadFriction.Band.Typical, HeadFriction: headFriction.Band.Typical,
	}
}

// PreloadForce returns the preload the screw is meant to have, N: from the torque if one is given,
// else from the share of the proof load. The typical preload_scatter is in it. A torque that makes the
// screw yield leaves it at the force at which it does.
func (s Clamping) PreloadForce() float64 {
	meant := 0.0
	if s.TorqueNmm > 0 {
		t := s.tightening()
		meant = math.Min(t.Preload(s.TorqueNmm), t.AssemblyPreload(s.Screw.Yield, 1))
	} else {
		share := s.ProofShare
		if share == 0 {
			share = proofShare.Band.Typical
		}
		meant = share * s.Screw.ProofLoad()
	}
	return preloadScatter.Band.Typical * meant
}

// clamped returns how much lies between the screw's head and its thread, mm.
func (s Clamping) clamped() float64 {
	l := s.Head.ClampedLength(s.Screw, s.Drilled.Thickness)
	if s.Head == Washer {
		l += s.Screw.WasherThickness
	}
	if s.Shim != nil {
		l += s.Shim.Thickness
	}
	return l
}

// Ring returns the radii of the pressure zone before anything cuts it, mm. It starts at the
// clearance hole and ends where the cone from under the head meets the face:
// d_w/2 + t tanφ, d_w being what head or washer press on, t the clamped length of the drilled part.
func (s Clamping) Ring() (inner, outer float64) {
	t := s.Head.ClampedLength(s.Screw, s.Drilled.Thickness)
	tan := math.Tan(s.halfAngle() * math.Pi / 180)
	return s.Screw.Clearance / 2, s.Head.Bearing(s.Screw)/2 + t*tan
}

func (s Clamping) halfAngle() float64 { return cmp.Or(s.HalfAngle, coneHalfAngle.Band.Typical) }

// Stiffness returns the springs of the clamping. A clamping whose numbers make no sense, or whose zone the
// edges leave nothing of, is an error.
func (s Clamping) Stiffness() (ClampingStiffness, error) {
	if err := s.check(); err != nil {
		return ClampingStiffness{}, err
	}
	var k ClampingStiffness
	k.Preload = s.PreloadForce()
	k.ZoneInner, k.ZoneOuter = s.Ring()
	k.ZoneArea = s.ZoneArea
	if k.ZoneArea == 0 {
		for _, room := range []float64{s.EdgeRoom, s.NeighbourRoom} {
			if room > 0 {
				k.ZoneOuter = math.Min(k.ZoneOuter, room)
			}
		}
		if k.ZoneOuter <= k.ZoneInner {
			return ClampingStiffness{}, fmt.Errorf("edge or neighbour at %g mm leaves no pressure zone around a %s hole "+
				"of radius %g mm",
				k.ZoneOuter, s.Screw.Size, k.ZoneInner)
		}
		k.ZoneArea = math.Pi * (k.ZoneOuter*k.ZoneOuter - k.ZoneInner*k.ZoneInner)
	}
	k.Pressure = k.Preload / k.ZoneArea

	interfaces := 1.0
	if s.Shim != nil {
		interfaces = s.Shim.interfaces()
		k.ShimNormal = s.Shim.Modulus(k.Pressure) * k.ZoneArea / s.Shim.Thickness
		k.ShimTangential = s.Shim.shear(k.Pressure) * k.ZoneArea / s.Shim.Thickness
	}
	k.ContactNormal = s.Surface.ContactStiffness(k.Pressure).Typical * k.ZoneArea / interfaces
	k.ContactTangential = tangentialRatio.Band.Typical * k.ContactNormal
	k.SpreadNormalDrilled, k.SpreadTangentialDrilled = s.Drilled.spread(k.ZoneArea)
	k.SpreadNormalTapped, k.SpreadTangentialTapped = s.Tapped.spread(k.ZoneArea)
	k.ScrewAxial = s.Screw.AxialStiffness(s.clamped(), s.Tapped.E)

	joint := Preloaded{
		Screw:   k.ScrewAxial,
		Members: Series(present(k.SpreadNormalDrilled, k.ContactNormal, k.ShimNormal, k.SpreadNormalTapped)...),
		Preload: k.Preload,
	}
	k.Normal = joint.Stiffness()
	k.Tangential = Series(present(k.SpreadTangentialDrilled, k.ContactTangential, k.ShimTangential,
		k.SpreadTangentialTapped)...)
	k.Tilt = Series(present(s.Drilled.turning(k.ZoneArea, SpreadTilt), k.ContactNormal, k.ShimNormal,
		s.Tapped.turning(k.ZoneArea, SpreadTilt))...)
	k.Spin = Series(present(s.Drilled.turning(k.ZoneArea, SpreadSpin), k.ContactTangential, k.ShimTangential,
		s.Tapped.turning(k.ZoneArea, SpreadSpin))...)
	k.LoadShare = joint.LoadShare()
	k.LeastPreload = s.leastPreload(k.Pressure, k.ZoneArea)
	joint.Preload = k.LeastPreload
	k.OpenForce = joint.SeparationLoad()
	k.SlipForce = s.slipFriction() * k.LeastPreload
	return k, nil
}

// spread returns the stiffness of the metal between a zone and the part's axis, along and across
// the screw, N/mm; 0 if that is left out.
func (p Plate) spread(area float64) (normal, tangential float64) {
	if p.Depth == 0 {
		return 0, 0
	}
	return 1 / SpreadNormal(area, p.Depth, p.E, p.Nu), 1 / SpreadTangential(area, p.Depth, p.E, p.Nu)
}

// turning returns the stiffness of the same metal against the zone's tilting or spinning, as spread springs; 0 if that
// is left out.
func (p Plate) turning(area float64, spread func(area, depth, e, nu float64) float64) float64 {
	if p.Depth == 0 {
		return 0
	}
	return 1 / spread(area, p.Depth, p.E, p.Nu)
}

// present drops the springs that are not there.
func present(k ...float64) []float64 {
	var kept []float64
	for _, v := range k {
		if v != 0 {
			kept = append(kept, v)
		}
	}
	return kept
}

// slipFriction returns the low friction between the faces.
func (s Clamping) slipFriction() float64 { return s.Friction().Low }

// Friction returns that between the faces, dry. The pair aluminium on aluminium grips better than any with a harder
// metal in it; a shim adds no grip, and paper, which creeps, changes nothing that can be counted on.
func (s Clamping) Friction() constant.Band {
	hardest := math.Max(s.Drilled.E, s.Tapped.E)
	if s.Shim != nil && !s.Shim.Paper {
		hardest = math.Max(hardest, s.Shim.E)
	}
	if hardest > lightMetalE {
		return slipFrictionSteel.Band
	}
	return slipFrictionAluminium.Band
}

// Numbers of a clamping outside this range (in N, mm, MPa) are slips of the pen; inside it nothing the
// clamping computes can overflow or vanish.
const (
	smallestSensible = 1e-12
	largestSensible  = 1e12
)

// quantity is a number of a clamping and what it is.
type quantity struct {
	what  string
	value float64
}

// check returns the first thing wrong with the clamping's numbers.
func (s Clamping) check() error {
	for _, q := range s.sizes() {
		if !(q.value >= smallestSensible && q.value <= largestSensible) {
			return fmt.Errorf("%s: %g is not a positive number of sensible size", q.what, q.value)
		}
	}
	for _, q := range s.ratios() {
		if !isPoissonRatio(q.value) {
			return fmt.Errorf("poisson's ratio of the %s: %g is outside (-1, 0.5]", q.what, q.value)
		}
	}
	if s.Surface.M >= 1 {
		return fmt.Errorf("contact exponent m of the surface: %g is not below 1", s.Surface.M)
	}
	if !(s.HalfAngle >= 0 && s.HalfAngle < 90) {
		return fmt.Errorf("half angle of the pressure cone: %g is not from 0 to 90 degrees", s.HalfAngle)
	}
	if s.ProofShare > 1 {
		return fmt.Errorf("share of the proof load: %g is above 1", s.ProofShare)
	}
	return nil
}

// sizes returns the numbers that must be positive: those every clamping needs, the shim's, and of the
// optional ones those that are given.
func (s Clamping) sizes() []quantity {
	list := []quantity{
		{"nominal diameter of the screw", s.Screw.D},
		{"pitch of the screw", s.Screw.Pitch},
		{"root diameter of the screw", s.Screw.D3},
		{"stress area of the screw", s.Screw.StressArea},
		{"head diameter of the screw", s.Screw.HeadDiameter},
		{"width of the ring under the head", s.Head.Bearing(s.Screw) - s.Screw.Clearance},
		{"clearance hole of the screw", s.Screw.Clearance},
		{"proof stress of the screw", s.Screw.Proof},
		{"yield strength of the screw", s.Screw.Yield},
		{"contact constant C of the surface", s.Surface.C.Typical},
		{"contact exponent m of the surface", s.Surface.M},
		{"roughness of the surface", s.Surface.RaUm.Typical},
		{"roughness of the roughest such surface", s.Surface.RaUm.High},
		{"E of the drilled part", s.Drilled.E},
		{"thickness of the drilled part", s.Drilled.Thickness},
		{"E of the tapped part", s.Tapped.E},
		{"thickness of the tapped part", s.Tapped.Thickness},
	}
	if s.Shim != nil {
		list = append(list, quantity{"thickness of the shim", s.Shim.Thickness})
		if !s.Shim.Paper {
			list = append(list, quantity{"E of the shim", s.Shim.E})
		}
	}
	for _, q := range []quantity{
		{"torque", s.TorqueNmm},
		{"share of the proof load", s.ProofShare},
		{"head height of the screw", s.Screw.HeadHeight},
		{"area of the pressure zone", s.ZoneArea},
		{"distance to the edge", s.EdgeRoom},
		{"half distance to the next screw", s.NeighbourRoom},
		{"depth of the drilled part", s.Drilled.Depth},
		{"depth of the tapped part", s.Tapped.Depth},
	} {
		if q.value != 0 {
			list = append(list, q)
		}
	}
	return list
}

// ratios returns Poisson's ratios of what lies in the clamping; paper has none.
func (s Clamping) ratios() []quantity {
	list := []quantity{{"drilled part", s.Drilled.Nu}, {"tapped part", s.Tapped.Nu}}
	if s.Shim != nil && !s.Shim.Paper {
		list = append(list, quantity{"shim", s.Shim.Nu})
	}
	return list
}
