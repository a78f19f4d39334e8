package doubt_test

import (
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tiploop/beam"
	"tiploop/frame"
	"tiploop/frame/chance"
	"tiploop/frame/constant"
	"tiploop/frame/cutting"
	"tiploop/frame/doubt"
	"tiploop/frame/guide"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
	"tiploop/frame/spindle"
)

func material(t *testing.T, key string) beam.Material {
	t.Helper()
	m, ok := beam.LookupMaterial(key)
	require.True(t, ok)
	return m
}

// places are those of two screws on a face, of which an edge and the other one cut the ring of the first.
var (
	face   = joint.Rect2{Min: [2]float64{-30, -12}, Max: [2]float64{45, 40}}
	places = [][2]float64{{0, 0}, {24, 0}}
)

// ringed is a clamping of the first of them with its ring at an angle of the cone, degrees, worked out anew.
func ringed(t *testing.T, c joint.Clamping, angle float64) (joint.Clamping, joint.ClampingStiffness, joint.Pressed) {
	t.Helper()
	c.HalfAngle = angle
	inner, outer := c.Ring()
	zone := joint.Pressed{Moments: joint.PressureZone(face, places, 0, inner, outer), Outer: outer,
		Outline: joint.Outline(face, places, 0)}
	c.ZoneArea = zone.Moments.Area
	k, err := c.Stiffness()
	require.NoError(t, err)
	return c, k, zone
}

// clamped is an M6 in two plates of aluminium, 20 mm and more thick, whose axes are 10 and 15 mm from the face.
func clamped(t *testing.T, torque float64, shim *joint.Layer) doubt.Clamped {
	t.Helper()
	screw, ok := joint.LookupScrew("M6")
	require.True(t, ok)
	surface, ok := joint.LookupSurface("milled")
	require.True(t, ok)
	made := material(t, "aluminium-5083")
	c := joint.Clamping{Screw: screw, TorqueNmm: torque, Surface: surface, Shim: shim,
		Drilled: joint.Plate{E: made.E, Nu: made.Nu, Thickness: 20, Depth: 10},
		Tapped:  joint.Plate{E: made.E, Nu: made.Nu, Thickness: 30, Depth: 15}}
	c, k, zone := ringed(t, c, 0)
	return doubt.Clamped{Clamping: c, K: k, Zone: zone, Drilled: made, Tapped: made, Faces: "a/b", Place: "a/b [9, 9]",
		Screw: "screw 1 of a/b"}
}

// logs are those of some unknowns, by their keys; all others are typical.
func logs(l *doubt.List, of map[string]float64) []float64 {
	unknowns, place := l.InOrder()
	list := make([]float64, len(place))
	for n, at := range place {
		if v, changed := of[unknowns[at].Key]; changed {
			list[n] = math.Log(v)
		}
	}
	return list
}

// Springs in a row, added up by hand (joint.Series) with one of them changed, are what the law says of the number that
// changes it.
func TestClampingLaw(t *testing.T) {
	for name, shim := range map[string]*joint.Layer{"bare": nil,
		"foil":  {Key: "brass", Thickness: 0.1, E: 105e3, Nu: 0.34},
		"paper": {Key: "paper", Thickness: 0.1, Paper: true}} {
		t.Run(name, func(t *testing.T) {
			c := clamped(t, 6000, shim)
			var list doubt.List
			laws, k := list.Clamping(c), c.K
			require.InEpsilon(t, k.Normal, doubt.Typical(laws.Normal), 1e-12)
			row := func(contact, spread, layer float64) (normal, tangential float64) {
				n := []float64{spread * k.SpreadNormalDrilled, contact * k.ContactNormal, spread * k.SpreadNormalTapped}
				a := []float64{spread * k.SpreadTangentialDrilled, contact * k.ContactTangential,
					spread * k.SpreadTangentialTapped}
				if shim != nil {
					n, a = append(n, layer*k.ShimNormal), append(a, layer*k.ShimTangential)
				}
				return k.ScrewAxial + joint.Series(n...), joint.Series(a...)
			}
			for _, c := range []struct {
				of                     map[string]float64
				contact, spread, layer float64
			}{
				{nil, 1, 1, 1},
				{map[string]float64{"finish milled": 0.4}, 0.4, 1, 1},
				{map[string]float64{"faces of a/b": 0.8}, 0.8, 1, 1},
				{map[string]float64{"spreading": 1.1}, 1, 1.1, 1},
				{map[string]float64{"E of aluminium-5083": 0.98}, 1, 0.98, 1},
				{map[string]float64{"paper": 0.5}, 1, 1, 0.5},
				{map[string]float64{"finish milled": 2, "spreading": 0.9}, 2, 0.9, 1},
			} {
				normal, tangential := row(c.contact, c.spread, c.layer)
				if shim == nil || !shim.Paper {
					normal, tangential = row(c.contact, c.spread, 1)
				}
				at := logs(&list, c.of)
				require.InEpsilon(t, normal, laws.Normal.Stiffness(at), 1e-12, "%v", c.of)
				require.InEpsilon(t, tangential, laws.Tangential.Stiffness(at), 1e-12, "%v", c.of)
			}
			// The ratio is of the faces alone, along them.
			at := logs(&list, map[string]float64{"tangential ratio": 0.5})
			_, tangential := row(0.5, 1, 1)
			require.InEpsilon(t, k.Normal, laws.Normal.Stiffness(at), 1e-12)
			require.InEpsilon(t, tangential, laws.Tangential.Stiffness(at), 1e-12)
			// The same screw tightened to another torque.
			tighter := clamped(t, 9000, shim).K
			at = logs(&list, map[string]float64{"screw a/b [9, 9]": 1.5})
			for _, s := range []struct {
				want float64
				law  frame.Law
			}{{tighter.Normal, laws.Normal}, {tighter.Tangential, laws.Tangential}, {tighter.Tilt, laws.Tilt},
				{tighter.Spin, laws.Spin}} {
				require.InEpsilon(t, s.want, s.law.Stiffness(at), 1e-9)
			}
		})
	}
}

// A wider or narrower cone, with the ring cut and every spring worked out anew: at both ends of the cone's band the law
// says the same, between them and at the far ends of a range of three standard deviations nearly.
func TestConeWidensRings(t *testing.T) {
	cone := joint.ConeHalfAngle()
	for name, shim := range map[string]*joint.Layer{"bare": nil,
		"foil":  {Key: "brass", Thickness: 0.1, E: 105e3, Nu: 0.34},
		"paper": {Key: "paper", Thickness: 0.1, Paper: true}} {
		for _, depth := range []float64{0, 10} {
			c := clamped(t, 6000, shim)
			c.Clamping.Drilled.Depth, c.Clamping.Tapped.Depth = depth, 1.5*depth
			c.Clamping, c.K, c.Zone = ringed(t, c.Clamping, 0)
			var list doubt.List
			laws := list.Clamping(c)
			arms := func(zone joint.Moments) float64 { _, _, yy := zone.Central(); return yy / zone.Area }
			tilts := list.Widened(laws.Tilt, c, arms)
			require.InEpsilon(t, doubt.Typical(laws.Tilt), doubt.Typical(tilts), 1e-12)
			for angle, off := range map[float64]float64{cone.Low: 0.02, 28: 0.02, 31: 0.01, cone.High: 0.01, 22: 0.06, 36: 0.03} {
				_, k, zone := ringed(t, c.Clamping, angle)
				at := logs(&list, map[string]float64{"pressure cone": angle / cone.Typical})
				for what, of := range map[string][2]float64{"normal": {k.Normal, laws.Normal.Stiffness(at)},
					"tangential": {k.Tangential, laws.Tangential.Stiffness(at)}, "spin": {k.Spin, laws.Spin.Stiffness(at)},
					"tilt": {k.Tilt * arms(zone.Moments) / arms(c.Zone.Moments), tilts.Stiffness(at)}} {
					assert.InEpsilon(t, of[0], of[1], off, "%s, depth %g: %s at %g°", name, depth, what, angle)
				}
			}
			_, narrow, _ := ringed(t, c.Clamping, cone.Low)
			require.Less(t, narrow.Normal, 0.99*c.K.Normal, "it matters")
		}
	}
}

// Under a mesh, which keeps its zones, a wider ring takes from the faces' give what metal as deep as the plates would give less.
func TestConeUnderMeshes(t *testing.T) {
	cone := joint.ConeHalfAngle()
	c := clamped(t, 6000, nil)
	c.Clamping.Drilled.Depth, c.Clamping.Tapped.Depth = 0, 0
	c.Clamping, c.K, c.Zone = ringed(t, c.Clamping, 0)
	c.Meshed = []joint.Plate{c.Clamping.Drilled, c.Clamping.Tapped}
	under := func(k joint.ClampingStiffness) (give float64) {
		for _, p := range c.Meshed {
			give += joint.SpreadNormal(k.ZoneArea, p.Thickness, p.E, p.Nu)
		}
		return give
	}
	var list doubt.List
	law := list.Clamping(c).Normal
	require.InEpsilon(t, c.K.Normal, doubt.Typical(law), 1e-12)
	for _, angle := range []float64{cone.Low, 28, cone.High} {
		_, k, _ := ringed(t, c.Clamping, angle)
		want := c.K.ScrewAxial + 1/(1/(k.Normal-k.ScrewAxial)+under(k)-under(c.K))
		require.InEpsilon(t, want, law.Stiffness(logs(&list, map[string]float64{"pressure cone": angle / cone.Typical})), 0.03)
		require.Equal(t, angle < cone.Typical, want < 0.99*c.K.Normal, "it matters")
	}
}

// A screw that has settled presses as one of less preload: what VDI 2230's settling leaves, f_Z/(1/k_b + 1/k_m) off it, is
// the low end.
func TestSettlingTakesPreload(t *testing.T) {
	for name, shim := range map[string]*joint.Layer{"bare": nil, "paper": {Key: "paper", Thickness: 0.1, Paper: true}} {
		c := clamped(t, 6000, shim)
		var list doubt.List
		laws := list.Clamping(c)
		kept := c.Clamping.Tightened(c.K, 1, 1).LeastPreload / c.K.Preload
		require.InEpsilon(t, kept, c.Clamping.Kept(c.K), 1e-12)
		require.Less(t, kept, 0.97, name)
		less := clamped(t, 6000*kept, shim).K
		at := logs(&list, map[string]float64{"settling": doubt.Settling().Band.Low})
		require.InEpsilon(t, less.Normal, laws.Normal.Stiffness(at), 1e-9, name)
		require.InEpsilon(t, less.Tangential, laws.Tangential.Stiffness(at), 1e-9, name)
		for _, p := range laws.Preload {
			require.Zero(t, p.Exponent*at[p.Unknown], "whether a screw holds always counts what settling takes, in full")
		}
	}
	require.Equal(t, 1.0, doubt.Settling().Band.High)
}

// A screw without a torque is as tight as a share of its proof load says; one with a torque has nothing of that.
func TestTightnessWithoutTorque(t *testing.T) {
	c := clamped(t, 0, nil)
	var list doubt.List
	laws := list.Clamping(c)
	for _, share := range []float64{joint.ProofShare().Low, joint.ProofShare().High} {
		told := c.Clamping
		told.ProofShare = share
		k, err := told.Stiffness()
		require.NoError(t, err)
		at := logs(&list, map[string]float64{"tightness": share / joint.ProofShare().Typical})
		require.InEpsilon(t, k.Normal, laws.Normal.Stiffness(at), 1e-9)
		require.InEpsilon(t, k.Tangential, laws.Tangential.Stiffness(at), 1e-9)
		factor := 1.0
		for _, p := range laws.Preload {
			factor *= math.Exp(p.Exponent * at[p.Unknown])
		}
		require.InEpsilon(t, k.Preload/c.K.Preload, factor, 1e-12)
	}
	for _, torque := range []float64{0, 6000} {
		var list doubt.List
		list.Clamping(clamped(t, torque, nil))
		unknowns, _ := list.InOrder()
		require.Equal(t, torque == 0, slices.ContainsFunc(unknowns, func(u doubt.Unknown) bool { return u.Key == "tightness" }))
	}
}

// What a torque leaves of the preload under another friction: VDI 2230's M/F = 0.16 P + 0.58 d2 µG + DKm/2 µK (see
// joint.Tightening). A power is told at the typical friction; over the whole range it is off by some percent.
func TestFrictionTakesPreload(t *testing.T) {
	c := clamped(t, 6000, nil)
	var list doubt.List
	laws := list.Clamping(c)
	s := c.Clamping.Screw
	at := func(mu float64) float64 {
		return joint.Tightening{Thread: joint.Thread{D: s.D, Pitch: s.Pitch}, BearingOuter: s.HeadDiameter,
			Hole: s.Clearance, ThreadFriction: mu, HeadFriction: mu}.Preload(6000)
	}
	mu := joint.ScrewFriction()
	for _, v := range []float64{mu.Low, 0.98 * mu.Typical, 1.02 * mu.Typical, mu.High} {
		logs := logs(&list, map[string]float64{"friction of screws in aluminium-5083": v / mu.Typical})
		said := 1.0
		for _, p := range laws.Preload {
			said *= math.Exp(p.Exponent * logs[p.Unknown])
		}
		off := 0.02
		if math.Abs(v/mu.Typical-1) < 0.05 {
			off = 1e-4
		}
		require.InEpsilon(t, at(v)/at(mu.Typical), said, off)
	}
	// At its yield a screw has less of its tension from the torque the more it is twisted: the change of the preload at
	// which it yields.
	c = clamped(t, 30000, nil)
	const by = 1e-4
	yields := func(mu float64) float64 {
		thread := joint.Thread{D: s.D, Pitch: s.Pitch}
		return joint.Tightening{Thread: thread, ThreadFriction: mu}.AssemblyPreload(s.Yield, 1)
	}
	require.InDelta(t, math.Log(yields(mu.Typical*(1+by))/yields(mu.Typical*(1-by)))/(2*by),
		c.Clamping.FrictionExponent(), 1e-5)
}

// Friction and hand together scatter a preload as preload_scatter says: independent log-normals add their squares.
func TestHandAndFrictionAreTheScatterOfPreload(t *testing.T) {
	screw, friction := doubt.Screw("", "", 1).Band, doubt.ScrewFriction("").Band
	for _, name := range []string{"M3", "M6", "M12"} {
		s, ok := joint.LookupScrew(name)
		require.True(t, ok)
		e := joint.Clamping{Screw: s}.FrictionExponent()
		low := math.Exp(-math.Hypot(math.Log(screw.Low), e*math.Log(friction.High)))
		high := math.Exp(math.Hypot(math.Log(screw.High), e*math.Log(friction.Low)))
		scatter := joint.PreloadScatter()
		require.InEpsilon(t, scatter.Low/scatter.Typical, low, 0.01, name)
		require.InEpsilon(t, scatter.High/scatter.Typical, high, 0.01, name)
	}
	four := doubt.Screw("", "", 4).Band
	require.InEpsilon(t, math.Log(screw.Low)/2, math.Log(four.Low), 1e-12, "the mean of four is half as wide")
}

// Bands of the trade's tables, over their typical values (shared tables of joint, guide, drive, spindle and cutting,
// each with its source there).
func TestBandsOfTables(t *testing.T) {
	carriage, _ := guide.LookupCarriage("profile-15")
	class, _ := spindle.LookupClass("router-motor")
	taper, _ := spindle.LookupTaper("7/24-30")
	brass, _ := cutting.LookupMaterial("brass-cz120")
	rolled, _ := joint.LookupSurface("as-rolled")
	aluminium := material(t, "aluminium-5083")
	for _, c := range []struct {
		u         doubt.Unknown
		low, high float64
	}{
		{doubt.Finish(rolled), 5. / 10, 5. / 2}, // λ = C √p: the stiffness goes with 1/C
		{doubt.Ratio(), 0.35 / 0.6, 0.85 / 0.6},
		{doubt.Cone(), 25. / 30, 33. / 30},
		{doubt.Tightness(), 0.70 / 0.75, 0.90 / 0.75},
		{doubt.Carriages(carriage), 80. / 170, 280. / 170},
		{doubt.Spindles(class), 5. / 12, 25. / 12},
		{doubt.Tapers(taper), 0.5, 2},
		{doubt.Collets(), 0.6, 2},
		{doubt.Flutes(2), 0.72 / 0.78, 0.84 / 0.78},
		{doubt.Paper(), 0.4, 2.5},
		{doubt.Material(aluminium), 69 / 70.5, 72 / 70.5},
		{doubt.Work(brass), brass.Hardness().Low, brass.Hardness().High},
		{doubt.Slides(guide.Slide{Width: 40, Length: 100}), 0.6 / 0.7, 0.6 / 0.5},
		{doubt.Size(machine.Unsure{Of: "x", Band: constant.Between(2, 4, 12)}), 0.5, 3},
	} {
		require.NoError(t, c.u.Check())
		require.Equal(t, 1.0, c.u.Band.Typical, c.u.Key)
		require.InEpsilon(t, c.low, c.u.Band.Low, 1e-12, c.u.Key)
		require.InEpsilon(t, c.high, c.u.Band.High, 1e-12, c.u.Key)
	}
	own := beam.Material{Key: "mine", E: 70e3, ELow: 70e3, EHigh: 70e3}
	var list doubt.List
	require.Nil(t, list.With(doubt.Material(own), 1), "what a file states is known")
	require.NotNil(t, list.With(doubt.Material(beam.Material{Key: "mine", E: 70e3}), 1))
}

// What a force law's ends do to the cutting force is what the band of the material says.
func TestWorkScalesTheForce(t *testing.T) {
	for _, m := range cutting.Materials() {
		force := func(level constant.Level) float64 {
			f, _, _ := m.MillingLaw(level, 0).Orthogonal(0.05, 3)
			return f
		}
		band := doubt.Work(m).Band
		require.InEpsilon(t, force(constant.Low)/force(constant.Typical), band.Low, 1e-12, m.Key)
		require.InEpsilon(t, force(constant.High)/force(constant.Typical), band.High, 1e-12, m.Key)
	}
}

// The errors of the details are the middle of the nine-of-ten columns of testdata/accuracy.md, and spreading that of
// the bodies joined on spots, by beams. Plates sawn to an outline, which no beam model has, would change none.
func TestModelErrorsAreThoseMeasured(t *testing.T) {
	text, err := os.ReadFile("../../testdata/accuracy.md")
	require.NoError(t, err)
	columns := [3][]float64{}
	row := regexp.MustCompile(`(?m)^\| (solid-\S+) \| ([\d./ ]+) \| ([\d./ ]+) \| ([\d./ ]+) \|$`)
	spots := 0.0
	for _, found := range row.FindAllStringSubmatch(string(text), -1) {
		if found[1] == "solid-outlines" {
			continue
		}
		for i := range columns {
			v, err := strconv.ParseFloat(strings.Split(found[2+i], " / ")[1], 64)
			require.NoError(t, err)
			columns[i] = append(columns[i], v)
			if i == 0 && found[1] == "solid-spots" {
				spots = v
			}
		}
	}
	require.Len(t, columns[0], 4)
	for i, u := range []doubt.Unknown{doubt.Beams("p"), doubt.Mesh("p", 2.5, 2.5), doubt.Mesh("p", 1, 2.5)} {
		slices.Sort(columns[i])
		require.InDelta(t, (columns[i][1]+columns[i][2])/2, 100*(u.Band.High-1), 0.25)
		require.InEpsilon(t, 1/u.Band.High, u.Band.Low, 1e-12)
	}
	require.InDelta(t, spots, 100*(doubt.Spreading().Band.High-1), 0.25)
	require.Equal(t, doubt.Mesh("p", 1, 2.5), doubt.Mesh("p", 0.5, 2.5), "finer is not told apart")
}

// A law that is told about to the first order: its powers are the derivatives of its logarithm.
func TestFirstOrder(t *testing.T) {
	row := []frame.Give{{Typical: 1, Of: []frame.Power{{Unknown: 0, Exponent: 1}}}, {Typical: 3},
		{Typical: 2, Of: []frame.Power{{Unknown: 1, Exponent: 0.5}, {Unknown: 0, Exponent: 1}}}}
	law := frame.Law{Row: row}
	const h = 1e-5
	sum := map[int]float64{}
	for _, p := range doubt.FirstOrder(row) {
		sum[p.Unknown] += p.Exponent
	}
	for k := range 2 {
		up, down := make([]float64, 2), make([]float64, 2)
		up[k], down[k] = h, -h
		require.InDelta(t, math.Log(law.Stiffness(up)/law.Stiffness(down))/(2*h), sum[k], 1e-8)
	}
	scaled := doubt.Scaled(frame.Law{Beside: 2, Row: row}, 7)
	require.InEpsilon(t, 7, doubt.Typical(scaled), 1e-12)
	require.Equal(t, 2.0, doubt.Typical(frame.Law{Beside: 2}))
}

// A list keeps each unknown once; in order, what comes from one kind stays as it came.
func TestList(t *testing.T) {
	var list doubt.List
	add := func(u doubt.Unknown) int { return list.With(u, 1)[0].Unknown }
	screw, finish := add(doubt.Screw("1", "1", 1)), add(doubt.Ratio())
	ground, again := add(doubt.Ground("ground 1")), add(doubt.Screw("1", "one", 1))
	other := add(doubt.Screw("2", "2", 1))
	require.Equal(t, screw, again)
	unknowns, place := list.InOrder()
	require.Len(t, unknowns, 4)
	require.Equal(t, []int{2, 0, 1, 3}, []int{place[screw], place[finish], place[ground], place[other]})
	moved := doubt.Moved([]frame.Power{{Unknown: screw, Exponent: 1}, {Unknown: finish, Exponent: 2},
		{Unknown: screw, Exponent: 0.5}}, place)
	require.Equal(t, []frame.Power{{Unknown: 2, Exponent: 1.5}, {Unknown: 0, Exponent: 2}}, moved)
}

// The band of every finish's table against 5 and 95 of 100 draws of what its faces go with, and the order of finishes: a
// stiffer one of the table is the stiffer in nearly every machine, since the law is one for all.
func TestFinishesShareTheirLaw(t *testing.T) {
	const draws = 4096
	faces := map[string][]float64{}
	for _, s := range joint.Surfaces() {
		var list doubt.List
		powers := list.Faces(s)
		unknowns, place := list.InOrder()
		var chances []chance.Unknown
		for _, u := range unknowns {
			chances = append(chances, u.Unknown)
		}
		columns := new(chance.Columns)
		_, err := columns.Of(append(finishes(t), doubt.ContactLaw().Unknown)) // the same columns for all
		require.NoError(t, err)
		logs, err := columns.Logs(chances, draws)
		require.NoError(t, err)
		for _, draw := range logs {
			faces[s.Key] = append(faces[s.Key], frame.Product(doubt.Moved(powers, place), draw))
		}
		got, want := chance.RangeOf(faces[s.Key]), s.ContactStiffness(15)
		require.InEpsilon(t, want.Low/want.Typical, got.Low, 0.03, s.Key)
		require.InEpsilon(t, want.High/want.Typical, got.High, 0.13, s.Key)
	}
	for _, pair := range [][2]string{{"ground", "fine-milled"}, {"fine-milled", "milled"}} {
		stiff, _ := joint.LookupSurface(pair[0])
		soft, _ := joint.LookupSurface(pair[1])
		by := stiff.ContactStiffness(15).Typical / soft.ContactStiffness(15).Typical
		stiffer := 0
		for i, k := range faces[pair[0]] {
			if by*k > faces[pair[1]][i] {
				stiffer++
			}
		}
		require.Greater(t, stiffer, draws*95/100, "%s over %s", pair[0], pair[1])
	}
}

func finishes(t *testing.T) (list []chance.Unknown) {
	t.Helper()
	for _, s := range joint.Surfaces() {
		list = append(list, doubt.Finish(s).Unknown)
	}
	return list
}
