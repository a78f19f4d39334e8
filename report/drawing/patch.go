package drawing

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/answer"
)

// The isometric view (ISO 5456-3): from the front right and above, x to the right and down, y to the right and up, z up,
// all foreshortened alike.
var (
	isoRight  = r3.Vec{X: math.Sqrt2 / 2, Y: math.Sqrt2 / 2}
	isoUp     = r3.Unit(r3.Vec{X: -1, Y: 1, Z: 2})
	isoToward = r3.Unit(r3.Vec{X: 1, Y: -1, Z: 1})
)

// seen is a place as the isometric view shows it: to the right, up, and how near to the reader, mm.
type seen struct{ right, up, near float64 }

func isometric(p r3.Vec) seen {
	return seen{r3.Dot(p, isoRight), r3.Dot(p, isoUp), r3.Dot(p, isoToward)}
}

// patch is a flat face of a body, as far as it looks at the reader, bent.
type patch struct {
	body      int
	triangles [][3]seen
	loops     [][]seen // its outline, then its holes, the other way round
	edges     [][]seen // pieces of edges that are drawn
	seams     [][]seen // the rest of its outline
	light     float64  // how much light falls on it, 0 to 1
	lo, hi    seen     // the box round it
}

// facing are the patches of a body whose corners stand at some places, by those at rest: what is flat at rest is one
// patch. Corners are joined as the body says.
func facing(number int, b *answer.ShapeBody, bent []r3.Vec) []patch {
	flat := make([]seen, len(bent))
	for i, p := range bent {
		flat[i] = isometric(p)
	}
	type plane struct{ x, y, z, off int }
	byPlane := map[plane][]int{}
	var order []plane
	for i, t := range b.Triangles {
		a, c, d := flat[t[0]], flat[t[1]], flat[t[2]]
		if (c.right-a.right)*(d.up-a.up)-(d.right-a.right)*(c.up-a.up) <= 0 {
			continue // looks away
		}
		at := vector(b.AtMM[t[0]])
		n := r3.Unit(r3.Cross(r3.Sub(vector(b.AtMM[t[1]]), at), r3.Sub(vector(b.AtMM[t[2]]), at)))
		key := plane{grid(n.X, 1e-3), grid(n.Y, 1e-3), grid(n.Z, 1e-3), grid(r3.Dot(n, at), 1e-2)}
		if byPlane[key] == nil {
			order = append(order, key)
		}
		byPlane[key] = append(byPlane[key], i)
	}
	drawn := map[[2]int]bool{}
	for _, e := range b.Edges {
		drawn[e], drawn[[2]int{e[1], e[0]}] = true, true
	}
	var list []patch
	for _, key := range order {
		p := patch{body: number}
		sides := map[[2]int]bool{}
		var sum r3.Vec
		for _, i := range byPlane[key] {
			t := b.Triangles[i]
			p.triangles = append(p.triangles, [3]seen{flat[t[0]], flat[t[1]], flat[t[2]]})
			sum = r3.Add(sum, r3.Cross(r3.Sub(bent[t[1]], bent[t[0]]), r3.Sub(bent[t[2]], bent[t[0]])))
			for k := range 3 {
				sides[[2]int{t[k], t[(k+1)%3]}] = true
			}
		}
		p.measure()
		p.light = math.Max(0, r3.Dot(r3.Unit(sum), isoLight))
		for _, loop := range loopsOf(sides) {
			var corners []seen
			for _, c := range loop {
				corners = append(corners, flat[c])
			}
			p.loops = append(p.loops, corners)
			p.edges = append(p.edges, stretches(loop, flat, func(a, b int) bool { return drawn[[2]int{a, b}] })...)
			p.seams = append(p.seams, stretches(loop, flat, func(a, b int) bool { return !drawn[[2]int{a, b}] })...)
		}
		list = append(list, p)
	}
	return list
}

// measure finds the box round the patch.
func (p *patch) measure() {
	p.lo, p.hi = p.triangles[0][0], p.triangles[0][0]
	for _, t := range p.triangles {
		for _, c := range t {
			p.lo = seen{min(p.lo.right, c.right), min(p.lo.up, c.up), min(p.lo.near, c.near)}
			p.hi = seen{max(p.hi.right, c.right), max(p.hi.up, c.up), max(p.hi.near, c.near)}
		}
	}
}

// isoLight is where the light comes from: above the reader's left shoulder.
var isoLight = r3.Unit(r3.Add(r3.Scale(0.55, isoToward), r3.Sub(r3.Scale(0.75, isoUp), r3.Scale(0.35, isoRight))))

func grid(v, step float64) int { return int(math.Round(v / step)) }

// loopsOf are the loops round some triangles, each side of which is there once each way but for those on the border.
func loopsOf(sides map[[2]int]bool) (loops [][]int) {
	next := map[int][]int{}
	var from []int
	for s := range sides {
		if !sides[[2]int{s[1], s[0]}] {
			next[s[0]] = append(next[s[0]], s[1])
			from = append(from, s[0])
		}
	}
	slices.Sort(from)
	for _, list := range next {
		slices.Sort(list)
	}
	for _, start := range from {
		var loop []int
		for at := start; len(next[at]) > 0; {
			loop = append(loop, at)
			to := next[at][0]
			next[at] = next[at][1:]
			at = to
		}
		if len(loop) > 2 {
			loops = append(loops, loop)
		}
	}
	return loops
}

// stretches are the runs of a loop along sides that are chosen.
func stretches(loop []int, flat []seen, chosen func(a, b int) bool) (lines [][]seen) {
	n, first := len(loop), 0
	for i := range loop {
		if !chosen(loop[(i+n-1)%n], loop[i]) { // begin behind a side that is not
			first = i
			break
		}
	}
	var line []seen
	for k := range n {
		a, b := loop[(first+k)%n], loop[(first+k+1)%n]
		if !chosen(a, b) {
			if line != nil {
				lines = append(lines, line)
			}
			line = nil
			continue
		}
		if line == nil {
			line = []seen{flat[a]}
		}
		line = append(line, flat[b])
	}
	if line != nil {
		lines = append(lines, line)
	}
	return lines
}

// clipped is what two triangles share in the view (I. Sutherland, G. Hodgman, "Reentrant polygon clipping", 1974).
func clipped(s, t [3]seen) []seen {
	shared := s[:]
	for k := range 3 {
		a, b := t[k], t[(k+1)%3]
		side := func(p seen) float64 { return (b.right-a.right)*(p.up-a.up) - (b.up-a.up)*(p.right-a.right) }
		var out []seen
		for i, p := range shared {
			q := shared[(i+1)%len(shared)]
			dp, dq := side(p), side(q)
			if dp >= 0 {
				out = append(out, p)
			}
			if dp*dq < 0 {
				f := dp / (dp - dq)
				out = append(out, seen{p.right + f*(q.right-p.right), p.up + f*(q.up-p.up), 0})
			}
		}
		if len(out) < 3 {
			return nil
		}
		shared = out
	}
	return shared
}

func areaOf(loop []seen) (sum float64) {
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		sum += (p.right*q.up - q.right*p.up) / 2
	}
	return sum
}

// depthAt is how near a triangle is to the reader at a place of the view.
func depthAt(t [3]seen, at seen) float64 {
	a, b, c := t[0], t[1], t[2]
	area := (b.right-a.right)*(c.up-a.up) - (c.right-a.right)*(b.up-a.up)
	v := ((at.right-a.right)*(c.up-a.up) - (c.right-a.right)*(at.up-a.up)) / area
	w := ((b.right-a.right)*(at.up-a.up) - (at.right-a.right)*(b.up-a.up)) / area
	return a.near + v*(b.near-a.near) + w*(c.near-a.near)
}

// covers tells whether a triangle that looks at the reader covers a place of the view.
func covers(t [3]seen, at seen) bool {
	for k := range 3 {
		a, b := t[k], t[(k+1)%3]
		if (b.right-a.right)*(at.up-a.up)-(b.up-a.up)*(at.right-a.right) < 0 {
			return false
		}
	}
	return true
}

// straightened leaves out corners of a line that are within a distance of the straight line between those that stay
// (D. Douglas, T. Peucker, "Algorithms for the reduction of the number of points", 1973).
func straightened(line []seen, within float64) []seen {
	if len(line) < 3 {
		return line
	}
	a, b := line[0], line[len(line)-1]
	length := math.Hypot(b.right-a.right, b.up-a.up)
	far, at := 0.0, 0
	for i, p := range line[1 : len(line)-1] {
		d := math.Hypot(p.right-a.right, p.up-a.up)
		if length > within {
			d = math.Abs((b.right-a.right)*(p.up-a.up)-(b.up-a.up)*(p.right-a.right)) / length
		}
		if d > far {
			far, at = d, i+1
		}
	}
	if far <= within {
		return []seen{a, b}
	}
	head := straightened(line[:at+1], within)
	return append(slices.Clone(head[:len(head)-1]), straightened(line[at:], within)...)
}
