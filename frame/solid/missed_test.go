package solid

import (
	"math"
	"math/rand"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
)

// loneGive is the own give of a lone zone on top of a block of some thickness held below, and what of it was added to
// the mesh's.
func loneGive(t *testing.T, thick float64, z Zone, mesh float64) (give, added [6]float64) {
	return loneGiveIn(t, soft, thick, z, mesh)
}

// loneGiveIn is the same in a metal.
func loneGiveIn(t *testing.T, made beam.Material, thick float64, z Zone, mesh float64) (give, added [6]float64) {
	z.Lone = true
	b := &Body{Part: blockOf("block", made, r3.Vec{}, r3.Vec{X: 180, Y: 160, Z: thick}), Zones: []Zone{z}}
	b.Held = []Region{heldOn(span{[3]float64{0, 0, 0}, [3]float64{180, 160, 0}})}
	r := reduced(t, b, mesh)
	var c mat.Dense
	require.NoError(t, c.Inverse(r.K.SliceSym(0, 6)))
	for k := range give {
		give[k], added[k] = c.At(k, k), r.forms[0].missed[k][k]
	}
	return give, added
}

// The reference is a mesh with cells of a quarter of the zone's width, without any correction. Sizes, places and
// thicknesses are others than those by which the law was found; some zones lie at an edge, which the law knows nothing
// of.
func TestMissedGive(t *testing.T) {
	draw := rand.New(rand.NewSource(7))
	var worst, sum [2]float64 // of movements, of turns
	count, nearer := 0.0, 0.0
	n := 6
	if thorough() {
		n = 30
	}
	for i := range n {
		w, thick := []float64{9, 20}[i%2], []float64{30, 50}[i/2%2]
		x, y := w/2+draw.Float64()*(180-w), w+draw.Float64()*(160-2*w)
		if i == 0 {
			x = w / 2
		}
		z := patchOn(span{[3]float64{x - w/2, y - w/2, thick}, [3]float64{x + w/2, y + w/2, thick}})
		switch i % 3 {
		case 1:
			z.Inner, z.Outer = 0.36*w/2, w/2
		case 2:
			z = patchOn(span{[3]float64{x - w/2, y - w, thick}, [3]float64{x + w/2, y + w, thick}})
		}
		fine, little := loneGive(t, thick, z, 0.35)
		got, added := loneGive(t, thick, z, 2.5)
		for k := range 6 {
			want := fine[k] - little[k]
			e := got[k]/want - 1
			if math.Abs(e) < math.Abs((got[k]-added[k])/want-1) {
				nearer++
			}
			worst[k/3] = math.Max(worst[k/3], math.Abs(e))
			sum[k/3] += e * e
		}
		count += 3
	}
	t.Logf("movement off by %.1f %% (r.m.s.), %.1f at most; turning by %.1f, %.1f at most", 100*math.Sqrt(sum[0]/count),
		100*worst[0], 100*math.Sqrt(sum[1]/count), 100*worst[1])
	require.GreaterOrEqual(t, nearer/(2*count), 0.8, "nearer than without, of all freedoms")
	require.Less(t, worst[0], 0.12)
	require.Less(t, worst[1], 0.25)
}

// What is added goes as what cells hold back also inside a part, where metal on both sides of a zone takes half of a
// force, for a zone that is spun about its normal, and with Poisson's ratio: against cells of a quarter of the zone's
// width, each with what the law leaves for them.
func TestMissedGiveInsideSpunAndByPoisson(t *testing.T) {
	const thick = 30.0
	along, normal, spun := 0, 2, 5
	// By width of the zone, one square, one a ring; how much of what the coarse cells hold back is added.
	compared := func(nu, at float64) (lacking, added [6]float64) {
		metal := soft
		metal.Nu = nu
		for _, w := range []float64{9, 14} {
			z := patchOn(span{[3]float64{70, 60, at}, [3]float64{70 + w, 60 + w, at}})
			if w > 9 {
				z.Inner, z.Outer = 0.36*w/2, w/2
			}
			fine, little := loneGiveIn(t, metal, thick, z, 0.4)
			coarse, much := loneGiveIn(t, metal, thick, z, 2.5)
			for k := range lacking {
				lacking[k] += (fine[k] - little[k]) - (coarse[k] - much[k])
				added[k] += much[k] - little[k]
			}
		}
		return lacking, added
	}
	share := func(nu, at float64) (of [6]float64) {
		lacking, added := compared(nu, at)
		for k := range of {
			of[k] = added[k] / lacking[k]
		}
		t.Logf("nu %g at %g: added are %.2f of what is lacking", nu, at, of)
		return of
	}
	inside := share(0.33, thick/2)
	for _, k := range []int{along, normal} {
		require.InDelta(t, 1, inside[k], 0.3, "inside, along axis %d", k)
	}
	require.InDelta(t, 1, share(0.33, thick)[spun], 0.1, "spun")

	// Along a face a metal that thins more when pulled gives more, by Cerruti (1+ν)·(2−ν).
	lacking0, added0 := compared(0, thick)
	lacking45, added45 := compared(0.45, thick)
	require.Less(t, lacking0[along], lacking45[along])
	require.Less(t, added0[along], added45[along])
}

// A lone zone and a lone gauge take part in work and energy as any other: Clapeyron's theorem, and the reading of a
// pushed gauge is what its own give says.
func TestLoneZonesDoWork(t *testing.T) {
	b := &Body{Part: blockOf("block", soft, r3.Vec{}, r3.Vec{X: 120, Y: 80, Z: 25})}
	b.Held = []Region{heldOn(span{[3]float64{0, 0, 0}, [3]float64{30, 80, 0}})}
	lone := func(x, y float64) Zone {
		z := patchOn(span{[3]float64{x - 7, y - 7, 25}, [3]float64{x + 7, y + 7, 25}})
		z.Lone = true
		return z
	}
	b.Zones = []Zone{lone(60, 20), lone(100, 60)}
	r := reduced(t, b, 2.5)
	spot := lone(80, 40)
	gauges, err := r.gauges(spot)
	require.NoError(t, err)
	push := Push{Zone: spot, Force: [6]float64{300, -200, 500, 2000, 1000, -1500}}
	f := r.Recover(make([]float64, 18), Load{Pushes: []Push{push}})
	moved, work := f.Mean(spot), 0.0
	for k := range 6 {
		require.InEpsilon(t, dot6(gauges[0].Local[k], push.Force), moved[k], 1e-9)
		work += push.Force[k] * moved[k] / 2
	}
	require.InEpsilon(t, work, f.Energy(), 1e-9)
	other := spot
	other.Lone = false
	require.NotEqual(t, moved, f.Mean(other), "another zone is not dented")
}

// A uniform stress leaves no doubt; that of a bent cantilever falls with the cells and is of the size of what they hold
// back against a fine mesh.
func TestMeshDoubt(t *testing.T) {
	bar := func(mesh float64, held span) (r *Reduced) {
		b := &Body{Part: blockOf("bar", soft, r3.Vec{}, r3.Vec{X: 120, Y: 20, Z: 20})}
		b.Zones = []Zone{patchOn(span{[3]float64{120, 0, 0}, [3]float64{120, 20, 20}}), patchOn(held)}
		b.Held = []Region{heldOn(held)}
		b.Zones = b.Zones[:1]
		return reduced(t, b, mesh)
	}
	end := span{[3]float64{0, 0, 0}, [3]float64{0, 20, 20}}
	pulled := bar(1, end)
	slackBar := &Body{Part: blockOf("bar", slack, r3.Vec{}, r3.Vec{X: 120, Y: 20, Z: 20}), Zones: pulled.body.Zones,
		Held: pulled.body.Held}
	r := reduced(t, slackBar, 1)
	f := r.Recover(solveFreedoms(t, r, 6, []float64{1000, 0, 0, 0, 0, 0}), Load{})
	require.Less(t, f.MeshDoubt(), 1e-12*f.Energy())

	// Held on a strip of its lower face: the stress at the strip's edge has no bound.
	strip := span{[3]float64{0, 0, 0}, [3]float64{30, 20, 0}}
	var energy, doubt []float64
	for _, mesh := range []float64{4, 2, 0.4} {
		r := bar(mesh, strip)
		f := r.Recover(solveFreedoms(t, r, 6, []float64{0, 0, 1000, 0, 0, 0}), Load{})
		energy, doubt = append(energy, f.Energy()), append(doubt, f.MeshDoubt())
	}
	require.Greater(t, doubt[0], doubt[1])
	require.Greater(t, doubt[1], doubt[2])
	for i := range 2 {
		held := energy[2] - energy[i]
		t.Logf("held back %.2f %%, estimated %.2f %%", 100*held/energy[i], 100*doubt[i]/energy[i])
		require.Greater(t, doubt[i], held/2)
		require.Less(t, doubt[i], 8*held)
	}
}
