package outline

import (
	"math"
	"strconv"
	"strings"
)

// Path is the shape as the path of an SVG drawing in mm, its y down, from the upper left corner of the box round it: what
// a model file takes.
func (s Shape) Path() string {
	lo, hi := s.Bounds()
	number := func(v float64) string { return strconv.FormatFloat(math.Round(v*1000)/1000+0, 'f', -1, 64) }
	var words []string
	for _, loop := range s {
		for i, p := range loop {
			x, y := number(p[0]-lo[0]), number(hi[1]-p[1])
			switch {
			case i == 0:
				words = append(words, "M", x, y)
			case p[1] == loop[i-1][1]:
				words = append(words, "H", x)
			case p[0] == loop[i-1][0]:
				words = append(words, "V", y)
			default:
				words = append(words, "L", x, y)
			}
		}
		words = append(words, "Z")
	}
	return strings.Join(words, " ")
}
