package cutting

// Span is a range something holds for; the zero value is a range that is not known.
type Span struct {
	Least, Most float64
}

// known tells whether the range is stated.
func (s Span) known() bool { return s.Most > 0 }
