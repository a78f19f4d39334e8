package reference

import (
	"bytes"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/report/table"
)

// betweenCells are the two spaces and more between the cells of a table.
var betweenCells = regexp.MustCompile(` {2,}`)

// cellOf gives the cell of a written table in the row that begins with a key, under a head. The table is the first that
// has that row and that head.
func cellOf(t *testing.T, text, key, head string) string {
	t.Helper()
	column := -1
	for line := range strings.Lines(text) {
		cells := betweenCells.Split(strings.TrimSpace(line), -1)
		if i := slices.Index(cells, head); i >= 0 {
			column = i
		}
		if column >= 0 && cells[0] == key && column < len(cells) {
			return cells[column]
		}
	}
	t.Fatalf("no row %s under %s in\n%s", key, head, text)
	return ""
}

// typical is the number of a cell, the middle one of three.
func typical(t *testing.T, cell string) float64 {
	t.Helper()
	bands := strings.Split(cell, " / ")
	v, err := strconv.ParseFloat(bands[len(bands)/2], 64)
	require.NoError(t, err)
	return v
}

// The tables of reference show in their heads' units what standards and handbooks say. How well the program's own
// numbers agree with these is tested where they stand; here a factor between units would be off by ten and more, or
// a product by a great deal.
func TestReferenceTables(t *testing.T) {
	const (
		proof = "ISO 898-1, proof loads of coarse threads in class 8.8 (from memory)"
		steel = "EN 1993-1-1, 3.2.6: 210 000 MPa, 12e-6/K; EN 1991-1-1, table A.4: 7850 kg/m³ (from memory)"
		balls = "makers' catalogues of rolled ball screws 16x5 (from memory): C_a 8 to 14 kN, K 250 to 350 N/µm"
		motor = "data sheets of stepper motors of 57 mm, 76 mm long (from memory): 1.9 N·m, 440 to 480 g·cm²"
		rails = "ISO 12090-1 sizes; makers' catalogues (from memory): C of size 15 for 50 km 8 to 15 kN"
	)
	for _, tt := range []struct {
		source    string
		write     func(io.Writer, bool) error
		key, head string
		want, tol float64
	}{
		// The standard cuts its loads to three digits, from rounded areas: up to a unit of the third.
		{proof, WriteScrews, "M3", "proof load, kN", 2.92, 1e-2},
		{proof, WriteScrews, "M4", "proof load, kN", 5.10, 1e-2},
		{proof, WriteScrews, "M5", "proof load, kN", 8.23, 1e-2},
		{proof, WriteScrews, "M6", "proof load, kN", 11.6, 1e-2},
		{proof, WriteScrews, "M8", "proof load, kN", 21.2, 1e-2},
		{proof, WriteScrews, "M10", "proof load, kN", 33.7, 1e-2},
		{proof, WriteScrews, "M12", "proof load, kN", 48.9, 1e-2},
		// The program's typical modulus lies between the code's and those measured on bars.
		{steel, WriteMaterials, "steel", "E low/typical/high, GPa", 210, 2e-2},
		{steel, WriteMaterials, "steel", "density, kg/m³", 7850, 1e-3},
		{steel, WriteMaterials, "steel", "growth, µm/(m·K)", 12, 1e-3},
		// Makers differ by a third.
		{balls, WriteDrives, "1605", "K of the nut, N/µm", 300, 0.3},
		{balls, WriteDrives, "1605", "dynamic C_a, kN", 11, 0.3},
		{motor, WriteDrives, "frame-23", "holding torque, N·m", 1.9, 1e-2},
		{motor, WriteDrives, "frame-23", "rotor's inertia, g·cm²", 460, 0.1},
		{rails, WriteCarriages, "profile-15", "dynamic C for 50 km, kN", 11.5, 0.3},
	} {
		text := string(written(t, func(b io.Writer) error { return tt.write(b, true) }))
		got := typical(t, cellOf(t, text, tt.key, tt.head))
		if e := math.Abs(got-tt.want) / tt.want; !(e <= tt.tol) {
			t.Errorf("%s, %s: %g, want %g within %g (%s)", tt.key, tt.head, got, tt.want, tt.tol, tt.source)
		}
	}
}

// What the table of surfaces says of its numbers: of an approach of C·p^m, by differentiation, p^(1-m)/(m·C) is the
// pressure for a further approach of one; with m = 0.5 that is p^0.5/(0.5·C).
func TestSurfacesSayWhatTheyMean(t *testing.T) {
	text := string(written(t, func(b io.Writer) error { return WriteSurfaces(b, false) }))
	require.Contains(t, strings.Join(strings.Fields(text), " "), "approach each other by C·p^0.5, p in MPa: the "+
		"stiffness per area is p^0.5/(0.5·C).")
}

// written is what a table's function writes.
func written(t *testing.T, write func(w io.Writer) error) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, write(table.Medium{Writer: &b, Width: 400})) // wide enough for heads of one line
	return b.Bytes()
}
