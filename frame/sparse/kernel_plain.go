//go:build !(goexperiment.simd && amd64)

package sparse

func (p *products) subtract(from, to int) { p.subtractPlain(from, to) }

func pivots(p []float64, width int, floor []float64) int { return pivotsPlain(p, width, floor) }

func substitute(q, triangle []float64, rows, width int) { substitutePlain(q, triangle, rows, width) }
