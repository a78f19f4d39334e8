package svgpath

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// Bounds on a path: what a section is drawn with takes some dozens of commands.
const (
	mostSegments = 2000
	mostSize     = 1e9 // of a coordinate, so that no sum of them overflows
)

// Error is what is wrong with the text of a path.
type Error struct {
	Offset     int // runes from the start of the text
	What, Hint string
}

// Error returns what is wrong.
func (e *Error) Error() string { return e.What }

// point is a place on the plane of the path.
type point = [2]float64

// Path is what was read.
type Path struct {
	subpaths []subpath
}

// subpath is one line without a break.
type subpath struct {
	start    point
	offset   int // of its first command
	segments []segment
	closed   bool // by its last command
}

// segment leads from where the one before it ended to its end.
type segment struct {
	curve  curve
	end    point
	offset int // of its command
}

// arguments are how many numbers each command takes.
var arguments = map[rune]int{'M': 2, 'L': 2, 'H': 1, 'V': 1, 'C': 6, 'S': 4, 'Q': 4, 'T': 2, 'A': 7, 'Z': 0}

// Parse reads path data. The error is an [*Error].
func Parse(text string) (*Path, error) {
	r := reader{text: []rune(text)}
	for r.blanks(); r.at < len(r.text); r.blanks() {
		if bad := r.command(); bad != nil {
			return nil, bad
		}
		if r.segments > mostSegments {
			return nil, &Error{r.at, fmt.Sprintf("the path is too long: more than %d lines and curves", mostSegments), ""}
		}
	}
	if len(r.path.subpaths) == 0 {
		return nil, &Error{0, "the path is empty", "it begins with M, where it starts: M 0 0"}
	}
	return &r.path, nil
}

// reader is where the reading of a path stands.
type reader struct {
	text     []rune
	at       int
	path     Path
	segments int
	pen      point
	before   rune  // the last command, in upper case
	control  point // of the last curve, the nearer to the pen
}

// blanks passes over what may stand between numbers and commands.
func (r *reader) blanks() {
	for r.at < len(r.text) && (unicode.IsSpace(r.text[r.at])) {
		r.at++
	}
}

// command reads a command with all sets of its numbers.
func (r *reader) command() *Error {
	start, letter := r.at, r.text[r.at]
	upper := unicode.ToUpper(letter)
	n, known := arguments[upper]
	switch {
	case !known || letter > unicode.MaxASCII:
		return &Error{start, fmt.Sprintf("%q is no command of a path", letter),
			"there are M L H V C S Q T A Z, and the same in small letters for places from where the pen is"}
	case len(r.path.subpaths) == 0 && upper != 'M':
		return &Error{start, fmt.Sprintf("the path begins with %c", letter), "it begins with M, where it starts: M 0 0"}
	}
	r.at++
	if upper == 'Z' {
		r.close(start)
		return nil
	}
	for first := true; ; first = false {
		numbers, bad := r.numbers(letter, n)
		if bad != nil {
			return bad
		}
		if letter != upper {
			r.absolute(upper, numbers)
		}
		if i := slices.IndexFunc(numbers, func(x float64) bool { return !(math.Abs(x) <= mostSize) }); i >= 0 {
			return &Error{start, fmt.Sprintf("a path to %g is beyond belief", numbers[i]), ""}
		}
		if upper == 'M' && !first {
			upper, letter = 'L', letter+'L'-'M' // further places of a move are lines
		}
		r.draw(upper, numbers, start)
		if r.segments > mostSegments || !r.another() {
			return nil
		}
	}
}

// close ends a subpath where it began; what follows without a move begins there, too.
func (r *reader) close(offset int) {
	s := r.last(offset)
	if s.segments == nil || s.segments[len(s.segments)-1].end != s.start {
		s.segments = append(s.segments, segment{line{}, s.start, offset})
		r.segments++
	}
	s.closed = true
	r.pen, r.before = s.start, 'Z'
}

// last is the subpath that is being drawn.
func (r *reader) last(offset int) *subpath {
	list := &r.path.subpaths
	if s := (*list)[len(*list)-1]; s.closed {
		*list = append(*list, subpath{start: r.pen, offset: offset})
	}
	return &(*list)[len(*list)-1]
}

// another tells whether a further set of numbers follows, and passes over the comma before it.
func (r *reader) another() bool {
	r.blanks()
	if r.at < len(r.text) && r.text[r.at] == ',' {
		return true
	}
	return r.at < len(r.text) && strings.ContainsRune("+-.0123456789", r.text[r.at])
}

// numbers reads as many as a command takes.
func (r *reader) numbers(letter rune, n int) ([]float64, *Error) {
	xs := make([]float64, n)
	for i := range xs {
		r.blanks()
		if r.at < len(r.text) && r.text[r.at] == ',' {
			r.at++
			r.blanks()
		}
		start := r.at
		text := r.number(unicode.ToUpper(letter) == 'A' && (i == 3 || i == 4))
		if text == "" {
			return nil, &Error{start, fmt.Sprintf("%c takes %d numbers%s", letter, n, r.found(i)), ""}
		}
		x, err := strconv.ParseFloat(text, 64)
		if err != nil {
			return nil, &Error{start, fmt.Sprintf("%s is too large a number", text), ""}
		}
		xs[i] = x
	}
	return xs, nil
}

// found says what stands in place of the number i.
func (r *reader) found(i int) string {
	if r.at >= len(r.text) {
		return fmt.Sprintf(", and the path ends behind %d", i)
	}
	return fmt.Sprintf(", and %q stands behind %d", r.text[r.at], i)
}

// number reads the text of a number as far as it goes, "" where there is none; a flag is one digit, 0 or 1.
func (r *reader) number(isFlag bool) string {
	start := r.at
	some := func(letters string) (any bool) {
		for r.at < len(r.text) && strings.ContainsRune(letters, r.text[r.at]) {
			r.at++
			any = true
		}
		return any
	}
	one := func(letters string) bool {
		is := r.at < len(r.text) && strings.ContainsRune(letters, r.text[r.at])
		if is {
			r.at++
		}
		return is
	}
	const digits = "0123456789"
	if isFlag {
		one("01")
		return string(r.text[start:r.at])
	}
	one("+-")
	whole := some(digits)
	if dot := r.at; one(".") && !some(digits) && !whole {
		r.at = dot
	}
	if r.at == start || !unicode.IsDigit(r.text[r.at-1]) && r.text[r.at-1] != '.' {
		r.at = start
		return ""
	}
	if mark := r.at; one("eE") {
		one("+-")
		if !some(digits) {
			r.at = mark
		}
	}
	return string(r.text[start:r.at])
}

// absolute adds the pen's place to the numbers of a command in small letters.
func (r *reader) absolute(command rune, xs []float64) {
	switch command {
	case 'H':
		xs[0] += r.pen[0]
	case 'V':
		xs[0] += r.pen[1]
	case 'A':
		xs[5], xs[6] = xs[5]+r.pen[0], xs[6]+r.pen[1]
	default:
		for i := range xs {
			xs[i] += r.pen[i%2]
		}
	}
}

// draw takes in one set of numbers of a command.
func (r *reader) draw(command rune, xs []float64, offset int) {
	defer func() { r.before = command }()
	if command == 'M' {
		r.pen = point{xs[0], xs[1]}
		r.path.subpaths = append(r.path.subpaths, subpath{start: r.pen, offset: offset})
		return
	}
	s := segment{line{}, r.pen, offset}
	switch command {
	case 'L':
		s.end = point{xs[0], xs[1]}
	case 'H':
		s.end[0] = xs[0]
	case 'V':
		s.end[1] = xs[0]
	case 'C':
		s = r.bend(offset, point{xs[0], xs[1]}, point{xs[2], xs[3]}, point{xs[4], xs[5]})
	case 'S':
		s = r.bend(offset, r.mirrored("CS"), point{xs[0], xs[1]}, point{xs[2], xs[3]})
	case 'Q':
		s = r.bend(offset, point{xs[0], xs[1]}, point{xs[2], xs[3]})
	case 'T':
		s = r.bend(offset, r.mirrored("QT"), point{xs[0], xs[1]})
	case 'A':
		s.end = point{xs[5], xs[6]}
		s.curve = arcTo(r.pen, s.end, xs[0], xs[1], xs[2]*math.Pi/180, xs[3] != 0, xs[4] != 0)
	}
	into := r.last(offset)
	into.segments = append(into.segments, s)
	r.segments++
	r.pen = s.end
}

// bend is the curve from the pen by its control points to the last of the places.
func (r *reader) bend(offset int, places ...point) segment {
	r.control = places[len(places)-2]
	end := places[len(places)-1]
	return segment{append(bezier{r.pen}, places...), end, offset}
}

// mirrored is the control point of the curve before, on the other side of the pen; the pen itself where what came
// before was none of those commands.
func (r *reader) mirrored(after string) point {
	if !strings.ContainsRune(after, r.before) {
		return r.pen
	}
	return point{2*r.pen[0] - r.control[0], 2*r.pen[1] - r.control[1]}
}
