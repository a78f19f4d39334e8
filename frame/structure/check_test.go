package structure

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame/drive"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
	"tiploop/testdata/models"
)

// leaf is a value somewhere in a machine, and how Go writes it.
type leaf struct {
	path string
	v    reflect.Value
}

// leaves are all that can be set in a value: its numbers, words, truths, pointers and lists. The machine must be a
// copy of its own.
func leaves(v reflect.Value, path string) (list []leaf) {
	if path != "" && v.CanSet() && v.Kind() != reflect.Struct && v.Kind() != reflect.Array {
		list = append(list, leaf{path, v})
	}
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			list = append(list, leaves(v.Elem(), path)...)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			list = append(list, leaves(v.Index(i), fmt.Sprintf("%s[%d]", path, i))...)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() && v.Type() != reflect.TypeFor[machine.FilePos]() {
				list = append(list, leaves(v.Field(i), path+"."+v.Type().Field(i).Name)...)
			}
		}
	}
	return list
}

// copied is a machine that shares nothing with another.
func copied(v reflect.Value) reflect.Value {
	out := reflect.New(v.Type()).Elem()
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			out.Set(copied(v.Elem()).Addr())
		}
	case reflect.Slice:
		if !v.IsNil() {
			out.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
		}
		for i := range v.Len() {
			out.Index(i).Set(copied(v.Index(i)))
		}
	case reflect.Struct:
		out.Set(v)
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				out.Field(i).Set(copied(v.Field(i)))
			}
		}
	case reflect.Map:
		if !v.IsNil() {
			out.Set(reflect.MakeMap(v.Type()))
		}
		for entries := v.MapRange(); entries.Next(); {
			out.SetMapIndex(entries.Key(), entries.Value())
		}
	default:
		out.Set(v)
	}
	return out
}

// copyOf is a machine that shares nothing with m.
func copyOf(m *machine.Machine) *machine.Machine {
	return copied(reflect.ValueOf(m)).Interface().(*machine.Machine)
}

// spoilt are values that no machine, or another one, has in a place.
func spoilt(v reflect.Value) (list []reflect.Value) {
	switch v.Kind() {
	case reflect.Int:
		for _, x := range []int{-1, 0, 1, 99} {
			list = append(list, reflect.ValueOf(x).Convert(v.Type()))
		}
	case reflect.Float64:
		for _, x := range []float64{math.NaN(), math.Inf(1), -v.Float(), 0, 1e-3 * v.Float(), 1e-12} {
			list = append(list, reflect.ValueOf(x))
		}
	case reflect.Bool:
		list = append(list, reflect.ValueOf(!v.Bool()))
	case reflect.Pointer, reflect.Slice, reflect.Map, reflect.Interface:
		list = append(list, reflect.Zero(v.Type()))
	case reflect.String:
		list = append(list, reflect.ValueOf(""))
	}
	return list
}

// panicOf is what a function panics with; "" when it does not.
func panicOf(do func()) (with string) {
	defer func() {
		if r := recover(); r != nil {
			with = fmt.Sprint(r)
		}
	}()
	do()
	return ""
}

// requireNoPanic spoils every value of a machine, one at a time, and builds and solves some of the machines that pass
// Check: each is an answer or an error, never a panic.
func requireNoPanic(t *testing.T, m *machine.Machine, builds int) {
	t.Helper()
	spoil := copyOf(m)
	type spoilage struct {
		leaf
		was, bad reflect.Value
	}
	try := func(s spoilage, do func()) {
		s.v.Set(s.bad)
		if with := panicOf(do); with != "" {
			t.Errorf("%s = %#v panics: %s", s.path, s.bad.Interface(), with)
		}
		s.v.Set(s.was)
	}
	var passed []spoilage
	for _, l := range leaves(reflect.ValueOf(spoil).Elem(), "") {
		was := reflect.New(l.v.Type()).Elem()
		was.Set(l.v)
		for _, bad := range spoilt(l.v) {
			s := spoilage{l, was, bad}
			try(s, func() {
				if spoil.Check() == nil {
					passed = append(passed, s)
				}
			})
		}
	}
	random := rand.New(rand.NewPCG(1, 1))
	random.Shuffle(len(passed), func(i, k int) { passed[i], passed[k] = passed[k], passed[i] })
	for _, s := range passed[:min(builds, len(passed))] {
		try(s, func() { _, _ = beams().Answer(context.Background(), spoil, FullTravel) })
		try(s, func() { requireDrawable(t, spoil, s.path) })
	}
	t.Logf("%d of the spoilt machines pass Check", len(passed))
}

// requireDrawable: what is not known of a machine that can be drawn has bands that can be drawn from, and laws that are
// numbers.
func requireDrawable(t *testing.T, m *machine.Machine, what string) {
	t.Helper()
	m, err := m.Complete()
	if err != nil {
		return
	}
	model, err := beams().draw(m)
	if err != nil || model.fillFrame() != nil {
		return
	}
	d := model.doubts()
	for _, u := range d.unknowns {
		require.NoError(t, u.Check(), what)
	}
	for i, law := range d.frame.Springs {
		if model.frame.Springs()[i].Stiffness == 0 { // on a place of no size
			require.Zero(t, law.Stiffness(make([]float64, len(d.unknowns))), what)
			continue
		}
		require.InEpsilon(t, model.frame.Springs()[i].Stiffness, law.Stiffness(make([]float64, len(d.unknowns))), 1e-9, what)
	}
}

func TestNoMachinePanics(t *testing.T) {
	builds := 4
	if thorough() {
		builds = 120
	}
	outOfLine, err := os.ReadFile("../../examples/supports-out-of-line.yaml")
	require.NoError(t, err)
	packed := strings.Replace(string(outOfLine), "shims:\n", `shims:
  under the nut: {axis: y, nut: true, material: shim-steel, thickness: 0.1, area: 600, lifts: [0, 0, 1]}
  under a foot: {ground: bench, foot: 2, material: shim-steel, thickness: 0.1}
`, 1)
	for name, text := range map[string]string{
		"supports out of line": strings.Replace(packed, "packed: false", "packed: true", 1),
		"sledge":               models.Sledge, "clock plate mill": models.ClockPlateMill, "changeable": models.Changeable,
		"cross table": fmt.Sprintf(models.CrossTable, 0., 0., 0.),
	} {
		t.Run(name, func(t *testing.T) { requireNoPanic(t, readMachine(t, text), builds) })
	}
}

// Building, solving and following write nothing into the machine.
func TestMachineStaysAsItIs(t *testing.T) {
	files, err := filepath.Glob("../../examples/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		doc, err := modelfile.Read(file)
		require.NoError(t, err)
		options := []string{""}
		if thorough() || !strings.Contains(file, "gantry") { // whose options are large, and set numbers only
			options = append(options, doc.OptionNames()...)
		}
		for _, option := range options {
			m, err := doc.Machine(option)
			require.NoError(t, err)
			before := copyOf(m)
			model, err := buildBeams(m)
			require.NoError(t, err)
			model.Inventory()
			if thorough() || option == "" && !testing.Short() && strings.Contains(file, "motor-mount") {
				_, err = model.Solve(FullTravel)
				require.NoError(t, err)
				variables, err := doc.Variables(option)
				require.NoError(t, err)
				_, err = model.Next(context.Background(), variables)
				require.NoError(t, err)
			}
			require.Equal(t, before, m, "%s, option %q", file, option)
		}
	}
}

// Fields left at their zero values mean what they say they mean: the machine with the defaults written out gives the
// same answer to the last digit. The file's machines have all of them written out; each is left out here where it is
// the default.
func TestZeroIsTheDefault(t *testing.T) {
	const text = `machine: defaults
parts:
  base: {plate: {from: [-200, -200, 0], to: [200, 200, 40]}, material: steel}
  table: {plate: {from: [-60, -100, 70], to: [60, 100, 90]}, material: aluminium-6082}
  post: {plate: {from: [-60, 160, 40], to: [60, 200, 300]}, material: steel}
  quill: {bar: {from: [0, 160, 200], to: [0, 0, 200]}, section: {round: 40}, material: steel}
joints:
  - {between: [base, post], screws: {size: M8, grid: [3, 1]}}
  - {between: [post, quill], bonded: true}
grounds: [{part: base, face: bottom, feet: [[-190, -190], [190, -190], [0, 190]], stiffness: 40 N/um}]
axes:
  x:
    along: x
    carries: [table]
    travel: [-50, 50]
    guides:
      - {rail: profile-15, preload: clearance, on: base, part: table,
         from: [-200, -80, 40], to: [200, -80, 40], carriages: [-35, 35]}
      - {rail: profile-15, preload: clearance, on: base, part: table,
         from: [-200, 80, 40], to: [200, 80, 40], carriages: [-35, 35]}
    drive:
      screw: "1605"
      from: [-200, 0, 40]
      to: [190, 0, 40]
      ends: fixed-free
      nut: {part: table, at: 0}
      bearing: {part: base}
tool: {part: quill, at: [0, 0, 150], stickout: 30, diameter: 6, flutes: 2, material: steel}
work: {part: table}
loads:
  cut: {tip: [10, 20, 30]}
  heavy: {gravity: true}
  warm: {temperature: 10}
  hung: {along: quill, load: [0, 0, -1]}
cuts:
  slot: {material: steel, mode: slot, axial: 1, feed_per_tooth: 0.02, speed: 8000, along: x}
travel:
  across: {along: x, from: -40, to: 40}
  run: {axis: x}
`
	full := readMachine(t, text)
	brief := copyOf(full)
	for i := range brief.Parts {
		if b := brief.Parts[i].Bar; b != nil {
			b.Up, b.Section = r3.Vec{}, beam.Section{}
		}
	}
	brief.Joints[0].Surface = joint.Surface{}
	brief.Grounds[0].Side = 0
	a := &brief.Axes[0]
	a.Moves = nil
	for i := range a.Guides {
		g := &a.Guides[i]
		g.Name, g.Surface, g.Length, g.Width = "", joint.Surface{}, 0, 0
	}
	v := &a.Drives[0]
	v.Unsure = nil
	v.Screw, v.Preload, v.Efficiency = drive.ScrewDrive{}, 0, 0
	brief.Tool.Core = 0
	for i := range brief.Loads {
		for k := range brief.Loads[i].Actions {
			switch act := &brief.Loads[i].Actions[k]; act.Kind {
			case machine.Weight:
				act.Force = r3.Vec{}
			case machine.AlongBar:
				act.To, act.End = 0, nil
			}
		}
	}
	brief.Travel[1].From, brief.Travel[1].To = 0, 0
	for i := range brief.Travel {
		brief.Travel[i].Loads = nil
	}
	cut := &brief.Cuts[0]
	require.Equal(t, len(brief.Loads)-1, *cut.Load)
	cut.Load, cut.Normal, cut.Axis = nil, r3.Vec{}, r3.Vec{}
	brief.Loads = brief.Loads[:len(brief.Loads)-1]
	for i := range brief.Travel {
		brief.Travel[i].Loads = nil
	}
	completed, err := brief.Complete()
	require.NoError(t, err)
	completed.Loads[len(completed.Loads)-1].Pos = full.Loads[len(full.Loads)-1].Pos
	require.Equal(t, full, completed)
	again, err := completed.Complete()
	require.NoError(t, err)
	require.Equal(t, completed, again, "a complete machine stays as it is")
	want, err := beams().Answer(context.Background(), full, FullTravel)
	require.NoError(t, err)
	got, err := beams().Answer(context.Background(), brief, FullTravel)
	require.NoError(t, err)
	require.Equal(t, want, got)
}

// Which part is drilled is the thinner one unless the machine says: the joint is that of the thinner part named,
// whichever of the two it is, and another one than that of the thicker part named.
func TestDrilledThinner(t *testing.T) {
	for _, thick := range [][2]float64{{10, 30}, {30, 10}} {
		answer := func(drilled machine.Drilled) float64 {
			m := readMachine(t, fmt.Sprintf(`machine: two plates
parts:
  low: {plate: {from: [0, 0, %g], to: [100, 100, 0]}, material: steel}
  high: {plate: {from: [0, 0, 0], to: [100, 100, %g]}, material: steel}
joints: [{between: [low, high], screws: {size: M6, grid: [2, 2]}}]
grounds: [{part: low, face: bottom, fixed: true}]
tool: {part: high, at: [50, 50, %g]}
work: {part: low, at: [50, 50, %g]}
`, -thick[0], thick[1], thick[1], -thick[0]))
			m.Joints[0].Drilled = drilled
			r, err := beams().Answer(context.Background(), m, TipOnly)
			require.NoError(t, err)
			return r.Tip.StiffnessNPerUm.Z
		}
		thinner, thicker := machine.DrilledFirst, machine.DrilledSecond
		if thick[1] < thick[0] {
			thinner, thicker = thicker, thinner
		}
		require.Equal(t, answer(thinner), answer(machine.DrilledThinner))
		require.NotEqual(t, answer(thicker), answer(machine.DrilledThinner))
	}
}
