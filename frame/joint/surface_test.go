package joint_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/joint"
)

func TestSurfaceContactStiffness(t *testing.T) {
	const source = "house values of the project's trade data, k_n at 5, 10 and 20 MPa, from the law by hand, two digits"
	const twoDigits = 3e-2 // such as 0.37 or 0.9
	var rows []sourcedRow
	for _, r := range []struct {
		key string
		kn  [3]float64 // N/µm per mm²
	}{
		{"ground", [3]float64{2.8, 4.0, 5.6}},
		{"fine-milled", [3]float64{2.0, 2.9, 4.1}},
		{"milled", [3]float64{1.3, 1.8, 2.6}},
		{"as-rolled", [3]float64{0.9, 1.3, 1.8}},
		{"sawn", [3]float64{0.37, 0.53, 0.75}},
	} {
		s, ok := joint.LookupSurface(r.key)
		require.True(t, ok)
		for i, p := range []float64{5, 10, 20} {
			rows = append(rows, sourcedRow{r.key, source, s.ContactStiffness(p) / 1000, r.kn[i], twoDigits})
		}
	}
	checkRows(t, rows)
}

func TestSurfaceTable(t *testing.T) {
	list := joint.Surfaces()
	require.Len(t, list, 5)
	for i, s := range list {
		require.NotEmpty(t, s.Source)
		require.NotEmpty(t, s.RoughnessUm)
		require.Less(t, s.C.Low, s.C.Typical)
		require.Less(t, s.C.Typical, s.C.High)
		if i > 0 {
			require.Greater(t, s.C.Typical, list[i-1].C.Typical, "ordered from stiff to soft")
		}
		require.Greater(t, s.ContactStiffness(20), s.ContactStiffness(10))
	}
	_, ok := joint.LookupSurface(joint.DefaultSurface)
	require.True(t, ok)
	_, ok = joint.LookupSurface("polished")
	require.False(t, ok)
	require.Panics(t, func() { list[0].ContactStiffness(0) })
}
