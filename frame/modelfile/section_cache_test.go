package modelfile

import (
	"strings"
	"sync"
	"testing"

	"tiploop/testdata/models"

	"github.com/stretchr/testify/require"

	"tiploop/beam"
)

// TestSectionCache holds what is remembered against what is worked out afresh.
func TestSectionCache(t *testing.T) {
	c := newSectionCache()
	for range 2 {
		for _, shape := range []beam.Shape{beam.Rect{Width: 10, Height: 20}, beam.Rect{Width: 10, Height: 20.000000000000004},
			beam.Round{Diameter: 10}} {
			for _, nu := range []float64{0.3, 0.33} {
				want, err := shape.Section(nu)
				require.NoError(t, err)
				got, err := c.of(shape, nu)
				require.NoError(t, err)
				require.Equal(t, want, got)
			}
		}
	}
	require.Len(t, c.known, 6)
	_, err := c.of(beam.Round{Diameter: -1}, 0.3)
	require.Error(t, err)
	for i := range 2 * mostSections {
		_, err := c.of(beam.Round{Diameter: 1 + float64(i)}, 0.3)
		require.NoError(t, err)
		require.LessOrEqual(t, len(c.known), mostSections)
	}
}

func TestSectionsOfABuiltUpDifferByMaterial(t *testing.T) {
	m := readMachine(t, strings.NewReplacer("A", "pieces: [{rect: [20, 10], at: [0, 0]}, {rect: [20, 5], at: [0, 7.5], "+
		"material: brass}]",
		"B", "pieces: [{rect: [20, 10], at: [0, 0]}, {rect: [20, 5], at: [0, 7.5], material: carbide}]").Replace(`machine: m
parts:
  a: {bar: {from: [0, 0, 0], to: [0, 0, 100]}, section: {built_up: {A}}, material: steel}
  b: {bar: {from: [50, 0, 0], to: [50, 0, 100]}, section: {built_up: {B}}, material: steel}
`))
	require.NotEqual(t, m.Parts[0].Bar.Section.Iy, m.Parts[1].Bar.Section.Iy)
}

// TestDocumentFromManyGoroutines is for the race detector.
func TestDocumentFromManyGoroutines(t *testing.T) {
	doc, err := Parse("m.yaml", []byte(models.ClockPlateMill))
	require.NoError(t, err)
	want, err := doc.Machine("")
	require.NoError(t, err)
	var group sync.WaitGroup
	for range 8 {
		group.Go(func() {
			got, err := doc.Machine("")
			if err != nil || len(got.Parts) != len(want.Parts) {
				t.Errorf("read beside others: %v", err)
			}
		})
	}
	group.Wait()
}
