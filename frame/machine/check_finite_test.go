package machine_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame/constant"
	"tiploop/frame/guide"
	"tiploop/frame/machine"
)

// A number that is none is told with where the file says it, if it does; the words are those of Go.
func TestCheckFindsWhatIsNoNumber(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(m *machine.Machine)
		want  string
	}{
		{"in a file", func(m *machine.Machine) {
			m.File, m.Parts[0].Pos, m.Parts[0].Plate.To.Z = "file", machine.FilePos{Line: 7, Col: 3}, math.NaN()
		}, "file:7:3: Parts[0].Plate.To.Z is NaN, which is no number to build with"},
		{"of the action, not of its load", func(m *machine.Machine) {
			m.File, m.Loads[0].Pos = "file", machine.FilePos{Line: 1, Col: 1}
			m.Loads[0].Actions[0].Pos, m.Loads[0].Actions[0].Force.X = machine.FilePos{Line: 8, Col: 5}, math.Inf(1)
		}, "file:8:5: Loads[0].Actions[0].Force.X is +Inf, which is no number to build with"},
		{"behind a pointer", func(m *machine.Machine) { m.Grounds[1].At.Y = math.NaN() },
			"Grounds[1].At.Y is NaN, which is no number to build with"},
		{"behind an interface", func(m *machine.Machine) { m.Parts[2].Bar.Shape = beam.Round{Diameter: math.NaN()} },
			"Parts[2].Bar.Shape.Diameter is NaN, which is no number to build with"},
		{"in an array", func(m *machine.Machine) { m.Loads[1].Actions[3].By[5] = math.NaN() },
			"Loads[1].Actions[3].By[5] is NaN, which is no number to build with"},
		{"in a list of arrays", func(m *machine.Machine) { m.Grounds[0].Feet[2][1] = math.NaN() },
			"Grounds[0].Feet[2][1] is NaN, which is no number to build with"},
		{"two in a map, in the order of its words", func(m *machine.Machine) {
			m.Positions[0].At = map[string]float64{"x": math.NaN(), "q": math.NaN(), "a": math.NaN(), "z": 0}
		}, "Positions[0].At[\"a\"] is NaN, which is no number to build with\n" +
			"Positions[0].At[\"q\"] is NaN, which is no number to build with\n" +
			"Positions[0].At[\"x\"] is NaN, which is no number to build with"},
		{"no band", func(m *machine.Machine) { m.Axes[0].Guides[0].Rail.Press = constant.Between(2, 1, 3) },
			"Axes[0].Guides[0].Rail.Press: 2, 1, 3 are not low, typical and high"},
		{"own numbers", func(m *machine.Machine) { m.Axes[0].Guides[0].Own = &guide.Stiffness{Press: math.NaN()} },
			"Axes[0].Guides[0].Own.Press is NaN, which is no number to build with"},
		{"a kind of the user's own", func(m *machine.Machine) {
			m.Parts[4].Gusset, m.Parts[4].Other = nil, &chained{more: make([]chained, 2)}
			m.Parts[4].Other.(*chained).more[1].next = &chained{size: math.NaN()}
		}, "Parts[4].Other.more[1].next.size is NaN, which is no number to build with"},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := whole(t)
			c.spoil(m)
			require.EqualError(t, m.Check(), c.want)
		})
	}
}

// chained is a kind whose type leads to itself, by a pointer and by a list.
type chained struct {
	next *chained
	more []chained
	size float64
}

func (*chained) KindName() string              { return "chain" }
func (c *chained) Shifted(r3.Vec) machine.Kind { return c }
