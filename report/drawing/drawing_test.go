package drawing

import (
	"bytes"
	"html"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
	"tiploop/report/internal/sample"
	"tiploop/report/paper"
	"tiploop/report/paper/papertest"
)

// pictures are invented machines, drawn.
func pictures(t *testing.T) map[string]*paper.Picture {
	t.Helper()
	all := map[string]*paper.Picture{}
	for name, made := range map[string]func() (*machine.Machine, answer.Inventory){
		"mill": sample.Mill, "axes": sample.Axes, "portal": sample.Portal,
	} {
		p, err := Picture(made())
		require.NoError(t, err, name)
		all[name] = p
	}
	return all
}

func TestPicturesAreTheSameEachTime(t *testing.T) {
	first, second := pictures(t), pictures(t)
	for name, p := range first {
		for _, f := range []paper.Format{paper.SVG, paper.PDF} {
			again := papertest.Encoded(t, second[name], f)
			require.True(t, bytes.Equal(papertest.Encoded(t, p, f), again), "%s as %s", name, f)
		}
	}
}

func TestNothingIsClipped(t *testing.T) {
	for name, p := range pictures(t) {
		papertest.NothingClipped(t, name, p)
	}
}

func TestPicturesSayWhatTheyShow(t *testing.T) {
	all := pictures(t)
	for name, wants := range map[string][]string{
		"mill": {"Third-angle projection", "From above", "Front", "From the right", "plate", "gusset", "bar",
			"screwed joint", "bonded joint", "screw", "ground", "tool tip", "work spot",
			"rib_left: plate, 30 × 280 × 30 mm", "520", "540", "380", "100 mm", paper.Footnote},
		"axes": {"rail", "carriage", "screw of a drive", "belt", "nut or clamp", "bearing or pulley", "sliding faces",
			"where a drive holds its axis", "travel; dot: where the axis stands", "y: −50 to 50", "x: −40 to 40",
			"z: 0 to 25", paper.Footnote},
	} {
		svg := html.UnescapeString(string(papertest.Encoded(t, all[name], paper.SVG)))
		for _, want := range wants {
			require.Contains(t, svg, want, name)
		}
	}
}

func TestPictureRefuses(t *testing.T) {
	m, inv := sample.Mill()
	m.Parts[0].Plate.To.X = math.Inf(1)
	_, err := Picture(m, inv)
	require.ErrorContains(t, err, "along x")
	_, err = Picture(&machine.Machine{}, answer.Inventory{})
	require.EqualError(t, err, "nothing to draw: the machine has no parts")
	require.ErrorAs(t, err, new(paper.NothingToDraw))
	m, inv = sample.Mill()
	inv.MassKg = math.NaN()
	_, err = Picture(m, inv)
	require.ErrorContains(t, err, "MassKg")
	require.Panics(t, func() { _, _ = Picture(nil, inv) })
}
