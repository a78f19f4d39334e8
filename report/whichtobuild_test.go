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
	"tiploop/report/table"
	"tiploop/report/verdict"
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

// count is how a verdict writes one.
func count(n int) string {
	if n == 0 {
		return "none"
	}
	return strconv.Itoa(n)
}

// standing counts by the JSON alone in how many of the loads that are not the same for all one option is better, worse,
// open and the same against another, and in how many of 100 it is better where that is least sure. Every load moves the
// tip alone, so that what differs by less than 1 % of the larger movement, typically and in nine draws of ten, is the same.
func standing(a answer.Answer, option, against string) (better, worse, open, same int, least float64) {
	least = 100
	um := func(name, quantity string) float64 {
		for _, r := range a.Options {
			for _, l := range r.Loads {
				if r.Name == name && "movement "+l.Name == quantity {
					return *l.TipSizeUm
				}
			}
		}
		panic("not there: " + name + " " + quantity)
	}
	differs := map[string]bool{}
	for _, d := range a.Duels {
		w, l := d.WinsPercent, d.LossesPercent
		x, y := um(d.Option, d.Quantity), um(d.Against, d.Quantity)
		near := math.Abs(x-y) < 0.01*math.Max(x, y)
		even := near && y*math.Max(1-d.Ratio.Low, d.Ratio.High-1) < 0.01*math.Max(x, y)
		differs[d.Quantity] = differs[d.Quantity] || !even
		switch {
		case d.Option == against && d.Against == option:
			w, l = l, w
		case d.Option != option || d.Against != against:
			continue
		}
		switch {
		case even:
			same++
		case near:
			open++
		case w >= 80:
			better++
			least = math.Min(least, w)
		case l >= 80:
			worse++
		default:
			open++
		}
	}
	for _, d := range differs { // what is the same for all was not counted
		if !d && option != against {
			same--
		}
	}
	return better, worse, open, same, least
}

// TestTextClaimsAgainstBruteForce: what the screen and the whole text say of a pair is recomputed from the numbers of
// the JSON.
func TestTextClaimsAgainstBruteForce(t *testing.T) {
	steadiest := regexp.MustCompile(`Steadiest: “(o\d)”\.` +
		`(?: Held against each of the others in turn it is better in (\d+) of (\d+), worse in (\S+)\.)?`)
	against := regexp.MustCompile(`^(o\d)”: (?:(.+?) on average(?:, in (\d+) of 100)?; )?better in (\S+) of (\d+)`)
	beaten := regexp.MustCompile(`“(o\d)” is beaten by “(o\d)” in everything that differs, in (\d+) of 100`)
	claims := 0
	rapid.Check(t, func(t *rapid.T) {
		a := randomOptions(t)
		a.Verdict = verdict.Of(a)
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
				wins, losses, all := 0, 0, 0
				for _, r := range back.Options {
					better, worse, open, same, _ := standing(back, m[1], r.Name)
					wins, losses, all = wins+better, losses+worse, all+better+worse+open+same
				}
				require.Equal(t, len(back.Options) > 2, m[2] != "", text)
				if m[2] != "" {
					require.Equal(t, fmt.Sprint(wins), m[2], text)
					require.Equal(t, fmt.Sprint(all), m[3], text)
					require.Equal(t, count(losses), m[4], text)
				}
				said := strings.Split(text, "Against “")[1:]
				require.NotEmpty(t, said, text)
				for _, part := range said {
					part, _, _ = strings.Cut(part, "Most for")
					of := against.FindStringSubmatch(part)
					require.NotNil(t, of, part)
					better, worse, open, same, _ := standing(back, m[1], of[1])
					require.Equal(t, count(better), of[4], text)
					require.Equal(t, fmt.Sprint(better+worse+open+same), of[5], "all that was counted is told")
					require.Equal(t, better+worse+open+same > 1, of[2] != "", text)
					if of[2] != "" {
						requireAverage(t, a, m[1], of[1], of[2], of[3])
					}
					require.Equal(t, worse > 0, strings.Contains(part, fmt.Sprintf(", worse in %d (", worse)), part)
					require.Equal(t, open > 0, strings.Contains(part, fmt.Sprintf(", no real difference in %d", open)), part)
					require.Equal(t, same > 0, strings.Contains(part, fmt.Sprintf(", the same in %d.", same)), part)
					claims++
				}
			}
			for _, of := range beaten.FindAllStringSubmatch(text, -1) {
				better, worse, _, _, least := standing(back, of[2], of[1])
				require.Positive(t, better, text)
				require.Zero(t, worse, text)
				percent, err := strconv.ParseFloat(of[3], 64)
				require.NoError(t, err)
				require.InDelta(t, least, percent, 1, text)
				claims++
			}
		}
	})
	require.Positive(t, claims, "nothing was claimed")
}

// requireAverage holds what a text says of a pair on average to the verdict, which report/verdict holds to the JSON's numbers.
func requireAverage(t *rapid.T, a answer.Answer, option, against, says, chance string) {
	p := verdict.PairOf(a.Verdict.Pairs, option, against)
	require.Equal(t, option, p.Option)
	o := p.Overall
	switch o.Verdict {
	case answer.TheSame:
		require.Equal(t, "alike", says)
	case answer.NoDifference:
		require.Equal(t, "no real difference", says)
	case answer.Better:
		amount, err := strconv.ParseFloat(strings.Fields(says)[0], 64)
		require.NoError(t, err, says)
		if strings.HasSuffix(says, "times as good") {
			require.InDelta(t, o.Times, amount, 0.06, says)
		} else {
			require.True(t, strings.HasSuffix(says, " % better"), says)
			require.InDelta(t, 100*(o.Times-1), amount, 0.6, says)
		}
		percent, err := strconv.ParseFloat(chance, 64)
		require.NoError(t, err, says)
		require.InDelta(t, *o.WinsPercent, percent, 1)
	default:
		t.Fatalf("the steadiest is %s than %s: %s", o.Verdict, against, says)
	}
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
	require.Regexp(t, `Not settled: “two” or “one” by tip under “side push” `+
		`\(“two” better in \d+ of 100, worse in \d+ of 100\). It turns most on faces `+
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
		requireFits(t, name, text)
	}
}

// requireFits holds a text to a screen of 40 lines and 80 columns.
func requireFits(t *testing.T, name string, text []byte) {
	t.Helper()
	lines := strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
	require.LessOrEqual(t, len(lines), 40, "%s:\n%s", name, text)
	for _, l := range lines {
		require.LessOrEqual(t, wrap.Letters(l), 80, l)
	}
}

// manyOptions are an invented answer of so many options, drawn, with names of so many letters.
func manyOptions(n, letters int) answer.Answer {
	var options []answer.Result
	for i := range n {
		name := (fmt.Sprintf("%d of ", i+1) + strings.Repeat("long names ", 9))[:letters]
		r := sampleOption(name, 1+float64(i*5%n)/4, 12, 130+10*float64(i))
		r.MassKg += float64(i * i % 5)
		r.Holes.Minutes += float64(30 * i)
		s := &answer.Sure{Draws: 100, Settled: true, Unknowns: []answer.DrawnUnknown{{Key: fmt.Sprint(i), What: "faces of a joint",
			Settle: "push the joint and read it with a dial"}}}
		for _, l := range r.Loads {
			c := answer.Column{Quantity: answer.MovementKey(l.Name, "")}
			for k := range 100 {
				c.Values = append(c.Values, *l.TipSizeUm*math.Exp(0.4*math.Sin(float64(k*(i+2)))))
				if len(s.Unknowns[0].Logs) < 100 {
					s.Unknowns[0].Logs = append(s.Unknowns[0].Logs, math.Sin(float64(k*(i+2))))
				}
			}
			s.Columns = append(s.Columns, c)
		}
		r.Sure = s
		options = append(options, r)
	}
	a := sampleAnswer(options...)
	a.Duels = answer.Duels(a.Options)
	return a
}

// TestManyOptionsFit: twelve options, and eight with names of 45 letters, fit a screen, and those that the verdict names
// have columns.
func TestManyOptionsFit(t *testing.T) {
	for _, tt := range []struct{ options, letters int }{{8, 45}, {12, 12}, {12, 45}, {20, 30}, {4, 45}} {
		a := manyOptions(tt.options, tt.letters)
		text := written(t, func(b *bytes.Buffer) error { return onScreen(b, a) })
		requireFits(t, fmt.Sprint(tt), text)
		golden(t, fmt.Sprintf("screen/many-%d-%d.txt", tt.options, tt.letters), text)
	}
}

// TestTiesAreToldAsTies: what is better in 41 of 100 draws and the same in the others is not called better in 70, and
// nothing is offered to measure.
func TestTiesAreToldAsTies(t *testing.T) {
	a := sampleAnswer(sampleOption("one", 1, 4, 130), sampleOption("two", 1, 4, 130))
	for i := range a.Options {
		s := &answer.Sure{Draws: 100, Settled: true, Columns: []answer.Column{{Quantity: "stretch bed / down push",
			MoreIsBetter: true}}, Unknowns: []answer.DrawnUnknown{{Key: "nose", What: "nose", Settle: "push it"}}}
		for k := range 100 {
			mm := 200.0
			if i == 0 && k < 41 {
				mm = 150
			}
			s.Columns[0].Values = append(s.Columns[0].Values, mm)
			s.Unknowns[0].Logs = append(s.Unknowns[0].Logs, math.Sin(float64(k)))
		}
		a.Options[i].Sure = s
	}
	for i := range a.Options[0].Travel {
		if a.Options[0].Travel[i].Load == "down push" {
			a.Options[0].Travel[i].WithinMM = &[2]float64{0, 100}
		}
	}
	a.Options[1].Loads[0].TipUm, a.Options[1].Loads[0].TipSizeUm = &[3]float64{1}, new(1.0)
	a.Duels = answer.Duels(a.Options)
	for _, write := range []func(b *bytes.Buffer) error{
		func(b *bytes.Buffer) error { return onScreen(b, a) },
		func(b *bytes.Buffer) error { return WriteCompare(b, a) },
	} {
		text := strings.Join(strings.Fields(string(written(t, write))), " ")
		require.Contains(t, text, "no real difference in 1 (stretch of bed under “down push”: never worse, better in 41 of 100)")
		require.NotContains(t, text, "Not settled")
		require.NotContains(t, text, "70 of 100")
	}
}

// TestTipStaysOnScreen: however many points differ by more, the worst load on the tip and the softest direction stand on
// the screen; of what is lost to play one row is enough there.
func TestTipStaysOnScreen(t *testing.T) {
	a := sampleAnswer(sampleOption("one", 1, 4, 130), sampleOption("two", 1.02, 4, 130), sampleOption("three", 1.03, 4, 130),
		sampleOption("four", 1.05, 4, 130))
	for i := range a.Options {
		r := &a.Options[i]
		r.MassKg += float64(i)
		for k := range r.Loads {
			l := &r.Loads[k]
			l.LostMotionSizeUm = new(20 * float64(i))
			l.PointsUm = map[string][3]float64{}
			for n := range 12 {
				l.PointsUm[fmt.Sprint("foot ", n)] = [3]float64{1 + 3*float64(i) + float64(n)/10}
			}
		}
	}
	text := string(written(t, func(b *bytes.Buffer) error { return onScreen(b, a) }))
	requireFits(t, "points", []byte(text))
	require.Contains(t, text, "tip under “side push”, µm")
	require.Contains(t, text, "stiffness softest, N/µm")
	require.Equal(t, 1, strings.Count(text, "\n  lost to play under “"), text)
	require.Regexp(t, `\d+ more numbers differ: the full report\.`, text)
}

// TestScreenOfTerminal: a narrow terminal gets narrow lines, one with colours bold headings.
func TestScreenOfTerminal(t *testing.T) {
	a := sampleAnswer(sampleOption("one", 1, 4, 130), sampleOption("two", 1.2, 4, 130))
	var b bytes.Buffer
	require.NoError(t, onScreen(table.Medium{Writer: &b, Width: 40, Colour: true}, a))
	require.Contains(t, b.String(), "\x1b[1mWhich to build\x1b[0m")
	require.Regexp(t, `mass, kg +52\.5 +52\.5|side push”, µm +8\.10 +9\.72`, b.String(), "both options")
	for l := range strings.SplitSeq(b.String(), "\n") {
		require.LessOrEqual(t, wrap.Letters(strings.NewReplacer("\x1b[1m", "", "\x1b[0m", "").Replace(l)), 40, l)
	}
}

// TestNoRoomForRanges: where there is no room for ranges the screen says so, and what is known by them has two digits.
func TestNoRoomForRanges(t *testing.T) {
	var options []answer.Result
	for i := range 5 {
		r := sampleOption(fmt.Sprint("option ", i), 1+float64(i)/4, 4, 130)
		r.Sure = &answer.Sure{Draws: 100, Settled: true, Stiffness: &answer.StiffnessRanges{
			Softest: answer.Range{Low: 4, Median: 6, High: 9.5}}}
		options = append(options, r)
	}
	few := string(written(t, func(b *bytes.Buffer) error { return onScreen(b, sampleAnswer(options[:2]...)) }))
	require.Contains(t, few, "(nine of ten such machines lie between)")
	require.Contains(t, few, "8.1 (4.0-9.5)")
	many := string(written(t, func(b *bytes.Buffer) error { return onScreen(b, sampleAnswer(options...)) }))
	require.Contains(t, many, "(typical; no room for ranges: the JSON)")
	require.Regexp(t, `stiffness softest, N/µm +8\.1 +6\.5 +5\.4 +4\.6 +4\.1\n`, many)
}
