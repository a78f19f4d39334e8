package beam

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/testdata/checks"
)

func TestMaterials(t *testing.T) {
	all := Materials()
	require.True(t, slices.IsSortedFunc(all, func(a, b Material) int {
		if a.Key < b.Key {
			return -1
		}
		return 1
	}), "sorted, keys unique")
	for _, m := range all {
		require.NoError(t, m.Check())
		require.NotEmpty(t, m.Name, m.Key)
		require.NotEmpty(t, m.Source, m.Key)
		require.LessOrEqual(t, m.ELow, m.E, m.Key)
		require.GreaterOrEqual(t, m.EHigh, m.E, m.Key)
		require.Greater(t, m.Density, 3e-10, m.Key) // kg/m³ in tonne/mm³
		require.Less(t, m.Density, 2e-8, m.Key)
		require.Less(t, m.Expansion, 1e-4, m.Key)
		found, ok := LookupMaterial(m.Key)
		require.True(t, ok)
		require.Equal(t, m, found)
	}
	_, ok := LookupMaterial("unobtainium")
	require.False(t, ok)
}

func TestMaterialsHaveTheExpectedKeys(t *testing.T) {
	for _, key := range []string{
		"aluminium-5083", "aluminium-6061", "aluminium-6082", "aluminium-6060", "aluminium-7075", "aluminium-tooling-plate",
		"steel", "steel-hardened", "cast-iron-gjl-200", "cast-iron-gjl-250", "cast-iron-gjl-300", "stainless-1.4301",
		"brass", "carbide", "high-speed-steel", "granite", "mineral-casting", "epoxy-granite", "concrete",
		"birch-plywood", "softwood", "mdf", "acrylic", "shim-steel", "shim-stainless", "shim-brass", "paper",
	} {
		_, ok := LookupMaterial(key)
		require.True(t, ok, key)
	}
}

func TestAluminiumAgainstDataSheet(t *testing.T) {
	// Association typical values for 5083 O: E 70.3 to 71 GPa,
	// G 26.4 GPa, density 2.66 g/cm³, expansion 23.8e-6 (from memory).
	m, _ := LookupMaterial("aluminium-5083")
	checks.CloseTo(t, "E", m.E, 71000, 0.01)
	checks.CloseTo(t, "G", m.G(), 26400, 0.01)
	checks.CloseTo(t, "density", m.Density, 2.66e-9, 1e-12)
	checks.CloseTo(t, "expansion", m.Expansion, 23.8e-6, 1e-12)
}
