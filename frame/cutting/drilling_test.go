package cutting_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/constant"
	"tiploop/frame/cutting"
	"tiploop/testdata/checks"
)

// Thrust of the lips with a normal force of half the cutting force, and twice that with the worst chisel edge.
func TestThrust(t *testing.T) {
	const (
		source  = "the project's table of trade data, derived by the handbooks' formula, printed in tens of newtons"
		printed = 6.0 // N
	)
	aluminium, steel := cutting.Law{Kt: 800, M: 0.25, Kr: 400}, cutting.Law{Kt: 1500, M: 0.22, Kr: 750}
	for _, tt := range []struct {
		name, source   string
		law            cutting.Law
		diameter, feed float64
		piloted, worst float64
	}{
		{"aluminium 5", source, aluminium, 5, 0.1, 190, 380},
		{"aluminium 6.6", source, aluminium, 6.6, 0.1, 250, 500},
		{"aluminium 8.5", source, aluminium, 8.5, 0.12, 370, 730},
		{"steel 5", source, steel, 5, 0.1, 320, 640},
		{"steel 6.6", source, steel, 6.6, 0.1, 420, 850},
		{"steel 8.5", source, steel, 8.5, 0.12, 630, 1260},
	} {
		t.Run(tt.name, func(t *testing.T) {
			require.NotEmpty(t, tt.source)
			d := cutting.Drilling{DiameterMM: tt.diameter, FeedMMRev: tt.feed, SpeedRPM: 1000}
			for factor, want := range map[float64]float64{1: tt.piloted, 2: tt.worst} {
				h, err := d.Hole(tt.law, factor)
				require.NoError(t, err)
				require.InDelta(t, want, h.Load.Z, printed*factor)
			}
		})
	}
	// 10 mm at 0.3 mm a turn in steel, without chisel edge: 1500 N and 9 N·m, the same table.
	h, err := cutting.Drilling{DiameterMM: 10, FeedMMRev: 0.3, SpeedRPM: 500}.Hole(steel, 1)
	require.NoError(t, err)
	require.InDelta(t, 1500, h.Load.Z, 50)
	require.InDelta(t, 9000, h.Load.Torque, 500)
}

func TestDrillingSpread(t *testing.T) {
	brass, _ := cutting.LookupMaterial("brass-cz120")
	d := cutting.Drilling{DiameterMM: 6, FeedMMRev: 0.12, SpeedRPM: 4000, Spindle: cutting.Spindle{Efficiency: 0.5}}
	s, err := d.Spread(brass)
	require.NoError(t, err)
	finite(t, s)
	require.Empty(t, s.Cautions)
	require.Less(t, s.Low.Load.Z, s.Typical.Load.Z)
	require.Less(t, s.Typical.Load.Z, s.High.Load.Z)
	require.Less(t, s.Low.PowerW, s.Typical.PowerW)
	require.Less(t, s.Typical.PowerW, s.High.PowerW)
	checks.CloseTo(t, "power", s.Typical.PowerW, s.Typical.Load.Torque*2*math.Pi*4000/60/1000, 1e-12)
	checks.CloseTo(t, "motor", s.Typical.MotorPowerW, 2*s.Typical.PowerW, 1e-12)
	// Torque is the specific force times the volume of a turn over 2π, whatever the pilot hole.
	for _, pilot := range []float64{0, 2, 5} {
		d.PilotMM = pilot
		h, err := d.Hole(cutting.Law{Kt: 900}, 1)
		require.NoError(t, err)
		checks.CloseTo(t, "specific work", h.PowerW, 900*h.RemovalMM3Min/60e3, 1e-12)
	}
	// A pilot hole spares the chisel edge.
	piloted, err := d.Spread(brass)
	require.NoError(t, err)
	require.Less(t, piloted.Typical.Load.Z, s.Typical.Load.Z/1.75)

	d.Spindle = cutting.Spindle{PowerW: 1, TorqueNmm: 1}
	d.FeedMMRev = 0.006
	d.SpeedRPM = 30000
	s, err = d.Spread(brass)
	require.NoError(t, err)
	require.Equal(t, []cutting.CautionKind{cutting.Rubbing, cutting.ThinChip, cutting.FeedLow, cutting.SpeedHigh,
		cutting.PowerAbove, cutting.TorqueAbove}, kinds(s.Cautions))
}

// Thrust of the lips times the chisel edge: normal force 0.5, 0.65, 0.8 of the cutting force, 1.5, 1.75, 2 times that
// without pilot (machining handbooks, from memory), 2·sin 59° of it along the drill.
func TestThrustOfMaterials(t *testing.T) {
	brass, _ := cutting.LookupMaterial("brass-cz120")
	d := cutting.Drilling{DiameterMM: 6, FeedMMRev: 0.12, SpeedRPM: 4000}
	s, err := d.Spread(brass)
	require.NoError(t, err)
	sin := math.Sin(59 * math.Pi / 180)
	for _, v := range []struct {
		level         constant.Level
		hole          cutting.Hole
		share, chisel float64
	}{
		{constant.Low, s.Low, 0.5, 1.5}, {constant.Typical, s.Typical, 0.65, 1.75}, {constant.High, s.High, 0.8, 2},
	} {
		kc, m := brass.Kienzle.Kc11.At(v.level), brass.Kienzle.M.At(v.level)
		lip := kc * math.Pow(0.06*sin, 1-m) * 3 / sin
		checks.CloseTo(t, "lip", v.hole.LipN, lip, 1e-12)
		checks.CloseTo(t, "torque", v.hole.Load.Torque, lip*3, 1e-12)
		checks.CloseTo(t, "thrust", v.hole.Load.Z, 2*lip*v.share*v.chisel*sin, 1e-12)
	}
}

func TestBadHolesAreErrors(t *testing.T) {
	for _, tt := range []struct {
		text  string
		spoil func(*cutting.Drilling)
	}{
		{"drill diameter", func(d *cutting.Drilling) { d.DiameterMM = math.NaN() }},
		{"pilot hole", func(d *cutting.Drilling) { d.PilotMM = 6 }},
		{"feed per revolution", func(d *cutting.Drilling) { d.FeedMMRev = 0 }},
		{"speed", func(d *cutting.Drilling) { d.SpeedRPM = -1 }},
		{"point angle", func(d *cutting.Drilling) { d.PointDeg = 20 }},
		{"efficiency", func(d *cutting.Drilling) { d.Spindle.Efficiency = 2 }},
	} {
		d := cutting.Drilling{DiameterMM: 6, FeedMMRev: 0.1, SpeedRPM: 1000}
		tt.spoil(&d)
		_, err := d.Hole(cutting.Law{Kt: 700}, 1)
		require.ErrorContains(t, err, tt.text)
		steel, _ := cutting.LookupMaterial("steel")
		_, err = d.Spread(steel)
		require.ErrorContains(t, err, tt.text)
	}
	d := cutting.Drilling{DiameterMM: 6, FeedMMRev: 0.1, SpeedRPM: 1000}
	// The last pilot hole that leaves the lips something to cut is 0.99 of the drill.
	d.PilotMM = 5.93
	require.NoError(t, d.Check())
	d.PilotMM = 5.95
	require.Error(t, d.Check())
	d.PilotMM = 0
	_, err := d.Hole(cutting.Law{}, 1)
	require.ErrorContains(t, err, "force law")
	_, err = d.Hole(cutting.Law{Kt: 700}, 0.5)
	require.ErrorContains(t, err, "chisel")
}
