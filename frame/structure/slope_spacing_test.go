package structure

import (
	"context"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/machine"
)

// overhung is a table of stiff parts on two rails with the carriages at the given places, and the work beside the
// rails' middle by a lever of 90 mm along them.
const overhung = `machine: overhung
materials: {rigid: {E: 1e8 MPa, nu: 0.3, density: 2700}}
parts:
  base:  {plate: {from: [-300, -80, 0], to: [300, 80, 100]}, material: rigid}
  table: {plate: {from: [-130, -80, 120], to: [130, 80, 220]}, material: rigid}
  head:  {plate: {from: [60, -30, 300], to: [120, 30, 400]}, material: rigid}
grounds:
  - {part: base, face: bottom, fixed: true}
  - {part: head, face: top, fixed: true}
axes:
  x:
    along: x
    carries: [table]
    travel: [-100, 100]
    guides:
      - {stiffness: {press: 10 N/um}, length: 30 mm, width: 30 mm, on: base, part: table, from: [-300, -50, 100], to: [300, -50, 100], carriages: %[1]s}
      - {stiffness: {press: 10 N/um}, length: 30 mm, width: 30 mm, on: base, part: table, from: [-300, 50, 100], to: [300, 50, 100], carriages: %[1]s}
    drive: {stiffness: 20 N/um, part: table, on: base, at: [0, 0, 110]}
tool: {part: head, at: [90, 0, 300]}
work: {part: table, at: [90, 0, 220]}
loads: {down: {tip: [0, 0, -100]}}
`

// spacingOf is what Next tells of the spacings of a machine's carriages, and of why not.
func spacingOf(t *testing.T, text string) (gains []answer.Gain, without []answer.NoGain, m *Model) {
	t.Helper()
	doc, m := readForSlopes(t, text)
	next, err := m.Next(context.Background(), variablesOf(t, doc))
	require.NoError(t, err)
	gains = slices.DeleteFunc(next.Gains, func(g answer.Gain) bool { return g.Kind != answer.OfSpacing })
	without = slices.DeleteFunc(next.Without, func(g answer.NoGain) bool { return g.Kind != answer.OfSpacing })
	return gains, without, m
}

// Statics of a stiff table on springs k: under a load at lever a it sinks by F/(Σk) and tilts by F·a/(Σk·x²), so
// that the movement there holds F·a²/(Σk·x²). On two rails with two carriages each, s apart, that is
// F·a²/(k·s²), and a millimetre more of s takes 2·F·a²/(k·s³) off. With a third carriage at a share of the way
// from the middle the sum grows in that proportion.
func TestSpacingGainByStatics(t *testing.T) {
	const k, force, lever, span = 1e4, 100.0, 90.0, 160.0
	for _, tt := range []struct {
		name, carriages string
		springs         float64 // Σx²/s² of one rail
	}{
		{"two", "[-80, 80]", 0.5},
		{"three", "[-80, 0, 80]", 0.5},
		{"four, two of them at half the way", "[80, -40, 40, -80]", 0.5 + 0.125},
	} {
		t.Run(tt.name, func(t *testing.T) {
			gains, without, m := spacingOf(t, fmt.Sprintf(overhung, tt.carriages))
			require.Empty(t, without)
			require.Len(t, gains, 1, "both rails have the same places")
			g := gains[0]
			require.Equal(t, "x: rail 1, rail 2", g.What)
			require.InDelta(t, span, g.At, 1e-9)
			require.Zero(t, g.MassKg)
			require.Zero(t, g.Operations)
			require.Nil(t, g.PerKg)
			require.Nil(t, g.PerOperation)
			tilt := 2 * k * tt.springs * span * span
			near(t, 2*force*lever*lever/tilt/span*constant.UmPerMM, g.Loads[0].Um, 1e-4, "per mm of spacing")
			number := float64(2 * len(m.machine.Axes[0].Guides[0].Carriages))
			r, err := m.Solve(TipOnly)
			require.NoError(t, err)
			near(t, force*(1/(k*number)+lever*lever/tilt)*constant.UmPerMM, -r.Loads[0].TipUm[2], 1e-4, "sinking and tilting")
		})
	}
}

// TestSpacingRoom: near the rail's end, with the axis at either end of its travel, and at the part's edge there is only
// so much room: as much as geometry leaves, and a hair more the model itself refuses.
func TestSpacingRoom(t *testing.T) {
	for _, tt := range []struct {
		name, from, to string
		room           float64
		bound          string
	}{
		{"the part ends first", "carriages: [-80, 80]", "carriages: [-80, 80]", 2 * (130 - 80 - 15),
			"a carriage of rail 1 is at the end of table"},
		{"the rail ends first", "from: [-300, 50, 100]", "from: [-207, 50, 100]", 2 * (207 - 80 - 15 - 100),
			"with axis x at -100 mm a carriage of rail 2 is at the end of its rail"},
		{"the rail's other end", "to: [300, 50, 100]", "to: [197.5, 50, 100]", 2 * (197.5 - 80 - 15 - 100),
			"with axis x at 100 mm a carriage of rail 2 is at the end of its rail"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			gains, without, m := spacingOf(t, strings.Replace(fmt.Sprintf(overhung, "[-80, 80]"), tt.from, tt.to, 1))
			require.Empty(t, without)
			require.Positive(t, gains[0].StiffnessNPerUm)
			require.InDelta(t, tt.room, *gains[0].Room, 1e-9)
			require.Equal(t, tt.bound, gains[0].Bound)
			if strings.Contains(tt.bound, "its rail") {
				s := m.spacings()[0]
				_, err := buildBeams(spreadCarriages(m.machine, s, tt.room))
				require.NoError(t, err)
				_, err = buildBeams(spreadCarriages(m.machine, s, tt.room+4*machine.Touching))
				require.ErrorContains(t, err, "runs off its rail")
			}
		})
	}
}

// A rail that moves on carriages that stand still: the end of travel counts with the other sign.
func TestSpacingRoomOfMovingRail(t *testing.T) {
	text, err := os.ReadFile("../../examples/fixed-gantry-mill.yaml")
	require.NoError(t, err)
	gains, _, _ := spacingOf(t, string(text))
	i := slices.IndexFunc(gains, func(g answer.Gain) bool { return g.What == "z: rail 1, rail 2" })
	// The slide 40 mm down: its rail ends at 340, the upper carriage, at 305, is 60 mm long.
	require.InDelta(t, 2*(380-40-305-60/2.), *gains[i].Room, 1)
	require.Contains(t, gains[i].Bound, "end of its rail")
}

// Where there is no room there is no gain to offer.
func TestSpacingWithoutRoom(t *testing.T) {
	for _, tt := range []struct{ name, from, to, why string }{
		{"at the end of the rail", "from: [-300, 50, 100]", "from: [-195, 50, 100]",
			"they would have to go farther apart: with axis x at -100 mm a carriage of rail 2 is at the end of its rail " +
				"already"},
		{"at the end of the part", "from: [-130, -80, 120]", "from: [-95, -80, 120]",
			"they would have to go farther apart: a carriage of rail 1 is at the end of table already"},
		{"over the end of the part", "from: [-130, -80, 120]", "from: [-90, -80, 120]",
			"they would have to go farther apart: a carriage of rail 1 is at the end of table already"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			gains, without, _ := spacingOf(t, strings.Replace(fmt.Sprintf(overhung, "[-80, 80]"), tt.from, tt.to, 1))
			require.Empty(t, gains)
			require.Equal(t, []answer.NoGain{{What: "x: rail 1, rail 2", Kind: answer.OfSpacing, Why: tt.why}}, without)
		})
	}
}

// Carriages that gain by coming together do so until they touch: with the work in the middle of a table that bends, the
// legs of the bridge had better be short.
func TestSpacingTogether(t *testing.T) {
	text := strings.NewReplacer(
		"[90, 0, 220]", "[0, 0, 128]", "[90, 0, 300]", "[0, 0, 300]", "from: [60, -30, 300], to: [120, 30, 400]",
		"from: [-30, -30, 300], to: [30, 30, 400]",
		"to: [130, 80, 220]}, material: rigid", "to: [130, 80, 128]}, material: nylon",
		"materials: {", "materials: {nylon: {E: 3 GPa, nu: 0.4, density: 1140}, ",
	).Replace(fmt.Sprintf(overhung, "[-80, 80]"))
	gains, without, _ := spacingOf(t, text)
	require.Empty(t, without)
	require.Negative(t, gains[0].StiffnessNPerUm)
	require.InDelta(t, 160-30, *gains[0].Room, 1e-9)
	require.Equal(t, "carriages of rail 1 touch", gains[0].Bound)
	// With a third between them, nearer to one end, the room is that of the nearest two, which close in proportion.
	m := buildText(t, fmt.Sprintf(overhung, "[-80, 20, 80]"))
	room := m.roomTogether(m.spacings()[0])
	require.InDelta(t, 80, room.mm, 1e-9, "60 mm shrink to 30")
	moved := spreadCarriages(m.machine, m.spacings()[0], -room.mm).Axes[0].Guides[0].Carriages
	require.InDeltaSlice(t, []float64{-40, 10, 40}, moved, 1e-9)
}

// Rails of one axis with other places are spacings of their own; rails with one carriage have none.
func TestSpacings(t *testing.T) {
	names := func(text string) (list []string) {
		m := buildText(t, text)
		for _, s := range m.spacings() {
			list = append(list, m.spacingName(s))
		}
		return list
	}
	text := fmt.Sprintf(overhung, "[-80, 80]")
	require.Equal(t, []string{"x: rail 1, rail 2"}, names(text))
	require.Equal(t, []string{"x: rail 1, rail 2"}, names(strings.Replace(text, "[-80, 80]", "[80, -80]", 1)),
		"the order in the file is no matter")
	require.Equal(t, []string{"x: rail 1", "x: rail 2"}, names(strings.Replace(text, "[-80, 80]", "[-80, 81]", 1)))
	require.Empty(t, names(shafts))
	require.Empty(t, names(fmt.Sprintf(dovetail, "rigid", 100.)))
}

// little is the share of the largest gain below which a gain is held against that share: what gains a thirtieth by a
// stout beam's side is off by a fifth, as the coarser strip beside it is.
const little = 0.1

// TestSlopeOfSpacingHolds: what a millimetre gains, as the slope has it, is what some millimetres gain on average by
// whole solutions with eight times the nodes in every strip. Where little is gained that differs by a seventh, as the
// coarser strip does. It is not so by itself: when carriages stand between the nodes of a strip, a sawtooth lies on the
// curve; and where two carriages stand on one node of a member, the slope is another for as long as they share it.
func TestSlopeOfSpacingHolds(t *testing.T) {
	text, err := os.ReadFile("../../examples/fixed-gantry-mill.yaml")
	require.NoError(t, err)
	mill := string(text)
	const both = "to: [150, 150, 310], carriages: [-32, 32]"
	require.Contains(t, mill, both)
	together := strings.Replace(mill, both, "to: [150, 150, 310], carriages: [-32, 40]", 1)
	const slim, stout = "from: [-170, 150, 210], to: [170, 180, 330]", "from: [-170, 150, 210], to: [170, 222, 330]"
	require.Contains(t, mill, slim)
	together = strings.Replace(together, slim, stout, 1) // no strip, a member
	// Carriages of a known size stand on rails, those with a number of the builder's on the beam itself.
	together = strings.ReplaceAll(together, "rail: profile-15, on: beam", "stiffness: {press: 140 N/um, side: 110 N/um, "+
		"roll: 7 kN m/rad, pitch: 20 kN m/rad, yaw: 14 kN m/rad}, length: 60, width: 34, on: beam")
	for _, tt := range []struct {
		name, text, what string
		side             answer.Side
		by               float64 // mm
		within           float64 // of the mean
	}{
		{"on strips", mill, "z: rail 1, rail 2", answer.BothSides, 3, 0.05},
		{"on a strip and a member", mill, "x: rail 1, rail 2", answer.BothSides, 3, 0.15},
		{"two carriages at one place of a member, this rail", together, "x: rail 1", answer.MoreOnly, 1, 0.15},
		{"two carriages at one place of a member, the other", together, "x: rail 2", answer.MoreOnly, 1, 0.2},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if !thorough() && tt.side == answer.BothSides {
				t.Skip("TestAdjoint has some that are smaller")
			}
			a, all := candidatesOf(t, tt.text)
			c := all[slices.IndexFunc(all, func(c candidate) bool { return c.gain.What == tt.what })]
			s, why := a.find(c)
			require.Empty(t, why)
			require.Equal(t, tt.side, s.side)
			finer := func(by float64) []float64 {
				_, along, err := a.solved(func(by float64) (*Model, error) {
					other, err := c.draw[0](by)
					for _, b := range other.bodies {
						if s, ok := b.kind.(*stripKind); ok {
							s.wantEvery(stripStep/8*b.width(), 0, b.length)
						}
					}
					return other, err
				}, by)
				require.NoError(t, err)
				return along
			}
			least := 0.0
			if tt.side == answer.BothSides {
				least = -tt.by
			}
			more, less := finer(tt.by), finer(least)
			most := 0.0
			for i := range more {
				most = math.Max(most, math.Abs(more[i]-less[i])/(tt.by-least))
			}
			for i := range more {
				mean := (more[i] - less[i]) / (tt.by - least)
				off := math.Abs(mean-s.moved[i]) / math.Max(math.Abs(mean), little*most)
				t.Logf("push %d: slope %.4g, on average %.4g, off by %.2g", i, s.moved[i], mean, off)
				if !(off <= tt.within) {
					t.Errorf("push %d: slope %g, on average %g, off by %.2g", i, s.moved[i], mean, off)
				}
			}
		})
	}
}
