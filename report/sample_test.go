package report

import (
	"bytes"
	"flag"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/report/internal/sample"
	"tiploop/report/number"
)

var update = flag.Bool("update", false, "rewrite golden files")

// golden compares text with the file of that name under testdata. It guards the layout, not the numbers: those are
// invented.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		require.NoError(t, os.WriteFile(path, got, 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, string(want), string(got), path)
	require.NotRegexp(t, `-0(\.0+)?([^.\d]|$)`, string(got), "a minus zero")
	for line := range strings.SplitSeq(string(got), "\n") {
		require.Equal(t, strings.TrimRight(line, " "), line, "a space at the end of a line")
	}
}

// written is what a Write function writes.
func written(t *testing.T, write func(b *bytes.Buffer) error) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, write(&b))
	return b.Bytes()
}

// longName has sixty letters.
const longName = sample.LongName

// sampleOption is an invented option: scale multiplies every movement, more is added to the sources, bed is half the
// length of its path, mm.
func sampleOption(name string, scale float64, sources int, bed float64) answer.Result {
	r := answer.Result{
		Name: name, Detail: "section", MassKg: 51.2345 + bed/100,
		Holes: answer.Holes{Through: 22, Tapped: 22, Operations: 242, Minutes: 330},
		Tip: &answer.Tip{StiffnessNPerUm: answer.Stiffness{
			X: 9.87654 / scale, Y: 12.3456 / scale, Z: 15.5 / scale, Softest: 8.1234 / scale,
			SoftestDirection: [3]float64{0.9, 0.1, -0.42},
		}},
		Hand: []answer.Hand{{What: "upright as a cantilever", Formula: "F·L³/(3·E·I)", HandUm: 2.5 * scale,
			SolvedUm: 3.1 * scale}},
		Screws: []answer.ScrewLoad{
			{Load: "side push", Joint: "upright/head", PreloadN: 9000, LeastPreloadN: 4200, TensionN: 120, ShearN: 800,
				SlipPercent: 61.3, OpenPercent: 2, TwistNmm: 900},
			{Load: "side push", Joint: "base/upright", PreloadN: 9000, LeastPreloadN: 4200, TensionN: 320, ShearN: 100,
				SlipPercent: 11, OpenPercent: 4},
		},
		Notes: []string{"Part upright is stubby: 2.3 times as long as it is wide. A beam model of such a part has " +
			"been off by up to 9 % against a solid one."},
	}
	for i, load := range []string{"side push", "down push"} {
		tip := [3]float64{math.Copysign(0, -1), 8.1 * scale, -1e-9}
		if i == 1 {
			tip = [3]float64{0.2 * scale, -1.5 * scale, -6.45 * scale}
		}
		n := number.Norm(tip)
		r.Loads = append(r.Loads, answer.LoadResult{
			Name: load, OnTip: true, TipUm: &tip, TipSizeUm: &n, Residual: 1.5e-12,
			ReactionN: [3]float64{0, math.Copysign(0, -1), 500},
			PointsUm: map[string][3]float64{"bed end": {0.1 * scale, 0.2 * scale, -3 * bed / 100},
				"a head": {0.01, 1.2, 0}},
			PointsRad: map[string][3]float64{"bed end": {1e-6, 0, 0}, "a head": {0, 0, 0}},
		})
		left := 100.0
		for k := range sources {
			p := left * 0.4
			if k == sources-1 {
				p = left
			}
			left -= p
			source := []string{"joint upright/head", "part upright", "joint base/upright", "part head",
				"joint bed/rib_left", "tool", "ground 1", "part base", "joint clamp/spindle", "part spindle",
				"joint base/brace_left", "part " + longName, "joint a/b", "joint c/d", "joint e/f"}[k]
			r.Shares = append(r.Shares, answer.Share{Load: load, Source: source, Percent: p})
		}
		r.Travel = append(r.Travel, sampleTravel("bed", load, scale*(1+float64(i)), bed))
	}
	return r
}

// sampleTravel is an invented parabola over −bed to bed mm with a tolerance of 20 µm.
func sampleTravel(path, load string, scale, bed float64) answer.Travel {
	t := answer.Travel{Path: path, Load: load, ToleranceUm: 20}
	for i := range 41 {
		at := bed * float64(i-20) / 20
		t.AtMM = append(t.AtMM, at)
		t.TipUm = append(t.TipUm, [3]float64{0.1 * scale, scale * (5 + at*at/1000), -scale})
	}
	for i := range t.AtMM {
		if number.Norm(t.TipUm[i]) <= 20 {
			if t.WithinMM == nil {
				t.WithinMM = &[2]float64{t.AtMM[i], t.AtMM[i]}
			}
			t.WithinMM[1] = t.AtMM[i]
		}
	}
	return t
}

// sampleAnswer is an invented answer.
func sampleAnswer(options ...answer.Result) answer.Answer {
	return answer.Answer{Tiploop: 1, Machine: "Clock-plate mill", Detail: "section", Options: options}
}

// bareFrame is an invented answer for a model without a tool.
func bareFrame(name string, moved, mass float64) answer.Result {
	return answer.Result{
		Name: name, Detail: "section", MassKg: mass,
		Loads: []answer.LoadResult{{
			Name: "wind", Residual: 2e-13, ReactionN: [3]float64{-100, 0, 0},
			PointsUm: map[string][3]float64{"eaves": {moved, 0, -0.001 * moved}},
			Bars: []answer.BarForces{{Part: "post", FromN: [3]float64{-12, 0, 50}, FromM: [3]float64{0, 1e5, 0},
				ToN: [3]float64{12, 0, -50}, ToM: [3]float64{0, 2e5, 0}}},
		}},
		Shares: []answer.Share{{Load: "wind", Source: "part post", Percent: 70},
			{Load: "wind", Source: "part beam", Percent: 30}},
		Grounds: []answer.Reaction{{Load: "wind", Ground: "1", ForceN: [3]float64{-100, 0, 25},
			Moment: [3]float64{0, -1e5, 0}}},
	}
}

// zero is an option in which nothing moves and nothing costs anything.
func zero(name string) answer.Result {
	r := sampleOption(name, 1, 0, 100)
	for i := range r.Loads {
		r.Loads[i].TipUm, r.Loads[i].TipSizeUm = &[3]float64{}, new(float64)
		r.Loads[i].PointsUm = map[string][3]float64{"bed end": {}}
	}
	for i := range r.Travel {
		r.Travel[i].TipUm = make([][3]float64, len(r.Travel[i].AtMM))
		r.Travel[i].WithinMM = &[2]float64{-100, 100}
	}
	return r
}

// sixOptions are an invented answer with six options, among them long names.
func sixOptions() answer.Answer {
	var options []answer.Result
	for i, name := range []string{"short bed held all along", longName, "with gussets", "thin motor mount",
		"paper shim under the head", "four more screws"} {
		options = append(options, sampleOption(name, 0.5+float64(i)/2, 12, 130+10*float64(i)))
	}
	return sampleAnswer(options...)
}
