package sparse

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// L decays by three decades a step, so that without a limit its far entries would run through the subnormal numbers.
func TestFarEntriesBecomeZero(t *testing.T) {
	const n = 2*panelWidth + 50
	m := NewPattern([]int{n}, nil).NewMatrix()
	for i := range n {
		for j := range i + 1 {
			m.Add(i, j, math.Pow(1e-3, float64(i-j)))
		}
	}
	f, err := m.Factorize()
	require.NoError(t, err)
	zeros := 0
	for _, v := range f.store {
		require.True(t, v == 0 || math.Abs(v) >= negligible/2, "%g", v)
		if v == 0 {
			zeros++
		}
	}
	require.Greater(t, zeros, triangle(n)-n*50) // L has fifty bands left
	// The inverse of r^|i−j| has three bands (Kac, Murdock and Szegő 1953): −r/(1−r²) beside the diagonal.
	x := make([]float64, n)
	x[n/2] = 1
	f.SolveTo(x, x)
	r := 1e-3
	for i, v := range x {
		want := 0.0
		switch i - n/2 {
		case 0:
			want = (1 + r*r) / (1 - r*r)
		case 1, -1:
			want = -r / (1 - r*r)
		}
		require.InDelta(t, want, v, 1e-15)
	}
}
