package workshop_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
	"tiploop/report/paper/papertest"
	"tiploop/report/workshop"
)

// A rib 28 mm high cannot take an M5 from above over one from below, by hand: each is drilled 14.2 mm deep. So nothing of
// the two screws is to be drilled, in none of the three parts; what has nothing to do with them may be.
const onOneRib = `machine: m
parts:
  base: {plate: {from: [-80, -80, 0], to: [80, 80, 20]}, material: aluminium-5083}
  rib:  {plate: {from: [-12, -60, 20], to: [12, 60, 48]}, material: aluminium-5083}
  bed:  {plate: {from: [-60, -60, 48], to: [60, 60, 60]}, material: aluminium-5083}
  post: {plate: {from: [40, 60, 20], to: [80, 80, 48]}, material: aluminium-5083}
joints:
  - {between: [base, rib], screws: {size: M5, grid: [1, 2]}, drilled: base}
  - {between: [rib, bed],  screws: {size: M5, grid: [1, 2]}, drilled: bed}
  - {between: [base, post], screws: {size: M5, grid: [2, 1]}, drilled: base}
grounds: [{part: base, face: bottom, fixed: true}]
loads: {w: {gravity: true}}
`

func TestNotYet(t *testing.T) {
	path := filepath.Join(t.TempDir(), "m.yaml")
	require.NoError(t, os.WriteFile(path, []byte(onOneRib), 0o600))
	doc, err := modelfile.Read(path)
	require.NoError(t, err)
	m, inv := built(t, doc)
	for _, page := range workshop.Pages {
		parts, err := workshop.Draw(m, inv, page)
		require.NoError(t, err)
		warning := workshop.Warning(inv, page)
		require.NotNil(t, warning)
		papertest.NothingClipped(t, "warning on "+page.Name, warning)
		onTop, _ := painted(warning)
		for i, want := range []string{"1 base: " + heldIn(inv, "base"), "2 rib: 1, 2, 3 and 4", "3 bed: 1 and 2", ""} {
			said, onFaces := false, 0
			for _, s := range parts[i].Sheets {
				papertest.NothingClipped(t, parts[i].Name, s)
				texts, _ := painted(s)
				for words := range texts {
					said = said || strings.HasPrefix(words, "Do not drill yet: ")
				}
			}
			for _, f := range parts[i].Faces {
				onFaces += strings.Count(string(f.SVG), `id="not-yet"`)
			}
			require.Equal(t, want != "", said, parts[i].Name)
			require.Equal(t, want != "", onFaces > 0, parts[i].Name)
			if want != "" {
				require.Contains(t, onTop, want)
			}
		}
	}
}

// heldIn are the holes of a part for the rib, which stand before or behind those of the post.
func heldIn(inv answer.Inventory, part string) string {
	var list []string
	for _, h := range inv.HoleList {
		if h.Part == part && h.For == "joint base/rib" {
			list = append(list, string(rune('0'+h.Number)))
		}
	}
	return strings.Join(list, " and ")
}

// The examples can be drilled as they are.
func TestExamplesCanBeDrilled(t *testing.T) {
	examples(t, func(name string, _ *machine.Machine, inv answer.Inventory) {
		for _, h := range inv.HoleList {
			require.Empty(t, h.NotYet, "%s: %s %d", name, h.Part, h.Number)
		}
		require.Nil(t, workshop.Warning(inv, workshop.Pages[0]), name)
	})
}
