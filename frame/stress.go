package frame

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
)

// placesBetween is how many places the stress is looked at between two where a line load begins or ends.
const placesBetween = 8

// searchSteps is how often the neighbourhood of the largest stress is narrowed, to a fifteen-thousandth: a largest
// stress is flat, so that its value is then right to many more digits.
const searchSteps = 20

// MemberStress is the largest von Mises stress in a member, MPa, as beam.Section.Stress has it, and where along the
// member: a place on its line of centroids, mm. ok is false for a section whose stresses are not known.
//
// Between the ends of a member without a line load, a weight or a bed the moments run straight and the stress, which is
// a norm of the forces, is largest at an end. Otherwise it is looked at in places along the member and, from every
// place where it is larger than at both neighbours, followed to its top.
func (s *Solution) MemberStress(member int) (mpa float64, at r3.Vec, ok bool) {
	p := &s.sys.placed[member]
	if _, known := p.own.Section.Stress([6]float64{}); !known {
		return 0, r3.Vec{}, false
	}
	ends := p.toEnds(s.U)
	loads := s.sys.spanLoads(member, s.load)
	forces := p.own.ForcesInside(ends, loads)
	stress := func(x float64) float64 {
		mises, _ := p.own.Section.Stress(forces(x))
		return mises
	}
	places := []float64{0, p.own.Length}
	straight := len(loads.Lines) == 0 && p.own.BedY == 0 && p.own.BedZ == 0
	if !straight {
		places = stations(p.own.Length, loads.Lines)
	}
	values := make([]float64, len(places))
	best := 0.0
	keep := func(x, value float64) {
		if value > mpa {
			best, mpa = x, value
		}
	}
	for i, x := range places {
		values[i] = stress(x)
		keep(x, values[i])
	}
	for i := range places {
		before, after := max(i-1, 0), min(i+1, len(places)-1)
		if !straight && values[i] > 0 && values[i] >= values[before] && values[i] >= values[after] {
			keep(top(stress, places[before], places[after]))
		}
	}
	start := s.sys.frame.end(s.sys.frame.members[member], 0)
	return mpa, r3.Add(start, r3.Scale(best, p.axes[0])), true
}

// StripStress is the largest stress of a strip taken for a member of a section, MPa, as [Solution.MemberStress] has it:
// of the forces and moments on its sections as a whole. What bends across and what a force does beside it are left out.
func (s *Solution) StripStress(strip *Strip, section beam.Section) (mpa float64, at r3.Vec, ok bool) {
	if _, known := section.Stress([6]float64{}); !known {
		return 0, r3.Vec{}, false
	}
	for i := range strip.at[1:] {
		forces := s.blockForces(strip.block + i)
		for e := range 2 {
			f := forces[e*sectionFreedoms : (e+1)*sectionFreedoms]
			push, turn := r3.Vec{X: f[0], Y: f[1], Z: f[2]}, r3.Vec{X: f[3], Y: f[4], Z: f[5]}
			var local [6]float64
			for k, axis := range strip.axes {
				local[k], local[3+k] = r3.Dot(push, axis), r3.Dot(turn, axis)
			}
			local[3] += f[NodeFreedoms+beyondNode(1, fieldW)] * strip.width / 2 // of forces square to the plate
			if here, _ := section.Stress(local); here > mpa {
				mpa, at = here, strip.frame.Node(strip.nodes[i+e])
			}
		}
	}
	return mpa, at, true
}

// blockForces are the forces on a block's freedoms that hold it as it is.
func (s *Solution) blockForces(block int) []float64 {
	ids := s.sys.block[block]
	u := make([]float64, len(ids))
	for i, id := range ids {
		u[i] = s.U[id]
	}
	for _, sw := range s.load.Swollen {
		if sw.Block == block {
			floats.Sub(u, sw.By)
		}
	}
	return s.sys.frame.blocks[block].forces(u)
}

// top searches a stretch with one top for it by golden section (Kiefer, Proc. Amer. Math. Soc. 4 (1953) 502).
func top(f func(float64) float64, low, high float64) (x, value float64) {
	const golden = math.Phi - 1
	a, b := high-golden*(high-low), low+golden*(high-low)
	fa, fb := f(a), f(b)
	for range searchSteps {
		if fa >= fb {
			high, b, fb = b, a, fa
			a = high - golden*(high-low)
			fa = f(a)
		} else {
			low, a, fa = a, b, fb
			b = low + golden*(high-low)
			fb = f(b)
		}
	}
	if fa >= fb {
		return a, fa
	}
	return b, fb
}

// stations are the places along a loaded member at which to look first, in order.
func stations(length float64, lines []beam.LineLoad) []float64 {
	breaks := []float64{0, length}
	for _, l := range lines {
		breaks = append(breaks, l.From, l.To)
	}
	slices.Sort(breaks)
	breaks = slices.Compact(breaks)
	at := breaks[:1:1]
	for i := range breaks[1:] {
		from, to := breaks[i], breaks[i+1]
		for k := range placesBetween {
			at = append(at, from+(to-from)*float64(k+1)/(placesBetween+1))
		}
		at = append(at, to)
	}
	return at
}

// spanLoads are the loads that a member carries between its ends, in its local axes.
func (s *System) spanLoads(member int, load Load) (loads beam.SpanLoads) {
	p := &s.placed[member]
	for _, l := range load.Lines {
		if l.Member == member {
			loads.Lines = append(
				loads.Lines,
				beam.LineLoad{From: l.From, To: l.To, QFrom: p.toLocal(l.AtFrom), QTo: p.toLocal(l.AtTo)},
			)
		}
	}
	for _, w := range load.Warm {
		if w.Member == member {
			loads.Heat.Mean += w.Mean
			loads.Heat.GradY += w.GradY
			loads.Heat.GradZ += w.GradZ
		}
	}
	if felt := load.feltByMember(member); felt != (r3.Vec{}) {
		q := p.toLocal(r3.Scale(p.own.MassPerLength(), felt))
		loads.Lines = append(loads.Lines, beam.LineLoad{To: p.own.Length, QFrom: q, QTo: q})
	}
	return loads
}
