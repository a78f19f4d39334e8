package frame

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// Term is one freedom and its factor in a form.
type Term struct {
	Freedom int
	Factor  float64
}

// Form is a linear form in the freedoms, Σ Factor·u[Freedom]: a movement when it measures, a spread of forces when it
// is loaded. Freedoms may repeat; they add up.
type Form []Term

// NodeFreedoms is how many freedoms a node has: node n has 6n to 6n+5, three translations and three rotations.
const NodeFreedoms = 6

// Move is the movement along direction (a unit vector) of a spot that stands at arm from a node and turns with it:
// d·(u + θ×a) = d·u + θ·(a×d).
func Move(node int, arm, direction r3.Vec) Form {
	turn := r3.Cross(arm, direction)
	return nodeForm(node, direction, turn)
}

// Turn is the rotation of a node about a direction (a unit vector).
func Turn(node int, direction r3.Vec) Form { return nodeForm(node, r3.Vec{}, direction) }

func nodeForm(node int, move, turn r3.Vec) Form {
	form := make(Form, 0, NodeFreedoms)
	for k, v := range [...]float64{move.X, move.Y, move.Z, turn.X, turn.Y, turn.Z} {
		if v != 0 {
			form = append(form, Term{NodeFreedoms*node + k, v})
		}
	}
	return form
}

// Plus returns f + factor·g.
func (f Form) Plus(factor float64, g Form) Form {
	sum := make(Form, 0, len(f)+len(g))
	for _, t := range g {
		for len(f) > 0 && f[0].Freedom <= t.Freedom { // most forms are sorted, and so is their sum then
			sum, f = append(sum, f[0]), f[1:]
		}
		sum = append(sum, Term{t.Freedom, factor * t.Factor})
	}
	return append(sum, f...).tidy()
}

// tidy sorts the terms, adds up those of one freedom and drops zeros, in place.
func (f Form) tidy() Form {
	f.sort()
	out := f[:0]
	for _, t := range f {
		if n := len(out); n > 0 && out[n-1].Freedom == t.Freedom {
			out[n-1].Factor += t.Factor
		} else if t.Factor != 0 {
			out = append(out, t)
		}
	}
	return out
}

// sort sorts the terms by their freedom, those of one freedom as they stand. Most forms are two or three sorted runs
// one after another, which are merged; what is left of others after a few merges is sorted as it comes.
func (f Form) sort() {
	const few = 4
	var room Form
	merges := 0
	for run := f.run(); run < len(f); run = f.run() {
		if merges++; merges > few {
			slices.SortStableFunc(f, func(a, b Term) int { return a.Freedom - b.Freedom })
			return
		}
		next := run + f[run:].run()
		room = append(room[:0], f[:run]...)
		before, after := room, f[run:next]
		for out := range next {
			if len(before) == 0 {
				break // the rest stands where it belongs
			}
			if len(after) > 0 && after[0].Freedom < before[0].Freedom {
				f[out], after = after[0], after[1:]
			} else {
				f[out], before = before[0], before[1:]
			}
		}
	}
}

// run is how many terms from the first on are sorted by their freedom.
func (f Form) run() int {
	for i := 1; i < len(f); i++ {
		if f[i].Freedom < f[i-1].Freedom {
			return i
		}
	}
	return len(f)
}

// Of is the value of the form under the movements u of all freedoms.
func (f Form) Of(u []float64) float64 {
	sum := 0.0
	for _, t := range f {
		sum += t.Factor * u[t.Freedom]
	}
	return sum
}
