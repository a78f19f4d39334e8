package structure

import (
	"math"
	"strings"
	"testing"

	"tiploop/testdata/models"

	"github.com/stretchr/testify/require"
)

// By hand: the torque of the force through the screw, F·lead/(2π·η) with 0.9 for balls, and J·α of the rotor
// (0.044 tonne·mm², typical of a frame 23) and of the screw's core (ρ·π·d⁴/32·L, which is what a machinery
// handbook gives for a round bar), α = 2π·a/lead; with a 1:2 belt the motor turns twice as fast against half the
// screw's torque and a quarter of its inertia. A belt's pulley of radius r: F·r and J·a/r.
func TestTorqueOfAcceleration(t *testing.T) {
	const gain, lead, length = 2000.0, 5.0, 330.0 // mm/s², mm, mm
	const belt = "belt: {pitch: 2, width: 6}, teeth: 20, from: [180, 0, 34], to: [-180, 0, 34], clamp: {part: table, " +
		"at: 0}, pulley: {part: wall}, idler: {part: base}, motor: frame-17}"
	screw := "screw: 1605, from: [180, 0, 34], to: [-150, 0, 34], nut: {part: table, at: 0}, bearing: {part: wall}"
	core := 7.83e-9 * math.Pi / 32 * math.Pow(13.2, 4) * length // 1605: core 13.2 mm
	const alpha = 2 * math.Pi * gain / lead
	for _, c := range []struct {
		name, drive string
		torque      func(force float64) float64
		hold        float64
	}{
		{"motor on the screw", screw + ", motor: frame-23}", func(f float64) float64 {
			return f*lead/(2*math.Pi*0.9) +
				(0.044+core)*alpha
		}, 1900},
		{"belt to the screw", screw + ", motor: frame-23, reduction: {pitch: 3, width: 9, teeth: [20, 40], centres: 80}}",
			func(f float64) float64 { return f*lead/(2*math.Pi*0.9)/2 + (0.044+core/4)*2*alpha }, 1900},
		{"own motor", screw + ", motor: {holding: 700 N mm}}", func(f float64) float64 {
			return f*lead/(2*math.Pi*0.9) +
				core*alpha
		}, 700},
		{"held", screw + "}", func(f float64) float64 { return f*lead/(2*math.Pi*0.9) + core*alpha }, 0},
		{"belt", belt, func(f float64) float64 { r := 20 * 2 / (2 * math.Pi); return f*r + 0.0054*gain/r }, 450},
		{"rack", "rack: {radius: 12, width: 10}, part: table, on: base, at: [0, 0, 34], motor: frame-34}",
			func(f float64) float64 { return f*12 + 0.22*gain/12 }, 6500},
	} {
		text := strings.Replace(models.Sledge, screw+"}", c.drive, 1)
		if c.drive == belt { // the idler's end of the base
			text = strings.Replace(text, "idler: {part: base}", "idler: {part: block}", 1)
			text = strings.Replace(text, "joints: [",
				"  block: {plate: {from: [-200, -80, 20], to: [-180, 80, 120]}, material: steel}\njoints: [{between: [base, "+
					"block], bonded: true}, ", 1)
		}
		r := solveText(t, text+"loads: {start: {accelerate: {x: 2 m/s2}}, stop: {accelerate: {x: -2 m/s2}}, weight: "+
			"{gravity: true}}\n")
		require.Len(t, r.Drives, 3)
		for _, d := range r.Drives[:2] {
			near(t, c.torque(math.Abs(d.ForceN)), *d.TorqueNmm, 1e-9, c.name)
			require.Greater(t, *d.TorqueNmm, 1.0)
			if c.hold == 0 {
				require.Nil(t, d.HoldingNmm)
			} else {
				require.Equal(t, c.hold, *d.HoldingNmm)
			}
		}
		require.InDelta(t, 0, *r.Drives[2].TorqueNmm, 1e-3, "nothing turns under weight")
	}
	r := solveText(t, strings.Replace(models.Sledge, screw+"}", "stiffness: 1e5, part: table, on: base, at: [0, 0, 34]}",
		1)+"loads: {start: {accelerate: {x: 2 m/s2}}}\n")
	require.Nil(t, r.Drives[0].TorqueNmm, "nothing is known of what turns")
	own := strings.NewReplacer("screw: 1605", "screw: {root: 13, lead: 5}",
		"nut: {part: table, at: 0}", "nut: {part: table, at: 0, stiffness: 1e5}", "bearing: {part: wall}",
		"bearing: {part: wall, stiffness: 1e5}").Replace(models.Sledge)
	r = solveText(t, own+"loads: {start: {accelerate: {x: 2 m/s2}}}\n")
	require.Nil(t, r.Drives[0].TorqueNmm, "nor of what friction takes")
	require.Nil(t, r.Drives[0].HoldingNmm)
}

// The push that an axis needs to gain speed is held against Euler's load of its screw and against the motor: both are
// named with their numbers. A start that asks little is not.
func TestAccelerationWarnings(t *testing.T) {
	text := strings.Replace(models.Sledge, "screw: 1605", "screw: Tr8x8", 1)
	text = strings.Replace(text, "bearing: {part: wall}}", "bearing: {part: wall}, motor: frame-17}", 1)
	hard, soft := solveText(t, text+"loads: {hard start: {accelerate: {x: -200 g}}}\n"),
		solveText(t, text+"loads: {start: {accelerate: {x: 1 m/s2}}}\n")
	notes := strings.Join(hard.Notes, "\n")
	require.Contains(t, notes, "axis x: hard start pushes its screw with 8")
	require.Contains(t, notes, "at which it buckles")
	require.Contains(t, notes, "drive x: hard start asks ")
	require.Contains(t, notes, "more than 50 % of the 450 N·mm it holds at rest")
	notes = strings.Join(soft.Notes, "\n")
	require.NotContains(t, notes, "buckles")
	require.NotContains(t, notes, "holds at rest")
	// 120·120·20 and 60·60·40 mm³ of steel, 3.39 kg, with a nut, and four carriages of 0.2 kg; the rails and the screw stay.
	require.Contains(t, notes, "axes that gain speed move parts, rails, carriages, screws, nuts, motors of known size and "+
		"masses: x 4.2 kg. Not weighed are bearings, couplings")
	require.NotContains(t, strings.Join(solveText(t, text+"loads: {weight: {gravity: true}}\n").Notes, "\n"), "gain speed")
}
