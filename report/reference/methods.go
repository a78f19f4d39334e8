package reference

import (
	"io"

	"tiploop/report/table"
)

// methods are published ways of working something out that answers go by.
var methods = [][]string{
	{"where more stops paying", "the first place, from the worse end of the range on, that keeps nine tenths of the gain " +
		"from end to end, if each step beyond gains on average at most half of what one gained before", "house rule"},
	{"life of a carriage", "(C/P)³·50 km for nine of ten", "ISO 14728-1"},
	{"static safety", "C0/P0", "ISO 14728-2; of screws ISO 3408-5"},
	{"life of a ball screw", "(Ca/F)³·10⁶ turns for nine of ten", "ISO 3408-5"},
	{"straightness of an axis", "the distance between the farthest places on either side of the straight line through the " +
		"tip's places at the two ends of the travel", "end-point reference straight line of ISO 230-1 (from memory)"},
	{"stress", "equivalent stress of a state of stress, by the energy of its change of shape", "R. von Mises 1913 (from " +
		"memory)"},
}

// WriteMethods writes by which published methods the answers go.
func WriteMethods(w io.Writer, sources bool) error {
	p := newPage(w, sources)
	p.Table([]table.Column{named("what"), named("how it is found"), named("source")}, methods)
	return p.Close()
}
