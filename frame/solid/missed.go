package solid

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// What coarse cells hold back
//
// Under a zone metal gives within about the zone's own width. Cells as wide as the zone cannot follow that: by force
// it moves a seventh too little against the metal far away, by moment it turns two fifths too little. They act as if
// they felt the zone spread over
//
//	s² = w² + (reach·h)²,  h = h₁^0.8·h₃^0.2
//
// instead of its width w, with h₁ the cells' extent along w and h₃ that square to the zone. On a half-space a zone
// gives as the inverse of its width under a force, of its width's cube under a moment, so that cells miss
//
//	size/E·(1/w − 1/s),  size/E·(1/w³ − 1/s³).
//
// Sizes and reaches were found by measurement: 60 zones, square, oblong 1:1.5 and 1:2 and rings, anywhere on blocks 25
// to 60 mm thick held below, on 20 meshes each with cells of 0.3 to 1.8 of the zone's width, against cells of a fifth
// (TestMissedGive measures it on other ones). What is left of the whole give is 3 % under forces and 7 % under moments
// (root mean square; 5 and 10 % on zones of other sizes, some at an edge). Poisson's ratio was 0.33; with it what is
// missed goes as the half-space's give does, by Boussinesq square to the face, by Cerruti along it (Johnson, Contact
// Mechanics (1985), chapter 3).
//
// Over a zone as large as the face a smooth pressure makes no dent: what is missed goes with the share of the face that
// the zone leaves free. It is added only for zones that stand by themselves (Zone.Lone). Over zones side by side a
// smooth pressure needs no dents, and what cells hold back of the rest is less than this.

// missing is the law for one kind of movement.
type missing struct{ size, reach float64 }

var (
	missingAlong  = missing{1.29, 0.56}  // movement along the face
	missingAcross = missing{1.19, 0.46}  // movement square to it
	missingTilt   = missing{4.01, 0.67}  // turning about an axis along it
	missingSpin   = missing{3.16, 0.655} // turning about the normal
)

const (
	missingNu    = 0.33 // of the measurement
	missingDepth = 0.2  // exponent of the cells' depth
	// A zone across the inside of a part has metal on both of its sides.
	insideShare = 0.5
)

// missed is the give of a zone's six freedoms that the cells under it hold back, mm/N, 1/N and 1/(N·mm): about are the
// area's moments about its middle, cells the mean extents of the cells under it.
func (r *Reduced) missed(z *Zone, about areaMoments, cells [3]float64, arm r3.Vec) (give [6][6]float64) {
	made := r.body.Part.Made
	u, v := across(z.Normal)
	lo, hi := r.body.Part.Box()
	face := (hi[u] - lo[u]) * (hi[v] - lo[v])
	if s := r.body.Part.sawn(); s != nil && s.Normal == z.Normal {
		face = s.Area.Area()
	}
	share := math.Max(0, 1-about.area/face)
	if !r.onFace(z) {
		share *= insideShare
	}
	nu := func(law func(nu float64) float64) float64 { return share * law(made.Nu) / law(missingNu) / made.E }
	across1, along1 := nu(func(nu float64) float64 { return 1 - nu*nu }),
		nu(func(nu float64) float64 { return (1 + nu) * (2 - nu) })
	spin1 := nu(func(nu float64) float64 { return 1 + nu })
	// A rectangle of the same area and the same ratio of second moments.
	shape := math.Sqrt(about.xx / about.yy)
	w := [2]float64{math.Sqrt(about.area * shape), math.Sqrt(about.area / shape)}
	felt := func(reach float64) (s [2]float64) {
		for i, k := range [2]int{u, v} {
			h := math.Pow(cells[k], 1-missingDepth) * math.Pow(cells[z.Normal], missingDepth)
			s[i] = math.Hypot(w[i], reach*h)
		}
		return s
	}
	// 1/w^p with the widths along and across an axis by powers that add up to p: by their measurement.
	lost := func(m missing, p0, p1 float64) float64 {
		s := felt(m.reach)
		return m.size * (1/(math.Pow(w[0], p0)*math.Pow(w[1], p1)) - 1/(math.Pow(s[0], p0)*math.Pow(s[1], p1)))
	}
	var own [6]float64
	own[u] = along1 * lost(missingAlong, 0.5, 0.5)
	own[v] = own[u]
	own[z.Normal] = across1 * lost(missingAcross, 0.5, 0.5)
	own[3+u] = across1 * lost(missingTilt, 0.75, 2.25)
	own[3+v] = across1 * lost(missingTilt, 2.25, 0.75)
	own[3+z.Normal] = spin1 * lost(missingSpin, 1.5, 1.5)
	// From the middle of the area to At.
	to := carry(r3.Vec{}, arm)
	for i := range 6 {
		for j := range 6 {
			for k := range 6 {
				give[i][j] += to[i][k] * own[k] * to[j][k]
			}
		}
	}
	return give
}

// onFace tells whether a zone lies on a face of the part.
func (r *Reduced) onFace(z *Zone) bool {
	lo, hi := r.body.Part.Box()
	at, near := components(z.At)[z.Normal], sameShare*r.body.Part.longest()
	if s := r.body.Part.sawn(); s != nil && s.Normal != z.Normal {
		u, v := across(s.Normal)
		c := components(z.At)
		return math.Abs(s.Area.Room([2]float64{c[u], c[v]})) <= near
	}
	return at <= lo[z.Normal]+near || at >= hi[z.Normal]-near
}

// cellsUnder is the mean extent of the cells that a zone lies on.
func (r *Reduced) cellsUnder(z *Zone) (mean [3]float64) {
	outer := z.outline()[0]
	lo, hi := outer.bounds()
	area := 0.0
	for _, c := range r.cuts(plane{z.Normal, components(z.At)[z.Normal]}, lo, hi) {
		piece := c.area.clip(outer)
		if piece == nil {
			continue
		}
		a, b := piece.area(), &r.bounds[c.element]
		area += a
		for k := range mean {
			mean[k] += a * (b.hi[k] - b.lo[k])
		}
	}
	for k := range mean {
		mean[k] /= area
	}
	return mean
}
