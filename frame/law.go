package frame

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Power says that a stiffness goes with a power of a number that is not known: it is multiplied by the number over its
// typical value, to the exponent.
type Power struct {
	Unknown  int // by its place among the numbers that are not known
	Exponent float64
}

// Product is the factor of some powers; logs are the logarithms of all numbers over their typical values.
func Product(powers []Power, logs []float64) float64 {
	if len(powers) == 0 {
		return 1
	}
	sum := 0.0
	for _, p := range powers {
		sum += p.Exponent * logs[p.Unknown]
	}
	return math.Exp(sum)
}

// Give is one of the gives in a row that make a spring.
type Give struct {
	Typical float64 // mm/N, or rad/(N·mm) against turning
	Of      []Power // what its stiffness, 1/Typical, goes with; none: it is known
}

// Law is how the stiffness of a spring comes from numbers that are not known: gives in a row, and beside them what is
// known. At typical numbers it is the spring's own stiffness.
type Law struct {
	Beside float64 // N/mm, or N·mm/rad against turning
	Row    []Give  // none: the spring is known
}

// Stiffness of the spring, for the logarithms of all numbers over their typical values.
func (l Law) Stiffness(logs []float64) float64 {
	give := 0.0
	for _, g := range l.Row {
		give += g.Typical / Product(g.Of, logs)
	}
	if give == 0 {
		return l.Beside
	}
	return l.Beside + 1/give
}

// Doubts are what is not known of a frame.
type Doubts struct {
	Unknowns int                // how many numbers
	Springs  map[int]Law        // by the number of the spring; all others are known
	Sources  map[string][]Power // of the members and blocks of a source: what all their stiffness goes with
}

// of are the powers that a member's stiffness goes with. One on a bed, which is another matter than the member, is
// taken as known.
func (d Doubts) of(m Member) []Power {
	if m.Bed != [2]float64{} {
		return nil
	}
	return d.Sources[m.Source]
}

// With returns the frame with the numbers of one draw, to be solved whole: what a [Basis] is held against.
func (f *Frame) With(d Doubts, logs []float64) *Frame {
	out := f.Clone()
	for i, law := range d.Springs {
		out.springs[i].Stiffness = law.Stiffness(logs)
	}
	for i := range out.members {
		m := &out.members[i]
		m.Made.E *= Product(d.of(*m), logs)
	}
	for i := range out.blocks {
		b := &out.blocks[i]
		k := mat.NewSymDense(len(b.Freedoms), nil)
		k.ScaleSym(Product(d.Sources[b.Source], logs), b.K)
		b.K = k
	}
	return out
}
