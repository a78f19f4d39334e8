package structure

import (
	"cmp"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/doubt"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
	"tiploop/testdata/models"
)

// redrawn holds a machine that is drawn with something changed by hand against what the laws of the machine as it was
// say of the change: every spring, those that have nothing to do with it, too.
type redrawn struct {
	machine string                   // of those written, or its text
	prepare func(m *machine.Machine) // before and after; nil: as it is
	change  func(m *machine.Machine)
	log     func(u doubt.Unknown) float64 // what the change is of each unknown
	off     float64                       // of springs along and across
	turning float64                       // of springs against turning
}

// moved is a factor on unknowns whose keys begin so.
func moved(by float64, keys ...string) func(u doubt.Unknown) float64 {
	return func(u doubt.Unknown) float64 {
		for _, k := range keys {
			if strings.HasPrefix(u.Key, k) {
				return math.Log(by)
			}
		}
		return 0
	}
}

func (r redrawn) check(t *testing.T) {
	t.Helper()
	draw := func(changes ...func(m *machine.Machine)) *Model {
		m := complete(t, cmp.Or(written(t)[r.machine], r.machine))
		for _, change := range changes {
			if change != nil {
				change(m)
			}
		}
		return unsolved(t, m) // whose springs are those of the model that is solved
	}
	before, after := draw(r.prepare), draw(r.prepare, r.change)
	d := before.doubts()
	logs := make([]float64, len(d.unknowns))
	touched := 0
	for i, u := range d.unknowns {
		if logs[i] = r.log(u); logs[i] != 0 {
			touched++
		}
	}
	require.NotZero(t, touched, "the change is of no unknown")
	turning := map[int]bool{}
	for _, l := range before.links {
		turning[l.spring] = l.turning
	}
	was, is := before.frame.Springs(), after.frame.Springs()
	require.Equal(t, len(was), len(is))
	changed, worst, worstTurning := 0, 0.0, 0.0
	for i := range was {
		if was[i].Stiffness == 0 {
			continue // a slide along its travel
		}
		said := was[i].Stiffness
		if law, unsure := d.frame.Springs[i]; unsure {
			said = law.Stiffness(logs)
		}
		off := math.Abs(said/is[i].Stiffness - 1)
		if turning[i] {
			worstTurning = math.Max(worstTurning, off)
		} else {
			worst = math.Max(worst, off)
		}
		if math.Abs(is[i].Stiffness/was[i].Stiffness-1) > 0.01 {
			changed++
		}
	}
	require.NotZero(t, changed, "the change is of no spring")
	require.LessOrEqual(t, worst, r.off)
	require.LessOrEqual(t, worstTurning, r.turning)
}

const exactly = 1e-9

// finished gives all faces of a finish another law.
func finished(key string, law func(s *joint.Surface)) func(m *machine.Machine) {
	return func(m *machine.Machine) {
		for i := range m.Joints {
			if m.Joints[i].Surface.Key == key {
				law(&m.Joints[i].Surface)
			}
		}
		for i := range m.Axes {
			for k := range m.Axes[i].Guides {
				if g := &m.Axes[i].Guides[k]; g.Surface.Key == key {
					law(&g.Surface)
				}
			}
		}
	}
}

// drives changes those of a kind.
func drives(kind machine.DriveKind, change func(d *machine.Drive)) func(m *machine.Machine) {
	return func(m *machine.Machine) {
		for i := range m.Axes {
			for k := range m.Axes[i].Drives {
				if d := &m.Axes[i].Drives[k]; d.Kind == kind {
					change(d)
				}
			}
		}
	}
}

// racked moves on a rack of a width, mm, which a stepper holds.
func racked(width int) string {
	return strings.Replace(hinged, "drive: {stiffness: 20 N/um, part: left, on: base, at: [-120, 0, 30]}", fmt.Sprintf(
		"drive: {rack: {radius: 12, width: %d}, part: left, on: base, at: [-120, 0, 30], motor: frame-34}", width), 1)
}

// sledScrew is the screw of the sledge, and bothEnds the sledge with one that is fixed at both ends.
const sledScrew = "screw: 1605, from: [180, 0, 34], to: [-150, 0, 34], nut: {part: table, at: 0}, bearing: {part: wall}"

var bothEnds = strings.Replace(strings.Replace(models.Sledge, sledScrew, strings.Replace(sledScrew, "-150", "-180", 1)+
	", ends: fixed-fixed, far: {part: block}, motor: frame-23", 1), "joints: [",
	"  block: {plate: {from: [-200, -80, 20], to: [-180, 80, 120]}, material: steel}\njoints: [{between: [base, block], "+
		"bonded: true}, ", 1)

// reduced is the sledge with a belt of a width, mm, between motor and screw.
func reduced(width int) string {
	return strings.Replace(models.Sledge, sledScrew, fmt.Sprintf(
		"%s, motor: frame-23, reduction: {pitch: 3, width: %d, teeth: [20, 40], centres: 80}", sledScrew, width), 1)
}

// The springs of machines that are drawn with one number changed by hand are what the laws say. Where edges cut a zone,
// its springs against turning are put together of two things, and the law tells them within some percent. A star of
// springs is told to the first order.
func TestLawsAgainstMachinesDrawnAnew(t *testing.T) {
	t.Parallel()
	const mill = "fixed-gantry-mill"
	for name, r := range map[string]redrawn{
		// C counts as its root where the typical stiffness is the log mean of both laws.
		"finish": {mill, nil, finished("milled", func(s *joint.Surface) { s.C = s.C.Scaled(2.25) }),
			moved(1/1.5, "finish milled"), exactly, 0.03},
		"rolled finish": {"clock-plate mill", nil, finished("as-rolled", func(s *joint.Surface) { s.C = s.C.Scaled(1.5) }),
			moved(1/1.5, "finish as-rolled"), exactly, 0.03},
		"torque": {"gussets", nil, func(m *machine.Machine) {
			for i := range m.Joints {
				if s := m.Joints[i].Screws; s != nil && s.TorqueNmm > 0 {
					s.TorqueNmm *= 0.7
				}
			}
		}, moved(0.7, "screw pillar/shelf"), exactly, 0.03},
		"torque on paper": {"gussets", papered, func(m *machine.Machine) {
			for i := range m.Joints {
				if s := m.Joints[i].Screws; s != nil && s.TorqueNmm > 0 {
					s.TorqueNmm *= 0.7
				}
			}
		}, moved(0.7, "screw pillar/shelf"), exactly, 0.03},
		// A share of the proof load is that share of another proof load.
		"tightness without a torque": {"gussets", nil, func(m *machine.Machine) {
			for i := range m.Joints {
				if s := m.Joints[i].Screws; s != nil {
					s.Size.Proof *= 1.2
				}
			}
		}, moved(1.2, "tightness"), exactly, 0.03},
		"settling":          {"gussets", nil, settle, moved(doubt.Settling().Band.Low, "settling"), exactly, 0.03},
		"settling on paper": {"gussets", papered, settle, moved(doubt.Settling().Band.Low, "settling"), 0.02, 0.03},
		"carriages": {mill, nil, func(m *machine.Machine) {
			for i := range m.Axes {
				for k := range m.Axes[i].Guides {
					m.Axes[i].Guides[k].Rail.Press.Typical *= 1.4
				}
			}
		}, moved(1.4, "carriages profile-15"), exactly, exactly},
		"nuts": {mill, nil, drives(machine.ByScrew, func(d *machine.Drive) { d.Screw.Nut *= 0.6 }),
			moved(0.6, "nuts "), exactly, exactly},
		"bearings": {mill, nil, drives(machine.ByScrew, func(d *machine.Drive) { d.Screw.NearBearing *= 0.6 }),
			moved(0.6, "bearings "), exactly, exactly},
		"motors": {mill, nil, drives(machine.ByScrew, func(d *machine.Drive) { d.Screw.Turning *= 0.6 }),
			moved(0.6, "motors "), exactly, exactly},
		"nut of a screw fixed at both ends": {bothEnds, nil, drives(machine.ByScrew, func(d *machine.Drive) {
			d.Screw.Nut *= 0.8
		}), moved(0.8, "nuts "), 0.01, exactly},
		"belts": {"belt-engraver", nil, drives(machine.ByBelt, func(d *machine.Drive) { d.Belt.Belt.Width *= 1.2 }),
			moved(1.2, "belts ", "belt teeth"), 0.01, exactly},
		"belts' motor": {"belt-engraver", nil, drives(machine.ByBelt, func(d *machine.Drive) { d.Belt.Motor *= 0.8 }),
			moved(0.8, "motors "), 0.01, exactly},
		"belt to a screw": {reduced(9), nil, drives(machine.ByScrew, func(d *machine.Drive) {
			d.Screw.Turning = readMachine(t, reduced(12)).Axes[0].Drives[0].Screw.Turning
		}), moved(12./9, "belts ", "belt teeth"), exactly, exactly},
		"rack": {racked(10), nil, drives(machine.ByRack, func(d *machine.Drive) {
			d.Force = readMachine(t, racked(15)).Axes[0].Drives[0].Force
		}), moved(1.5, "rack teeth"), exactly, exactly},
		// A slide that is pressed beyond the knee of the table is 1.8 times as stiff.
		"slides": {wideSlide + "fixed: true}]", nil, func(m *machine.Machine) {
			for k := range m.Axes[0].Guides {
				m.Axes[0].Guides[k].Slide.Pressure = 0.5
			}
		}, moved(1.8, "slides "), exactly, exactly},
		"spindle": {mill, nil, func(m *machine.Machine) {
			s := &m.Spindle.Stiffness
			s.Radial, s.Axial, s.Tilt = 1.7*s.Radial, 1.7*s.Axial, 1.7*s.Tilt
		}, moved(1.7, "spindle "), exactly, exactly},
		"collet": {mill, nil, func(m *machine.Machine) { m.Tool.Holder.Stiffness.Tilt *= 0.5 }, moved(0.5, "collet"),
			exactly, exactly},
		"feet": {mill, nil, func(m *machine.Machine) {
			m.Grounds[0].Normal, m.Grounds[0].Side = 1.3*m.Grounds[0].Normal, 1.3*m.Grounds[0].Side
		}, moved(1.3, "ground 1"), exactly, exactly},
		// What the tapped thread gives, a few percent of a screw, and the metal round a bar of another are told about.
		"modulus": {mill, nil, func(m *machine.Machine) {
			for i := range m.Parts {
				if p := &m.Parts[i].Material; p.Key == "aluminium-5083" {
					p.E *= 1.1
				}
			}
		}, moved(1.1, "E of aluminium-5083"), 0.025, 0.025},
	} {
		t.Run(name, func(t *testing.T) { r.check(t) })
	}
}

// settle tightens every screw to what VDI 2230's settling leaves of its preload, the mean over the screws of its joint: by
// its torque, or where it has none by the proof load of which it has a share.
func settle(m *machine.Machine) {
	model, err := beams().draw(m)
	if err != nil {
		panic(err)
	}
	for i, j := range model.joints {
		if len(j.screws) == 0 {
			continue
		}
		kept := 0.0
		for _, s := range j.screws {
			c := j.clamping
			c.ZoneArea = s.zone.Moments.Area
			kept += c.Kept(s.pinch) / float64(len(j.screws))
		}
		screws := m.Joints[i].Screws
		screws.TorqueNmm, screws.Size.Proof = kept*j.clamping.TorqueNmm, kept*screws.Size.Proof
	}
}

// papered puts paper between all faces that are screwed.
func papered(m *machine.Machine) {
	for i := range m.Joints {
		if m.Joints[i].Screws != nil {
			m.Joints[i].Shim = &machine.Shim{Key: "paper", Material: m.Parts[0].Material, Thickness: 0.1, Paper: true}
		}
	}
}

// ranged is the cross table with ranges on what its z axis states, hinged with some on the rest.
var (
	ranged = strings.NewReplacer("press: 60 N/um, roll: 5 kN m/rad", "press: 40..90 N/um, roll: 5 kN m/rad +- 20 %",
		"drive: {stiffness: 25 N/um,", "drive: {stiffness: 25 N/um +- 30 %,").Replace(
		fmt.Sprintf(models.CrossTable, 0., 0., 0.))
	loosened = strings.NewReplacer("sprung: {loose: [ry]}", "sprung: {ry: 40 kN m/rad +- 50 %, x: 90 N/um}",
		"face: bottom, fixed: true", "face: bottom, feet: [[-190, -190], [190, -190], [0, 190]], stiffness: 30..60 N/um, "+
			"side: 10 N/um +- 50 %").Replace(hinged)
	bedded = strings.Replace(hinged, "face: bottom, fixed: true", "face: bottom, bed: 0.05 N/mm3 +- 50 %", 1)
	borne  = strings.Replace(loosened, "tool: {part: beam, at: [0, 0, 185]}", "tool: {part: beam, at: [0, 0, 155], "+
		"stickout: 30, diameter: 8, material: carbide, holder: {tilt: 3 kN m/rad +- 40 %}}\n"+
		"spindle: {bearings: {front: 30 N/um +- 20 %, rear: 20 N/um, span: 60, axial: 15..40 N/um}}", 1)
)

// A stiffness that the file gives a range is a number of its own; what it does not give one is known.
func TestLawsOfStatedRanges(t *testing.T) {
	t.Parallel()
	for name, r := range map[string]redrawn{
		"carriages": {ranged, nil, func(m *machine.Machine) {
			for k := range m.Axes[2].Guides {
				if own := m.Axes[2].Guides[k].Own; own != nil {
					own.Press, own.Pull, own.Side = 1.3*own.Press, 1.3*own.Pull, 1.3*own.Side
				}
			}
		}, moved(1.3, "stated guide z: rail 1, press"), exactly, exactly},
		"carriages' roll": {ranged, nil, func(m *machine.Machine) {
			for k := range m.Axes[2].Guides {
				if own := m.Axes[2].Guides[k].Own; own != nil {
					own.Roll *= 0.9
				}
			}
		}, moved(0.9, "stated guide z: rail 1, roll"), exactly, exactly},
		"drive": {ranged, nil, drives(machine.BySpring, func(d *machine.Drive) { d.Force *= 0.8 }),
			moved(0.8, "stated drive z, stiffness"), exactly, exactly},
		"sprung joint": {loosened, nil, func(m *machine.Machine) {
			for i := range m.Joints {
				if s := m.Joints[i].Sprung; s != nil {
					s.Stiffness[machine.TurnY] *= 1.5
				}
			}
		}, moved(1.5, "stated joint bl/beam, ry", "stated joint br/beam, ry"), exactly, exactly},
		"feet": {loosened, nil, func(m *machine.Machine) { m.Grounds[0].Normal *= 1.4 },
			moved(1.4, "stated ground 1, stiffness"), exactly, exactly},
		"feet aside": {loosened, nil, func(m *machine.Machine) { m.Grounds[0].Side *= 0.6 },
			moved(0.6, "stated ground 1, side"), exactly, exactly},
		"bed": {bedded, nil, func(m *machine.Machine) { m.Grounds[0].BedNPerMM3 *= 1.4 },
			moved(1.4, "stated ground 1, bed"), exactly, exactly},
		"bearing": {borne, nil, func(m *machine.Machine) { m.Spindle.Stiffness.Bearings.Front *= 1.1 },
			moved(1.1, "stated spindle, front"), exactly, exactly},
		"spindle along": {borne, nil, func(m *machine.Machine) { m.Spindle.Stiffness.Axial *= 1.1 },
			moved(1.1, "stated spindle, axial"), exactly, exactly},
		"holder": {borne, nil, func(m *machine.Machine) { m.Tool.Holder.Stiffness.Tilt *= 0.8 },
			moved(0.8, "stated holder, tilt"), exactly, exactly},
	} {
		t.Run(name, func(t *testing.T) { r.check(t) })
	}
	// The rear bearing has no range.
	require.NotContains(t, keysOf(unsolved(t, complete(t, borne)).doubts()), "stated spindle, rear")
}
