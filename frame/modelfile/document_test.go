package modelfile

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"tiploop/testdata/models"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/frame/machine"
)

// TestSample reads the machine of the model language's description, under every option.
func TestSample(t *testing.T) {
	doc, err := Parse("m.yaml", []byte(models.ClockPlateMill))
	require.NoError(t, err)
	for option, want := range map[string]struct{ bed, held float64 }{
		"":                            {280, 280},
		"short bed held all along":    {280, 280},
		"long bed held in the middle": {380, 160},
	} {
		m, err := doc.Machine(option)
		require.NoError(t, err)
		require.Equal(t, option, m.Option)
		require.Equal(t, "m.yaml", m.File)
		require.Len(t, m.Parts, 10)
		require.Equal(t, &machine.Plate{From: r3.Vec{X: -90, Y: -want.held / 2, Z: 40}, To: r3.Vec{X: -60, Y: want.held / 2,
			Z: 70}}, m.Parts[1].Plate)
		require.Equal(t, &machine.Plate{From: r3.Vec{X: -120, Y: -want.bed / 2, Z: 70}, To: r3.Vec{X: 120, Y: want.bed / 2,
			Z: 90}}, m.Parts[3].Plate)
		require.Equal(t, &machine.Gusset{
			Corner: r3.Vec{X: -75, Y: 280, Z: 40}, Legs: [2]r3.Vec{{Y: -90}, {Z: 90}}, Thickness: r3.Vec{X: 20},
		}, m.Parts[6].Gusset)
		require.Equal(t, r3.Vec{Y: 1}, m.Parts[9].Bar.Up)
		require.Len(t, m.Joints, 12)
		require.Equal(t, machine.DrilledSecond, m.Joints[2].Drilled)
		require.Equal(t, "milled", m.Joints[4].Surface.Key)
		require.Equal(t, 0.1, m.Joints[5].Shim.Thickness)
		require.True(t, m.Joints[11].Bonded)
		require.Equal(t, 40e3, m.Grounds[0].Normal)
		require.Equal(t, machine.Tool{Pos: m.Tool.Pos, Part: 9, At: r3.Vec{Y: -10, Z: 95}, Stickout: 35, Diameter: 6,
			Material: m.Tool.Material}, *m.Tool)
		require.Equal(t, 3, m.Work.Part)
		require.Nil(t, m.Work.At)
		require.Equal(t, r3.Vec{Y: want.bed/2 - 10, Z: 90}, m.Points[0].At)
		require.Len(t, m.Loads, 4)
		require.Equal(t, machine.Path{
			Name: "bed", Pos: m.Travel[0].Pos, Along: machine.Y, From: -want.bed/2 + 10, To: want.bed/2 - 10, Tolerance: 0.02,
			Loads: []int{0, 1},
		}, m.Travel[0])
	}
}

func TestSampleWithoutGussets(t *testing.T) {
	m, err := machineOf(strings.Replace(models.ClockPlateMill, "gussets: true", "gussets: false", 1), "")
	require.NoError(t, err)
	require.Len(t, m.Parts, 8)
	require.Len(t, m.Joints, 8)
	require.Equal(t, [2]int{6, 7}, m.Joints[7].Parts) // clamp and spindle
}

// TestFrames reads bare frames: a portal, a grillage and a bent cantilever.
func TestFrames(t *testing.T) {
	for name, want := range map[string]struct{ parts, joints, grounds, loads int }{
		"portal.yaml":          {3, 2, 2, 5},
		"grillage.yaml":        {2, 1, 4, 1},
		"bent-cantilever.yaml": {2, 1, 1, 1},
	} {
		doc, err := Read(filepath.Join("..", "..", "testdata", "models", name))
		require.NoError(t, err)
		m, err := doc.Machine("")
		require.NoError(t, err)
		require.Equal(t, want, struct{ parts, joints, grounds, loads int }{len(m.Parts), len(m.Joints), len(m.Grounds),
			len(m.Loads)}, name)
		require.Nil(t, m.Tool)
	}
}

func TestReadTwiceIsTheSame(t *testing.T) {
	doc, err := Parse("m.yaml", []byte(models.ClockPlateMill))
	require.NoError(t, err)
	for _, option := range append(doc.OptionNames(), "") {
		a, err := doc.Machine(option)
		require.NoError(t, err)
		b, err := doc.Machine(option)
		require.NoError(t, err)
		require.Equal(t, a, b)
	}
}

// numbersOf collects every number in v, in a fixed order.
func numbersOf(v reflect.Value) (xs []float64) {
	switch v.Kind() {
	case reflect.Float64:
		return []float64{v.Float()}
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			return numbersOf(v.Elem())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			xs = append(xs, numbersOf(v.Field(i))...)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			xs = append(xs, numbersOf(v.Index(i))...)
		}
	}
	return xs
}

// TestInches writes one model in millimetres and newtons, and in inches and pounds.
func TestInches(t *testing.T) {
	const model = `machine: m
values: {w: @, h: @, f: #}
parts:
  base: {plate: {from: [-w - @, 0 * @, -@], to: [w + @, h + @, 0]}, material: own}
  wall: {plate: {from: [-w, 0, 0], to: [w, h, h + @]}, material: steel}
  rib: {gusset: {corner: [0, h, 0], legs: [[0, @, 0], [0, 0, @]], thickness: [max(w, @)/2, 0, 0]}, material: steel}
  rod: {bar: {from: [0, 0, h], to: [@, sqrt(w*w + h*h), h]}, section: {rect: [@, @]}, material: steel}
materials:
  own: {E: 1e6 #/(@*@), nu: 0.3, density: 2700, expansion: 1e-5}
joints:
  - {between: [base, wall], screws: {size: M6, at: [[@, @]]}, shim: {material: paper, thickness: @}}
  - {between: [wall, rod], sprung: {x: # / @, ry: # * @ / rad}}
grounds:
  - {part: base, face: bottom, feet: [[@, h]], stiffness: f / w}
  - {part: base, face: bottom, bed: f / w / h / @}
points: {end: {part: rod, at: [@, w, h], patch: [@, @]}}
loads:
  a: {at: end, force: [f, 2*f, -#], moment: [f*w, # * @, 0]}
  b: {along: rod, load: [0, 0, -f/w], from: w / 1e4}
  c: {gravity: [0, 0, -100 * @/s2]}
`
	const most = 1e-12 // relative: some thousand roundings, where there are a few
	rapid.Check(t, func(t *rapid.T) {
		metric, imperial := model, model
		for strings.ContainsAny(metric, "@#") {
			x := math.Round(math.Exp(rapid.Float64Range(math.Log(0.1), math.Log(20)).Draw(t, "size"))*1e4) / 1e4
			i := strings.IndexAny(metric, "@#")
			mark, per, si, old := "@", 25.4, "mm", "in"
			if metric[i] == '#' {
				mark, per, si, old = "#", 4.4482216152605, "N", "lbf"
			}
			exact := strconv.FormatFloat(x*per, 'g', -1, 64)
			metric = strings.Replace(metric, mark, exact+" "+si, 1)
			imperial = strings.Replace(imperial, mark, fmt.Sprintf("%g %s", x, old), 1)
		}
		metric = strings.NewReplacer("1e6 ", "1e6 * ").Replace(metric)
		imperial = strings.NewReplacer("1e6 ", "1e6 * ").Replace(imperial)
		a, errA := machineOf(metric, "")
		b, errB := machineOf(imperial, "")
		if errA != nil || errB != nil { // sizes that make no machine make none in either
			require.Equal(t, errA != nil, errB != nil, "%v\n%v", errA, errB)
			return
		}
		xs, ys := numbersOf(reflect.ValueOf(*a)), numbersOf(reflect.ValueOf(*b))
		require.Equal(t, len(xs), len(ys))
		for i, x := range xs {
			if e := math.Abs(x - ys[i]); !(e <= most*math.Abs(x)) {
				t.Fatalf("number %d: %v from millimetres, %v from inches", i, x, ys[i])
			}
		}
	})
}

// FuzzParse reads anything: it must not panic, must place what is wrong, and must let no NaN or infinity through.
func FuzzParse(f *testing.F) {
	files, err := filepath.Glob("../../testdata/models/*.yaml")
	require.NoError(f, err)
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(f, err)
		f.Add(data)
	}
	f.Add([]byte(two + "materials:\n  foam: {E: 3, nu: 0.3, density: 30}\nvalues: {a: b, b: 1/0}\noptions: {o: {a: 3 " +
		"mm}}\n"))
	f.Add([]byte(mill + "  a: {material: brass-cz120, mode: up, radial: 2, axial: 1, feed: 200, speed: 12000, along: x, " +
		"runout: 5 um}\n" +
		"  b: {material: {kc11: 700, exponent: 0.25}, mode: drilling, feed_per_turn: 0.1, speed: 3000, pilot: 2, point: " +
		"90}\n" +
		"  c: {material: {ktc: 700, kte: 10}, mode: slot, axial: 1, feed_per_tooth: 0.02, speed: 9000 rpm, direction: [1, " +
		"2, 0]}\n" +
		"spindle: {bearings: {front: 60 N/um, rear: 30 N/um, span: 80}, power: 500 W, speed: [3000, 18000]}\n"))
	f.Add([]byte("machine: &a [*a]\nparts: !x {<<: *a}\n"))
	f.Add([]byte(models.Sledge))
	f.Fuzz(func(t *testing.T, data []byte) {
		doc, err := Parse("m.yaml", data)
		if err != nil {
			requireFaults(t, err)
			return
		}
		for _, option := range append(doc.OptionNames(), "") {
			m, err := doc.Machine(option)
			if err != nil {
				requireFaults(t, err)
				continue
			}
			for _, x := range numbersOf(reflect.ValueOf(*m)) {
				if math.IsNaN(x) || math.IsInf(x, 0) {
					t.Fatalf("number %v in an accepted machine", x)
				}
			}
		}
	})
}

// requireFaults checks that an error is a list of faults that can be printed.
func requireFaults(t *testing.T, err error) {
	t.Helper()
	faults, ok := err.(machine.Faults)
	require.True(t, ok, "%T", err)
	require.NotEmpty(t, faults)
	for _, fault := range faults {
		require.NotEmpty(t, fault.What)
		for _, r := range fault.What + fault.Hint {
			require.True(t, strconv.IsPrint(r), "%q", fault.Error())
		}
	}
}

func BenchmarkParse(b *testing.B) {
	data := []byte(models.ClockPlateMill)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Parse("m.yaml", data); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMachine(b *testing.B) {
	doc, err := Parse("m.yaml", []byte(models.ClockPlateMill))
	require.NoError(b, err)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := doc.Machine("long bed held in the middle"); err != nil {
			b.Fatal(err)
		}
	}
}
