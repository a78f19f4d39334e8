package structure

import (
	"context"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
)

// onFeet is a bed on feet with a column and a tool, one of its feet out of place.
func onFeet(feet [][2]float64, misfits, loads string) string {
	var list []string
	for _, f := range feet {
		list = append(list, fmt.Sprintf("[%.6g, %.6g]", f[0], f[1]))
	}
	return fmt.Sprintf(`machine: bed on feet
parts:
  bed:    {plate: {from: [-200, -150, 0], to: [200, 150, 30]}, material: aluminium-5083}
  column: {plate: {from: [-60, 60, 30], to: [60, 90, 300]}, material: aluminium-5083}
  arm:    {plate: {from: [-40, -60, 240], to: [40, 60, 280]}, material: aluminium-5083}
joints:
  - {between: [bed, column], screws: {size: M6, grid: [3, 1]}}
  - {between: [column, arm], screws: {size: M6, grid: [2, 1]}}
grounds:
  - {name: bench, part: bed, face: bottom, feet: [%s], stiffness: 40 N/um}
tool: {part: arm, at: [0, -40, 240]}
work: {part: bed}
points:
  spot: {part: bed, at: [-180, -130, 0]}
%s%s`, strings.Join(list, ", "), misfits, loads)
}

var fourFeet = [][2]float64{{-180, -130}, {180, -130}, {180, 130}, {-180, 130}}

// lockedBy solves the only misfit of a model.
func lockedBy(t testing.TB, m *Model) *answer.Misfit {
	t.Helper()
	found, err := m.lockedIn(misfitLoad("it", 0))
	require.NoError(t, err)
	return found
}

// With the gap drawn a foot does not touch. It is pulled shut by the force at which foot and machine have given way by
// as much as the gap is wide: a machine without that foot, pushed there (the force method, by hand). Of the foot's three
// springs only the upright one is pulled; the others have to be left out for the two to be the same machine.
func TestMisfitIsTheGapDrawnAndPulledShut(t *testing.T) {
	const gap, foot = 0.05, 40e3
	text := strings.Replace(onFeet(fourFeet, "misfits:\n  short: {ground: bench, foot: 1, low: 0.05}\n",
		"loads:\n  pull: {at: spot, force: [0, 0, -1000]}\n"), "stiffness: 40 N/um}", "stiffness: 40 N/um, side: 1e-6 N/mm}", 1)
	text = strings.Replace(text, "grounds:\n",
		"grounds:\n  - {part: bed, at: [200, 150, 0], spring: {x: 1e5, y: 1e5, rz: 1e9}}\n", 1)
	screwed := lockedBy(t, buildText(t, text))
	three := strings.Replace(strings.Replace(text, "[-180, -130], [180", "[180", 1),
		"misfits:\n  short: {ground: bench, foot: 1, low: 0.05}\n", "", 1)
	free, err := buildText(t, three).Solve(TipOnly)
	require.NoError(t, err)
	give := -free.Loads[0].PointsUm["spot"][2] / 1000 / 1000 // mm/N
	force := gap / (give + 1/foot)
	require.InDelta(t, -force, screwed.Feet[0].ForceN[2], 1e-6*force)
	for k := range 3 {
		require.InDelta(t, force/1000*free.Loads[0].TipUm[k], screwed.Moved.TipUm[k], 1e-6*norm(*screwed.Moved.TipUm))
		require.InDelta(t, force/1000*free.Loads[0].PointsUm["spot"][k], screwed.Moved.PointsUm["spot"][k], 1e-4)
	}
}

// A misfit beside another load adds to it.
func TestMisfitsAddToOtherLoads(t *testing.T) {
	text := onFeet(fourFeet, "misfits:\n  short: {ground: bench, foot: 1, low: 0.05}\n"+
		"  leans: {joint: [bed, column], lean: {about: x, by: 0.03, over: 120}}\n", `loads:
  cut: {tip: [40, -20, 10]}
  short alone: {misfit: short}
  leans alone: {misfit: leans}
  all: [{tip: [40, -20, 10], misfit: short}, {misfit: leans}]
`)
	for _, detail := range []Detail{Section, Solid} {
		by := &Builder{Detail: detail}
		r, err := by.Answer(context.Background(), readMachine(t, text), TipOnly)
		require.NoError(t, err)
		for k := range 3 {
			sum := r.Loads[0].TipUm[k] + r.Loads[1].TipUm[k] + r.Loads[2].TipUm[k]
			require.InDelta(t, sum, r.Loads[3].TipUm[k], 1e-6*norm(*r.Loads[3].TipUm), "%v", detail)
		}
		for n := range r.Misfits.Each {
			require.InDeltaSlice(t, r.Loads[1+n].TipUm[:], r.Misfits.Each[n].Moved.TipUm[:], 1e-9)
		}
		// a joint that leans as a whole binds nothing: the column has no other hold, and goes with it
		for _, s := range r.Misfits.Each[1].Screws {
			require.Less(t, math.Hypot(s.TensionN, s.ShearN), 0.01, "%v", detail)
		}
		// by what is held to what it stands on: the tip is 210 mm over the joint, the lean is 0.03 over 120
		require.InDelta(t, -210*0.03/120*1000, r.Misfits.Each[1].Moved.TipUm[1], 0.3, "%v", detail)
	}
}

// What is locked in balances itself, and what stands on three feet, whatever their height, locks in nothing. The two
// details agree as far as they do under other loads.
func TestLockedInForcesBalance(t *testing.T) {
	drawn := 0
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 6).Draw(t, "feet")
		feet := make([][2]float64, n)
		for i := range feet {
			a := 2 * math.Pi * (float64(i) + rapid.Float64Range(0, 0.4).Draw(t, "where")) / float64(n)
			feet[i] = [2]float64{180 * math.Cos(a), 130 * math.Sin(a)}
		}
		out := rapid.IntRange(1, n).Draw(t, "foot")
		text := onFeet(feet, fmt.Sprintf("misfits:\n  out: {ground: bench, foot: %d, high: 0.05}\n", out), "")
		details := []Detail{Section}
		if drawn++; drawn <= 3 || thorough() {
			details = append(details, Solid)
		}
		var largest [2]float64
		for _, detail := range details {
			m, err := machineOf(text, "")
			require.NoError(t, err)
			model, err := (&Builder{Detail: detail}).Build(context.Background(), m)
			require.NoError(t, err)
			found, err := model.lockedIn(misfitLoad("it", 0))
			require.NoError(t, err)
			var force, moment r3.Vec
			for _, f := range found.Feet {
				v := vector(f.ForceN)
				force, moment = r3.Add(force, v), r3.Add(moment, r3.Cross(vector(f.AtMM), v))
				largest[detail] = math.Max(largest[detail], norm(f.ForceN))
			}
			require.Less(t, r3.Norm(force), 1e-6)
			require.Less(t, r3.Norm(moment), 1e-3)
			if n == 3 {
				require.Less(t, largest[detail], 1e-5)
			}
		}
		if len(details) == 2 && n > 3 {
			require.InEpsilon(t, largest[Section], largest[Solid], 0.1)
		}
	})
}

// Along the travel the forces are those of the machine built in each position, sideways springs of the screw among
// them.
func TestLockedInAlongTravel(t *testing.T) {
	text, err := os.ReadFile("../../examples/supports-out-of-line.yaml")
	require.NoError(t, err)
	for _, detail := range []Detail{Section, Solid} {
		m, err := readMachine(t, string(text)).Complete()
		require.NoError(t, err)
		by := &Builder{Detail: detail}
		model, err := by.Build(context.Background(), m)
		require.NoError(t, err)
		loads := model.misfitLoads(0, model.named())
		along, err := by.lockedAlong(context.Background(), m, 0, loads)
		require.NoError(t, err)
		for _, p := range []int{0, len(along.at) / 2, len(along.at) - 1} {
			moved, err := m.At(map[string]float64{"y": along.at[p]})
			require.NoError(t, err)
			there, err := by.Build(context.Background(), moved)
			require.NoError(t, err)
			for n, l := range loads {
				s, err := there.solve(l, there.tool.gauge)
				require.NoError(t, err)
				most := 0.0
				var want, got []float64
				for k, link := range along.links[p] {
					if link.turning || link.row == nil && (link.mount == nil || link.mount.at.Kind != machine.AtNut) {
						continue
					}
					i := sameSpring(there, &link)
					want, got = append(want, s.SpringForce(there.links[i].spring)), append(got, along.forces[p][n][k])
					most = math.Max(most, math.Abs(want[len(want)-1]))
				}
				require.Len(t, want, 4*4+2) // two halves of a carriage, each held across and off its rail; a nut, twice
				tolerance := 1e-6
				if detail == Solid {
					tolerance = 0.03
				}
				require.InDeltaSlice(t, want, got, tolerance*most, "%v at %g: %s", detail, along.at[p], l.Name)
			}
		}
	}
}

// sameSpring is the link of a model of the same row, or at the same mounting and in the same direction.
func sameSpring(m *Model, l *link) int {
	for i := range m.links {
		o := &m.links[i]
		if l.row != nil {
			if o.row != nil && *o.row == *l.row {
				return i
			}
			continue
		}
		if o.mount != nil && o.mount.at == l.mount.at && o.direction == l.direction && o.turning == l.turning {
			return i
		}
	}
	panic("no such spring")
}

// Put out of place by as much as is allowed, each thing uses up just the limit that is named.
func TestAllowedMisfitReachesItsLimit(t *testing.T) {
	text, err := os.ReadFile("../../examples/supports-out-of-line.yaml")
	require.NoError(t, err)
	m := readMachine(t, string(text))
	r, err := beams().Align(context.Background(), m)
	require.NoError(t, err)
	require.NotEmpty(t, r.Align.Lines)
	checked := map[string]bool{}
	for i, l := range r.Align.Lines {
		if i > 0 {
			require.LessOrEqual(t, r.Align.Lines[i-1].AllowedUm, l.AllowedUm*(1+1e-5))
		}
		if checked[l.Limit] || strings.Contains(l.How, "twisted") || strings.HasPrefix(l.Of, "joint ") {
			continue
		}
		for _, d := range trialsOf(m) {
			if m.MountingName(d.misfit.At) != l.What || d.how != l.How {
				continue
			}
			one := *m
			f := d.misfit
			times := l.AllowedUm / 1000 / trialMM
			f.From = machine.Offset{}.Plus(times, f.From)
			if f.To != nil {
				to := machine.Offset{}.Plus(times, *f.To)
				f.To = &to
			}
			one.Misfits = []machine.Misfit{f}
			reached := 0.0
			for _, at := range []float64{-70, -35, 0, 35, 70} {
				there, err := one.At(map[string]float64{"y": at})
				require.NoError(t, err)
				model, err := buildBeams(there)
				require.NoError(t, err)
				found := lockedBy(t, model)
				if l.Limit == "the tip's tolerance" {
					if at == 0 {
						reached = norm(*found.Moved.TipUm) / 30
					}
					continue
				}
				for _, c := range found.Carriages {
					reached = math.Max(reached, *c.EquivalentN / *c.PreloadN)
				}
			}
			checked[l.Limit] = true
			require.InDelta(t, 1, reached, 0.01, "%s %s: %s", l.What, l.How, l.Limit)
		}
	}
	require.Len(t, checked, 2)
}

// Shims under carriages, rails, nuts and bearings lift what is on them and give: brass of the right thickness takes a
// misfit away, and card costs more stiffness than brass.
func TestShimsCorrectAndGive(t *testing.T) {
	text, err := os.ReadFile("../../examples/supports-out-of-line.yaml")
	require.NoError(t, err)
	base := string(text)[:strings.Index(string(text), "misfits:")]
	base += "loads:\n  cut: {tip: [40 N, 0, 0]}\n"
	for _, c := range []struct{ misfit, shim string }{
		{"axis: y, rail: 2, low: 0.1", "axis: y, rail: 2"},
		{"axis: y, rail: 1, carriage: 2, low: 0.1", "axis: y, rail: 1, carriage: 2"},
		{"axis: y, nut: true, by: [0, 0, -0.1]", "axis: y, nut: true, area: 600, lifts: [0, 0, 1]"},
		{"axis: y, bearing: driven, by: [-0.1, 0, 0]", "axis: y, bearing: driven, area: 600, lifts: [1, 0, 0]"},
		{"ground: bench, foot: 2, low: 0.1", "ground: bench, foot: 2"},
		{"joint: [base, riser_left], gap: 0.1", "joint: [base, riser_left]"},
	} {
		var softer []float64
		for _, material := range []string{"shim-steel", "shim-brass", "card"} {
			with := base + "misfits:\n  it: {" + c.misfit + "}\nshims:\n  packing: {" + c.shim +
				", stack: [{material: " + material + ", thickness: 0.06}, {material: " + material + ", thickness: 0.04}]}\n"
			r, err := buildText(t, with).Solve(TipOnly)
			require.NoError(t, err, c.shim)
			e := r.Misfits.Shims[0]
			require.Greater(t, e.WithoutN, 1.0, c.shim)
			require.Less(t, e.WithN, 1e-6*e.WithoutN, c.shim)
			softer = append(softer, *e.SofterPercent)
		}
		require.Greater(t, softer[0], -1e-9, c.shim)
		require.LessOrEqual(t, softer[0], softer[1]+1e-9, c.shim)
		require.Greater(t, softer[2], softer[1], c.shim)
	}
}

// oneRail is a rigid block on one rail, which is all that holds it.
const oneRail = `machine: one rail
materials:
  rigid: {E: 1e8 MPa, nu: 0, density: 2700}
parts:
  bed:   {plate: {from: [-500, -900, -1000], to: [500, 900, 0]}, material: rigid}
  table: {plate: {from: [-400, -300, 30], to: [400, 300, 1500]}, material: rigid}
grounds:
  - {part: bed, face: bottom, fixed: true}
axes:
  y:
    along: y
    carries: [table]
    travel: [-10, 10]
    guides:
      - {stiffness: {press: 9e4, roll: 3e7, pitch: 2e7, yaw: 2e7}, on: bed, part: table, from: [0, -400, 0], to: [0, 400, 0],
         carriages: [-100, 60]}
    drive: {stiffness: 30 N/um, part: table, on: bed, at: [0, 0, 0]}
misfits:
  it: {axis: y, rail: 1, %s}
`

// A rail that is put out of place as a whole, or that rises, leaves or leans from end to end in a straight line, takes
// what alone runs on it along and locks in nothing. One that is twisted wrings its carriages: half the difference of
// their angles, times their stiffness against rolling.
func TestLoneRailLocksInOnlyItsTwist(t *testing.T) {
	for _, by := range []string{"high: 0.1", "low: 0.1", "aside: 0.1", "twist: 1 mrad", "high: [0, 0.1]", "aside: [0.05, -0.1]",
		"lean: {about: x, by: 0.1, over: 500}", "lean: {about: z, by: 0.1, over: 500}", "by: [0.1, 0, 0.2]"} {
		found := lockedBy(t, buildText(t, fmt.Sprintf(oneRail, by)))
		for _, c := range found.Carriages {
			// 1e-6 of what a tenth of a millimetre, or a thousandth of a radian, would do to a carriage held fast
			require.Less(t, math.Hypot(c.PullN, c.SideN), 1e-6*9e3, by)
			require.Less(t, math.Abs(c.RollNmm)+math.Abs(c.PitchNmm)+math.Abs(c.YawNmm), 1e-6*3e4*1e3, by)
		}
	}
	found := lockedBy(t, buildText(t, fmt.Sprintf(oneRail, "twist: [0, 1 mrad]")))
	want := 3e7 * 1e-3 * 160 / 800 / 2
	require.InEpsilon(t, want, math.Abs(found.Carriages[0].RollNmm), 1e-6)
	require.InDelta(t, 0, found.Carriages[0].RollNmm+found.Carriages[1].RollNmm, 1e-6*want)
}

// sizedRail is a table on two carriages of one rail of a known size, which is all that holds it: a profile on the bed or
// a shaft that spans freely.
const sizedRail = `machine: one rail
materials: {rigid: {E: 1e8 MPa, nu: 0, density: 2700}}
parts:
  bed:   {plate: {from: [-100, -300, -100], to: [100, 300, 0]}, material: aluminium-5083}
  table: {plate: {from: [-80, -120, %[2]s], to: [80, 120, 80]}, material: aluminium-5083}
%[1]s
misfits:
  it: {axis: y, rail: 1, %[3]s}
`

const profileUnder = `grounds: [{part: bed, face: bottom, fixed: true}]
axes:
  y:
    along: y
    carries: [table]
    travel: [-10, 10]
    guides: [{rail: profile-15, on: bed, part: table, from: [0, -200, 0], to: [0, 200, 0], carriages: [-100, 60]}]
    drive: {stiffness: 30 N/um, part: table, on: bed, at: [0, -20, 7.5]}
points: {over: {part: table, at: [0, -20, 80]}}`

const shaftUnder = `  shaft: {bar: {from: [0, -250, 20], to: [0, 250, 20]}, section: {round: 16}, material: steel}
  stand: {plate: {from: [-20, -290, 0], to: [20, -250, 60]}, material: aluminium-5083}
  other: {plate: {from: [-20, 250, 0], to: [20, 290, 60]}, material: aluminium-5083}
joints: [{between: [bed, stand], bonded: true}, {between: [bed, other], bonded: true},
  {between: [stand, shaft], bonded: true}, {between: [other, shaft], bonded: true}]
grounds: [{part: bed, face: bottom, fixed: true}]
axes:
  y:
    along: y
    carries: [table]
    travel: [-10, 10]
    guides: [{rail: profile-15, preload: light, on: shaft, part: table, carriages: [-100, 60]}]
    drive: {stiffness: 30 N/um, part: table, on: bed, at: [0, -20, 20]}
points: {over: {part: table, at: [0, -20, 80]}}`

// A rail of a known size, its misfits in its screws, and its carriages with theirs take what alone runs on them along as
// geometry has it and lock in nothing; a twist wrings both carriages alike.
func TestLoneRailOfAKnownSize(t *testing.T) {
	for _, c := range []struct {
		by     string
		moved  [3]float64 // of the point in the middle between the carriages, 72.5 mm over the rows, µm
		pinned bool
	}{
		{"high: 0.1", [3]float64{0, 0, 100}, false},
		{"aside: 0.1", [3]float64{100, 0, 0}, false},
		{"high: [0, 0.1]", [3]float64{0, -72.5 * 100 / 400, 45}, false},
		{"aside: [0.05, -0.1]", [3]float64{50 - 150*180./400, 0, 0}, false},
		{"twist: 1 mrad", [3]float64{72.5, 0, 0}, false},
		{"twist: [0, 1 mrad]", [3]float64{}, true},
	} {
		for _, detail := range []Detail{Section, Solid} {
			m, err := (&Builder{Detail: detail}).Build(context.Background(),
				readMachine(t, fmt.Sprintf(sizedRail, profileUnder, "28", c.by)))
			require.NoError(t, err)
			found := lockedBy(t, m)
			a, b := found.Carriages[0], found.Carriages[1]
			if c.pinned {
				require.Greater(t, math.Abs(a.RollNmm), 100.0)
				require.InDelta(t, 0, a.RollNmm+b.RollNmm, 1e-6*math.Abs(a.RollNmm))
				continue
			}
			for _, l := range found.Carriages {
				require.Less(t, math.Hypot(l.PullN, l.SideN), 1e-3, c.by)
				require.Less(t, math.Abs(l.RollNmm)+math.Abs(l.PitchNmm)+math.Abs(l.YawNmm), 1e-2, c.by)
			}
			require.InDeltaSlice(t, c.moved[:], func() []float64 { v := found.Moved.PointsUm["over"]; return v[:] }(), 1e-3,
				"%s, %v", c.by, detail)
		}
	}
	for _, by := range []string{"high: 0.1", "aside: 0.1", "high: [0, 0.1]", "twist: 1 mrad"} {
		for _, l := range lockedBy(t, buildText(t, fmt.Sprintf(sizedRail, shaftUnder, "45", by))).Carriages {
			require.Less(t, math.Hypot(l.PullN, l.SideN), 1e-3, by)
		}
	}
}

// A carriage of a known size put out of place alone on a rail as stiff as its screws make it pulls at what is between
// its top and its part: against the same carriage with its misfit in the rail under it, which by hand is the same gap.
func TestCarriageOutOfPlaceIsItsRailOutOfPlace(t *testing.T) {
	const two = `grounds: [{part: bed, face: bottom, fixed: true}]
axes:
  y:
    along: y
    carries: [table]
    travel: [-10, 10]
    guides:
      - {rail: profile-15, on: bed, part: table, from: [-50, -200, 0], to: [-50, 200, 0], carriages: [-60, 60]}
      - {rail: profile-15, on: bed, part: table, from: [50, -200, 0], to: [50, 200, 0], carriages: [%s]}
    drive: {stiffness: 30 N/um, part: table, on: bed, at: [0, -20, 7.5]}`
	for _, by := range []string{"high: 0.1", "aside: 0.1"} {
		text := fmt.Sprintf(sizedRail, fmt.Sprintf(two, "0"), "28", by)
		rail := lockedBy(t, buildText(t, strings.Replace(text, "rail: 1, ", "rail: 2, ", 1)))
		alone := lockedBy(t, buildText(t, strings.Replace(text, "rail: 1, ", "rail: 2, carriage: 1, ", 1)))
		for n, want := range rail.Carriages {
			got := alone.Carriages[n]
			most := math.Hypot(rail.Carriages[2].PullN, rail.Carriages[2].SideN)
			require.InDelta(t, want.PullN, got.PullN, 1e-6*most, by)
			require.InDelta(t, want.SideN, got.SideN, 1e-6*most, by)
		}
	}
}

// A load with a misfit is followed along an axis as any other: in every position the tip moves as in the machine built
// there.
func TestMisfitIsFollowedAlongAnAxis(t *testing.T) {
	text, err := os.ReadFile("../../examples/supports-out-of-line.yaml")
	require.NoError(t, err)
	with := strings.Replace(string(text), "loads:\n", "loads:\n  askew: {misfit: right rail splayed, tip: [10, 20, 30]}\n"+
		"  beside: {misfit: nut beside its screw}\n", 1)
	m, err := readMachine(t, with).Complete()
	require.NoError(t, err)
	requireRuns(t, m, &Builder{Detail: Section}, 3, 1e-6, []string{"y"})
	requireRuns(t, m, &Builder{Detail: Solid}, 2, 0.02, []string{"y"})
}

// Where only screws have limits, things may be out of place until a joint slips or opens, pushed or pulled: by that
// size a screw of the joint named has just done so.
func TestAllowedMisfitSlipsAJoint(t *testing.T) {
	text := onFeet([][2]float64{{-180, -130}, {180, -130}, {180, 130}, {-180, 130}, {0, 140}}, "", "")
	m := readMachine(t, text)
	r, err := beams().Align(context.Background(), m)
	require.NoError(t, err)
	require.Len(t, r.Align.Lines, 5)
	for _, l := range r.Align.Lines {
		var foot int
		_, err := fmt.Sscanf(l.What, "ground bench, foot %d", &foot)
		require.NoError(t, err)
		reached := 0.0
		for _, by := range []float64{l.AllowedUm / 1000, -l.AllowedUm / 1000} {
			one := *m
			one.Misfits = []machine.Misfit{{Name: "it", At: machine.Mounting{Kind: machine.AtGround, Foot: foot - 1},
				From: machine.Offset{High: by}}}
			model, err := buildBeams(&one)
			require.NoError(t, err)
			for _, s := range lockedBy(t, model).Screws {
				most := math.Max(s.SlipPercent, s.OpenPercent)
				require.Less(t, most, 100*(1+1e-6))
				if "joint "+s.Joint == l.Of {
					reached = math.Max(reached, most)
				}
			}
		}
		require.InDelta(t, 100, reached, 1e-4, "%s: %s", l.What, l.Limit)
	}
}

// A load that is out of line itself is not told a life without what is out of line.
func TestLivesAreOfLoadsInLine(t *testing.T) {
	data, err := os.ReadFile("../../examples/supports-out-of-line.yaml")
	require.NoError(t, err)
	text := strings.Replace(string(data), "loads:\n", "loads:\n  askew: {misfit: right rail splayed, tip: [10, 20, 30]}\n", 1)
	m, err := buildBeams(readMachine(t, text))
	require.NoError(t, err)
	r, err := m.Solve(TipOnly)
	require.NoError(t, err)
	require.Len(t, r.Misfits.Lives, 4, "two guides under the two cuts")
	for _, l := range r.Misfits.Lives {
		require.NotEqual(t, "askew", l.Load)
	}
}

// A nut that is not on its screw is a fault, with misfits as without.
func TestNutBesideItsScrewIsAFault(t *testing.T) {
	data, err := os.ReadFile("../../examples/supports-out-of-line.yaml")
	require.NoError(t, err)
	m := readMachine(t, string(data))
	m.Axes[0].Drives[0].Push.Z = 1e6
	_, err = buildBeams(m)
	require.ErrorContains(t, err, "is not on a screw 392 mm long")
}
