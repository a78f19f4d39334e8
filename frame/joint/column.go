package joint

import (
	"math"

	"tiploop/frame/constant"
)

// Zone is a loaded rectangle on the face of a part, with the metal that lies beside it.
//
// The force spreads below it as a column whose sides move outwards with depth, each until it
// meets the end of the metal. The column's give is that of a plain column of the zone's own section
// A·B and the length ColumnDepth, over E; in shear, ShearDepth over G.
//
// # How fast the sides move
//
// Let a, b be the sides of the section at some depth, and both ends of each side free to move by
// tanψ per depth. What a half-space gives under an evenly loaded patch a by b is C(a, b), known in
// closed form (the essay on patches). If the metal below the section is to give just that,
// at every depth, then the give C falls by dz/(E a b) as each side grows by 2 tanψ dz, so that
//
//	tanψ = -1/(2 E a b (∂C/∂a + ∂C/∂b)).
//
// With metal all around and below, the column thus gives exactly what the half-space gives, for any
// rectangle. The slope depends on a/b alone: at ν = 0.33, 31° under a square, growing to 41° under
// a long strip, where it is π/(4(1-ν²)), the slope that makes the give of a plane slice grow with
// the depth at the rate 2(1-ν²)/(πE) of a line load (Johnson, Contact Mechanics, art. 2.3).
//
// An end that meets a wall stops. The rest goes on as if the wall were a mirror: with one end of a
// stopped, the section counts as 2a long, with both, as an endless strip, which leads to the
// plane slice's rate. A wall is a free face and no mirror, so in a bounded part the rule is an
// estimate, and moving a wall away can raise the give by up to 3 % before the added metal lowers it; at
// the two limits, the half-space and the plain column, it is exact.
type Zone struct {
	A, B                  float64 // full sides, mm
	RoomAMinus, RoomAPlus float64 // metal beyond each end of A, mm; may be infinite
	RoomBMinus, RoomBPlus float64 // metal beyond each end of B, mm; may be infinite
}

// ColumnDepth returns the length of a column of section A·B that gives under a normal force as much
// as the metal down to that depth, mm: ∫ A B/(a b) dz.
func (z Zone) ColumnDepth(depth, nu float64) float64 {
	z.check(depth, nu)
	strip := math.Pi / (4 * (1 - nu*nu))
	return z.column(depth, func(a, b float64) float64 {
		if math.IsInf(a, 1) || math.IsInf(b, 1) {
			return strip
		}
		return patchSlope(a, b, (1-nu*nu)/math.Pi, 1, 0)
	})
}

// ShearDepth returns the lengths of columns of section A·B that give, in shear, as much as the
// metal down to that depth under a force along A and under one along B, mm.
func (z Zone) ShearDepth(depth, nu float64) (alongA, alongB float64) {
	z.check(depth, nu)
	slope := func(along, across float64) float64 {
		switch {
		case math.IsInf(along, 1): // line load along its own line: rate 1/(πG)
			return math.Pi / 2
		case math.IsInf(across, 1): // line load across it, in the slice: rate (1-ν)/(πG)
			return math.Pi / (2 * (1 - nu))
		}
		return patchSlope(along, across, 1/(2*math.Pi), 1-nu, nu)
	}
	alongA = z.column(depth, slope)
	alongB = z.column(depth, func(a, b float64) float64 { return slope(b, a) })
	return alongA, alongB
}

func (z Zone) check(depth, nu float64) {
	constant.MustBePositive("joint: side A of the zone", z.A)
	constant.MustBePositive("joint: side B of the zone", z.B)
	for _, room := range []float64{z.RoomAMinus, z.RoomAPlus, z.RoomBMinus, z.RoomBPlus} {
		mustNotBeNegative("room beside the zone", room)
	}
	mustNotBeNegative("depth", depth)
	if math.IsInf(depth, 1) {
		panic("joint: depth of a zone is infinite")
	}
	mustBePoissonRatio(nu)
}

// patchSlope returns tanψ under a patch whose give, times the modulus, is
// C = scale (normal I + directed J)/(ab)², where I and J are pairReciprocal and pairDirected times
// (ab)². Their derivatives are, with D = √(a²+b²),
//
//	∂I/∂a = 4 (a b asinh(b/a) + b² asinh(a/b)/2 - a (D-a)/2),  ∂I/∂b alike,
//	∂J/∂a = 2 (a (D-a) + b² asinh(a/b)),
//	∂J/∂b = 4 b (a asinh(a/b) - (D-b)).
func patchSlope(a, b, scale, normal, directed float64) float64 {
	d := math.Hypot(a, b)
	dLessA, dLessB := b*b/(d+a), a*a/(d+b)
	flat, steep := math.Asinh(b/a), math.Asinh(a/b)

	area := a * b
	sum := (normal*pairReciprocal(a, b) + directed*pairDirected(a, b)) * area * area
	byA := normal*4*(area*flat+b*b*steep/2-a*dLessA/2) + directed*2*(a*dLessA+b*b*steep)
	byB := normal*4*(area*steep+a*a*flat/2-b*dLessB/2) + directed*4*b*(a*steep-dLessB)
	return area * area / (2 * scale * (2*sum*(a+b) - area*(byA+byB)))
}

// column follows the section down and adds up A B dz/(a b). With the growth g of each moving end as
// the variable, dz = dg/tanψ, everything is smooth between two walls; a stretch ends at the next
// wall, or when the smaller moving side has grown by half, which Gauss's rule of eight points
// integrates to ten digits.
func (z Zone) column(depth float64, slope func(a, b float64) float64) float64 {
	roomsA, roomsB := [2]float64{z.RoomAMinus, z.RoomAPlus}, [2]float64{z.RoomBMinus, z.RoomBPlus}
	s := stretch{a: z.A, b: z.B, slope: slope}
	total, g := 0.0, 0.0
	for {
		longest := math.Inf(1)
		s.endsA, longest = moving(roomsA, g, longest)
		s.endsB, longest = moving(roomsB, g, longest)
		if s.endsA == 0 && s.endsB == 0 {
			return z.A * z.B * (total + depth/(s.a*s.b))
		}
		wall := g + longest
		if s.endsA > 0 {
			longest = math.Min(longest, s.a/2)
		}
		if s.endsB > 0 {
			longest = math.Min(longest, s.b/2)
		}
		deep, give := s.integrate(longest)
		if deep >= depth {
			_, give = s.integrate(s.growthAt(depth))
			return z.A * z.B * (total + give)
		}
		total += give
		depth -= deep
		s.a += s.endsA * longest
		s.b += s.endsB * longest
		if g += longest; g > wall-roomRounding*wall {
			g = wall
		}
	}
}

// roomRounding is how near to a wall, relative to the growth so far, counts as there: growth is a
// sum of a few stretches, each rounded.
const roomRounding = 1e-12

// moving counts the ends that have room beyond the growth g, and cuts longest to the next wall.
func moving(rooms [2]float64, g, longest float64) (ends, nearest float64) {
	for _, room := range rooms {
		if room > g {
			ends++
			longest = math.Min(longest, room-g)
		}
	}
	return ends, longest
}

// stretch is a piece of the column over which the same ends move.
type stretch struct {
	a, b         float64 // section at its top, mm
	endsA, endsB float64 // ends of each side that move: 0, 1 or 2
	slope        func(a, b float64) float64
}

// rate returns dz/dg and the give per growth, dz/(a b)/dg, where each moving end has grown by g.
func (s stretch) rate(g float64) (deep, give float64) {
	a, b := s.a+s.endsA*g, s.b+s.endsB*g
	// Mirrored at its walls; two walls make an endless strip.
	deep = 1 / s.slope(2*a/s.endsA, 2*b/s.endsB)
	return deep, deep / (a * b)
}

// gauss8 holds abscissae and weights of Gauss-Legendre quadrature with eight points on [-1, 1]
// (Abramowitz and Stegun, table 25.4); the other four points mirror these. Nodes of gonum's
// quad.Legendre differ from these in the last place or two, enough to move the last digits and the
// order of equal rows in every answer of a machine with seats.
var gauss8 = [4][2]float64{
	{0.1834346424956498, 0.3626837833783620},
	{0.5255324099163290, 0.3137066458778873},
	{0.7966664774136267, 0.2223810344533745},
	{0.9602898564975363, 0.1012285362903763},
}

// integrate returns the depth and the give over a growth g from the top of the stretch.
func (s stretch) integrate(g float64) (deep, give float64) {
	for _, p := range gauss8 {
		for _, x := range [2]float64{-p[0], p[0]} {
			d, c := s.rate(g / 2 * (1 + x))
			deep += p[1] * d
			give += p[1] * c
		}
	}
	return deep * g / 2, give * g / 2
}

// growthAt returns the growth at a depth below the top of the stretch, by Newton's method: depth
// over growth is nearly straight, so each step gains several digits.
func (s stretch) growthAt(depth float64) float64 {
	const steps = 6 // from the 1e-1 of the first guess far below rounding
	first, _ := s.rate(0)
	g := depth / first
	for range steps {
		deep, _ := s.integrate(g)
		here, _ := s.rate(g)
		g -= (deep - depth) / here
	}
	return g
}
