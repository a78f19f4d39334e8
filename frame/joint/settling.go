package joint

import "math"

// Settling is how far a screw's clamping settles after tightening, mm, and the springs that feel it.
type Settling struct {
	Screw, Members float64 // stiffness of the screw and of what it clamps, N/mm
	By             float64 // mm
}

// Loss returns the preload that settling takes, N (VDI 2230 part 1): f_Z/(1/k_b + 1/k_m).
func (s Settling) Loss() float64 { return s.By * Series(s.Screw, s.Members) }

// rzPerRa is about how many times Ra the height Rz of a machined face is [common practice, no source].
const rzPerRa = 6

// smoothRz and roughRz part the three columns of VDI 2230's table of settling, µm.
const (
	smoothRz = 10
	roughRz  = 40
)

// settling returns how far the clamping settles, mm: the thread, the ring under the head and every pair of faces.
func (s Clamping) settling(interfaces float64) float64 {
	head, face := settlingHead.Band.Typical, settlingFace.Band.Typical
	switch rz := rzPerRa * s.Surface.RaUm.High; {
	case rz < smoothRz:
		head, face = settlingHead.Band.Low, settlingFace.Band.Low
	case rz > roughRz:
		head, face = settlingHead.Band.High, settlingFace.Band.High
	}
	um := settlingThread.Band.Typical + head + interfaces*face
	if s.Shim != nil && s.Shim.Paper {
		um += settlingPaper.Band.Typical
	}
	return um / 1000
}

// leastPreload returns what is left of the preload of a screw that was tightened little, N: of the low end of
// preload_scatter.
func (s Clamping) leastPreload(pressure, area float64) float64 {
	return s.left(pressure, area, preloadScatter.Band.Low/preloadScatter.Band.Typical)
}

// left returns what settling leaves of the preload of a screw that was tightened to so much of the typical one, N. The
// clamped parts count as hollow cones, whatever model holds them.
func (s Clamping) left(pressure, area, over float64) float64 {
	typical := s.PreloadForce()
	clamped, interfaces := s.clamped(), 1.0
	members := []float64{Frustum{Hole: s.Screw.Clearance, Small: s.Head.Bearing(s.Screw),
		Thickness: s.Head.ClampedLength(s.Screw, s.Drilled.Thickness), HalfAngle: s.halfAngle(),
		E: s.Drilled.E}.Stiffness()}
	if s.Shim != nil {
		interfaces = s.Shim.interfaces()
		members = append(members, s.Shim.Modulus(pressure)*area/s.Shim.Thickness)
	}
	settled := Settling{Screw: s.Screw.AxialStiffness(clamped, s.Tapped.E), Members: Series(members...),
		By: s.settling(interfaces)}
	return math.Max(over*typical-settled.Loss(), preloadKept.Band.Typical*typical/preloadScatter.Band.Typical)
}

// Kept returns the share of its preload that a screw of k keeps when it has settled and is not tightened again.
func (s Clamping) Kept(k ClampingStiffness) float64 {
	return s.left(k.Pressure, k.ZoneArea, 1) / k.Preload
}

// Tightened returns the clamping as springs with what holds it against slip and opening as one screw of many turns out:
// tightened to a share of the typical preload, faces with a share of the typical friction. The springs stay.
func (s Clamping) Tightened(k ClampingStiffness, over, friction float64) ClampingStiffness {
	left := s.left(k.Pressure, k.ZoneArea, over)
	k.OpenForce *= left / k.LeastPreload
	k.LeastPreload, k.SlipForce = left, friction*s.Friction().Typical*left
	return k
}
