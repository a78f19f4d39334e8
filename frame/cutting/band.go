package cutting

import "fmt"

// Band is a number that is not known exactly.
type Band struct {
	Low, Typical, High float64 // Low <= Typical <= High
}

// Level picks one number of a band.
type Level int

const (
	Typical Level = iota
	Low
	High
)

// String returns the level's name.
func (l Level) String() string {
	switch l {
	case Low:
		return "low"
	case Typical:
		return "typical"
	case High:
		return "high"
	}
	panic(fmt.Sprintf("cutting: unknown level %d", int(l)))
}

// At returns the number at a level.
func (b Band) At(l Level) float64 {
	switch l {
	case Low:
		return b.Low
	case Typical:
		return b.Typical
	case High:
		return b.High
	}
	panic(fmt.Sprintf("cutting: unknown level %d", int(l)))
}

// Times is the band of the product of two positive numbers that are low together and high together.
func (b Band) Times(o Band) Band {
	return Band{b.Low * o.Low, b.Typical * o.Typical, b.High * o.High}
}

// Span is a range something holds for; the zero value is a range that is not known.
type Span struct {
	Least, Most float64
}

// known tells whether the range is stated.
func (s Span) known() bool { return s.Most > 0 }
