package constant

import "fmt"

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
	panic(fmt.Sprintf("constant: unknown level %d", int(l)))
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
	panic(fmt.Sprintf("constant: unknown level %d", int(l)))
}
