package structure

import (
	"context"
	"maps"
	"runtime"
	"testing"

	"tiploop/testdata/models"

	"github.com/stretchr/testify/require"

	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
)

// The design's sample at detail "solid": from nothing; a second option with the builder of the first; the load cases of
// a model that is built; and the places along the bed.
func BenchmarkSampleSolid(b *testing.B) {
	doc, err := modelfile.Parse("sample", []byte(models.ClockPlateMill))
	require.NoError(b, err)
	short, err := doc.Machine("short bed held all along")
	require.NoError(b, err)
	long, err := doc.Machine("long bed held in the middle")
	require.NoError(b, err)
	build := func(b *testing.B, by *Builder, m *machine.Machine) *Model {
		model, err := by.Build(context.Background(), m)
		require.NoError(b, err)
		return model
	}
	b.Run("first option", func(b *testing.B) {
		b.ReportAllocs()
		var model *Model
		for b.Loop() {
			model = build(b, &Builder{Detail: Solid, Mesh: 2.5}, short)
		}
		unknowns := 0
		for _, s := range model.solidSizes() {
			unknowns += s.Unknowns
		}
		var memory runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&memory)
		b.ReportMetric(float64(unknowns), "unknowns")
		b.ReportMetric(float64(model.system.Unknowns()), "unknowns-left")
		b.ReportMetric(float64(memory.HeapAlloc)/1e6, "MB-kept")
		runtime.KeepAlive(model)
	})
	by := &Builder{Detail: Solid, Mesh: 2.5}
	first := build(b, by, short)
	b.Run("second option", func(b *testing.B) {
		for b.Loop() {
			again := &Builder{Detail: Solid, kept: store{maps.Clone(by.kept.reduced), maps.Clone(by.kept.last), 0}}
			build(b, again, long)
		}
	})
	b.Run("first option again", func(b *testing.B) {
		for b.Loop() {
			build(b, by, short)
		}
	})
	for name, extent := range map[string]Extent{"loads": TipOnly, "loads and travel": FullTravel} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if _, err := first.Solve(extent); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
