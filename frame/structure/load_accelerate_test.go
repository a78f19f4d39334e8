package structure

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"tiploop/testdata/models"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/machine"
)

// accelerated is what a balance of forces may be off by: solutions are in balance to 1e-10 or so.
const accelerated = 1e-7

// massOf is that of some parts, kg, by volume and density: of the plates and the round bar from their drawn sizes, of
// the gusset half its box.
func massOf(t *testing.T, m *machine.Machine, names ...string) (kg float64) {
	t.Helper()
	for _, name := range names {
		for _, p := range m.Parts {
			if p.Name != name {
				continue
			}
			volume := 0.0
			switch {
			case p.Plate != nil:
				d := r3.Sub(p.Plate.To, p.Plate.From)
				volume = d.X * d.Y * d.Z
			case p.Gusset != nil:
				volume = r3.Norm(p.Gusset.Legs[0]) * r3.Norm(p.Gusset.Legs[1]) * r3.Norm(p.Gusset.Thickness) / 2
			default:
				volume = math.Pi * 15 * 15 * r3.Norm(r3.Sub(p.Bar.To, p.Bar.From)) // the spindle, round 30
			}
			kg += volume * p.Material.Density * constant.KgPerTonne
		}
	}
	require.Positive(t, kg)
	return kg
}

// weightless takes their mass from the rails of a machine, and from the carriages of some guides.
func weightless(m *machine.Machine, carriages func(g *machine.Guide) bool) {
	for i := range m.Axes {
		for k := range m.Axes[i].Guides {
			g := &m.Axes[i].Guides[k]
			light := *g.Rail
			light.Rail.KgPerM = 1e-20
			if carriages(g) {
				light.MassKg = 1e-20
			}
			g.Rail = &light
		}
	}
}

func partNamed(t *testing.T, m *machine.Machine, name string) int {
	i := slices.IndexFunc(m.Parts, func(p machine.Part) bool { return p.Name == name })
	require.GreaterOrEqual(t, i, 0)
	return i
}

// nutOf and screwOf are what the nut and the screw of an axis weigh, kg: a sleeve of 1.8 by 3 diameters, and a shaft as
// thick as its core, of 7.83 g/cm³.
func nutOf(m *machine.Machine, axis int) float64 {
	d := m.Axes[axis].Drives[0].ScrewDiameter()
	return math.Pi / 4 * (1.8*1.8 - 1) * 3 * d * d * d * 7.83e-6
}

func screwOf(m *machine.Machine, axis int) float64 {
	s := m.Axes[axis].Drives[0].Screw.Shaft
	return math.Pi / 4 * s.Root * s.Root * s.Length * 7.83e-6
}

func driveOf(t *testing.T, r *answer.Result, load, axis string) answer.DriveLoad {
	t.Helper()
	for _, d := range r.Drives {
		if d.Load == load && d.Axis == axis {
			return d
		}
	}
	t.Fatalf("no drive of %s under %s", axis, load)
	return answer.DriveLoad{}
}

// crossWith is the cross table with other loads.
func crossWith(t testing.TB, loads string) *machine.Machine {
	t.Helper()
	text := fmt.Sprintf(models.CrossTable, 0, 0, 0)
	before, after, found := strings.Cut(text, "loads:\n")
	require.True(t, found)
	_, travel, found := strings.Cut(after, "travel:")
	require.True(t, found)
	m, err := machineOf(before+"loads:\n"+loads+"travel:"+travel, "")
	require.NoError(t, err)
	return m
}

const crossStarts = `  cut: {tip: [20, 30, 40]}
  x: {accelerate: {x: 2 m/s2}}
  y: {accelerate: {y: -3 m/s2}}
  z: {accelerate: {z: 0.5 g}}
  all: {accelerate: {x: 2 m/s2, y: -3 m/s2, z: 0.5 g}}
  all and weight: {gravity: true, accelerate: {x: 2 m/s2, y: -3 m/s2, z: 0.5 g}}
`

// Newton: the ground pushes the machine with mass times acceleration of what moves, and of stacked axes each drive with
// that of what it moves. (The carriages of the other axes stand across and pass a force along only as friction would.)
// Weight adds to it. Masses are by hand from the drawing.
func TestDriveForceIsMassTimesAcceleration(t *testing.T) {
	for _, by := range []Builder{{Detail: Section}, {Detail: Solid, Mesh: 2}} {
		if by.Detail == Solid && testing.Short() {
			continue
		}
		m := crossWith(t, crossStarts)
		r := solveMachine(t, by, m)
		// Rails and carriages by the tables: of size 15 1.4 kg/m and 0.2 kg, of size 16 2.6 kg/m and 0.15 kg.
		table, quill := massOf(t, m, "table", "fence"), massOf(t, m, "quill", "arm", "gusset", "spindle")+4*0.15
		// The nut of x is on the table, its screw and the nut of y on the saddle, the screw of y on the base.
		table += 2*1.4*0.22 + nutOf(m, 1)
		saddle := table + massOf(t, m, "saddle", "mount_x") + 4*0.2 + 4*0.2 + screwOf(m, 1) + nutOf(m, 0)
		all := quill + saddle + massOf(t, m, "base", "mount_y", "post") + 2*1.4*0.3 + 2*2.6*0.21 + screwOf(m, 0) + 1 // its motor
		// kg·m/s² = N
		for _, c := range []struct {
			load       string
			x, y, z    float64 // forces of the drives on what they move
			rx, ry, rz float64 // reaction of the grounds on the machine
		}{
			{"x", 2 * table, 0, 0, 2 * table, 0, 0},
			{"y", 0, -3 * saddle, 0, 0, -3 * saddle, 0},
			{"z", 0, 0, 4.903325 * quill, 0, 0, 4.903325 * quill},
			{"all", 2 * table, -3 * saddle, 4.903325 * quill, 2 * table, -3 * saddle, 4.903325 * quill},
			{"all and weight", 2 * table, -3 * saddle, (4.903325 + 9.80665) * quill, 2 * table, -3 * saddle, 4.903325*quill +
				9.80665*all},
		} {
			size := 2*table + 3*saddle + 5*quill
			for axis, want := range map[string]float64{"x": c.x, "y": c.y, "z": c.z} {
				if got := driveOf(t, r, c.load, axis).ForceN; !(math.Abs(got-want) <= accelerated*size) {
					t.Errorf("%s, %s: the drive of %s pushes %.9g N, want %.9g", by.Detail, c.load, axis, got, want)
				}
			}
			for _, l := range r.Loads {
				if l.Name != c.load {
					continue
				}
				for k, want := range []float64{c.rx, c.ry, c.rz} {
					if !(math.Abs(l.ReactionN[k]-want) <= accelerated*(size+all*9.8)) {
						t.Errorf("%s, %s: the ground pushes %.9g N along %s, want %.9g",
							by.Detail, c.load, l.ReactionN[k], machine.Axis(k), want)
					}
				}
			}
		}
		sum := map[string]float64{}
		for _, s := range r.Shares {
			sum[s.Load] += s.Percent
		}
		for _, l := range r.Loads {
			require.InDelta(t, 100, sum[l.Name], 1e-6, "shares of %s", l.Name) // Solve has held energy against work
		}
	}
}

// Where all else is weightless, an axis that gains speed upwards is the same as more gravity: every number of the
// answer, with strips, triangles and bars at detail section, and with solid bodies.
func TestAccelerationIsGravity(t *testing.T) {
	for _, by := range []Builder{{Detail: Section}, {Detail: Solid, Mesh: 2}} {
		if by.Detail == Solid && testing.Short() {
			continue
		}
		m := crossWith(t, "  cut: {tip: [20, 30, 40]}\n  falls: {gravity: [0, 0, -5 m/s2]}\n  starts: {accelerate: {z: 5 "+
			"m/s2}}\n")
		for i := range m.Parts {
			if p := &m.Parts[i]; !moves(&m.Axes[2], i) {
				p.Material.Density = 1e-20
			}
		}
		weightless(m, func(g *machine.Guide) bool { return !moves(&m.Axes[2], g.Part) })
		for i := range 2 { // screws weigh; springs do not
			d := &m.Axes[i].Drives[0]
			d.Kind, d.Force, d.Motor = machine.BySpring, 30e3, machine.DriveMotor{}
		}
		m.Masses = append(m.Masses, machine.Mass{Name: "motor", Part: partNamed(t, m, "quill"),
			At: r3.Vec{X: 10, Y: 40, Z: 300}, Tonne: 2e-3})
		r := solveMachine(t, by, m)
		falls, starts := r.Loads[1], r.Loads[2]
		require.Greater(t, *falls.TipSizeUm, 0.1)
		near := func(want, got, size float64, what string) {
			if !(math.Abs(want-got) <= accelerated*size) {
				t.Errorf("%s, %s: %.12g under gravity, %.12g gaining speed", by.Detail, what, want, got)
			}
		}
		for k := range 3 {
			near(falls.TipUm[k], starts.TipUm[k], *falls.TipSizeUm, "tip")
			near(falls.ReactionN[k], starts.ReactionN[k], norm(falls.ReactionN), "reaction")
		}
		shares, stress, bars := map[string]float64{}, map[string]float64{}, falls.Bars
		for _, s := range r.Shares {
			if s.Load == "falls" {
				shares[s.Source] = s.Percent
			}
		}
		for _, s := range r.Stress {
			if s.Load == "falls" {
				stress[s.Part] = s.MPa
			}
		}
		for _, s := range r.Shares {
			if s.Load == "starts" {
				near(shares[s.Source], s.Percent, 100, "share of "+s.Source)
			}
		}
		for _, s := range r.Stress {
			if s.Load == "starts" {
				near(stress[s.Part], s.MPa, 1, "stress in "+s.Part)
			}
		}
		for i, b := range starts.Bars {
			for k := range 3 {
				near(bars[i].FromN[k], b.FromN[k], 10, "force in "+b.Part)
				near(bars[i].ToM[k], b.ToM[k], 100, "moment in "+b.Part)
			}
		}
	}
}

// Section and solid detail differ in how far the machine moves by what their plates differ, not in what they carry.
func TestAccelerationAtBothDetails(t *testing.T) {
	if testing.Short() {
		t.Skip("meshes ten parts")
	}
	m := crossWith(t, crossStarts)
	section, meshed := solveMachine(t, Builder{Detail: Section}, m), solveMachine(t, Builder{Detail: Solid, Mesh: 2}, m)
	for i, l := range section.Loads[1:] {
		if ratio := *l.TipSizeUm / *meshed.Loads[i+1].TipSizeUm; !(math.Abs(ratio-1) <= 0.12) {
			t.Errorf("%s: section detail moves %.3g times as far", l.Name, ratio)
		}
	}
}

// A table whose mass is high over its screw lifts its nose when it gains speed. By hand: with the mass m at h over the
// screw and carriages that give forces alone, 2·a apart, on two rails, every carriage has ±m·a·h/(4·a): pulled in
// front, pressed behind.
func TestCarriagesOfAnAcceleratedTable(t *testing.T) {
	const gain, spacing = 2.0, 80.0 // m/s², mm
	text := strings.ReplaceAll(models.Sledge, "rail: profile-15", "stiffness: {press: 1e5, side: 1e5}")
	m := buildText(t, text+"loads: {start: {accelerate: {x: 2 m/s2}}}\n")
	r, err := m.Solve(TipOnly)
	require.NoError(t, err)
	table, vice := massOf(t, m.machine, "table"), massOf(t, m.machine, "vice")
	require.InEpsilon(t, 120*120*20*7.85e-6, table, 1e-3) // steel
	moment := gain * (table*(58-34) + vice*(88-34))       // N·mm: centres at 58 and 88 mm, the screw at 34
	nut := nutOf(m.machine, 0)                            // on the screw's own line
	near(t, gain*(table+vice+nut), r.Drives[0].ForceN, accelerated, "drive")
	require.Len(t, r.Carriages, 4)
	for _, c := range r.Carriages {
		want := math.Copysign(moment/(2*spacing), c.AtMM[0])
		near(t, want, c.PullN, 1e-6, fmt.Sprintf("carriage at %g, %g", c.AtMM[0], c.AtMM[1]))
		require.Zero(t, c.PitchNmm)
	}
}

// Accelerations add up and scale: the machine is linear.
func TestAccelerationsAreLinear(t *testing.T) {
	m, err := beams().Build(context.Background(), crossWith(t, crossStarts))
	require.NoError(t, err)
	solve := func(by ...float64) []float64 {
		l := &machine.Load{Name: "l"}
		for i, a := range by {
			if a != 0 {
				l.Actions = append(l.Actions, machine.Action{Kind: machine.Accelerating, Axis: i,
					Force: r3.Scale(a, m.machine.Axes[i].Along.Direction())})
			}
		}
		s, err := m.solve(l, m.tool.gauge)
		require.NoError(t, err)
		return s.U
	}
	one := [][]float64{solve(1000, 0, 0), solve(0, 1000, 0), solve(0, 0, 1000)}
	rapid.Check(t, func(t *rapid.T) {
		var by [3]float64
		for i := range by {
			by[i] = rapid.Float64Range(-20e3, 20e3).Draw(t, "mm/s²")
		}
		got := solve(by[0], by[1], by[2])
		off, largest := 0.0, 0.0
		for i := range got {
			want := 0.0
			for k := range by {
				want += by[k] / 1000 * one[k][i]
				largest = math.Max(largest, math.Abs(by[k]/1000*one[k][i]))
			}
			off = math.Max(off, math.Abs(got[i]-want))
		}
		if !(off <= 1e-8*largest) {
			t.Fatalf("off by %g of %g", off, largest)
		}
	})
}

// massStand is a rigid table on springs with something clamped to it, far above it, beside a fixed block.
const massStand = `machine: table with a vise
materials: {rigid: {E: 1e8 MPa, nu: 0.3, density: 2700}}
parts:
  table: {plate: {from: [-50, -50, 0], to: [50, 50, 20]}, material: rigid}
  block: {plate: {from: [-50, -50, 100], to: [50, 50, 150]}, material: rigid}
grounds:
  - {part: table, at: [0, 0, 0], spring: {x: 5000, y: 5000, z: 5000, rx: 2e7, ry: 2e7, rz: 2e7}}
  - {part: block, face: top, fixed: true}
masses:
  vise: {mass: 4 kg, part: table, at: %s}
  plate that is left out of an option: {mass: 9 kg, part: block, at: [0, 0, 125]}
work: {part: table}
tool: {part: block, at: [0, 0, 100]}
loads: {own weight: {gravity: true}, sideways: {gravity: [9.80665 m/s2, 0, 0]}}
`

// A mass sinks its springs by m·g/k, turns its part by m·g·arm/k_θ, is in what the ground holds and in the centre of
// mass; at both details, and out of whatever the part's own weight does.
func TestMassOnAPart(t *testing.T) {
	const g, kg = 9.80665, 4.0
	for _, detail := range []Detail{Section, Solid} {
		solve := func(at string, without bool) (*answer.Result, answer.Inventory) {
			m := readMachine(t, fmt.Sprintf(massStand, at))
			if without {
				m.Masses = nil
			}
			model, err := (&Builder{Detail: detail, Mesh: CoarsestMesh}).Build(t.Context(), m)
			require.NoError(t, err)
			r, err := model.Solve(TipOnly)
			require.NoError(t, err)
			return r, model.Inventory()
		}
		bare, empty := solve("[0, 0, 60]", true)
		r, inv := solve("[30, 0, 60]", false)
		tip := func(load, k int) float64 { return (r.Loads[load].TipUm[k] - bare.Loads[load].TipUm[k]) / 1000 }
		// The work goes down, its height over the springs, 100, makes it go sideways as the table turns about y.
		near(t, kg*g/5000, tip(0, 2), 1e-3, "sinks")
		near(t, -kg*g*30/2e7*100, tip(0, 0), 1e-3, "leans")
		near(t, -kg*g*(1/5000.+60*100/2e7), tip(1, 0), 1e-3, "is pushed and turned")
		near(t, (kg+9)*g, r.Loads[0].ReactionN[2]-bare.Loads[0].ReactionN[2], 1e-9, "ground")
		near(t, bare.MassKg+kg+9, r.MassKg, 1e-12, "mass")
		for k := range 3 {
			want := (empty.MassKg*empty.CentreMM[k] + kg*[3]float64{30, 0, 60}[k] + 9*[3]float64{0, 0, 125}[k]) / r.MassKg
			require.InDelta(t, want, inv.CentreMM[k], 1e-9, "centre")
		}
		require.Len(t, inv.Hung, 2)
		require.NotContains(t, strings.Join(r.Notes, "\n"), "is its place right?")
		far, _ := solve("[300, 0, 60]", false)
		require.Contains(t, strings.Join(far.Notes, "\n"), "mass vise is 253.2 mm from the part it hangs on, table")
	}
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		m := readMachine(t, fmt.Sprintf(massStand, "[0, 0, 60]"))
		m.Masses[0].Tonne = bad
		_, err := m.Complete()
		require.Error(t, err)
		require.Regexp(t, `m\.yaml:\d+:\d+: `, err.Error())
	}
}

// A vertical axis holds what hangs on it: its drive the weight of all, and, gaining speed, m·a more.
func TestVerticalAxisLiftsMasses(t *testing.T) {
	m := crossWith(t, "  cut: {tip: [20, 30, 40]}\n  still: {gravity: true}\n"+
		"  up: {gravity: true, accelerate: {z: 2 m/s2}}\n")
	without := solveMachine(t, Builder{}, m)
	m.Masses = []machine.Mass{{Name: "spindle", Part: partNamed(t, m, "quill"), At: r3.Vec{X: 10, Y: 40, Z: 300},
		Tonne: 3e-3}}
	with := solveMachine(t, Builder{}, m)
	for load, want := range map[string]float64{"still": 3 * 9.80665, "up": 3 * (9.80665 + 2)} {
		got := driveOf(t, with, load, "z").ForceN - driveOf(t, without, load, "z").ForceN
		require.InEpsilon(t, want, got, 1e-6, load)
	}
}

// The same of a meshed table that gains speed along its axis, on a base that weighs nothing: its corners move as under
// gravity the other way, which bends them and the metal between its carriages.
func TestTableGainsSpeedAsUnderGravity(t *testing.T) {
	m := readMachine(t, `machine: table
parts:
  base:  {plate: {from: [-150, -80, 0], to: [150, 80, 30]}, material: steel}
  table: {plate: {from: [-60, -80, 60], to: [60, 80, 72]}, material: aluminium-5083}
grounds: [{part: base, face: bottom, fixed: true}]
axes:
  x:
    along: x
    carries: [table]
    travel: [-50, 50]
    guides:
      - {rail: profile-15, preload: light, on: base, from: [-150, -50, 30], to: [150, -50, 30], part: table,
         carriages: [-40, 40]}
      - {rail: profile-15, preload: light, on: base, from: [-150, 50, 30], to: [150, 50, 30], part: table,
         carriages: [-40, 40]}
    drive: {stiffness: 20 N/um, part: table, on: base, at: [0, 0, 45]}
points: {corner: {part: table, at: [60, 80, 72]}, middle: {part: table, at: [0, 0, 72]}}
loads: {falls: {gravity: [-8 m/s2, 0, 0]}, starts: {accelerate: {x: 8 m/s2}}}
`)
	m.Parts[0].Material.Density = 1e-20
	weightless(m, func(*machine.Guide) bool { return false })
	r := solveMachine(t, Builder{Detail: Solid}, m)
	for name, want := range r.Loads[0].PointsUm {
		require.Greater(t, norm(want), 0.1)
		require.InDeltaSlice(t, want[:], func() []float64 { v := r.Loads[1].PointsUm[name]; return v[:] }(), 1e-6*norm(want),
			name)
	}
	for i := range r.Stress {
		if s := r.Stress[i]; s.Load == "falls" && s.Part == "table" {
			j := slices.IndexFunc(r.Stress, func(o answer.Stress) bool { return o.Load == "starts" && o.Part == "table" })
			require.InEpsilon(t, s.MPa, r.Stress[j].MPa, 1e-6)
		}
	}
}
