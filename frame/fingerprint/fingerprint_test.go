package fingerprint_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/fingerprint"
)

type size struct{ mm float64 }
type other struct{ mm float64 }

// Values that differ in anything have fingerprints of their own; the same ones have the same.
func TestFingerprintsTellApart(t *testing.T) {
	one, two := 1.0, 2.0
	values := [][]any{
		{
			1,
		}, {2}, {uint8(1)}, {true}, {false}, {1.0}, {math.Nextafter(1, 2)}, {0.0}, {math.Copysign(0, -1)}, {"a"}, {"b"}, {""},
		{size{1}}, {other{1}}, {&one}, {&two}, {(*float64)(nil)}, {nil},
		{
			[]float64{1, 2},
		}, {[]float64{2, 1}}, {[]float64{1}, []float64{2}}, {[]float64{}, []float64{1, 2}}, {[]float64{1, 2}, []float64{}},
		{"ab", "c"}, {"a", "bc"}, {[2]any{size{1}, nil}}, {[2]any{nil, size{1}}}, {[2]any{other{1}, nil}},
	}
	seen := map[fingerprint.Sum]string{}
	for _, v := range values {
		sum := fingerprint.Of(v...)
		require.Equal(t, sum, fingerprint.Of(v...))
		require.Empty(t, seen[sum], "%#v", v)
		seen[sum] = fmt.Sprintf("%#v", v)
	}
	again := 1.0
	require.Equal(t, fingerprint.Of(&one), fingerprint.Of(&again), "a pointer counts as what it leads to")
	require.PanicsWithValue(t, "fingerprint: a map[int]int has none", func() { fingerprint.Of(map[int]int{}) })
}
