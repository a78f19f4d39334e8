package cutting

// Revolution is a cut sampled over a revolution, for whoever asks more of it than its forces: how far a machine gives
// under them, say. It is not safe for use by several goroutines.
type Revolution struct {
	cut    *Cut
	period [][]sample
}

// Revolution samples the cut.
func (c *Cut) Revolution() *Revolution { return &Revolution{c, c.stretches(0, c.period)} }

// Sides returns the surfaces that the cut leaves, walls first.
func (r *Revolution) Sides() []Side { return r.cut.sides() }

// Most returns the moment in which a measure of the load is greatest. The measure must be smooth, as sums and squares
// of the load's components are.
func (r *Revolution) Most(measure func(Load) float64) Peak {
	return r.cut.most(r.period, measure).peak()
}

// Span returns the least and the greatest value of a smooth measure of the load over the revolution.
func (r *Revolution) Span(measure func(Load) float64) Span { return r.cut.span(r.period, measure) }

// Made returns the least and the greatest value of a smooth measure of the load over the moments in which a surface is
// made, see [Surface]. The surface must be one of Sides.
func (r *Revolution) Made(side Side, measure func(Load) float64) Span {
	return r.cut.span(r.cut.making(side, r.period), measure)
}

func (c *Cut) span(stretches [][]sample, measure func(Load) float64) Span {
	least := c.most(stretches, func(l Load) float64 { return -measure(l) }).load
	return Span{measure(least) + 0, measure(c.most(stretches, measure).load) + 0}
}
