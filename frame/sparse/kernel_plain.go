//go:build !(goexperiment.simd && amd64)

package sparse

// rowsInCache is how many rows of a panel are taken at a time: 32 KiB.
const rowsInCache = 64

func (p *products) subtract(from, to int) { p.subtractPlain(from, to) }

func pivots(p []float64, width int, floor []float64) int { return pivotsPlain(p, width, floor) }

func substitute(q, triangle []float64, rows, width int) { substitutePlain(q, triangle, rows, width) }
