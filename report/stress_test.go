package report

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/answer"
	"tiploop/report/internal/sample"
	"tiploop/report/number"
)

// The numbers of these tests are invented: they guard words, order and layout.

// stressOf is an invented stress of a part of a material that yields at yield MPa; 0 for one that states none.
func stressOf(load, part string, mpa, yield float64) answer.Stress {
	s := answer.Stress{Load: load, Part: part, MPa: mpa}
	if yield > 0 {
		s.YieldMPa = &yield
		if mpa > 0 {
			s.TimesYield = new(yield / mpa)
		}
	}
	return s
}

// partsOf are the parts of stresses and the loads they are worst under.
func partsOf(all []answer.Stress) string {
	var says []string
	for _, s := range all {
		says = append(says, s.Part+":"+s.Load)
	}
	return strings.Join(says, " ")
}

func TestWorstOfParts(t *testing.T) {
	for _, tt := range []struct {
		name string
		all  []answer.Stress
		want string
	}{
		{"none", nil, ""},
		{"the worst load of each", []answer.Stress{stressOf("1", "a", 2, 100), stressOf("2", "a", 3, 100),
			stressOf("3", "a", 1, 100)}, "a:2"},
		{"equals keep the first load", []answer.Stress{stressOf("1", "a", 2, 100), stressOf("2", "a", 2+1e-14, 100)},
			"a:1"},
		{"least margin first, not most stress", []answer.Stress{stressOf("1", "steel", 100, 900),
			stressOf("1", "plastic", 20, 40)}, "plastic:1 steel:1"},
		{"no yield behind, most stress first", []answer.Stress{stressOf("1", "a", 5, 0), stressOf("1", "b", 9, 0),
			stressOf("1", "c", 1, 100)}, "c:1 b:1 a:1"},
		{"no stress last", []answer.Stress{stressOf("1", "a", 0, 100), stressOf("1", "b", 1, 0),
			stressOf("1", "c", 1e-12, 100)}, "b:1 a:1 c:1"},
		{"a mirrored pair as in the model", []answer.Stress{stressOf("1", "left", 5, 100),
			stressOf("1", "right", 5+1e-9, 100)}, "left:1 right:1"},
	} {
		t.Run(tt.name, func(t *testing.T) { require.Equal(t, tt.want, partsOf(worstOfParts(tt.all))) })
	}
}

// No part is lost or listed twice, and nobody with a lesser margin stands behind one with a larger, but for what is
// written alike.
func TestWorstOfPartsIsSorted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var all []answer.Stress
		parts := map[string]bool{}
		for i := range rapid.IntRange(0, 30).Draw(t, "n") {
			part := rapid.SampledFrom([]string{"a", "b", "c", "d", "e", "f"}).Draw(t, "part")
			parts[part] = true
			mpa := math.Pow(10, rapid.Float64Range(-8, 4).Draw(t, "power"))
			all = append(all, stressOf(fmt.Sprint(i), part, mpa, rapid.SampledFrom([]float64{0, 40, 235}).Draw(t,
				"yield")))
		}
		worst := worstOfParts(all)
		require.Len(t, worst, len(parts))
		for i := 1; i < len(worst); i++ {
			a, b := worst[i-1], worst[i]
			require.LessOrEqual(t, stressClass(a), stressClass(b))
			if stressClass(a) == withMargin && stressClass(b) == withMargin {
				require.LessOrEqual(t, number.AsWritten(*a.TimesYield), number.AsWritten(*b.TimesYield))
			}
		}
	})
}

func TestWrittenMargin(t *testing.T) {
	for times, want := range map[float64]string{
		0.5: "0.500", 0.9994: "0.999", 0.9999: "just below 1", 1: "1.00", 12.34: "12.3", 999.4: "999",
		1000: "over 1000", 2e9: "over 1000",
	} {
		require.Equal(t, want, writtenMargin(answer.Stress{TimesYield: &times}), times)
	}
	require.Equal(t, absent, writtenMargin(answer.Stress{}))
}

// stressText is what the tip report says of stresses, on one line.
func stressText(t *testing.T, all ...answer.Stress) string {
	t.Helper()
	r := sampleOption("as drawn", 1, 4, 130)
	r.Stress = all
	return strings.Join(strings.Fields(tipText(t, r)), " ")
}

func TestYielding(t *testing.T) {
	require.NotContains(t, stressText(t, stressOf("push", "a", 100, 100), stressOf("push", "b", 1e4, 0)), "WOULD YIELD")
	require.Contains(t, stressText(t, stressOf("push", "a", 100.01, 100)), "WOULD YIELD: part a under “push” (100 "+
		"MPa, and its material yields at 100 MPa).")
	text := stressText(t, stressOf("push", "a", 200, 100), stressOf("pull", "b", 300, 100),
		stressOf("pull", "a", 100, 100))
	require.Contains(t, text, "WOULD YIELD: part b under “pull” (300 MPa, and its material yields at 100 MPa) and "+
		"part a under “push”")
	var many []answer.Stress
	for i := range mostSources + 2 {
		many = append(many, stressOf("push", fmt.Sprint("p", i), 200+float64(i), 100))
	}
	require.Contains(t, stressText(t, many...), "and 2 more parts. A part that yields")
	require.Contains(t, stressText(t, many[:mostSources+1]...), "and 1 more part. A part that yields")
}

func TestStressLeavesOut(t *testing.T) {
	var all []answer.Stress
	for i := range mostSources {
		all = append(all, stressOf("push", fmt.Sprint("p", i), 50-float64(i), 100))
	}
	require.NotContains(t, stressText(t, all...), "Not listed")
	more := func(some ...answer.Stress) string {
		text := stressText(t, append(all[:len(all):len(all)], some...)...)
		require.Contains(t, text, "Not listed: ")
		_, text, _ = strings.Cut(text, "Not listed: ")
		text, _, _ = strings.Cut(text, ". Margin to yield")
		return text
	}
	require.Equal(t, "1 part with a margin of 10.0", more(stressOf("push", "x", 10, 100)))
	require.Equal(t, "2 parts with margins of 10.0 or more",
		more(stressOf("push", "x", 5, 100), stressOf("push", "y", 10, 100)))
	require.Equal(t, "2 parts with margins of over 1000",
		more(stressOf("push", "x", 0.05, 100), stressOf("push", "y", 0.01, 100)))
	require.Equal(t, "2 parts whose material states no yield, 10.0 MPa at most",
		more(stressOf("push", "x", 5, 0), stressOf("push", "y", 10, 0)))
	require.Equal(t, "1 part with a margin of 20.0; 1 part without stress",
		more(stressOf("push", "x", 0, 0), stressOf("push", "y", 5, 100)))
}

func TestStressAbsent(t *testing.T) {
	require.NotContains(t, stressText(t), "Stress:")
	require.Contains(t, stressText(t, stressOf("push", "a", 0, 100)), "No load stresses any part.")
	require.NotContains(t, stressText(t, stressOf("push", "a", 0, 100)), "Margin to yield")
	require.Contains(t, stressText(t, stressOf("push", "a", 5, 0)), "–: the material states no yield.")
	require.NotContains(t, stressText(t, stressOf("push", "a", 5, 10)), "states no yield")
}

// TestStressCaution: what is left out is another thing for bars than for solid bodies, whatever bars stand among these.
func TestStressCaution(t *testing.T) {
	bar := stressOf("push", "spindle", 3, 235)
	require.Contains(t, stressText(t, bar), "of wide plates and gussets: detail solid.")
	solid := stressOf("push", "upright", 2, 125)
	solid.EdgeMPa, solid.EdgeAtMM = new(7.0), &[3]float64{1, 2, 3}
	text := stressText(t, bar, solid)
	require.Contains(t, text, "no finite stress")
	require.Contains(t, text, "spindle push 3.00 (0, 0, 0) – 235 78.3")
	require.NotContains(t, text, "detail solid")
}

func TestSolidBodies(t *testing.T) {
	for want, bodies := range map[string][]answer.SolidSize{
		"Plates and gussets as solid bodies: 1 body, 1 element, " +
			"24 unknowns.": {{Parts: []string{"a"}, Elements: 1, Unknowns: 24}},
		"Plates and gussets as solid bodies: 2 bodies, 12 elements, " +
			"99 unknowns.": {{Parts: []string{"a"}, Elements: 5, Unknowns: 50},
			{Parts: []string{"b"}, Elements: 7, Unknowns: 49}},
		"Plates and gussets as solid bodies: 2 parts in 1 body, 5 elements, " +
			"50 unknowns.": {{Parts: []string{"a", "b"}, Elements: 5, Unknowns: 50}},
		"Plates and gussets as solid bodies: 3 parts in 2 bodies, 6 elements, " +
			"60 unknowns.": {{Parts: []string{"a", "b"}, Elements: 5, Unknowns: 50},
			{Parts: []string{"c"}, Elements: 1, Unknowns: 10}},
	} {
		r := sampleOption("as drawn", 1, 4, 130)
		r.Solid = bodies
		require.Contains(t, strings.Join(strings.Fields(tipText(t, r)), " "), want)
	}
	require.NotContains(t, tipText(t, sampleOption("as drawn", 1, 4, 130)), "solid bodies:")
}

// TestShowWithoutStress has neither the table nor its columns.
func TestShowWithoutStress(t *testing.T) {
	_, inv := sample.Mill()
	require.NotContains(t, string(written(t, func(b *bytes.Buffer) error { return WriteShow(b, inv) })), "Stress")
	require.NotContains(t, string(written(t, func(b *bytes.Buffer) error { return WriteShowCSV(b, inv) })), "stress")
}
