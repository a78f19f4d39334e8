package report

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/report/number"
)

// sharesOf names shares a, b, c and so on. Their numbers are invented.
func sharesOf(percents ...float64) []answer.Share {
	var shares []answer.Share
	for i, p := range percents {
		shares = append(shares, answer.Share{Load: "push", Source: string(rune('a' + i)), Percent: p})
	}
	return shares
}

// sources are the names of shares, one letter each.
func sources(shares []answer.Share) string {
	names := ""
	for _, s := range shares {
		names += s.Source
	}
	return names
}

func TestLargest(t *testing.T) {
	for _, tt := range []struct {
		name      string
		shares    []answer.Share
		most      int
		kept      string
		rest      float64
		restCount int
	}{
		{"the largest first", sharesOf(5, 40, 1, 30, 2, 20, 2), 3, "bdf", 10, 4},
		{"a single one left over", sharesOf(5, 40, 1, 30, 2, 20, 2), 6, "bdfaegc", 0, 0},
		{"a rest that would stand above all", sharesOf(20, 10, 10, 9, 9, 8, 8, 7, 7, 6, 6), 2, "abcdefghi", 12, 2},
		{"few", sharesOf(60, 40), 8, "ab", 0, 0},
		{"a pair at the end is summed up together", sharesOf(5, 40, 0.10825031632443172, 30, 2, 22,
			0.10825031632443123), 6, "bdfae", 0.21650063264886295, 2},
		{"a pair on both sides of a half tenth", sharesOf(50, 49, 0.15-1e-12, 0.15+1e-12, 0.1, 0.1), 3, "ab", 0.5, 4},
		{"all alike", sharesOf(25, 25, 25, 25), 2, "abcd", 0, 0},
		{"the largest alike", sharesOf(30, 30, 30, 5, 5), 2, "abc", 10, 2},
		{"those that carry nothing", sharesOf(60, 1e-14, 40, 0, -1e-15), 3, "ac", 0, 3},
	} {
		t.Run(tt.name, func(t *testing.T) {
			kept, rest, restCount := largest(tt.shares, tt.most)
			require.Equal(t, tt.kept, sources(kept))
			require.Equal(t, tt.restCount, restCount)
			require.InDelta(t, tt.rest, rest, 1e-12)
		})
	}
}

// TestNothingIsNotALittle: what rounding left over of a part that carries nothing is written as nothing.
func TestNothingIsNotALittle(t *testing.T) {
	require.Equal(t, "0.0", number.Percent(1e-14))
	require.Equal(t, "0.0", number.Percent(-1e-14))
	require.Equal(t, "<0.1", number.Percent(1e-6))
	require.Equal(t, number.Percent(0.05-1e-13), number.Percent(0.05+1e-13))
	r := sampleOption("as drawn", 1, 0, 130)
	r.Shares = sharesOf(100, 1e-14)
	text := written(t, func(b *bytes.Buffer) error { return WriteTip(b, sampleAnswer(r)) })
	require.Regexp(t, `(?m)^  push  b +0\.0$`, string(text))
	table := written(t, func(b *bytes.Buffer) error { return WriteTipCSV(b, sampleAnswer(r)) })
	require.NotContains(t, string(table), "e-14")
}

// TestMirroredPairsNameTheSameOne: of two that are equal but for rounding, the first is named.
func TestMirroredPairsNameTheSameOne(t *testing.T) {
	for _, off := range []float64{-1e-13, 0, 1e-13} {
		r := sampleOption("as drawn", 1, 0, 130)
		r.Shares = sharesOf(50, 50+off)
		r.Screws = []answer.ScrewLoad{{Load: "push", Joint: "left", SlipPercent: 12, OpenPercent: 3},
			{Load: "push", Joint: "right", SlipPercent: 12 + off, OpenPercent: 3 + off}}
		text := string(written(t, func(b *bytes.Buffer) error { return WriteTip(b, sampleAnswer(r)) }))
		require.Contains(t, text, "Most of it: a under “push” (50.0 %).")
		require.Contains(t, text, "“left”")
		require.NotContains(t, text, "“right”")
	}
}
