package cutting_test

import (
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/cutting"
)

// logUniform draws between two positive numbers, small ones as often as large ones.
func logUniform(least, most float64) *rapid.Generator[float64] {
	return rapid.Custom(func(t *rapid.T) float64 {
		return math.Exp(rapid.Float64Range(math.Log(least), math.Log(most)).Draw(t, "log"))
	})
}

// drawMilling draws a cut within the bounds of the model.
func drawMilling(t *rapid.T) cutting.Milling {
	d := logUniform(0.5, 80).Draw(t, "diameter")
	m := cutting.Milling{
		Mill: cutting.Mill{DiameterMM: d, Flutes: rapid.IntRange(1, 6).Draw(t, "flutes"),
			HelixDeg: rapid.SampledFrom([]float64{0, 10, 30, 45, 60}).Draw(t, "helix")},
		Mode:           cutting.Mode(rapid.IntRange(0, 3).Draw(t, "mode")),
		RadialDepthMM:  d * logUniform(1e-3, 1).Draw(t, "radial"),
		AxialDepthMM:   d * logUniform(1e-3, 3).Draw(t, "axial"),
		FeedPerToothMM: d * logUniform(1e-4, 0.05).Draw(t, "feed"),
		SpeedRPM:       logUniform(10, 1e5).Draw(t, "speed"),
		FeedDeg:        rapid.Float64Range(-180, 180).Draw(t, "direction"),
	}
	if rapid.Bool().Draw(t, "run-out") {
		m.Mill.OffsetMM = m.FeedPerToothMM * rapid.Float64Range(0, 2).Draw(t, "offset")
		m.Mill.OffsetDeg = rapid.Float64Range(-180, 180).Draw(t, "offset direction")
	}
	return m
}

func drawLaw(t *rapid.T) cutting.Law {
	k := rapid.Float64Range(0, 3000)
	e := rapid.Float64Range(0, 60)
	return cutting.Law{
		Kt: k.Draw(t, "kt") + 10, Kr: k.Draw(t, "kr"), Ka: k.Draw(t, "ka"),
		M:   rapid.SampledFrom([]float64{0, 0.18, 0.27, 0.5}).Draw(t, "m"),
		Kte: e.Draw(t, "kte"), Kre: e.Draw(t, "kre"), Kae: e.Draw(t, "kae"),
	}
}

// finite fails if any number anywhere in a result is not.
func finite(t require.TestingT, v any) {
	var walk func(v reflect.Value)
	walk = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.Float64:
			require.False(t, math.IsNaN(v.Float()) || math.IsInf(v.Float(), 0), "%+v", v)
		case reflect.Struct:
			for i := range v.NumField() {
				walk(v.Field(i))
			}
		case reflect.Slice, reflect.Array:
			for i := range v.Len() {
				walk(v.Index(i))
			}
		}
	}
	walk(reflect.ValueOf(v))
}

const (
	peakTolerance   = 1e-6 // asked of every peak
	offsetTolerance = 2e-3 // with run-out on a helix, which is sliced: the force bends at every slice
)

func TestMillingProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, l := drawMilling(t), drawLaw(t)
		f := forces(t, m, l)
		finite(t, f)
		size := f.Peak.Load.Size()
		tol := peakTolerance
		if m.Mill.OffsetMM > 0 && m.Mill.HelixDeg > 0 {
			tol = offsetTolerance
		}
		require.Greater(t, f.MeanPowerW, 0.0)
		require.GreaterOrEqual(t, f.Least.Torque, 0.0)
		for _, v := range [][3]float64{
			{f.Least.X, f.Mean.X, f.Most.X}, {f.Least.Y, f.Mean.Y, f.Most.Y}, {f.Least.Z, f.Mean.Z, f.Most.Z},
		} {
			require.LessOrEqual(t, v[0], v[1]+tol*size)
			require.LessOrEqual(t, v[1], v[2]+tol*size)
		}
		require.LessOrEqual(t, f.Mean.Torque, f.Most.Torque*(1+tol))
		require.LessOrEqual(t, f.PeakAcross.Load.Across(), size*(1+tol))
		require.Equal(t, f, forces(t, m, l), "the same on every run")

		for _, s := range f.Surfaces {
			require.LessOrEqual(t, s.LeastPush, s.MostPush+tol*size)
			require.LessOrEqual(t, math.Max(math.Abs(s.LeastPush), math.Abs(s.MostPush)), size*(1+tol))
			n := s.Normal
			require.InDelta(t, 1, n[0]*n[0]+n[1]*n[1]+n[2]*n[2], exact)
			require.InDelta(t, 0, n[0]*s.Cutting[0]+n[1]*s.Cutting[1]+n[2]*s.Cutting[2], exact)
		}

		bigger := m
		bigger.FeedPerToothMM *= 1.1
		require.GreaterOrEqual(t, forces(t, bigger, l).Mean.Torque, f.Mean.Torque*(1-peakTolerance),
			"more feed takes more")
		if m.Mill.OffsetMM == 0 { // an offset hides teeth, and the sum of the rest can fall
			require.GreaterOrEqual(t, forces(t, bigger, l).Most.Torque, f.Most.Torque*(1-peakTolerance))
			bigger = m
			bigger.RadialDepthMM *= 1.1
			require.GreaterOrEqual(t, forces(t, bigger, l).Mean.Torque, f.Mean.Torque*(1-peakTolerance),
				"more width takes more")
			require.GreaterOrEqual(t, forces(t, bigger, l).Most.Torque, f.Most.Torque*(1-peakTolerance))
			bigger = m
			bigger.AxialDepthMM *= 1.1
			require.GreaterOrEqual(t, forces(t, bigger, l).Most.Torque, f.Most.Torque*(1-peakTolerance),
				"more depth takes more")
			loads := forces(t, bigger, l).Mean
			require.InDelta(t, 1.1*f.Mean.X, loads.X, exact*size)
			require.InDelta(t, 1.1*f.Mean.Torque, loads.Torque, exact*f.Most.Torque)
			if m.Mill.HelixDeg == 0 {
				require.InEpsilon(t, 1.1*size, forces(t, bigger, l).Peak.Load.Size(), exact, "linear in depth")
			}
		}
	})
}

// Whatever is asked, the answer is an error or finite numbers, never a panic.
func TestExtremeInputs(t *testing.T) {
	number := rapid.OneOf(
		rapid.SampledFrom([]float64{0, -1, 1e-300, 1e300, math.Inf(1), math.Inf(-1), math.NaN(), 1e-6, 1, 6, 90}),
		logUniform(1e-7, 1e3), rapid.Float64(),
	)
	answered := 0
	rapid.Check(t, func(t *rapid.T) {
		n := func(label string) float64 { return number.Draw(t, label) }
		// Most numbers are kept usual, so that some cuts pass.
		m := side()
		for _, p := range []*float64{
			&m.Mill.DiameterMM, &m.Mill.HelixDeg, &m.Mill.EnteringDeg, &m.Mill.OffsetMM, &m.Mill.OffsetDeg,
			&m.Mill.EdgeRadiusMM,
			&m.RadialDepthMM, &m.AxialDepthMM, &m.FeedPerToothMM, &m.SpeedRPM, &m.FeedDeg, &m.Spindle.PowerW,
			&m.Spindle.TorqueNmm, &m.Spindle.Efficiency,
		} {
			if rapid.IntRange(0, 19).Draw(t, "spoil") == 7 {
				*p = n("value")
			}
		}
		m.Mode = cutting.Mode(rapid.IntRange(-1, 4).Draw(t, "mode"))
		m.Mill.Flutes = rapid.SampledFrom([]int{1, 2, 3, 32, 33, 0, -1}).Draw(t, "flutes")
		l := cutting.Law{Kt: 700, Kr: 200, Ka: 100, M: 0.25}
		for _, p := range []*float64{&l.Kt, &l.Kr, &l.Ka, &l.M, &l.Kte, &l.Kre, &l.Kae, &l.ChipMM.Least,
			&l.ChipMM.Most} {
			if rapid.IntRange(0, 19).Draw(t, "spoil") == 7 {
				*p = n("value")
			}
		}
		if f, err := m.Forces(l); err == nil {
			answered++
			finite(t, f)
		}
		d := cutting.Drilling{DiameterMM: n("drill"), PilotMM: n("pilot"), FeedMMRev: n("feed"), SpeedRPM: n("speed"),
			PointDeg: n("point")}
		if h, err := d.Hole(l, n("chisel")); err == nil {
			finite(t, h)
		}
	})
	require.Positive(t, answered)
}
