package report

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
)

func TestWriteTravelOverAxes(t *testing.T) {
	for name, a := range followedAnswers {
		t.Run(name, func(t *testing.T) {
			golden(t, name+".txt", written(t, func(b *bytes.Buffer) error { return WriteTravel(b, a) }))
			golden(t, name+".csv", written(t, func(b *bytes.Buffer) error { return WriteTravelCSV(b, a) }))
		})
	}
}

// TestTravelCSVIsTidy: every row has all columns, and there is one for each place of each axis and each position of
// each plane, under each load.
func TestTravelCSVIsTidy(t *testing.T) {
	for name, a := range followedAnswers {
		rows, err := csv.NewReader(bytes.NewReader(written(t, func(b *bytes.Buffer) error {
			return WriteTravelCSV(b, a)
		}))).ReadAll()
		require.NoError(t, err, name)
		want := 1
		for _, r := range eachDetail(a.Options) {
			for _, v := range r.Travel {
				want += len(v.AtMM)
			}
			for _, m := range r.Maps {
				want += len(m.Loads) * len(m.AtMM[0]) * len(m.AtMM[1])
			}
		}
		require.Len(t, rows, want, name)
		for _, cell := range rows[0] {
			require.Regexp(t, `^(option|path|load|detail)$|_(um|mm|n_per_um)(_low|_high)?$`, cell, "a head without its unit")
		}
	}
}

// TestTravelAsJSON: what is written reads back the same, gaps and all.
func TestTravelAsJSON(t *testing.T) {
	for name, a := range followedAnswers {
		var again answer.Answer
		require.NoError(t, json.Unmarshal(written(t, func(b *bytes.Buffer) error { return WriteJSON(b, a) }), &again),
			name)
		require.Equal(t, a.Options[0].Maps, again.Options[0].Maps, name)
		require.Equal(t, a.Options[0].Straight, again.Options[0].Straight, name)
		require.Equal(t, len(a.Options[0].Travel), len(again.Options[0].Travel), name)
	}
}

func TestStraightInWords(t *testing.T) {
	run := func(y, z float64) string {
		at := []float64{-40, 0, 40}
		return straightRun{{Axis: "table", Across: "y", AtMM: at, Um: y},
			{Axis: "table", Across: "z", AtMM: at, Um: z}}.inWords()
	}
	require.Equal(t, "Axis table, from -40 to 40 mm, runs straight to within 0.410 µm towards/away from you (y) and "+
		"3.20 µm up–down (z).", run(0.41, 3.2))
	require.Equal(t, "Axis table, from -40 to 40 mm, runs straight to within 3.20 µm up–down (z), and leaves the "+
		"line by less than 0.01 µm towards/away from you (y).", run(0, 3.2))
	require.Equal(t, "Axis table, from -40 to 40 mm, runs straight: it leaves the line by less than 0.01 µm.",
		run(1e-9, 0))
	require.Contains(t, run(0.01, 0.00999), "within 0.0100 µm towards/away from you (y), and leaves the line by less")
}

// TestLeftOutAlong: positions with no work under the tool are told once for all loads of a path.
func TestLeftOutAlong(t *testing.T) {
	r := axisOption("as drawn", 1, 2)
	for i := range r.Travel {
		r.Travel[i].LeftOutMM = []float64{66, 72}
	}
	text := string(written(t, func(b *bytes.Buffer) error { return WriteTravel(b, sampleAnswer(r)) }))
	require.Equal(t, 1, strings.Count(text, "At 2 of 23 positions no work is under the tool: between 66 and 72 mm. "+
		"They are left out."))
	r.Travel[0].LeftOutMM = []float64{66}
	text = string(written(t, func(b *bytes.Buffer) error { return WriteTravel(b, sampleAnswer(r)) }))
	require.Contains(t, text, "At 1 of 22 positions no work is under the tool: 66 mm. They are left out.")
}

func TestMapInWords(t *testing.T) {
	text := func(m answer.Map) string {
		a := sampleAnswer(answer.Result{Name: "as drawn", Maps: []answer.Map{m}})
		return strings.Join(strings.Fields(string(written(t, func(b *bytes.Buffer) error {
			return WriteTravel(b, a)
		}))), " ")
	}
	rising := func(x, y float64) (float64, bool) { return 10 + x/10 + y/100, true }
	for _, tt := range []struct {
		tolerance float64
		um        func(x, y float64) (float64, bool)
		want      string
	}{
		{20, rising, "Under “side push” the tip moves most at x 60 mm, y 40 mm: 16.4 µm, mostly down (−z), partly " +
			"away from you (+y). Within 20 µm all over."},
		{1, rising, "partly away from you (+y). Nowhere within 1 µm."},
		{10, rising, "Within 10 µm at 50 % of the positions."},
		{10, rising, "-60 *"},
		{16.39, rising, "Within 16.39 µm at 99 % of the positions."},
		{0, rising, "partly away from you (+y). Movement"},
		{20, func(x, y float64) (float64, bool) {
			return 0, true
		}, "Under “side push” the tip does not move anywhere. Within 20 µm all over."},
		{0, func(x, y float64) (float64, bool) {
			return 7, true
		}, "Under “side push” the movement is about the same all over: 7.00 µm."},
		{0, func(x, y float64) (float64, bool) { return 10 + x/10, x > -60 || y > -20 },
			"At 3 of 117 positions no work is under the tool: x -60 mm, y -40 mm; x -60 mm, y -30 mm; x -60 mm, y " +
				"-20 mm. They are left out."},
		{0, func(x, y float64) (float64, bool) { return 10 + x/10, x < 60 },
			"At 9 of 117 positions no work is under the tool: x at 60 mm, y between -40 and 40 mm. They are left out."},
		{0, func(x, y float64) (float64, bool) { return 0, false }, "Nowhere is work under the tool."},
	} {
		m := sampleMap("x, y", tt.tolerance, 1, tt.um)
		if tt.want == "-60 *" {
			require.NotContains(t, text(m), tt.want, "what keeps the tolerance has no mark")
			require.Contains(t, text(m), "60 *15.6")
			require.Contains(t, text(m), "* more than the tolerance of 10 µm.")
			continue
		}
		if math.IsInf(m.Softest.Value, 1) {
			m.Softest.Value, m.Loads[0].WithinPercent = 0, nil
		}
		require.Contains(t, text(m), tt.want)
	}
}

// TestMisshapenTravelIsAnError: what does not fit together is refused in every form, and so is a number that is none.
func TestMisshapenTravelIsAnError(t *testing.T) {
	for want, spoil := range map[string]func(r *answer.Result){
		"21 places and 20 stiffnesses": func(r *answer.Result) {
			r.Travel[0].SoftestNPerUm = r.Travel[0].SoftestNPerUm[1:]
		},
		`straightness of axis "x" across "z"`: func(r *answer.Result) { r.Straight[1].OffUm = nil },
		`straightness of axis "x" across "w"`: func(r *answer.Result) { r.Straight[0].Across = "w" },
		`map "x, y" goes nowhere along y`: func(r *answer.Result) {
			r.Maps[0].AtMM[1] = []float64{1}
		},
		"13 positions of x and 12 rows of stiffness": func(r *answer.Result) {
			r.Maps[0].SoftestNPerUm = r.Maps[0].SoftestNPerUm[1:]
		},
		"9 positions of y and 0 values of " +
			"movement in a row": func(r *answer.Result) { r.Maps[0].Loads[0].TipUm[3] = nil },
		"NaN": func(r *answer.Result) { r.Maps[0].Loads[0].TipUm[3][2][1] = math.NaN() },
	} {
		a := sampleAnswer(axisOption("as drawn", 1, 1))
		spoil(&a.Options[0])
		var b bytes.Buffer
		require.ErrorContains(t, WriteTravel(&b, a), want)
		require.ErrorContains(t, WriteTravelCSV(&b, a), want)
		_, err := TravelPicture(a)
		require.ErrorContains(t, err, want)
		require.Empty(t, b.String())
	}
}
