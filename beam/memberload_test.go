package beam

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func drawLoads(t *rapid.T, m Member) SpanLoads {
	a := rapid.Float64Range(0, 0.5).Draw(t, "from") * m.Length
	b := rapid.Float64Range(0.6, 1).Draw(t, "to") * m.Length
	at := rapid.Float64Range(0.05, 0.95).Draw(t, "at") * m.Length
	return SpanLoads{
		Lines:  []LineLoad{{a, b, drawVec[[3]float64](t, "q1"), drawVec[[3]float64](t, "q2")}},
		Points: []PointLoad{{at, drawVec[[3]float64](t, "f"), drawVec[[3]float64](t, "m")}},
		Heat: Heat{
			Mean:  rapid.Float64Range(-10, 10).Draw(t, "mean"),
			GradY: rapid.Float64Range(-1, 1).Draw(t, "gy"),
			GradZ: rapid.Float64Range(-1, 1).Draw(t, "gz"),
		},
	}
}

func TestEndForcesBalanceTheLoads(t *testing.T) {
	// Statics: force and moment about end 1 of the end forces are those of the loads; heat has none.
	rapid.Check(t, func(t *rapid.T) {
		m := anyMember(t)
		loads := drawLoads(t, m)
		var want, size [6]float64
		add := func(x float64, force, moment [3]float64) {
			w := [6]float64{force[0], force[1], force[2], moment[0], moment[1] - x*force[2], moment[2] + x*force[1]}
			for i := range want {
				want[i] += w[i]
				size[i] += math.Abs(w[i]) + 1
			}
		}
		q := loads.Lines[0]
		n := q.To - q.From
		for i := range 3 { // resultant and its place, by Simpson's rule, exact for the moment of a linear load
			var f [3]float64
			x := q.From + n*float64(i)/2
			for k := range 3 {
				f[k] = n / 6 * []float64{1, 4, 1}[i] * (q.QFrom[k] + (q.QTo[k]-q.QFrom[k])*float64(i)/2)
			}
			add(x, f, [3]float64{})
		}
		add(loads.Points[0].At, loads.Points[0].Force, loads.Points[0].Moment)
		loads.Heat = Heat{}
		F := m.EndForces(loads)
		got := mulVec6(transpose6(rigid(m.Length)), [6]float64(F[6:]))
		for i := range 6 {
			got[i] += F[i]
			if e := math.Abs(got[i] - want[i]); !(e <= 1e-7*size[i]*(1+m.Length)) {
				t.Fatalf("component %d: end forces give %g, loads %g", i, got[i], want[i])
			}
		}
	})
}

func TestInsideAgreesWithTheMemberCut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyMember(t)
		loads := drawLoads(t, m)
		// Cut where the point load is, so that the reference carries it on a node.
		p := loads.Points[0]
		l := newLine(m, p.At).clamp(0)
		for i := range 3 {
			l.F[6+i] += p.Force[i]
			l.F[9+i] += p.Moment[i]
		}
		q := loads.Lines[0]
		load := func(x float64) (f [3]float64) {
			for k := range 3 {
				f[k] = q.QFrom[k] + (q.QTo[k]-q.QFrom[k])*(x-q.From)/(q.To-q.From)
			}
			return f
		}
		for e, part := range l.members {
			low, high := math.Max(q.From, l.at[e]), math.Min(q.To, l.at[e+1])
			if low < high {
				l.addEnds(e, part.LineLoad(low-l.at[e], high-l.at[e], load(low), load(high)))
			}
			l.addEnds(e, part.ThermalLoad(loads.Heat.Mean, loads.Heat.GradY, loads.Heat.GradZ))
		}
		cut, _ := l.solve(t)
		whole, r := newLine(m).clamp(0).addEnds(0, m.EndForces(loads)).solve(t)
		var size, turn float64
		for i := range cut {
			if i%6 < 3 {
				size = math.Max(size, math.Abs(cut[i]))
			} else {
				turn = math.Max(turn, math.Abs(cut[i]))
			}
		}
		forces, moved := m.Inside(p.At, [12]float64(whole), loads)
		start, _ := m.Inside(0, [12]float64(whole), loads)
		end, _ := m.Inside(m.Length, [12]float64(whole), loads)
		for i := range 6 {
			scale := size
			if i >= 3 {
				scale = turn
			}
			if e := math.Abs(moved[i] - cut[6+i]); !(e <= 1e-7*scale) {
				t.Fatalf("freedom %d moves %g inside, %g cut", i, moved[i], cut[6+i])
			}
			if e := math.Abs(whole[6+i] - cut[12+i]); !(e <= 1e-7*scale) {
				t.Fatalf("freedom %d of the end moves %g, cut %g", i, whole[6+i], cut[12+i])
			}
			require.InDelta(t, -r[i], start[i], 1e-6*(1+math.Abs(r[i])+m.Length), "internal force %d at the clamp", i)
			require.InDelta(t, 0, end[i], 1e-5*(1+m.Length*m.Length+math.Abs(start[i])), "internal force %d at the free end", i)
			require.False(t, math.IsNaN(forces[i]))
		}
	})
}

func TestFreeThermalExpansion(t *testing.T) {
	// A member held at one end only takes the strain α(mean + gradY·y + gradZ·z) without force:
	// ux = α·mean·L, and even curvatures.
	rapid.Check(t, func(t *rapid.T) {
		m := anyMember(t)
		h := Heat{Mean: 7, GradY: 0.2, GradZ: -0.3}
		d, r := newLine(m).clamp(0).addEnds(0, m.ThermalLoad(h.Mean, h.GradY, h.GradZ)).solve(t)
		a, L := m.Material.Expansion, m.Length
		want := [6]float64{
			a * h.Mean * L,
			-a * h.GradY * L * L / 2,
			-a * h.GradZ * L * L / 2,
			0,
			a * h.GradZ * L,
			-a * h.GradY * L,
		}
		for i := range 6 {
			if e := math.Abs(d[6+i] - want[i]); !(e <= 1e-8*(math.Abs(want[i])+a)) {
				t.Fatalf("freedom %d: %g, want %g", i, d[6+i], want[i])
			}
		}
		S := m.thermalForces(h)
		for i, x := range r {
			if !(math.Abs(x) <= 1e-7*(math.Abs(S[i%6])+math.Abs(S[4])+math.Abs(S[5]))*(1+1/L)) {
				t.Fatalf("reaction %d is %g", i, x)
			}
		}
		forces, _ := m.Inside(L/3, [12]float64(d), SpanLoads{Heat: h})
		for i, x := range forces {
			if !(math.Abs(x) <= 1e-6*(math.Abs(S[0])+math.Abs(S[4])+math.Abs(S[5]))) {
				t.Fatalf("internal force %d is %g", i, x)
			}
		}
	})
}

func TestLineLoadOfNoLength(t *testing.T) {
	m := Member{Section: mustSection(t, Rect{40, 20}, 0.3), Material: Material{Key: "m", E: 70000, Nu: 0.3}, Length: 100}
	q := [3]float64{1, 2, 3}
	require.Equal(t, [12]float64{}, m.LineLoad(30, 30, q, q))
	forces, moved := m.Inside(80, [12]float64{}, SpanLoads{Lines: []LineLoad{{30, 30, q, q}}})
	require.Equal(t, [6]float64{}, forces)
	require.Equal(t, [6]float64{}, moved)
}

func TestForcesInsideAreThoseOfInside(t *testing.T) {
	section, err := Rect{Width: 20, Height: 30}.Section(0.3)
	require.NoError(t, err)
	m := Member{Section: section, Material: Material{E: 70e3, Nu: 0.3}, Length: 200}
	ends := [12]float64{0.1, -0.2, 0.3, 1e-3, 2e-3, -1e-3, 0, 0.1, 0.2, 0, -1e-3, 2e-3}
	loads := SpanLoads{Lines: []LineLoad{{From: 20, To: 150, QFrom: [3]float64{1, 2, 3}, QTo: [3]float64{-1, 0, 2}}}}
	along := m.ForcesInside(ends, loads)
	for _, x := range []float64{0, 20, 77, 150, 200} {
		want, _ := m.Inside(x, ends, loads)
		require.Equal(t, want, along(x))
	}
	require.Panics(t, func() { along(201) })
}
