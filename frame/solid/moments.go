package solid

import "math"

// What a brick's shape functions integrate to over a plane area in it
//
// In a brick with its edges along the axes, on a plane square to one of them, the serendipity functions are sums of
// eight products of the local coordinates ξ and η of the other two,
//
//	1, ξ, η, ξ², ξη, η², ξ²η, ξη²,
//
// with factors that hang on the plane's place only (brickShapes, multiplied out). Their integrals and those of ξ and
// η times them are sums of thirteen moments of the area, which are taken in no more points than are needed for degree
// 4, and need no shape functions there: a map reads ten thousand zones.

// Numbers of the moments ∫ξᵖηᑫ: the eight products, then what ξ and η times these add.
const (
	m00 = iota
	m10
	m01
	m20
	m11
	m02
	m21
	m12
	m30
	m03
	m31
	m22
	m13
	momentsCount
	productsCount = m12 + 1
)

// timesFirst and timesSecond are the moments of the products times ξ and times η.
var (
	timesFirst  = [productsCount]int{m10, m20, m11, m30, m21, m12, m31, m22}
	timesSecond = [productsCount]int{m01, m11, m02, m21, m12, m03, m22, m13}
)

// moments of a polygon in coordinates from the middle of a rectangle over half its sides; dA stays that of the polygon.
func (p polygon) moments(lo, hi [2]float64) (m [momentsCount]float64) {
	var mid, by [2]float64
	for k := range mid {
		mid[k], by[k] = (lo[k]+hi[k])/2, 2/(hi[k]-lo[k])
	}
	local := func(v [2]float64) [2]float64 { return [2]float64{(v[0] - mid[0]) * by[0], (v[1] - mid[1]) * by[1]} }
	a, b := local(p[0]), local(p[1])
	for _, v := range p[2:] {
		c := local(v)
		area := turn(a, b, c) / (2 * by[0] * by[1])
		for _, s := range triangle6 {
			x := s.one*a[0] + s.other*(b[0]+c[0])
			y := s.one*a[1] + s.other*(b[1]+c[1])
			addMoments(&m, s.weight*area, x, y)
			x, y = s.one*b[0]+s.other*(c[0]+a[0]), s.one*b[1]+s.other*(c[1]+a[1])
			addMoments(&m, s.weight*area, x, y)
			x, y = s.one*c[0]+s.other*(a[0]+b[0]), s.one*c[1]+s.other*(a[1]+b[1])
			addMoments(&m, s.weight*area, x, y)
		}
		b = c
	}
	return m
}

func addMoments(m *[momentsCount]float64, w, x, y float64) {
	wx, wy := w*x, w*y
	wxx, wxy, wyy := wx*x, wx*y, wy*y
	m[m00] += w
	m[m10] += wx
	m[m01] += wy
	m[m20] += wxx
	m[m11] += wxy
	m[m02] += wyy
	m[m21] += wxx * y
	m[m12] += wx * y * y
	m[m30] += wxx * x
	m[m03] += wyy * y
	m[m31] += wxx * x * y
	m[m22] += wxx * y * y
	m[m13] += wx * y * y * y
}

// triangle6 is a rule of six points over a triangle, exact to degree 4: three points each, at area coordinates one,
// other and other in turn (Dunavant, International Journal for Numerical Methods in Engineering 21 (1985), p = 4; from
// memory).
var triangle6 = [2]struct{ weight, one, other float64 }{
	{0.223381589678011466, 0.108103018168070227, 0.445948490915964886},
	{0.109951743655321868, 0.816847572980458513, 0.091576213509770743},
}

// weights are ∫N·dA, ∫x·N·dA and ∫y·N·dA of a node's shape function N over an area.
type weights struct{ one, x, y float64 }

// boxWeights visits the nodes of a brick with edges along the axes, whose shape functions do not vanish on a plane,
// with their weights over a part of it, x and y counted from a place. It returns that part's moments about the place as
// well.
func (r *Reduced) boxWeights(
	e int, p plane, piece polygon, from [2]float64, visit func(node int, w weights),
) areaMoments {
	u, v := across(p.normal)
	b := &r.bounds[e]
	m := piece.moments([2]float64{b.lo[u], b.lo[v]}, [2]float64{b.hi[u], b.hi[v]})
	hx, hy := (b.hi[u]-b.lo[u])/2, (b.hi[v]-b.lo[v])/2
	x, y := (b.lo[u]+b.hi[u])/2-from[0], (b.lo[v]+b.hi[v])/2-from[1]
	zeta := (2*p.at - b.lo[p.normal] - b.hi[p.normal]) / (b.hi[p.normal] - b.lo[p.normal])
	for i, s := range brickPlaces {
		c, vanishes := brickProducts(s[u], s[v], s[p.normal], zeta)
		if vanishes {
			continue
		}
		var one, first, second float64
		for k, f := range c {
			one += f * m[k]
			first += f * m[timesFirst[k]]
			second += f * m[timesSecond[k]]
		}
		visit(r.mesh.Elements[e].Nodes[i], weights{one, x*one + hx*first, y*one + hy*second})
	}
	return areaMoments{
		area: m[m00], x: x*m[m00] + hx*m[m10], y: y*m[m00] + hy*m[m01],
		xx: x*x*m[m00] + 2*x*hx*m[m10] + hx*hx*m[m20],
		xy: x*y*m[m00] + x*hy*m[m01] + y*hx*m[m10] + hx*hy*m[m11],
		yy: y*y*m[m00] + 2*y*hy*m[m01] + hy*hy*m[m02],
	}
}

// brickProducts are the factors of the eight products in the shape function of the node at s, t along the plane and at
// n across it, each −1, 0 or 1, on the plane at ζ across, where the function may vanish.
func brickProducts(s, t, n, zeta float64) (c [productsCount]float64, vanishes bool) {
	f := (1 + n*zeta) / 4
	if n == 0 {
		f = (1 - zeta*zeta) / 4
	}
	if math.Abs(f) < roundedShape {
		return c, true
	}
	switch {
	case n == 0:
		c = [productsCount]float64{m00: 1, m10: s, m01: t, m11: s * t}
	case s == 0:
		c = [productsCount]float64{m00: 1, m01: t, m20: -1, m21: -t}
	case t == 0:
		c = [productsCount]float64{m00: 1, m10: s, m02: -1, m12: -s}
	default:
		f /= 2
		q := n*zeta - 2
		c = [productsCount]float64{
			m00: q, m10: s * (1 + q), m01: t * (1 + q), m20: 1, m11: s * t * (2 + q), m02: 1, m21: t, m12: s,
		}
	}
	for k := range c {
		c[k] *= f
	}
	return c, false
}
