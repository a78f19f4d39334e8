package modelfile

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/testdata/models"
)

// rewritten is a file with the numbers of some values rewritten, or what is wrong with that.
func rewritten(t require.TestingT, text, option string, to map[string]float64) (string, error) {
	doc, err := Parse("m.yaml", []byte(text))
	require.NoError(t, err)
	out, err := doc.Rewrite(option, to)
	if err != nil {
		return "", err
	}
	require.Equal(t, text, doc.Text(), "the document itself does not change")
	return out.Text(), nil
}

const rewritable = "\ufeffmachine: Stand # for plates\r\n" +
	"values:\r\n" +
	"  thick:   0.50 in   # half an inch\r\n" +
	"  wide: '-12 mm'\r\n" +
	"  half: wide/2\n" +
	"  twice: 2 * 6 mm\r" +
	"  rows: +3\n" +
	"  kind: steel\n" +
	"parts:\n" +
	"  base: {plate: {from: [0, 0, 0], to: [100, 100 + rows + half, thick]}, material: kind}\n" +
	"options: {\"größer, 大\": {thick: 1 in, wide: half_of}, plain: {rows: 4}}\n"

func TestRewriteChangesOneNumber(t *testing.T) {
	text := strings.Replace(rewritable, "wide: half_of", "wide: 7", 1)
	for _, tt := range []struct {
		option, name string
		to           float64
		old, now     string
	}{
		{"", "thick", 0.625, "0.50 in", "0.625 in"},
		{"plain", "thick", 2, "0.50 in", "2 in"},
		{"", "thick", 0.5, "0.50 in", "0.50 in"},
		{"", "wide", 3.5, "'-12 mm'", "'3.5 mm'"},
		{"", "wide", -0.25, "'-12 mm'", "'-0.25 mm'"},
		{"", "rows", 5, "rows: +3", "rows: 5"},
		{"plain", "rows", 6, "plain: {rows: 4}", "plain: {rows: 6}"},
		{"größer, 大", "thick", 1.25, "{thick: 1 in, wide: 7}", "{thick: 1.25 in, wide: 7}"},
		{"größer, 大", "wide", 8, "{thick: 1 in, wide: 7}", "{thick: 1 in, wide: 8}"},
	} {
		got, err := rewritten(t, text, tt.option, map[string]float64{tt.name: tt.to})
		require.NoError(t, err)
		require.Equal(t, 1, strings.Count(text, tt.old))
		require.Equal(t, strings.Replace(text, tt.old, tt.now, 1), got, "%s under %q", tt.name, tt.option)
	}
}

func TestRewriteSeveralAtOnce(t *testing.T) {
	text := strings.Replace(rewritable, "wide: half_of", "wide: 7", 1)
	got, err := rewritten(t, text, "", map[string]float64{"rows": 12, "thick": 0.0625, "wide": 100})
	require.NoError(t, err)
	want := strings.NewReplacer("+3", "12", "0.50 in", "0.0625 in", "'-12 mm'", "'100 mm'").Replace(text)
	require.Equal(t, want, got)
}

func TestRewriteRefuses(t *testing.T) {
	text := strings.Replace(rewritable, "wide: half_of", "wide: 2 * rows", 1)
	for _, tt := range []struct {
		option, name string
		to           float64
		want         string
	}{
		{"", "half", 3, `m.yaml:5:9: half is made by an expression, "wide/2"`},
		{"", "twice", 3, `m.yaml:6:10: twice is made by an expression, "2 * 6 mm"`},
		{"größer, 大", "wide", 3, `wide is made by an expression, "2 * rows"`},
		{"", "kind", 3, `value "kind" is not known`},
		{"", "nothing", 3, `value "nothing" is not known`},
		{"none", "thick", 3, `option "none" is not known`},
		{"", "thick", math.NaN(), "NaN is no number that thick could be"},
		{"", "thick", math.Inf(1), "+Inf is no number that thick could be"},
	} {
		_, err := rewritten(t, text, tt.option, map[string]float64{tt.name: tt.to})
		require.ErrorContains(t, err, tt.want)
	}
}

// A number that the file does not hold as it is read is told of beforehand, and blanks about a number stay as they are.
func TestRewriteOfNumbersApart(t *testing.T) {
	apart := strings.Replace(rewritable, "wide: half_of", "wide: 7", 1)
	for _, tt := range []struct{ value, now string }{
		{"7 mm", "8 mm"},
		{`"7 mm"`, `"8 mm"`},
		{`"  7  mm "`, `"  8  mm "`},
		{`' -7 mm'`, `' 8 mm'`},
		{`"7 \x6dm"`, `"8 \x6dm"`},
		{" \t 7", ""},
		{"|\n    7 mm", ""},
		{">-\n    7 mm", ""},
		{`"\x37 mm"`, ""},
		{`"\x20 7 mm"`, ""},
	} {
		text := strings.Replace(apart, "'-12 mm'", tt.value, 1)
		doc, err := Parse("m.yaml", []byte(text))
		require.NoError(t, err, tt.value)
		values, err := doc.Written("plain")
		require.NoError(t, err, tt.value)
		require.Equal(t, "wide", values[1].Name)
		require.False(t, values[1].Made)
		require.Equal(t, tt.now == "", values[1].Apart, tt.value)
		got, err := rewritten(t, text, "plain", map[string]float64{"wide": 8})
		if tt.now == "" {
			require.ErrorContains(t, err, "the number of wide is not written in one piece behind its name", tt.value)
			continue
		}
		require.NoError(t, err, tt.value)
		require.Equal(t, strings.Replace(apart, "'-12 mm'", tt.now, 1), got)
	}
}

// What counts is rewritten to whole numbers only.
func TestRewriteOfACount(t *testing.T) {
	doc, err := Parse("m.yaml", []byte(models.Changeable))
	require.NoError(t, err)
	_, err = doc.Rewrite("", map[string]float64{"rows": 2.5})
	require.ErrorContains(t, err, "value rows counts something: 2.5 is not a whole number")
	_, err = doc.Rewrite("", map[string]float64{"rows": 3})
	require.NoError(t, err)
}

// A number is told in the unit in which it is written, and a plain one in the unit it is taken for.
func TestWrittenUnits(t *testing.T) {
	doc, err := Parse("m.yaml", []byte(strings.Replace(rewritable, "wide: half_of", "wide: 7", 1)))
	require.NoError(t, err)
	for option, want := range map[string]string{
		"":          "thick 0.5 in, wide -12 mm, half -6 mm made, twice 12 mm made, rows 3 mm",
		"größer, 大": "thick 1 in by option, wide 7 mm by option, half 3.5 mm made, twice 12 mm made, rows 3 mm",
	} {
		values, err := doc.Written(option)
		require.NoError(t, err)
		var list []string
		for _, w := range values {
			s := strings.TrimSpace(fmt.Sprintf("%s %g %s", w.Name, w.At, w.Unit))
			if w.ByOption {
				s += " by option"
			}
			if w.Made {
				s += " made"
			}
			list = append(list, s)
		}
		require.Equal(t, want, strings.Join(list, ", "))
	}
}

// piece is part of a drawn file; of the values' numbers, which.
type piece struct {
	text  string
	value int // -1: none
	unit  string
}

// drawFile draws a file with values in block or flow style, with comments, blanks, quotes and line ends of all kinds.
func drawFile(t *rapid.T) (pieces []piece, names []string) {
	breaks := rapid.SampledFrom([]string{"\n", "\r\n", "\r"})
	comment := func(label string) string {
		if !rapid.Bool().Draw(t, label) {
			return ""
		}
		return " # " + rapid.StringOfN(rapid.RuneFrom([]rune("aé大👍 :#{}[]'\"-0123456789")), 0, 20, -1).Draw(t, label+" text")
	}
	blanks := func(label string) string { return strings.Repeat(" ", rapid.IntRange(1, 4).Draw(t, label)) }
	add := func(text string) { pieces = append(pieces, piece{text, -1, ""}) }
	number := func(k int) {
		sign := rapid.SampledFrom([]string{"", "-"}).Draw(t, "sign")
		digits := rapid.SampledFrom([]string{"12", "0.5", "7.25", ".5", "3.", "1e2", "2.5e-3", "100"}).Draw(t, "digits")
		unit := rapid.SampledFrom([]string{"", " mm", "mm", " in", " N/um", " deg", "  cm"}).Draw(t, "unit")
		quote := rapid.SampledFrom([]string{"", "'", `"`}).Draw(t, "quote")
		add(quote)
		pieces = append(pieces, piece{sign + digits, k, unit})
		add(unit + quote)
	}
	n := rapid.IntRange(1, 5).Draw(t, "values")
	for k := range n {
		names = append(names, fmt.Sprintf("v%d", k))
	}
	add(rapid.SampledFrom([]string{"", "\ufeff"}).Draw(t, "mark"))
	add("machine: 大 stand" + comment("comment") + breaks.Draw(t, "break"))
	if rapid.Bool().Draw(t, "flow") {
		add("values: {")
		for k, name := range names {
			add(name + ":" + blanks("blanks"))
			number(k)
			add(rapid.SampledFrom([]string{",", " , "}).Draw(t, "comma"))
		}
		add("last: 1}" + comment("comment") + breaks.Draw(t, "break"))
	} else {
		add("values:" + comment("comment") + breaks.Draw(t, "break"))
		for k, name := range names {
			add("  " + name + ":" + blanks("blanks"))
			number(k)
			add(comment("comment") + breaks.Draw(t, "break"))
			if rapid.Bool().Draw(t, "empty") {
				add(blanks("blanks") + comment("comment") + breaks.Draw(t, "break"))
			}
		}
	}
	add("parts: {base: {plate: {from: [0, 0, 0], to: [9, 9, 9]}, material: steel}}" + breaks.Draw(t, "break"))
	return pieces, names
}

// Whatever the file looks like, rewriting a value changes its number and not one byte beside it.
func TestRewriteIsOneToken(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pieces, names := drawFile(t)
		k := rapid.IntRange(0, len(names)-1).Draw(t, "which")
		to := rapid.OneOf(rapid.Float64Range(-1e3, 1e3), rapid.Just(0.0), rapid.Float64Range(-1e-8, 1e-8),
			rapid.Float64Range(1e14, 1e17)).Draw(t, "to")
		text, before, after, unit := "", "", "", ""
		for i, p := range pieces {
			text += p.text
			if p.value == k {
				unit = strings.TrimSpace(p.unit)
				before, after = text[:len(text)-len(p.text)], ""
				for _, q := range pieces[i+1:] {
					after += q.text
				}
			}
		}
		doc, err := Parse("m.yaml", []byte(text))
		require.NoError(t, err, "%q", text)
		out, err := doc.Rewrite("", map[string]float64{names[k]: to})
		require.NoError(t, err, "%q", text)
		got := out.Text()
		require.True(t, strings.HasPrefix(got, before) && strings.HasSuffix(got, after), "%q became %q", text, got)
		var read float64
		token := got[len(before) : len(got)-len(after)]
		_, err = fmt.Sscanf(token, "%g", &read)
		require.NoError(t, err, "%q", token)
		require.NotContains(t, token, " ")
		require.Equal(t, to, read)
		old, err := doc.Written("")
		require.NoError(t, err)
		now, err := out.Written("")
		require.NoError(t, err)
		for i := range old {
			if old[i].Name != names[k] {
				require.Equal(t, old[i].At, now[i].At)
				continue
			}
			require.Equal(t, to, now[i].At)
			require.Equal(t, unit, now[i].Unit)
		}
	})
}
