package machine

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/beam"
)

func TestMaterialFaults(t *testing.T) {
	testFaults(t, []faultCase{
		{"no E", two + "materials:\n  foam: {nu: 0.3, density: 30}\n", ""},
		{"E as a force", two + "materials:\n  foam: {E: 3 N, nu: 0.3, density: 30}\n", ""},
		{"nu of a liquid", two + "materials:\n  foam: {E: 3, nu: 0.5, density: 30}\n", ""},
		{"negative density", two + "materials:\n  foam: {E: 3, nu: 0.3, density: -30}\n", ""},
		{"heavier than anything", two + "materials:\n  foam: {E: 3, nu: 0.3, density: 2.7e9}\n", ""},
		{"unknown key of a material", two + "materials:\n  foam: {e: 3, nu: 0.3, density: 30}\n", ""},
		{"unknown material near an own one", "machine: m\nmaterials:\n  foam: {E: 3, nu: 0.3, density: 30}\nparts:\n  p: {plate: {from: [0, 0, 0], to: [1, 1, 1]}, material: form}\n", ""},
	})
}

func TestOwnMaterial(t *testing.T) {
	m := readMachine(t, `machine: m
materials:
  slate: {E: 80 GPa, nu: 0.2, density: 2800, expansion: 9e-6/K, yield: 12 MPa}
parts:
  p: {plate: {from: [0, 0, 0], to: [1, 1, 1]}, material: slate}
`)
	require.Equal(t, beam.Material{
		Key: "slate", Name: "slate", E: 80e3, ELow: 80e3, EHigh: 80e3, Nu: 0.2, Density: 2.8e-9, Expansion: 9e-6, Yield: 12,
		Source: "from the model file",
	}, m.Parts[0].Material)
	require.NoError(t, m.Parts[0].Material.Check())
}
