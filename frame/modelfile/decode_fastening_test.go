package modelfile

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/machine"
)

// flangesText is the model with all that can be said of how nuts, bearings and motors are held.
func flangesText(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("testdata", "keys", "flanges.yaml"))
	require.NoError(t, err)
	return string(text)
}

// What is said goes before what is usual for the size, bore and screws each by itself.
func TestFastening(t *testing.T) {
	text := flangesText(t)
	driveOf := func(text string) machine.Drive {
		doc, err := Parse("m.yaml", []byte(text))
		require.NoError(t, err)
		m, err := doc.Machine("")
		require.NoError(t, err)
		return m.Axes[0].Drives[0]
	}
	v := driveOf(text)
	require.Equal(t, machine.Back, *v.NutHeld.Face)
	require.Equal(t, []any{29.5, "M5", 6, true, true}, []any{v.NutHeld.Flange.Bore, v.NutHeld.Flange.Screw, len(v.NutHeld.Flange.At),
		v.NutHeld.OwnBore, v.NutHeld.OwnScrews})
	require.Zero(t, v.FarHeld.Flange.Bore)
	require.True(t, v.FarHeld.Flange.Through)
	require.Len(t, v.NearHeld.Flange.At, 4)
	require.Equal(t, 0.044, v.Motor.Rotor)

	usual := driveOf(strings.NewReplacer(", face: back, bore: 29.5 mm, screws: {size: M5, circle: 38 mm, count: 6}", "",
		", bore: 37 mm, screws: {size: M4, circle: 44 mm}", ", bore: 37 mm").Replace(text))
	require.Equal(t, machine.Fastening{Flange: usual.NutHeld.Flange}, usual.NutHeld)
	require.Equal(t, []any{29., "M5", 6}, []any{usual.NutHeld.Flange.Bore, usual.NutHeld.Flange.Screw, len(usual.NutHeld.Flange.At)})
	require.Equal(t, []any{37., "M4", true, false}, []any{usual.NearHeld.Flange.Bore, usual.NearHeld.Flange.Screw,
		usual.NearHeld.OwnBore, usual.NearHeld.OwnScrews})

	// A motor that is only named is the same as by its size.
	before, _, _ := strings.Cut(text, "motor: {")
	_, after, _ := strings.Cut(text, "loads:")
	named := driveOf(before + "motor: frame-23\nloads:" + after)
	require.Equal(t, v.Motor.Hold, named.Motor.Hold)
	require.Equal(t, 38.1, named.Motor.Held.Flange.Bore)

	// Own stiffness of a bearing, no unit: nothing is known of its flange.
	own := driveOf(strings.Replace(text, "unit: fixed-12, face: front, bore: 37 mm, screws: {size: M4, circle: 44 mm}",
		"stiffness: 90 N/um", 1))
	require.Nil(t, own.NearHeld.Flange)
}

// What cannot be is told with its place.
func TestFasteningFaults(t *testing.T) {
	text := flangesText(t)
	for _, c := range []struct{ from, to, want string }{
		{"face: back", "face: behind", `face`},
		{"bore: 29.5 mm", "bore: -1 mm", "bore must be positive, not -1 mm"},
		{"size: M5, circle: 38 mm, count: 6", "circle: 38 mm, count: 6", "flange screws has no size"},
		{"circle: 38 mm, count: 6", "count: 6", "flange screws needs one of: circle, offsets"},
		{"circle: 38 mm, count: 6", "circle: 12 mm, count: 6", "screws 6 mm apart run into each other: the head of M5 is 8.5 mm wide"},
		{"circle: 38 mm, count: 6", "circle: 38 mm, count: 0", "a number of screws must be a whole number"},
		{"circle: 38 mm, count: 6", "circle: 38 mm, offsets: [[1, 2]]", "flange screws has both circle and offsets"},
		{"offsets: [[-20, -20]", "count: 4, offsets: [[-20, -20]", "count has no place beside offsets"},
		{"size: frame-23, face", "size: frame-23, holding: 1 N m, face", "motor has both size and holding"},
	} {
		require.Equal(t, 1, strings.Count(text, c.from), c.from)
		doc, err := Parse("m.yaml", []byte(strings.Replace(text, c.from, c.to, 1)))
		if err == nil {
			_, err = doc.Machine("")
		}
		require.ErrorContains(t, err, c.want, c.to)
		require.ErrorContains(t, err, "m.yaml:", c.to)
	}
}
