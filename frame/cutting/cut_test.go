package cutting_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/cutting"
	"tiploop/testdata/checks"
)

const exact = 1e-9 // closed form against closed form: rounding, and the nanoradian the samples stand off a jump

// side is a usual finishing cut.
func side() cutting.Milling {
	return cutting.Milling{
		Mill: cutting.Mill{DiameterMM: 6, Flutes: 2, HelixDeg: 30},
		Mode: cutting.Down, RadialDepthMM: 1, AxialDepthMM: 2, FeedPerToothMM: 0.03, SpeedRPM: 12000,
	}
}

func forces(t require.TestingT, m cutting.Milling, l cutting.Law) cutting.Forces {
	f, err := m.Forces(l)
	require.NoError(t, err)
	return f
}

// loads holds two loads together, relative to the size of the second.
func loads(t testing.TB, what string, got, want cutting.Load, tol float64) {
	t.Helper()
	size := want.Size()
	for _, v := range [][2]float64{{got.X, want.X}, {got.Y, want.Y}, {got.Z, want.Z}} {
		if e := math.Abs(v[0]-v[1]) / size; !(e <= tol) {
			t.Errorf("%s: got %+v, want %+v, off by %.2g", what, got, want, e)
			return
		}
	}
	checks.CloseTo(t, what+": torque", got.Torque, want.Torque, tol)
}

// altintas is the mean load of the linear edge-force law between two angles (Altintas, Manufacturing Automation, ch. 2,
// mean milling forces per tooth period, from memory). Its z is positive where ours is negative.
func altintas(m cutting.Milling, l cutting.Law, entry, exit float64) cutting.Load {
	n, a, c := float64(m.Mill.Flutes), m.AxialDepthMM, m.FeedPerToothMM
	between := func(f func(phi float64) float64) float64 { return f(exit) - f(entry) }
	return cutting.Load{
		X: between(func(p float64) float64 {
			return n*a*c/(8*math.Pi)*(l.Kt*math.Cos(2*p)-l.Kr*(2*p-math.Sin(2*p))) +
				n*a/(2*math.Pi)*(-l.Kte*math.Sin(p)+l.Kre*math.Cos(p))
		}),
		Y: between(func(p float64) float64 {
			return n*a*c/(8*math.Pi)*(l.Kt*(2*p-math.Sin(2*p))+l.Kr*math.Cos(2*p)) -
				n*a/(2*math.Pi)*(l.Kte*math.Cos(p)+l.Kre*math.Sin(p))
		}),
		Z: -between(func(p float64) float64 {
			return n * a / (2 * math.Pi) * (-l.Ka*c*math.Cos(p) + l.Kae*p)
		}),
		Torque: between(func(p float64) float64 {
			return m.Mill.DiameterMM / 2 * n * a / (2 * math.Pi) * (-l.Kt*c*math.Cos(p) + l.Kte*p)
		}),
	}
}

func TestMeanForces(t *testing.T) {
	law := cutting.Law{Kt: 767, Kte: 27.7, Kr: 169, Kre: 26.6, Ka: 222, Kae: 0.7}
	for _, mode := range []cutting.Mode{cutting.Up, cutting.Down, cutting.Slot, cutting.Centred} {
		t.Run(mode.String(), func(t *testing.T) {
			m := side()
			m.Mode = mode
			loads(t, "mean", forces(t, m, law).Mean, altintas(m, law, m.EntryDeg()*math.Pi/180,
				m.ExitDeg()*math.Pi/180), exact)
		})
	}
	// Slotting, in the short form of the same chapter (from memory).
	m := side()
	m.Mode = cutting.Slot
	n, a, c := 2.0, m.AxialDepthMM, m.FeedPerToothMM
	loads(t, "slot", forces(t, m, law).Mean, cutting.Load{
		X: -n*a/4*law.Kr*c - n*a/math.Pi*law.Kre, Y: n*a/4*law.Kt*c + n*a/math.Pi*law.Kte,
		Z: -(n*a/math.Pi*law.Ka*c + n*a/2*law.Kae), Torque: 3 * (n*a/math.Pi*law.Kt*c + n*a/2*law.Kte),
	}, exact)
}

// brute sums a law over thin slices of every tooth, at the offsets each slice really has.
func brute(m cutting.Milling, l cutting.Law, rotation float64, slices int) (sum cutting.Load) {
	entry, exit := m.EntryDeg()*math.Pi/180, m.ExitDeg()*math.Pi/180
	kappa := math.Pi / 2
	if m.Mill.EnteringDeg != 0 {
		kappa = m.Mill.EnteringDeg * math.Pi / 180
	}
	n := m.Mill.Flutes
	pitch := 2 * math.Pi / float64(n)
	for i := range slices {
		z := m.AxialDepthMM * (float64(i) + 0.5) / float64(slices)
		lag := m.Mill.LagDeg(z) * math.Pi / 180
		radius := func(j int) float64 {
			return m.Mill.OffsetMM * math.Cos(float64(j)*pitch-lag+m.Mill.OffsetDeg*math.Pi/180)
		}
		for j := range n {
			phi := math.Mod(rotation+float64(j)*pitch-lag+20*math.Pi, 2*math.Pi)
			if phi < entry || phi > exit {
				continue
			}
			h := math.Inf(1)
			for k := 1; k <= n; k++ {
				h = math.Min(h, float64(k)*m.FeedPerToothMM*math.Sin(phi)+radius(j)-radius(j+k))
			}
			if h <= 0 {
				continue
			}
			ft, fr, fa := l.Orthogonal(h*math.Sin(kappa), m.AxialDepthMM/float64(slices)/math.Sin(kappa))
			in := fr*math.Sin(kappa) + fa*math.Cos(kappa)
			sum.X += -ft*math.Cos(phi) - in*math.Sin(phi)
			sum.Y += ft*math.Sin(phi) - in*math.Cos(phi)
			sum.Z += fr*math.Cos(kappa) - fa*math.Sin(kappa)
			sum.Torque += ft * m.Mill.DiameterMM / 2
		}
	}
	return sum
}

func TestCutAgainstSlices(t *testing.T) {
	linear := cutting.Law{Kt: 767, Kte: 27.7, Kr: 169, Kre: 26.6, Ka: 222, Kae: 0.7}
	kienzle := cutting.Law{Kt: 700, Kr: 210, Ka: 150, M: 0.27}
	for _, tt := range []struct {
		name  string
		law   cutting.Law
		spoil func(*cutting.Milling)
		tol   float64 // of the largest load; slices miss up to one slice of an edge at each crossing
	}{
		{"linear", linear, func(*cutting.Milling) {}, 2e-4},
		{"Kienzle", kienzle, func(*cutting.Milling) {}, 2e-4},
		{"face mill", linear, func(m *cutting.Milling) {
			m.Mode, m.RadialDepthMM, m.Mill.EnteringDeg = cutting.Centred, 5, 45
		}, 2e-4},
		{"no helix", kienzle, func(m *cutting.Milling) { m.Mill.HelixDeg = 0 }, 1e-12},
		{"more than a turn of lag", linear, func(m *cutting.Milling) {
			m.AxialDepthMM, m.Mill.HelixDeg = 40, 45
		}, 5e-4},
		{"offset, no helix", kienzle, func(m *cutting.Milling) {
			m.Mill.HelixDeg, m.Mill.OffsetMM, m.Mill.OffsetDeg, m.Mill.Flutes = 0, 0.02, 40, 3
		}, 1e-12},
		// The offset turns by up to 1° inside a slice of the fast sum.
		{"offset", linear, func(m *cutting.Milling) {
			m.Mill.OffsetMM, m.Mill.OffsetDeg, m.Mill.Flutes = 0.004, 40, 3
		}, 5e-3},
		{"offset, Kienzle, air", kienzle, func(m *cutting.Milling) {
			m.Mode, m.Mill.OffsetMM, m.Mill.OffsetDeg, m.Mill.Flutes = cutting.Slot, 0.03, -70, 4
		}, 2e-3},
	} {
		t.Run(tt.name, func(t *testing.T) {
			m := side()
			tt.spoil(&m)
			c, err := cutting.NewCut(m, tt.law)
			require.NoError(t, err)
			worst, size := 0.0, 0.0
			for i := range 36 {
				at := 1.7 + 10*float64(i)
				got, want := c.At(at), brute(m, tt.law, at*math.Pi/180, 20000)
				size = math.Max(size, want.Size())
				worst = math.Max(worst, math.Max(math.Hypot(got.X-want.X, got.Y-want.Y),
					math.Max(math.Abs(got.Z-want.Z), math.Abs(got.Torque-want.Torque)/3)))
			}
			t.Logf("worst %.2g", worst/size)
			require.True(t, worst <= tt.tol*size, "off by %.2g", worst/size)
		})
	}
}

// The mean from the arc of engagement is the mean of the loads all the way round.
func TestMeanIsTheMeanOfLoads(t *testing.T) {
	for _, m := range []float64{0, 0.25} {
		for _, offset := range []float64{0, 0.01} {
			cut := side()
			cut.Mill.OffsetMM = offset
			c, err := cutting.NewCut(cut, cutting.Law{Kt: 700, Kr: 200, Ka: 100, M: m, Kte: 5, Kre: 4, Kae: 1})
			require.NoError(t, err)
			const n = 20000
			var sum cutting.Load
			for i := range n {
				l := c.At(360 * (float64(i) + 0.5) / n)
				sum.X, sum.Y, sum.Z, sum.Torque = sum.X+l.X/n, sum.Y+l.Y/n, sum.Z+l.Z/n, sum.Torque+l.Torque/n
			}
			loads(t, "mean", c.Mean(), sum, 1e-6) // midpoint rule over kinks
		}
	}
}

// Where an edge lags by more than the arc of engagement its whole arc is in the cut for a while: the force
// stands still at the integral over the arc.
func TestPlateau(t *testing.T) {
	m := side()
	m.RadialDepthMM, m.AxialDepthMM = 0.3, 6
	law := cutting.Law{Kt: 631, Kte: 13, Kr: 99, Kre: 10, Ka: 273, Kae: 2.8}
	f := forces(t, m, law)
	lag := 2 * math.Tan(math.Pi/6) / 6 * 6
	checks.CloseTo(t, "peak across", f.PeakAcross.Load.Across(), f.Mean.Across()*2*math.Pi/(2*lag), 1e-9)
}

// An axial depth of one axial pitch keeps the same length of edge in the cut always (Altintas, Manufacturing
// Automation, from memory), and so do four straight teeth in a slot, as Σ sin² is constant.
func TestConstantForce(t *testing.T) {
	law := cutting.Law{Kt: 700, Kr: 200, Ka: 150}
	m := side()
	m.AxialDepthMM = math.Pi * 6 / (2 * math.Tan(math.Pi/6))
	f := forces(t, m, law)
	loads(t, "most", f.Most, f.Mean, exact)
	loads(t, "least", f.Least, f.Mean, exact)

	m = side()
	m.Mode, m.Mill.HelixDeg = cutting.Slot, 0
	for _, n := range []int{4, 6, 8, 12} {
		m.Mill.Flutes = n
		f := forces(t, m, law)
		size := f.Mean.Across()
		require.InDelta(t, f.Mean.X, f.Most.X, exact*size)
		require.InDelta(t, f.Mean.X, f.Least.X, exact*size)
		require.InDelta(t, f.Mean.Y, f.Most.Y, exact*size)
		require.InDelta(t, f.Mean.Y, f.Least.Y, exact*size)
	}
}

// Without edge forces power is specific force times the volume cut in a time: P = k_c a_e a_p v_f/60e6 kW.
func TestPower(t *testing.T) {
	for _, mode := range []cutting.Mode{cutting.Up, cutting.Down, cutting.Slot, cutting.Centred} {
		m := side()
		m.Mode = mode
		m.Spindle.Efficiency = 0.8
		f := forces(t, m, cutting.Law{Kt: 900, Kr: 300})
		checks.CloseTo(t, mode.String(), f.MeanPowerW, 900*f.RemovalMM3Min/60e3, exact)
		// 12000 rpm are 200 a second.
		checks.CloseTo(t, "torque times speed", f.MeanPowerW, f.Mean.Torque*2*math.Pi*200/1000, exact)
		checks.CloseTo(t, "tangential work", f.MeanPowerW, f.Mean.Torque/3*f.SpeedMMin/60, exact)
		checks.CloseTo(t, "at the motor", f.MotorPowerW, f.MeanPowerW/0.8, exact)
		checks.CloseTo(t, "feed", f.FeedMMMin, 720, exact)
		// An offset moves work from tooth to tooth, but not away.
		m.Mill.OffsetMM = 0.005
		checks.CloseTo(t, "with offset", forces(t, m, cutting.Law{Kt: 900, Kr: 300}).MeanPowerW, f.MeanPowerW, exact)
	}
}

// Down milling is up milling in a mirror: φ becomes 180° − φ.
func TestMirror(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		up := drawMilling(t)
		up.Mode, up.FeedDeg, up.Mill.OffsetMM = cutting.Up, 0, 0
		down := up
		down.Mode = cutting.Down
		l := cutting.Law{Kt: 700, Kte: 10, M: rapid.SampledFrom([]float64{0, 0.25}).Draw(t, "m"), Ka: 100}
		a, b := forces(t, up, l), forces(t, down, l)
		size := a.Peak.Load.Size()
		require.InDelta(t, a.Mean.X, -b.Mean.X, exact*size)
		require.InDelta(t, a.Mean.Y, b.Mean.Y, exact*size)
		const peaks = 1e-6 // asked of every peak
		require.InDelta(t, a.Most.X, -b.Least.X, peaks*size)
		require.InDelta(t, a.Most.Y, b.Most.Y, peaks*size)
		require.InEpsilon(t, a.Most.Torque, b.Most.Torque, peaks)
		require.InEpsilon(t, size, b.Peak.Load.Size(), peaks)
	})
}

func TestFeedDirectionTurnsTheLoad(t *testing.T) {
	law := cutting.Law{Kt: 700, Kr: 200, Ka: 100, M: 0.25}
	m := side()
	a := forces(t, m, law)
	m.FeedDeg = 90
	b := forces(t, m, law)
	loads(t, "mean", b.Mean, cutting.Load{X: -a.Mean.Y, Y: a.Mean.X, Z: a.Mean.Z, Torque: a.Mean.Torque}, exact)
	checks.CloseTo(t, "peak", b.Peak.Load.Size(), a.Peak.Load.Size(), exact)
	checks.CloseTo(t, "wall", b.Surfaces[0].MostPush, a.Surfaces[0].MostPush, 1e-6)
	require.InDelta(t, -1, b.Surfaces[0].Normal[0], exact)
}

// The smaller the helix, the nearer the straight edge.
func TestHelixGoesToNothing(t *testing.T) {
	law := cutting.Law{Kt: 700, Kr: 200, Ka: 100, M: 0.25, Kte: 4}
	m := side()
	m.Mill.HelixDeg = 0
	straight := forces(t, m, law)
	for _, helix := range []float64{1e-2, 1e-3, 1e-4, 2e-6, 1e-8} {
		m.Mill.HelixDeg = helix
		f := forces(t, m, law)
		loads(t, "mean", f.Mean, straight.Mean, 1e-12)
		loads(t, "peak", f.Peak.Load, straight.Peak.Load, 0.03*helix+1e-8)
	}
}

// No sample of a fine scan lies above a peak, and some lie just below.
func TestPeaksAgainstScan(t *testing.T) {
	steps := 36000
	if testing.Short() {
		steps = 3600
	}
	for _, name := range []string{"straight", "helix", "long", "offset", "slot", "Kienzle"} {
		t.Run(name, func(t *testing.T) {
			m, law := side(), cutting.Law{Kt: 767, Kte: 27.7, Kr: 169, Kre: 26.6, Ka: 222, Kae: 0.7}
			switch name {
			case "straight":
				m.Mill.HelixDeg = 0
			case "long":
				m.AxialDepthMM, m.Mill.Flutes = 9, 3
			case "offset":
				m.Mill.OffsetMM, m.Mill.OffsetDeg = 0.01, 30
			case "slot":
				m.Mode, m.Mill.Flutes = cutting.Slot, 3
			case "Kienzle":
				law = cutting.Law{Kt: 700, Kr: 200, Ka: 100, M: 0.27}
			}
			c, err := cutting.NewCut(m, law)
			require.NoError(t, err)
			f := c.Forces()
			var most, least cutting.Load
			across, size := 0.0, 0.0
			least = c.At(0.001)
			most = least
			for i := range steps {
				l := c.At(360 * (float64(i) + 0.1234) / float64(steps))
				most = cutting.Load{X: math.Max(most.X, l.X), Y: math.Max(most.Y, l.Y), Z: math.Max(most.Z, l.Z),
					Torque: math.Max(most.Torque, l.Torque)}
				least = cutting.Load{X: math.Min(least.X, l.X), Y: math.Min(least.Y, l.Y), Z: math.Min(least.Z, l.Z),
					Torque: math.Min(least.Torque, l.Torque)}
				across, size = math.Max(across, l.Across()), math.Max(size, l.Size())
			}
			// Beside a jump or a kink the scan misses up to a step of 0.01°.
			below := 40.0 / float64(steps) * size
			above := 1e-7 * size
			for _, v := range [][2]float64{
				{f.Most.X, most.X}, {f.Most.Y, most.Y}, {f.Most.Z, most.Z}, {f.Most.Torque / 3, most.Torque / 3},
				{-f.Least.X, -least.X}, {-f.Least.Y, -least.Y}, {-f.Least.Z, -least.Z},
				{-f.Least.Torque / 3, -least.Torque / 3},
				{f.PeakAcross.Load.Across(), across}, {f.Peak.Load.Size(), size},
			} {
				require.True(t, v[0] >= v[1]-above && v[0] <= v[1]+below, "%g against %g by scan", v[0], v[1])
			}
			loads(t, "the peak is where it says", c.At(f.Peak.RotationDeg), f.Peak.Load, 1e-6)
		})
	}
}
