package machine

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// peg is a kind of the test's own.
type peg struct{ at r3.Vec }

func (p *peg) KindName() string       { return "peg" }
func (p *peg) Shifted(by r3.Vec) Kind { return &peg{r3.Add(p.at, by)} }

// Parts of every kind move as a whole, and leave copies of them where they are.
func TestShift(t *testing.T) {
	by := r3.Vec{X: 1, Y: -2, Z: 3}
	at := r3.Vec{X: 10, Y: 20, Z: 30}
	there := r3.Vec{X: 11, Y: 18, Z: 33}
	for _, c := range []struct {
		kind string
		part Part
		want Part
	}{
		{"plate", Part{Plate: &Plate{To: at}}, Part{Plate: &Plate{From: by, To: there}}},
		{"gusset", Part{Gusset: &Gusset{Corner: at, Thickness: at}}, Part{Gusset: &Gusset{Corner: there, Thickness: at}}},
		{"bar", Part{Bar: &Bar{From: at, Up: at}}, Part{Bar: &Bar{From: there, To: by, Up: at}}},
		{"peg", Part{Other: &peg{at}}, Part{Other: &peg{there}}},
	} {
		require.Equal(t, c.kind, c.part.Kind().KindName())
		moved := c.part
		moved.Shift(by)
		require.Equal(t, c.want, moved)
		require.NotEqual(t, moved, c.part, "what it is a copy of stays")
	}
	require.Nil(t, (&Part{}).Kind())
}

// Holes are measured from the least corner of a plate and from the right angle of a gusset, whichever way its legs go.
func TestDatumHigh(t *testing.T) {
	plate := Part{Plate: &Plate{From: r3.Vec{X: -1, Y: -1, Z: -1}, To: r3.Vec{X: 1, Y: 1, Z: 1}}}
	require.Equal(t, [3]bool{}, plate.DatumHigh())
	rib := Part{Gusset: &Gusset{Legs: [2]r3.Vec{{Z: -80}, {Y: 60}}, Thickness: r3.Vec{X: 8}}}
	require.Equal(t, [3]bool{false, false, true}, rib.DatumHigh())
}
