package report

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/report/internal/sample"
	"tiploop/report/number"
	"tiploop/report/phrase"
)

// The numbers of these tests are invented: they guard words and layout.

func TestWriteTip(t *testing.T) {
	for name, a := range map[string]answer.Answer{
		"tip_one":   sampleAnswer(sampleOption("as drawn", 1, 12, 130)),
		"tip_two":   sampleAnswer(sampleOption("short bed", 1, 4, 130), sampleOption(longName, 1.4, 9, 180)),
		"tip_zero":  sampleAnswer(zero("stiff")),
		"tip_frame": sampleAnswer(bareFrame("as drawn", 12345, 120)),

		"tip_stress": sampleAnswer(stressedBars(sampleOption("as drawn", 1, 4, 130))),
		"tip_solid":  solidAnswer(solidOption("as drawn", 1, 12, 130)),
		"tip_both": bothAnswer(withBeam(solidOption("as drawn", 1, 12, 130),
			sampleOption("as drawn", 0.93, 11, 130))),
		"tip_both_frame": bothAnswer(withBeam(solidFrame("as drawn", 12345, 120), bareFrame("as drawn", 13000, 120))),
	} {
		t.Run(name, func(t *testing.T) {
			golden(t, name+".txt", written(t, func(b *bytes.Buffer) error { return WriteTip(b, a) }))
			golden(t, name+".csv", written(t, func(b *bytes.Buffer) error { return WriteTipCSV(b, a) }))
		})
	}
}

func TestWriteCompare(t *testing.T) {
	dearer := sampleOption("four more screws", 0.9, 4, 130)
	dearer.Holes.Operations += 44
	dearer.Holes.Minutes += 60
	for name, a := range map[string]answer.Answer{
		"compare_one": sampleAnswer(sampleOption("as drawn", 1, 4, 130)),
		"compare_two": sampleAnswer(sampleOption("short bed held all along", 1, 4, 130),
			sampleOption("long bed held in the middle", 1.14, 4, 190), dearer),
		"compare_six":       sixOptions(),
		"compare_identical": sampleAnswer(sampleOption("a", 1, 4, 130), sampleOption("b", 1, 4, 130)),
		"compare_zero":      sampleAnswer(zero("a"), zero("b")),
		"compare_frame":     sampleAnswer(bareFrame("light", 1000, 100), bareFrame("heavy", 400, 130)),
		"compare_none":      sampleAnswer(),

		"compare_both_one": bothAnswer(withBeam(solidOption("as drawn", 1, 4, 130),
			sampleOption("as drawn", 0.93, 4, 130))),
		"compare_both_alike":  bothAlike(),
		"compare_both_unlike": bothUnlike(),
		"compare_both_frame": bothAnswer(withBeam(solidFrame("light", 1000, 100), bareFrame("light", 900, 100)),
			withBeam(solidFrame("heavy", 400, 130), bareFrame("heavy", 380, 130))),
	} {
		t.Run(name, func(t *testing.T) {
			golden(t, name+".txt", written(t, func(b *bytes.Buffer) error { return WriteCompare(b, a) }))
			golden(t, name+".csv", written(t, func(b *bytes.Buffer) error { return WriteCompareCSV(b, a) }))
		})
	}
}

func TestWriteTravel(t *testing.T) {
	nowhere := sampleOption("nowhere", 30, 4, 130)
	free := sampleOption("without tolerance", 1, 4, 130)
	for i := range free.Travel {
		free.Travel[i].ToleranceUm, free.Travel[i].WithinMM = 0, nil
	}
	for name, a := range map[string]answer.Answer{
		"travel_two":   sampleAnswer(sampleOption("short bed", 1, 4, 130), nowhere),
		"travel_free":  sampleAnswer(free, zero("stiff")),
		"travel_frame": sampleAnswer(bareFrame("as drawn", 1, 1)),
		"travel_both":  bothUnlike(),
	} {
		t.Run(name, func(t *testing.T) {
			golden(t, name+".txt", written(t, func(b *bytes.Buffer) error { return WriteTravel(b, a) }))
			golden(t, name+".csv", written(t, func(b *bytes.Buffer) error { return WriteTravelCSV(b, a) }))
		})
	}
}

func TestWriteShow(t *testing.T) {
	_, mill := sample.Mill()
	_, portal := sample.Portal()
	_, guided := sample.Axes()
	stressed := mill
	stressed.Stress = solidStress()
	for name, inv := range map[string]answer.Inventory{"show_mill": mill, "show_frame": portal,
		"show_stress": stressed, "show_axes": guided} {
		t.Run(name, func(t *testing.T) {
			golden(t, name+".txt", written(t, func(b *bytes.Buffer) error { return WriteShow(b, inv) }))
			golden(t, name+".csv", written(t, func(b *bytes.Buffer) error { return WriteShowCSV(b, inv) }))
		})
	}
}

// tipText is what WriteTip says of one option.
func tipText(t *testing.T, r answer.Result) string {
	t.Helper()
	return string(written(t, func(b *bytes.Buffer) error { return WriteTip(b, sampleAnswer(r)) }))
}

// The axes stand in the order of their names; a machine as it is drawn says nothing of them.
func TestAxesStanding(t *testing.T) {
	r := sampleOption("as drawn", 1, 4, 130)
	require.NotContains(t, tipText(t, r), "Axes at")
	r.AtMM = map[string]float64{"z": 0, "x": -12.5, "y": 40}
	require.Contains(t, tipText(t, r), "Axes at: x -12.5 mm, y 40 mm, z 0 mm.\n")
}

func TestNearestToLimits(t *testing.T) {
	r := sampleOption("as drawn", 1, 4, 130)
	screw := func(joint string, slip, open float64) answer.ScrewLoad {
		return answer.ScrewLoad{Load: "push", Joint: joint, SlipPercent: slip, OpenPercent: open}
	}
	r.Screws = []answer.ScrewLoad{screw("a", 3, 0.02), screw("b", 11, 1e-13)}
	text := strings.Join(strings.Fields(tipText(t, r)), " ")
	require.Contains(t, text, "Nearest to slip: “b” under “push”, 11.0 %. No joint is pulled open.")
	require.NotContains(t, text, "Nearest to opening")
	r.Screws = []answer.ScrewLoad{screw("a", 1e-13, 4), screw("b", 0, 2)}
	text = strings.Join(strings.Fields(tipText(t, r)), " ")
	require.Contains(t, text, "No joint is pushed along its face. Nearest to opening: “a” under “push”, 4.0 %.")
}

// What slips may go as far as its holes let it; each joint once.
func TestSlippingSaysHowFar(t *testing.T) {
	r := sampleOption("as drawn", 1, 4, 130)
	slips := answer.ScrewLoad{Load: "push", Joint: "a", SlipPercent: 120, ShiftMM: new(0.3), TurnRad: new(0.00636)}
	again, lone := slips, slips
	again.Load, lone.Joint, lone.TurnRad = "pull", "b", nil
	r.Screws = []answer.ScrewLoad{slips, again, lone, {Load: "push", Joint: "c", SlipPercent: 60}}
	require.Contains(t, strings.Join(strings.Fields(tipText(t, r)), " "), "What slips may shift, and turn, as far as its "+
		"holes let it: “a” by 0.300 mm each way and 6.36 mrad; “b” by 0.300 mm each way and all round.")
	r.Screws = r.Screws[3:]
	require.NotContains(t, tipText(t, r), "What slips")
}

// A push says where, which way, how hard, what the dial should read and from where on it would do harm.
func TestCheckInWords(t *testing.T) {
	r := sampleOption("as drawn", 1, 4, 130)
	r.Check = []answer.Check{{Part: "head", Place: "where the tool leaves it", AtMM: [3]float64{0, 22, 140},
		Direction: [3]float64{-1, 0, 0}, Against: "work on bed", ForceN: 100, ReadingUm: 40.312, SafeN: new(193.4),
		LimitedBy: "joint a/b slips"}}
	require.Contains(t, strings.Join(strings.Fields(tipText(t, r)), " "), "- Push head (where the tool leaves it, at (0, 22, "+
		"140)) left (−x) by 100 N, dial on work on bed: 40.3 µm, 4.03 hundredths of a mm. No more than 193 N: beyond twice "+
		"that joint a/b slips.")
}

func TestByHandGivesSizes(t *testing.T) {
	r := sampleOption("as drawn", 1, 4, 130)
	r.Hand = []answer.Hand{{What: "down", HandUm: -2.5, SolvedUm: -3.1}, {What: "apart", HandUm: 2.5, SolvedUm: -3.1}}
	text := tipText(t, r)
	require.Regexp(t, `down +2\.50 +3\.10 +1\.24\n`, text)
	require.Regexp(t, `apart +2\.50 +3\.10 +-1\.24\n`, text)
}

// TestPointCalledTip: a point's row cannot be taken for the tool tip's.
func TestPointCalledTip(t *testing.T) {
	r := bareFrame("as drawn", 1, 1)
	r.Loads[0].PointsUm = map[string][3]float64{"tip": {0, 0, 3}}
	text := string(written(t, func(b *bytes.Buffer) error { return WriteCompare(b, sampleAnswer(r)) }))
	require.Contains(t, text, "  point tip under “wind”, µm")
	require.NotContains(t, text, "  tip under “wind”")
	table := string(written(t, func(b *bytes.Buffer) error { return WriteCompareCSV(b, sampleAnswer(r)) }))
	require.Contains(t, table, ",point_tip_under_wind_um,")
}

func TestTravelInWords(t *testing.T) {
	travel := func(um ...float64) answer.Travel {
		v := answer.Travel{Path: "bed", Load: "push", ToleranceUm: 20}
		for i, u := range um {
			v.AtMM = append(v.AtMM, -187.5+125*float64(i))
			v.TipUm = append(v.TipUm, [3]float64{u, 0, 0})
		}
		v.WithinMM = &[2]float64{-144.27, v.AtMM[len(um)-1]}
		return v
	}
	require.Equal(t, "Within the tolerance of 20 µm from -144 to 187.5 mm: 332 of 375 mm. The movement is about the "+
		"same all along: 35.0 µm, right (+x).", travelInWords(travel(34.99, 35, 34.99, 35)))
	require.Equal(t, "Within the tolerance of 20 µm from -144 to 187.5 mm: 332 of 375 mm. Most movement at -62.5 mm: "+
		"35.0 µm, right (+x). Least at 62.5 mm: 34.9 µm.", travelInWords(travel(34.95, 35, 34.9, 35)))
	require.Contains(t, travelInWords(travel(7, 3, 3-1e-13, 7+1e-13)), "Most movement at -187.5 mm: 7.00 µm, right "+
		"(+x). Least at -62.5 mm: 3.00 µm.")
	require.Contains(t, travelInWords(travel(0, 0, 0, 0)), "does not move anywhere")
}

func TestDuration(t *testing.T) {
	for minutes, want := range map[float64]string{
		294: "5 hours", 330: "5.5 hours", 120: "2 hours", 119: "2 hours", 110: "2 hours", 62: "1 hour", 57: "55 min", 46.5: "45 min",
		15.5: "15 min", 1: "5 min", 2000: "33.5 hours",
	} {
		require.Equal(t, want, phrase.Duration(minutes), minutes)
	}
}

func TestContactAndGroundInWords(t *testing.T) {
	for want, to := range map[string][3]float64{
		"at a point (1, 2, 3)": {1, 2 + 1e-12, 3}, "30 along z": {1, 2, 33}, "25 × 185 facing z": {26, 187, 3},
		"80 × 30 facing y": {81, 2, 33}, "10 × 20 facing x": {1, 12, 23}, "4 × 5 × 6": {5, -3, 9},
	} {
		require.Equal(t, want, contact(answer.JointLine{FromMM: [3]float64{1, 2, 3}, ToMM: to}))
	}
	from, to := [3]float64{0, 0, 0}, [3]float64{10, 20, 0}
	for _, tt := range []struct {
		g    answer.GroundLine
		want string
	}{
		{answer.GroundLine{FromMM: from, ToMM: [3]float64{1e-12, 0, 0}, PlacesMM: [][3]float64{from}}, "at (0, 0, 0)"},
		{answer.GroundLine{FromMM: from, ToMM: to, PlacesMM: [][3]float64{{5, 5, 0}}}, "at (5, 5, 0)"},
		{answer.GroundLine{FromMM: to, ToMM: to}, "at (10, 20, 0)"},
		{answer.GroundLine{FromMM: from, ToMM: to, PlacesMM: [][3]float64{from, to}},
			"2 places in (0, 0, 0) to (10, 20, 0)"},
		{answer.GroundLine{FromMM: from, ToMM: to}, "(0, 0, 0) to (10, 20, 0)"},
	} {
		require.Equal(t, tt.want, groundPlace(tt.g))
	}
}

// TestCSVWithoutNoise: what is left over by rounding is 0 in a table as it is in the text, be it beside the rest of its
// vector or by itself; a small rotation is none.
func TestCSVWithoutNoise(t *testing.T) {
	require.Equal(t, []string{"0", "35.1", "0"}, three([3]float64{1e-15, 35.1, -3e-14}, number.Noise))
	require.Equal(t, []string{"0", "0", "0"}, three([3]float64{1e-15, -1e-14, 0}, number.Noise))
	require.Equal(t, []string{"2e-08", "0", "0"}, three([3]float64{2e-8, 1e-15, 0}, number.NoiseInTurn))
	require.Equal(t, []string{"3000", "0.02", "0"}, extents([3]float64{3000, 0.02, 1e-13}))
	r := bareFrame("as drawn", 1, 1)
	r.Loads[0].PointsUm = map[string][3]float64{"eaves": {1e-15, 3, -1e-15}}
	r.Loads[0].ReactionN = [3]float64{-100, 2e-13, 0}
	require.Contains(t, string(written(t, func(b *bytes.Buffer) error { return WriteTipCSV(b, sampleAnswer(r)) })),
		",0,3,0,")
	r.Loads[0].PointsUm["eaves"] = [3]float64{1e-15, 0, 0}
	require.NotContains(t, string(written(t, func(b *bytes.Buffer) error {
		return WriteCompareCSV(b, sampleAnswer(r))
	})), "e-15")
}

func TestTextRefusesNotANumber(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		a := sampleAnswer(sampleOption("as drawn", 1, 4, 130))
		a.Options[0].Loads[1].PointsUm["bed end"] = [3]float64{0, bad, 0}
		_, inv := sample.Mill()
		inv.CentreMM[2] = bad
		for name, write := range map[string]func(b *bytes.Buffer) error{
			"tip":         func(b *bytes.Buffer) error { return WriteTip(b, a) },
			"compare":     func(b *bytes.Buffer) error { return WriteCompare(b, a) },
			"travel":      func(b *bytes.Buffer) error { return WriteTravel(b, a) },
			"show":        func(b *bytes.Buffer) error { return WriteShow(b, inv) },
			"tip csv":     func(b *bytes.Buffer) error { return WriteTipCSV(b, a) },
			"compare csv": func(b *bytes.Buffer) error { return WriteCompareCSV(b, a) },
			"travel csv":  func(b *bytes.Buffer) error { return WriteTravelCSV(b, a) },
			"show csv":    func(b *bytes.Buffer) error { return WriteShowCSV(b, inv) },
			"json":        func(b *bytes.Buffer) error { return WriteJSON(b, a) },
		} {
			var b bytes.Buffer
			require.Error(t, write(&b), name)
			require.Empty(t, b.String(), name)
		}
	}
}

func TestTravelWithoutPlacesIsAnError(t *testing.T) {
	a := sampleAnswer(sampleOption("as drawn", 1, 4, 130))
	a.Options[0].Travel[0].TipUm = a.Options[0].Travel[0].TipUm[1:]
	var b bytes.Buffer
	require.ErrorContains(t, WriteTravel(&b, a), "41 places and 40 movements")
	require.ErrorContains(t, WriteTravelCSV(&b, a), "41 places and 40 movements")
	_, err := TravelPicture(a)
	require.ErrorContains(t, err, "41 places and 40 movements")
}

// failing is a writer that takes nothing.
type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }

func TestWritersPassOnErrors(t *testing.T) {
	full := failing{err: assert.AnError}
	a := sampleAnswer(sampleOption("as drawn", 1, 4, 130))
	_, inv := sample.Mill()
	require.ErrorIs(t, WriteTip(full, a), assert.AnError)
	require.ErrorIs(t, WriteCompare(full, a), assert.AnError)
	require.ErrorIs(t, WriteTravel(full, a), assert.AnError)
	require.ErrorIs(t, WriteShow(full, inv), assert.AnError)
	require.ErrorIs(t, WriteJSON(full, a), assert.AnError)
	require.ErrorIs(t, WriteTipCSV(full, a), assert.AnError)
}
