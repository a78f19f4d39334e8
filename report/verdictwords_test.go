package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/answer"
	"tiploop/report/screen"
	"tiploop/report/wrap"
)

// randomOptions draws options that move under three loads, each movement drawn too.
func randomOptions(t *rapid.T) answer.Answer {
	a := sampleAnswer()
	for i := range rapid.IntRange(2, 4).Draw(t, "options") {
		r := answer.Result{Name: fmt.Sprintf("o%d", i), MassKg: rapid.SampledFrom([]float64{10, 11, 12}).Draw(t, "kg"),
			Holes: answer.Holes{Minutes: rapid.SampledFrom([]float64{60, 120}).Draw(t, "minutes")},
			Sure:  &answer.Sure{Draws: 100, Settled: true}}
		for _, load := range []string{"drilling", "side", "weight"} {
			um := rapid.SampledFrom([]float64{10, 10.5, 14, 20}).Draw(t, load)
			r.Loads = append(r.Loads, answer.LoadResult{Name: load, OnTip: true, TipUm: &[3]float64{um}, TipSizeUm: &um})
			spread := rapid.SampledFrom([]float64{0, 0.05, 0.5}).Draw(t, "spread")
			c := answer.Column{Quantity: "movement " + load}
			for k := range 100 {
				c.Values = append(c.Values, um*math.Exp(spread*math.Sin(float64(k*(i+2)))))
			}
			r.Sure.Columns = append(r.Sure.Columns, c)
		}
		a.Options = append(a.Options, r)
	}
	a.Duels = answer.Duels(a.Options)
	return a
}

// onScreen is what compare writes on a screen.
func onScreen(w io.Writer, a answer.Answer) error { return screen.Compare(w, a, MisfitQuantities()) }

// standing counts by the duels of the JSON alone in how many quantities one option is better, worse, open and the same
// against another, and in how many of 100 it is better where that is least sure.
func standing(duels []answer.Duel, option, against string) (better, worse, open, same int, least float64) {
	least = 100
	for _, d := range duels {
		p := d.BetterPercent
		switch {
		case d.Option == against && d.Against == option:
			p = 100 - p
		case d.Option != option || d.Against != against:
			continue
		}
		switch {
		case d.Verdict == answer.TheSame || d.Ratio.Low >= 0.99 && d.Ratio.High <= 1.01:
			same++
		case p >= 80:
			better++
			least = math.Min(least, p)
		case p <= 20:
			worse++
		default:
			open++
		}
	}
	return better, worse, open, same, least
}

// TestTextClaimsAgainstBruteForce: what the screen and the whole text say of a pair is recomputed from the numbers of
// the JSON.
func TestTextClaimsAgainstBruteForce(t *testing.T) {
	steadiest := regexp.MustCompile(`Steadiest: “(o\d)”; over all pairs better (\S+) ?t?i?m?e?s?, worse (\S+?)(?: times)?\.`)
	against := regexp.MustCompile(`^(o\d)”: better in (\d+) of (\d+)`)
	beaten := regexp.MustCompile(`“(o\d)” is beaten by “(o\d)” in everything that differs, in (\d+) of 100`)
	claims := 0
	rapid.Check(t, func(t *rapid.T) {
		a := randomOptions(t)
		var form bytes.Buffer
		require.NoError(t, WriteJSON(&form, a))
		var back answer.Answer
		require.NoError(t, json.Unmarshal(form.Bytes(), &back))
		for _, write := range []func(*bytes.Buffer) error{
			func(b *bytes.Buffer) error { return onScreen(b, a) },
			func(b *bytes.Buffer) error { return WriteCompare(b, a) },
		} {
			var b bytes.Buffer
			require.NoError(t, write(&b))
			text := strings.Join(strings.Fields(b.String()), " ")
			if m := steadiest.FindStringSubmatch(text); m != nil {
				wins, losses := 0, 0
				for _, r := range back.Options {
					better, worse, _, _, _ := standing(back.Duels, m[1], r.Name)
					wins, losses = wins+better, losses+worse
				}
				require.Equal(t, strings.TrimSuffix(oftenInWords(wins), " times"), m[2], text)
				require.Equal(t, strings.TrimSuffix(oftenInWords(losses), " times"), m[3], text)
				said := strings.Split(text, "Against “")[1:]
				require.NotEmpty(t, said, text)
				for _, part := range said {
					part, _, _ = strings.Cut(part, "Most for")
					of := against.FindStringSubmatch(part)
					require.NotNil(t, of, part)
					better, worse, open, _, _ := standing(back.Duels, m[1], of[1])
					require.Equal(t, strconv.Itoa(better), of[2], text)
					require.Equal(t, worse > 0, strings.Contains(part, fmt.Sprintf(", worse in %d (", worse)), part)
					require.Equal(t, open > 0, strings.Contains(part, fmt.Sprintf(", no real difference in %d.", open)), part)
					claims++
				}
			}
			for _, of := range beaten.FindAllStringSubmatch(text, -1) {
				better, worse, open, _, least := standing(back.Duels, of[2], of[1])
				require.Positive(t, better, text)
				require.Zero(t, worse+open, text)
				percent, err := strconv.ParseFloat(of[3], 64)
				require.NoError(t, err)
				require.InDelta(t, least, percent, 1, text)
				claims++
			}
		}
	})
	require.Positive(t, claims, "nothing was claimed")
}

// TestSteadierUnderOneLoad: a mount that makes drilling 36 % steadier is not called worthless because another load moves
// the tip farther.
func TestSteadierUnderOneLoad(t *testing.T) {
	first, mount := sampleOption("thin mount", 1, 4, 130), sampleOption("thick mount", 1, 4, 130)
	for i, um := range []float64{50, 32} {
		r := []*answer.Result{&first, &mount}[i]
		size := um / 10
		r.Loads = append(r.Loads, answer.LoadResult{Name: "drilling", OnTip: true, TipUm: &[3]float64{0, 0, size},
			TipSizeUm: &size})
	}
	mount.MassKg += 0.4
	for _, write := range []func(*bytes.Buffer) error{
		func(b *bytes.Buffer) error { return onScreen(b, sampleAnswer(first, mount)) },
		func(b *bytes.Buffer) error { return WriteCompare(b, sampleAnswer(first, mount)) },
	} {
		text := strings.Join(strings.Fields(string(written(t, write))), " ")
		require.NotContains(t, text, "not worth it")
		require.Contains(t, text, "Steadiest: “thick mount”")
		require.Contains(t, text, "tip under “drilling” 36 % less")
		require.Contains(t, text, "“thin mount” is beaten by “thick mount”")
		require.Contains(t, text, "Most for a kilogram: “thick mount”")
		require.NotRegexp(t, `[Dd]rilling (operation|time)`, text, "drilling is the load")
	}
}

// TestSettledInWords: where the order is open, the unknown with the largest share is what to measure, and how.
func TestSettledInWords(t *testing.T) {
	a := sampleAnswer(sampleOption("one", 1, 4, 130), sampleOption("two", 1.1, 4, 130))
	for i := range a.Options {
		c := answer.Column{Quantity: "movement side push"}
		for k := range 100 {
			c.Values = append(c.Values, 8*math.Exp(0.5*math.Sin(float64(k*(i+1)))))
		}
		s := &answer.Sure{Draws: 100, Settled: true, Columns: []answer.Column{c}, Unknowns: []answer.DrawnUnknown{
			{Key: fmt.Sprint("faces ", i), What: "faces of column/arm", Settle: "push the joint and read it"},
			{Key: "nut", What: "nut of z", Settle: "measure it"}}}
		for k := range 100 {
			s.Unknowns[0].Logs = append(s.Unknowns[0].Logs, math.Sin(float64(k*(i+1))))
			s.Unknowns[1].Logs = append(s.Unknowns[1].Logs, float64(k%2))
		}
		a.Options[i].Sure = s
	}
	a.Duels = answer.Duels(a.Options)
	text := strings.Join(strings.Fields(string(written(t, func(b *bytes.Buffer) error { return onScreen(b, a) }))), " ")
	require.Regexp(t, `Not settled: “two” or “one” by tip under “side push” \(“two” better in \d+ of 100\). It turns most on faces `+
		`of column/arm, \d\d % of what they differ by: push the joint and read it\.`, text)
}

// TestCompareScreenFits: many options with long names, and few, fit a screen.
func TestCompareScreenFits(t *testing.T) {
	for name, a := range map[string]answer.Answer{
		"six": sixOptions(), "none": sampleAnswer(), "one": sampleAnswer(sampleOption("as drawn", 1, 4, 130)),
		"two":       sampleAnswer(sampleOption("short bed", 1, 4, 130), sampleOption(longName, 1.4, 9, 180)),
		"identical": sampleAnswer(sampleOption("a", 1, 4, 130), sampleOption("b", 1, 4, 130)),
		"frame":     sampleAnswer(bareFrame("light", 1000, 100), bareFrame("heavy", 400, 130)),
		"zero":      sampleAnswer(zero("a"), zero("b")),
	} {
		text := written(t, func(b *bytes.Buffer) error { return onScreen(b, a) })
		golden(t, "screen/"+name+".txt", text)
		if name == "none" {
			continue // says so in the usual caution's width
		}
		lines := strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
		require.LessOrEqual(t, len(lines), screenLines, name)
		for _, l := range lines {
			require.LessOrEqual(t, wrap.Letters(l), screenWidth, l)
		}
	}
}
