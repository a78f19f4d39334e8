package solid

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// drawPlaces draws zones to be read on a body's parts, faces and planes inside, held faces among them.
func drawPlaces(t *rapid.T, b *Body, least int) (zones []Zone) {
	for range rapid.IntRange(least, 3).Draw(t, "places") {
		if g := b.Part.Gusset; g != nil {
			c, legs := components(g.Corner), r3.Add(g.Legs[0], g.Legs[1])
			s := rapid.Float64Range(0.3, 0.9).Draw(t, "share")
			zones = append(zones, patchOn(span{c, [3]float64{c[0] + s*legs.X, c[1], c[2] + s*legs.Z}}))
			continue
		}
		z := patchOn(drawFace(t, &b.Part, "place"))
		if rapid.Bool().Draw(t, "ring") {
			z.Inner, z.Outer = 1, 8
		}
		zones = append(zones, z)
	}
	return zones
}

// enlarged is the body with the watched zones among its own: it has the same mesh.
func enlarged(b *Body) *Body {
	more := *b
	more.Zones, more.Watched = slices.Concat(b.Zones, b.Watched), nil
	return &more
}

// fromEnlarged are what K of the enlarged body says of the others' freedoms e with those of b held: movements by forces
// on them K_ee⁻¹, by movements of b's −K_ee⁻¹·K_eb. condition is that of K_ee, freedoms on one scale.
func fromEnlarged(t *rapid.T, b *Body, k *mat.SymDense) (local, weights *mat.Dense, condition float64) {
	zones, places := 6*len(b.Zones), 6*len(b.Watched)
	n := k.SymmetricDim()
	of := func(i int) int { // from a freedom of b to one of the enlarged body
		if i < zones {
			return i
		}
		return i + places
	}
	inner := mat.NewSymDense(places, nil)
	for i := range places {
		for j := i; j < places; j++ {
			inner.SetSym(i, j, k.At(zones+i, zones+j))
		}
	}
	local = mat.NewDense(places, places, nil)
	d := diagonal(inner)
	even, one := mat.NewDense(places, places, nil), mat.NewDense(places, places, nil)
	for i := range places {
		for j := range places {
			even.Set(i, j, inner.At(i, j)*d[i]*d[j])
		}
		one.Set(i, i, 1)
	}
	require.NoError(t, local.Solve(even, one))
	for i := range places {
		for j := range places {
			local.Set(i, j, local.At(i, j)*d[i]*d[j])
		}
	}
	coupling := mat.NewDense(places, n-places, nil)
	for i := range places {
		for j := range n - places {
			coupling.Set(i, j, -k.At(zones+i, of(j)))
		}
	}
	weights = mat.NewDense(places, n-places, nil)
	weights.Mul(local, coupling)
	return local, weights, mat.Cond(even, 2)
}

// The exact reference is a reduction in which the ports are ordinary zones of the body: K of that, solved for their
// freedoms, says how they move with the others and by forces on one another.
func TestPortsAreZonesOfAnEnlargedBody(t *testing.T) {
	worst, compared := 0.0, 0
	rapid.Check(t, func(t *rapid.T) {
		b := drawBody(t, rapid.IntRange(0, 2).Draw(t, "held"))
		b.Watched = drawPlaces(t, b, 2)
		r, full := reducedIfApart(t, b), reducedIfApart(t, enlarged(b))
		local, weights, condition := fromEnlarged(t, b, full.K)
		stiffest, softest := 0.0, math.Inf(1)
		for i := range 6 * len(b.Watched) {
			k := full.K.At(6*len(b.Zones)+i, 6*len(b.Zones)+i)
			stiffest, softest = max(stiffest, k), min(softest, k)
		}
		if stiffest > 1e15*softest {
			t.Skip("a freedom that reads held metal only: as a freedom of K it is stiff without end")
		}
		if condition *= evenCondition(full.inner); condition > 1e6 {
			t.Skip("zones nearly on one place, or nearly on held metal")
		}
		tolerance := max(1e-9, 1e-13*condition)
		p, err := r.Ports(b.Watched...)
		require.NoError(t, err)
		compared++
		size := make([]float64, 6*len(p.Zones))
		for i := range size {
			size[i] = math.Sqrt(local.At(i, i))
		}
		for i := range p.Zones {
			reading := p.Gauge(i)
			for j := range p.Zones {
				got := p.Between(i, j)
				for k := range 6 {
					for l := range 6 {
						e := math.Abs(got[k][l]-local.At(6*i+k, 6*j+l)) / (size[6*i+k] * size[6*j+l])
						worst = max(worst, e/tolerance)
						if !(e <= tolerance) {
							t.Fatalf("freedom %d of place %d by %d of %d: %g, enlarged body %g", k, i, l, j, got[k][l],
								local.At(6*i+k, 6*j+l))
						}
					}
				}
			}
			for k := range 6 {
				// A movement of a freedom weighs as much as a unit of its energy.
				most := 0.0
				d := diagonal(r.K)
				for j, w := range reading.Weights[k] {
					most = max(most, math.Abs(w*d[j]), math.Abs(weights.At(6*i+k, j)*d[j]))
				}
				for j, w := range reading.Weights[k] {
					e := math.Abs(w-weights.At(6*i+k, j)) * d[j] / (most + size[6*i+k])
					worst = max(worst, e/tolerance)
					if !(e <= tolerance) {
						t.Fatalf("freedom %d of place %d by %d of K: %g, enlarged body %g", k, i, j, w, weights.At(6*i+k, j))
					}
				}
			}
		}
	})
	t.Logf("%d bodies, worst %.1e of the tolerance", compared, worst)
	require.Positive(t, compared)
}

// readSingly reads one zone by full solves of the mesh, a zone's freedom at a time: the formulas above Gauge as they
// stand, with none of the products that Ports shares. size is the root of what each freedom gives with the freedoms
// left alone.
func (r *Reduced) readSingly(t require.TestingT, z Zone) (reading Gauge, size [6]float64) {
	form, wrong := r.reads(&z)
	require.Empty(t, wrong)
	var seen, left, moved [6]*mat.VecDense
	for k := range 6 {
		force := make([]float64, 3*len(r.mesh.Nodes))
		for _, s := range form.form {
			force[s.unknown] = s.reads[k]
		}
		push := r.solved(force)
		reading.Weights[k] = r.onFreedoms(push)
		moved[k] = mat.NewVecDense(r.order, push.moved)
		if len(r.forms) > 0 {
			seen[k] = mat.NewVecDense(6*len(r.forms), r.read(push.moved))
		}
		if len(r.body.Held) == 0 {
			var back mat.VecDense
			back.MulVec(r.afloat.pushed.T(), seen[k])
			left[k] = mat.NewVecDense(6, r.resultant(force))
			left[k].SubVec(left[k], &back)
		}
	}
	for k := range 6 {
		for l := range 6 {
			for _, s := range form.form {
				if at := r.free[s.unknown]; at >= 0 {
					reading.Local[k][l] += s.reads[k] * moved[l].AtVec(at)
				}
			}
			if k == l {
				size[k] = math.Sqrt(reading.Local[k][k])
			}
			if seen[k] != nil {
				reading.Local[k][l] -= mat.Inner(seen[k], r.inner, seen[l])
			}
			if left[k] != nil {
				var loose mat.VecDense
				require.NoError(t, r.afloat.m.SolveVecTo(&loose, left[l]))
				reading.Local[k][l] += mat.Dot(left[k], &loose)
			}
		}
	}
	return reading, size
}

// off is the most by which readings differ, as shares of the largest weight of a freedom and of its give.
func off(a, b Gauge, give [6]float64) float64 {
	worst := 0.0
	for k := range 6 {
		most := 0.0
		for i := range a.Weights[k] {
			most = max(most, math.Abs(a.Weights[k][i]))
		}
		for i := range a.Weights[k] {
			worst = max(worst, math.Abs(a.Weights[k][i]-b.Weights[k][i])/most)
		}
		for l := range 6 {
			if size := give[k] * give[l]; size > 0 || a.Local[k][l] != b.Local[k][l] {
				worst = max(worst, math.Abs(a.Local[k][l]-b.Local[k][l])/size)
			}
		}
	}
	return worst
}

// Readings, alone or of many at once, agree with full solves, whether they go by the zones' own freedoms or, when there
// are more of these, by the mesh's unknowns; and so does what two places do to each other.
func TestReadingsAreSolvesOfTheMesh(t *testing.T) {
	worst := 0.0
	rapid.Check(t, func(t *rapid.T) {
		b := drawBody(t, rapid.IntRange(0, 2).Draw(t, "held"))
		r := reducedIfApart(t, b)
		if evenCondition(r.inner) > 1e5 {
			t.Skip("zones nearly on one place, or nearly on held metal")
		}
		places := drawPlaces(t, b, 1)
		few, err := r.Ports(places...)
		require.NoError(t, err)
		require.Equal(t, 6*len(places), few.Local.SymmetricDim())
		var again []Zone
		for range 60 {
			again = append(again, places...)
		}
		many, err := r.Ports(again...)
		require.NoError(t, err)
		require.Less(t, many.Local.SymmetricDim(), 6*len(again))
		readings, err := r.gauges(again...)
		require.NoError(t, err)
		var sizes [][6]float64
		for i, z := range places {
			want, size := r.readSingly(t, z)
			sizes = append(sizes, size)
			for _, got := range []Gauge{few.Gauge(i), many.Gauge(i), many.Gauge(len(again) - len(places) + i), readings[i],
				readings[len(again)-len(places)+i]} {
				e := off(want, got, size)
				worst = max(worst, e)
				if !(e <= 1e-9) {
					t.Fatalf("place %d: %v, by solves %v", i, got, want)
				}
			}
			for j := range i {
				a, b := few.Between(i, j), many.Between(i, len(places)+j)
				back := few.Between(j, i)
				for k := range 6 {
					for l := range 6 {
						e := size[k] * sizes[j][l]
						require.InDelta(t, a[k][l], b[k][l], 1e-9*e)
						require.InDelta(t, a[k][l], back[l][k], 1e-13*e, "Maxwell-Betti")
					}
				}
			}
		}
	})
	t.Logf("worst %.1e", worst)
}

// A push on places does work on what it moves, freedoms held: no eigenvalue of Local is below zero but for rounding.
func TestPortsTakeEnergy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBody(t, rapid.IntRange(0, 2).Draw(t, "held"))
		r := reducedIfApart(t, b)
		if evenCondition(r.inner) > 1e5 {
			t.Skip("zones nearly on one place, or nearly on held metal")
		}
		p, err := r.Ports(slices.Repeat(drawPlaces(t, b, 1), 60)...)
		require.NoError(t, err)
		var eigen mat.EigenSym
		require.True(t, eigen.Factorize(p.Local, false))
		values := eigen.Values(nil)
		require.GreaterOrEqual(t, values[0], -1e-10*max(0, values[len(values)-1]))
	})
}

// By definition: what lies on held metal moves with what holds it, rigidly, and gives by nothing.
func TestPortsOnHeldMetal(t *testing.T) {
	b := &Body{Part: blockOf("a", soft, r3.Vec{}, r3.Vec{X: 60, Y: 40, Z: 20})}
	for _, x := range []float64{0, 30} {
		held := heldOn(span{[3]float64{x, 0, 0}, [3]float64{x + 20, 40, 0}})
		held.At = r3.Vec{X: -7, Y: x, Z: 3}
		b.Held = append(b.Held, held)
	}
	place := func(x float64) Zone {
		return patchOn(span{[3]float64{x, 5, 0}, [3]float64{x + 10, 20, 0}})
	}
	r := reduced(t, b, 1)
	for _, copies := range []int{1, 100} {
		p, err := r.Ports(slices.Repeat([]Zone{place(5), place(35)}, copies)...)
		require.NoError(t, err)
		for i := range 2 {
			at := 2*(copies-1) + i
			reading := p.Gauge(at)
			want := carry(b.Held[i].At, place(float64(5+30*i)).At)
			for k := range 6 {
				for j, w := range reading.Weights[k] {
					expected := 0.0
					if j/6 == i {
						expected = want[k][j%6]
					}
					require.InDelta(t, expected, w, 1e-12*50, "%d %d %d", i, k, j)
				}
			}
			require.Equal(t, [6][6]float64{}, p.Between(at, 0))
			require.Equal(t, [6][6]float64{}, p.Between(at, at))
		}
	}
}

// gauges are those of zones beside no ports.
func (r *Reduced) gauges(zones ...Zone) ([]Gauge, error) {
	p, err := r.ReadBeside(&Ports{}, zones...)
	if err != nil {
		return nil, err
	}
	list := make([]Gauge, len(zones))
	each(len(list), func(i int) { list[i] = p.Gauge(i) })
	return list, nil
}

func TestNoPortsAtAll(t *testing.T) {
	b := &Body{Part: blockOf("a", soft, r3.Vec{}, r3.Vec{X: 60, Y: 40, Z: 20})}
	b.Held = []Region{heldOn(span{[3]float64{0, 0, 0}, [3]float64{20, 40, 0}})}
	r := reduced(t, b, coarse)
	p, err := r.Ports()
	require.NoError(t, err)
	require.Empty(t, p.Zones)
	readings, err := r.gauges()
	require.NoError(t, err)
	require.Empty(t, readings)
	off := patchOn(span{[3]float64{0, 0, 30}, [3]float64{20, 40, 30}})
	_, err = r.Ports(off)
	require.ErrorContains(t, err, `the zone at (10, 20, 30) on part "a" has no metal under it`)
	_, err = r.gauges(off)
	require.ErrorContains(t, err, `the zone at (10, 20, 30) on part "a" has no metal under it`)
}

// A body that is held and has no zones of its own moves rigidly with what holds it; its ports give by themselves.
func TestPortsOfABodyWithoutZones(t *testing.T) {
	b := &Body{Part: blockOf("a", soft, r3.Vec{}, r3.Vec{X: 60, Y: 40, Z: 20})}
	b.Held = []Region{heldOn(span{[3]float64{0, 0, 0}, [3]float64{20, 40, 0}})}
	zone, other := patchOn(span{[3]float64{40, 5, 20}, [3]float64{55, 20, 20}}),
		patchOn(span{[3]float64{30, 15, 20}, [3]float64{50, 40, 20}})
	r := reduced(t, b, coarse)
	want, size := r.readSingly(t, zone)
	for _, copies := range []int{1, 60} {
		p, err := r.Ports(slices.Repeat([]Zone{zone, other}, copies)...)
		require.NoError(t, err)
		require.LessOrEqual(t, off(want, p.Gauge(0), size), 1e-10)
		beside, err := r.ReadBeside(p, zone)
		require.NoError(t, err)
		reading := beside.Gauge(0)
		require.LessOrEqual(t, off(want, reading, size), 1e-10)
		moves := p.Between(1, 0)
		_, sizeOther := r.readSingly(t, other)
		carried := carry(b.Held[0].At, zone.At)
		for k, terms := range p.Zones[1] {
			for l := range 6 {
				got := 0.0
				for _, term := range terms {
					got += term.Factor * reading.Across[l][term.Unknown]
				}
				require.InDelta(t, moves[k][l], got, 1e-10*sizeOther[k]*size[l])
				require.InDelta(t, carried[k][l], reading.Weights[k][l], 1e-12*60)
			}
		}
	}
}

// Gauge is zone i by itself.
func (p *Ports) Gauge(i int) Gauge {
	reading := Gauge{Local: p.Between(i, i)}
	_, n := p.Weights.Dims()
	for k, terms := range p.Zones[i] {
		reading.Weights[k] = make([]float64, n)
		for _, t := range terms {
			for j, v := range p.Weights.RawRowView(t.Unknown) {
				reading.Weights[k][j] += t.Factor * v
			}
		}
	}
	return reading
}

// Between is the movement of each freedom of zone i by a unit force on each of zone j, freedoms of K held.
func (p *Ports) Between(i, j int) (moves [6][6]float64) {
	for l, pushed := range p.Zones[j] {
		for k, read := range p.Zones[i] {
			for _, a := range read {
				for _, b := range pushed {
					moves[k][l] += a.Factor * b.Factor * p.Local.At(a.Unknown, b.Unknown)
				}
			}
		}
	}
	return moves
}
