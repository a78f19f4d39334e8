package structure

import (
	"context"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame"
	"tiploop/frame/chance"
	"tiploop/frame/machine"
	"tiploop/testdata/models"
)

// written are the texts of the examples and the starter, and of machines that have what no example has.
func written(t *testing.T) map[string]string {
	t.Helper()
	files, err := filepath.Glob("../../examples/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	list := map[string]string{"cross table": fmt.Sprintf(models.CrossTable, 0., 0., 0.),
		"clock-plate mill": models.ClockPlateMill}
	for _, name := range append(files, "../../cmd/tiploop/starter.yaml") {
		list[strings.TrimSuffix(filepath.Base(name), ".yaml")] = fileText(t, name)
	}
	return list
}

// complete is the machine of a text with everything written out.
func complete(t *testing.T, text string) *machine.Machine {
	t.Helper()
	m, err := readMachine(t, text).Complete()
	require.NoError(t, err)
	return m
}

func fileText(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(name)
	require.NoError(t, err)
	return string(text)
}

// At typical numbers every law is the stiffness of its spring, at both details, and all but the numbers that a file
// states have one.
func TestLawsAtTypicalNumbers(t *testing.T) {
	t.Parallel()
	for name, text := range written(t) {
		for _, detail := range []Detail{Section, Solid} {
			if detail == Solid && name != "gussets" && name != "fixed-gantry-mill" && !thorough() {
				continue
			}
			model, err := (&Builder{Detail: detail, Mesh: CoarsestMesh}).Build(context.Background(), complete(t, text))
			require.NoError(t, err, name)
			d, springs := model.doubts(), model.frame.Springs()
			logs := make([]float64, d.frame.Unknowns)
			for i, s := range springs {
				law, unsure := d.frame.Springs[i]
				if !unsure {
					stated := strings.HasPrefix(s.Source, "ground ") || strings.HasPrefix(s.Source, "drive z") ||
						strings.HasPrefix(s.Source, "guide z")
					require.True(t, stated, "%s, %v: nothing is said of %s", name, detail, s.Source)
					continue
				}
				require.InEpsilon(t, s.Stiffness, law.Stiffness(logs), 1e-9, "%s, %v: %s", name, detail, s.Source)
			}
			for source, powers := range d.frame.Sources {
				require.NotEmpty(t, powers, "%s: %s", name, source)
			}
		}
	}
}

// unsolved is the beam model of a machine with its springs, not solved; what is meshed at either detail is reduced.
func unsolved(t *testing.T, m *machine.Machine) *Model {
	t.Helper()
	b := beams()
	model, err := b.draw(m)
	require.NoError(t, err)
	require.NoError(t, model.reduceSolids(context.Background(), b))
	require.NoError(t, model.fillFrame())
	return model
}

func keysOf(d *doubts) (list []string) {
	for _, u := range d.unknowns {
		list = append(list, u.Key)
	}
	return list
}

// Members and blocks go with the modulus of their own material; a cutter with the fourth power of the bar that it bends
// like.
func TestMetalGoesWithItsModulus(t *testing.T) {
	t.Parallel()
	model, err := buildBeams(readMachine(t, written(t)["gussets"]))
	require.NoError(t, err)
	d := model.doubts()
	of := func(source, key string) (exponent float64) {
		for _, p := range d.frame.Sources[source] {
			if d.unknowns[p.Unknown].Key == key {
				exponent += p.Exponent
			}
		}
		return exponent
	}
	for _, b := range model.bodies {
		require.Equal(t, 1.0, of(b.source(), "E of "+b.part.Material.Key), b.part.Name)
		flat := 1.0
		if b.part.Bar != nil {
			flat = 0
		}
		require.Equal(t, flat, of(b.source(), "model of "+b.part.Name), b.part.Name)
	}
	cutter := model.tool.tool
	thick := toolRound(cutter, 1.1*cutter.Core).Iy / toolRound(cutter, cutter.Core).Iy
	near(t, thick, math.Pow(1.1, of(toolSource, "flutes 2")), 1e-12, "cutter")
	require.Equal(t, 1.0, of(toolSource, "E of high-speed-steel"))
}

// Every screw's preload goes with a number of its own and with the friction in its thread, without a torque with how tight
// such are made, too; faces have a friction of
// their pair of metals, and a cut the force of its material.
func TestPreloadsFrictionAndCuts(t *testing.T) {
	t.Parallel()
	model, err := buildBeams(readMachine(t, written(t)["cut-that-goes-wrong"]))
	require.NoError(t, err)
	d := model.doubts()
	keys := func(powers []frame.Power) (list []string) {
		for _, p := range powers {
			list = append(list, d.unknowns[p.Unknown].Key)
		}
		return list
	}
	require.Len(t, d.joints, len(model.joints))
	own := map[string]bool{}
	for i, j := range d.joints {
		made := model.joints[i]
		require.Len(t, j.preloads, len(made.screws), made.name)
		if made.joint.Screws == nil {
			continue
		}
		for _, powers := range j.preloads {
			of := keys(powers)
			if made.clamping.TorqueNmm == 0 {
				require.Equal(t, "tightness", of[2])
				of = of[:2]
			}
			require.Len(t, of, 2)
			require.Equal(t, 1.0, powers[0].Exponent)
			require.True(t, strings.HasPrefix(of[0], "screw "+made.name), of[0])
			require.Equal(t, "friction of screws in "+made.tapped.part.Material.Key, of[1])
			require.False(t, own[of[0]], "one number, one screw")
			own[of[0]] = true
		}
		metals := []string{made.a.part.Material.Key, made.b.part.Material.Key}
		slices.Sort(metals)
		require.Equal(t, []string{fmt.Sprintf("friction of %s on %s", metals[0], metals[1])}, keys(j.friction))
	}
	require.NotEmpty(t, own)
	require.Len(t, d.cuts, len(model.machine.Cuts))
	require.Equal(t, []string{"work brass-cz120"}, keys(d.cuts[0]))
}

// What stands in two options is one number: a screw that is added to a joint leaves the others what they were, and
// another position of the axes all of them.
func TestUnknownsAreTheSameInEveryOption(t *testing.T) {
	t.Parallel()
	keys := func(m *machine.Machine) []string {
		return keysOf(unsolved(t, m).doubts())
	}
	text := written(t)["gussets"]
	with, err := machineOf(text, "")
	require.NoError(t, err)
	base := keys(complete(t, text))
	// Places written down: the four screws of pillar/shelf, and one more.
	m := complete(t, text)
	j := slices.IndexFunc(m.Joints, func(j machine.Joint) bool { return j.Screws != nil && j.Screws.TorqueNmm > 0 })
	model, err := beams().draw(with)
	require.NoError(t, err)
	p, q := model.joints[j].touch.normal.Others()
	s := *m.Joints[j].Screws
	s.Grid, s.At = [2]int{}, nil
	for _, made := range model.joints[j].screws {
		s.At = append(s.At, [2]float64{array(made.at)[p], array(made.at)[q]})
	}
	t0 := model.joints[j].touch
	s.At = append(s.At, [2]float64{t0.middle(p), t0.middle(q)})
	m.Joints[j].Screws = &s
	more := keys(m)
	require.Len(t, more, len(base)+1)
	require.Subset(t, more, base)

	mill := complete(t, written(t)["fixed-gantry-mill"])
	away, err := mill.At(map[string]float64{"x": 40, "y": -30})
	require.NoError(t, err)
	require.Equal(t, keys(mill), keys(away))
}

// The list is the same on every run, and its kinds stand in the order in which they are drawn: what nature decides
// first, preloads last.
func TestUnknownsStandInOrder(t *testing.T) {
	t.Parallel()
	rank := func(key string) int {
		for i, kinds := range []string{"contact law|finish|tangential|spreading|pressure cone|settling|paper", "carriages|slides|bearings|nuts|motors|belts|" +
			"belt teeth|rack|spindle|collet|taper|flutes", "friction|tightness", "work", "ground", "faces of", "piece", "E of",
			"model of", "screw"} {
			if slices.ContainsFunc(strings.Split(kinds, "|"), func(k string) bool { return strings.HasPrefix(key, k) }) {
				return i
			}
		}
		return -1
	}
	for name, text := range written(t) {
		model := unsolved(t, complete(t, text))
		d, again := model.doubts(), model.doubts()
		require.Equal(t, d, again, name)
		last := 0
		for _, u := range d.chances() {
			require.NoError(t, u.Check(), name)
		}
		for _, u := range d.unknowns {
			require.Equal(t, 1.0, u.Band.Typical, u.Key)
			require.NotEmpty(t, u.Name)
			require.NotEmpty(t, u.Settle, u.Key)
			require.GreaterOrEqual(t, rank(u.Key), last, "%s: %s", name, u.Key)
			last = rank(u.Key)
		}
		require.LessOrEqual(t, len(d.unknowns), chance.MostUnknowns, name)
	}
}

// Every machine's list, to be read; screws are counted.
func TestUnknownsAreSensible(t *testing.T) {
	t.Parallel()
	texts, list := written(t), strings.Builder{}
	for _, name := range slices.Sorted(maps.Keys(texts)) {
		model := unsolved(t, complete(t, texts[name]))
		fmt.Fprintf(&list, "%s\n", name)
		screws := 0
		for _, u := range model.doubts().unknowns {
			if strings.HasPrefix(u.Key, "screw ") {
				screws++
				continue
			}
			fmt.Fprintf(&list, "  %-42s %.2f to %.2f; %s\n", u.Name, u.Band.Low, u.Band.High, u.Settle)
		}
		fmt.Fprintf(&list, "  preloads of %d screws or groups of them\n", screws)
	}
	golden(t, "doubts.golden", list.String())
}
