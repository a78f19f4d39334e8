package drawing

import "math"

// backToFront orders patches so that each is painted before those that hide some of it. Patches that run through one
// another, and those that hide one another in a ring, are cut along the plane of one of them, as in the order of M.
// Newell, R. Newell and T. Sancha, "A solution to the hidden surface problem" (1972).
func backToFront(list []patch) []patch {
	o := ordering{}
	for i := range list {
		o.add(list[i])
	}
	for i := 0; i < len(o.list); i++ { // cutting adds more
		for k := 0; k < len(o.list) && o.cuts < mostCuts; k++ {
			if k != i && !o.gone[i] && !o.gone[k] && o.mixed[[2]int{min(i, k), max(i, k)}] {
				if !o.cut(i, &o.list[k]) {
					o.cut(k, &o.list[i])
				}
			}
		}
	}
	return o.sorted()
}

// mostCuts is how many cuts are made at most: a picture whose parts run through one another everywhere is left as it
// is.
const mostCuts = 2000

// Overlaps smaller than leastOverlap, mm², are those of neighbours that share a border, and depths nearer than
// sameDepth, mm, those of faces that lie on one another. Of two patches that run through one another each is nearer
// over mixedShare of what both cover, at least.
const (
	leastOverlap = 1e-3
	sameDepth    = 0.02
	mixedShare   = 0.02
)

// ordering is patches with what is known of every two: which is nearer where both are seen.
type ordering struct {
	list   []patch
	gone   []bool // painted, or cut
	hides  [][]int
	behind []int // how many that are not gone have to be painted before
	mixed  map[[2]int]bool
	cuts   int
}

// add takes in a patch and holds it against all that are there.
func (o *ordering) add(p patch) {
	if o.mixed == nil {
		o.mixed = map[[2]int]bool{}
	}
	n := len(o.list)
	o.list, o.gone = append(o.list, p), append(o.gone, false)
	o.hides, o.behind = append(o.hides, nil), append(o.behind, 0)
	for i := range n {
		if o.gone[i] {
			continue
		}
		nearer, farther := nearerOver(&o.list[n], &o.list[i])
		switch {
		case nearer > farther:
			o.hides[i], o.behind[n] = append(o.hides[i], n), o.behind[n]+1
		case farther > nearer:
			o.hides[n], o.behind[i] = append(o.hides[n], i), o.behind[i]+1
		}
		if math.Min(nearer, farther) > mixedShare*(nearer+farther) {
			o.mixed[[2]int{i, n}] = true
		}
	}
}

// leave takes a patch out.
func (o *ordering) leave(i int) {
	o.gone[i] = true
	for _, k := range o.hides[i] {
		o.behind[k]--
	}
}

// cut cuts a patch along the plane of another; not done when it lies on one side of that.
func (o *ordering) cut(i int, by *patch) bool {
	one, other, ok := o.list[i].split(by.plane())
	if !ok {
		return false
	}
	// What the patch waits for stays in the counts of those it hides until it leaves; its halves count for themselves.
	for k := range o.list {
		for n, hidden := range o.hides[k] {
			if hidden == i && !o.gone[k] {
				o.hides[k] = append(o.hides[k][:n:n], o.hides[k][n+1:]...)
				break
			}
		}
	}
	o.leave(i)
	o.add(one)
	o.add(other)
	o.cuts++
	return true
}

// sorted takes the patches out from the farthest on.
func (o *ordering) sorted() (out []patch) {
	for {
		best := -1
		for i := range o.list {
			if o.gone[i] {
				continue
			}
			if best < 0 || (o.behind[i] == 0) != (o.behind[best] == 0) && o.behind[i] == 0 ||
				(o.behind[i] == 0) == (o.behind[best] == 0) && o.list[i].hi.near < o.list[best].hi.near {
				best = i
			}
		}
		if best < 0 {
			return out
		}
		if o.behind[best] > 0 && o.cutRing(best) {
			continue
		}
		o.leave(best)
		out = append(out, o.list[best])
	}
}

// cutRing cuts a patch that waits for others of a ring along the plane of one of these, or one of these along its own.
func (o *ordering) cutRing(i int) bool {
	for k := range o.list {
		if o.gone[k] || o.cuts >= mostCuts {
			continue
		}
		for _, hidden := range o.hides[k] {
			if hidden == i && (o.cut(i, &o.list[k]) || o.cut(k, &o.list[i])) {
				return true
			}
		}
	}
	return false
}

// nearerOver is the area over which a is nearer to the reader than b, and over which it is farther, of what both cover.
func nearerOver(a, b *patch) (nearer, farther float64) {
	if a.lo.right >= b.hi.right || b.lo.right >= a.hi.right || a.lo.up >= b.hi.up || b.lo.up >= a.hi.up {
		return 0, 0
	}
	for _, s := range a.triangles {
		for _, t := range b.triangles {
			shared := clipped(s, t)
			for k := 1; k+1 < len(shared); k++ {
				piece := [3]seen{shared[0], shared[k], shared[k+1]}
				area := areaOf(piece[:])
				if area < leastOverlap {
					continue
				}
				var apart float64
				for _, at := range piece {
					apart += (depthAt(s, at) - depthAt(t, at)) / 3
				}
				switch {
				case apart > sameDepth:
					nearer += area
				case apart < -sameDepth:
					farther += area
				}
			}
		}
	}
	return nearer, farther
}

// plane is that which a patch lies in about, as a function that is zero on it, mm.
func (p *patch) plane() func(seen) float64 {
	var n, middle seen
	weight := 0.0
	for _, t := range p.triangles {
		a, b, c := t[0], t[1], t[2]
		u, v := seen{b.right - a.right, b.up - a.up, b.near - a.near}, seen{c.right - a.right, c.up - a.up, c.near - a.near}
		x := seen{u.up*v.near - u.near*v.up, u.near*v.right - u.right*v.near, u.right*v.up - u.up*v.right}
		area := math.Sqrt(x.right*x.right + x.up*x.up + x.near*x.near)
		n = seen{n.right + x.right, n.up + x.up, n.near + x.near}
		for _, c := range t {
			middle = seen{middle.right + area*c.right/3, middle.up + area*c.up/3, middle.near + area*c.near/3}
		}
		weight += area
	}
	size := math.Sqrt(n.right*n.right + n.up*n.up + n.near*n.near)
	if size == 0 || weight == 0 {
		return func(seen) float64 { return 1 }
	}
	off := (n.right*middle.right + n.up*middle.up + n.near*middle.near) / weight
	return func(s seen) float64 { return (n.right*s.right + n.up*s.up + n.near*s.near - off) / size }
}

// leastHalf is how far a patch has to reach to either side of a plane to be cut along it, mm.
const leastHalf = 0.1

// split cuts a patch along a plane; not ok when it does not reach to both sides.
func (p *patch) split(side func(seen) float64) (one, other patch, ok bool) {
	least, most := math.Inf(1), math.Inf(-1)
	for _, t := range p.triangles {
		for _, c := range t {
			least, most = math.Min(least, side(c)), math.Max(most, side(c))
		}
	}
	if least > -leastHalf || most < leastHalf {
		return one, other, false
	}
	one = p.half(side)
	other = p.half(func(s seen) float64 { return -side(s) })
	return one, other, len(one.triangles) > 0 && len(other.triangles) > 0
}

// half is what of a patch is where side is above zero.
func (p *patch) half(side func(seen) float64) patch {
	h := patch{body: p.body, light: p.light}
	for _, t := range p.triangles {
		part := kept(t[:], side, true)
		for k := 1; k+1 < len(part); k++ {
			piece := [3]seen{part[0], part[k], part[k+1]}
			if areaOf(piece[:]) > leastOverlap/100 {
				h.triangles = append(h.triangles, piece)
			}
		}
	}
	if h.triangles == nil {
		return h
	}
	for _, loop := range p.loops {
		if part := kept(loop, side, true); len(part) > 2 {
			h.loops = append(h.loops, part)
		}
	}
	for _, line := range p.edges {
		h.edges = append(h.edges, runs(line, side)...)
	}
	for _, loop := range h.loops { // the cut is a seam, too
		h.seams = append(h.seams, append(loop[:len(loop):len(loop)], loop[0]))
	}
	h.measure()
	return h
}

// between is where a line crosses zero of two values at its ends.
func between(p, q seen, dp, dq float64) seen {
	f := dp / (dp - dq)
	return seen{p.right + f*(q.right-p.right), p.up + f*(q.up-p.up), p.near + f*(q.near-p.near)}
}

// kept is what of a loop, or of a line that is not closed, is where side is not below zero.
func kept(line []seen, side func(seen) float64, closed bool) (out []seen) {
	for i, p := range line {
		dp := side(p)
		if dp >= 0 {
			out = append(out, p)
		}
		if i == len(line)-1 && !closed {
			break
		}
		q := line[(i+1)%len(line)]
		if dq := side(q); dp*dq < 0 {
			out = append(out, between(p, q, dp, dq))
		}
	}
	return out
}

// runs are the stretches of a line that are where side is not below zero.
func runs(line []seen, side func(seen) float64) (out [][]seen) {
	var now []seen
	end := func() {
		if len(now) > 1 {
			out = append(out, now)
		}
		now = nil
	}
	for i, p := range line[:len(line)-1] {
		q := line[i+1]
		part := kept([]seen{p, q}, side, false)
		if len(part) < 2 {
			end()
			continue
		}
		if now == nil {
			now = append(now, part[0])
		}
		now = append(now, part[1])
		if side(q) < 0 {
			end()
		}
	}
	end()
	return out
}
