package cutting

import (
	"math"
	"slices"
	"sync"

	"gonum.org/v1/gonum/integrate/quad"
)

// arc is a range of tooth angles, radian within 0 and π, over which the chip is h = p + q sin φ > 0, mm.
// Without run-out p is 0 and q the feed per tooth.
type arc struct {
	from, to float64
	p, q     float64
}

// moments are what a law makes its forces of: integrals over tooth angles of the chip's power
// h^(1−m) and of one, by themselves, times cos φ and times sin φ.
type moments struct {
	chip, chipCos, chipSin float64
	edge, edgeCos, edgeSin float64
}

// add adds o, times f.
func (m *moments) add(o moments, f float64) {
	m.chip += o.chip * f
	m.chipCos += o.chipCos * f
	m.chipSin += o.chipSin * f
	m.edge += o.edge * f
	m.edgeCos += o.edgeCos * f
	m.edgeSin += o.edgeSin * f
}

// chipPower evaluates and integrates h^(1−m).
type chipPower struct {
	p      float64     // 1−m
	series *sinePowers // nil if m = 0
	q, qp  float64     // the last q met, and q^(1−m)
}

func newChipPower(m float64) *chipPower {
	c := &chipPower{p: 1 - m}
	if m > 0 {
		c.series = newSinePowers(c.p)
	}
	return c
}

// at returns the integrands at one angle within the arc.
func (c *chipPower) at(a arc, phi float64) moments {
	sin, cos := math.Sincos(phi)
	h := math.Max(a.p+a.q*sin, 0)
	if c.series != nil {
		h = math.Pow(h, c.p)
	}
	return moments{h, h * cos, h * sin, 1, cos, sin}
}

// between integrates from one angle to another within the arc.
func (c *chipPower) between(a arc, from, to float64) moments {
	sin0, cos0 := math.Sincos(from)
	sin1, cos1 := math.Sincos(to)
	m := moments{edge: to - from, edgeCos: sin1 - sin0, edgeSin: cos0 - cos1}
	switch {
	case c.series == nil:
		// ∫ sin cos = sin²/2 and ∫ sin² = (φ − sin cos)/2
		m.chip = a.p*m.edge + a.q*m.edgeSin
		m.chipCos = a.p*m.edgeCos + a.q*(sin1*sin1-sin0*sin0)/2
		m.chipSin = a.p*m.edgeSin + a.q*(m.edge-(sin1*cos1-sin0*cos0))/2
	case a.p == 0:
		lower0, upper0, own0 := c.series.at(from)
		lower1, upper1, own1 := c.series.at(to)
		if a.q != c.q {
			c.q, c.qp = a.q, math.Pow(a.q, c.p)
		}
		m.chip = c.qp * (lower1 - lower0)
		m.chipCos = c.qp * (own1 - own0) / (c.p + 1)
		m.chipSin = c.qp * (upper1 - upper0)
	default:
		x, w := smoothedGauss()
		for i := range x {
			o := c.at(a, from+(to-from)*x[i])
			f := (to - from) * w[i]
			m.chip += o.chip * f
			m.chipCos += o.chipCos * f
			m.chipSin += o.chipSin * f
		}
	}
	return m
}

// quadraturePoints is enough for 1e-7 of the integral of a chip that starts from nothing with an exponent as tables
// have.
const quadraturePoints = 24

// smoothedGauss returns abscissae in 0…1 and weights of a Gauss rule bent by x = t³(10 − 15t + 6t²): the
// integrand and its slope then vanish at both ends, which tames the infinite slope of h^(1−m) where h starts.
var smoothedGauss = sync.OnceValues(func() (x, w []float64) {
	x, w = make([]float64, quadraturePoints), make([]float64, quadraturePoints)
	quad.Legendre{}.FixedLocations(x, w, 0, 1)
	for i, t := range x {
		x[i] = t * t * t * (10 - 15*t + 6*t*t)
		w[i] *= 30 * t * t * (1 - t) * (1 - t)
	}
	return x, w
})

// chipArcs returns where a tooth cuts between the angles entry and exit, if each tooth's radius is
// greater than the mean by radii (in the order in which they pass, this tooth first, then the one
// before it, and so on). The tooth k places ahead left a surface feed × k behind, so the chip is the
// least of k × feed × sin φ + r_0 − r_k over the teeth of one revolution; where that is negative the
// tooth cuts air. The least of straight lines in sin φ is again made of straight lines.
func chipArcs(entry, exit, feed float64, radii []float64) []arc {
	n := len(radii)
	q := func(k int) float64 { return float64(k) * feed }
	p := func(k int) float64 { return radii[0] - radii[k%n] }
	bounds := []float64{entry, exit}
	cut := func(sin float64) {
		if !(sin > 0 && sin < 1) {
			return
		}
		a := math.Asin(sin)
		for _, phi := range []float64{a, math.Pi - a} {
			if phi > entry && phi < exit {
				bounds = append(bounds, phi)
			}
		}
	}
	for k := 1; k <= n; k++ {
		cut(-p(k) / q(k))
		for l := k + 1; l <= n; l++ {
			cut((p(k) - p(l)) / (q(l) - q(k)))
		}
	}
	slices.Sort(bounds)
	var arcs []arc
	for i := 1; i < len(bounds); i++ {
		from, to := bounds[i-1], bounds[i]
		if !(to > from) {
			continue
		}
		sin := math.Sin((from + to) / 2)
		least := arc{from, to, p(1), q(1)}
		for k := 2; k <= n; k++ {
			if p(k)+q(k)*sin < least.p+least.q*sin {
				least.p, least.q = p(k), q(k)
			}
		}
		if !(least.p+least.q*sin > 0) {
			continue
		}
		if last := len(arcs) - 1; last >= 0 && arcs[last].to == from && arcs[last].p == least.p &&
			arcs[last].q == least.q {
			arcs[last].to = to
			continue
		}
		arcs = append(arcs, least)
	}
	return arcs
}
