package structure

import (
	"math"
	"strings"
	"testing"

	"tiploop/testdata/models"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
)

// Where rails, carriages and the screw of the sledge stand, by hand from the sizes of a 15 mm rail (15 x 15 mm,
// carriage 34 x 60 mm, top 28 mm over the seat: ISO 12090-1 as the table has it) and a screw of 16 mm; what they weigh,
// from the table's
// 1.4 kg/m and 0.2 kg and from a cylinder of steel as thick as the root.
func TestInventoryOfAxes(t *testing.T) {
	m := readMachine(t, models.Sledge)
	for _, at := range []float64{0, -80} {
		moved, err := m.At(map[string]float64{"x": at})
		require.NoError(t, err)
		model, err := buildBeams(moved)
		require.NoError(t, err)
		inv := model.Inventory()
		g := inv.Axes[0].Guides[0]
		require.Equal(t, &answer.Block{FromMM: [3]float64{-180, -47.5, 20}, ToMM: [3]float64{180, -32.5, 35}}, g.Rail)
		require.Equal(t, []answer.Block{
			{FromMM: [3]float64{at - 70, -57, 23.75}, ToMM: [3]float64{at - 10, -23, 48}},
			{FromMM: [3]float64{at + 10, -57, 23.75}, ToMM: [3]float64{at + 70, -23, 48}},
		}, g.Blocks)
		d := inv.Axes[0].Drives[0]
		require.Equal(t, &answer.Block{FromMM: [3]float64{-150, -8, 26}, ToMM: [3]float64{180, 8, 42}}, d.Shaft)
		require.Equal(t, [3]float64{180, 0, 34}, d.FromMM)
		require.Equal(t, [3]float64{at, 0, 34}, d.PushMM)
		require.False(t, d.FarHeld)
		near(t, 1.4*0.36, *g.RailKg, 1e-12, "rail")
		require.Equal(t, 0.2, *g.CarriageKg)
		shaft := math.Pi / 4 * 13.2 * 13.2 * 330 * 7.83e-6
		near(t, shaft, *d.ScrewKg, 1e-12, "shaft")
		near(t, 2*1.4*0.36+4*0.2, inv.AxesKg, 1e-12, "rails and carriages")
		nut := math.Pi / 4 * (1.8*1.8 - 1) * 3 * 16 * 16 * 16 * 7.83e-6 // a sleeve of 1.8 by 3 diameters
		near(t, shaft+nut, inv.HungKg, 1e-12, "what hangs on the parts")
		near(t, 7.85e-6*(400*160*20+120*120*20+120*120*10+20*160*100)+shaft+nut, inv.MassKg, 1e-3, "all but the guides")
		require.Equal(t, [3]float64{-200, -80, 0}, inv.ExtentFromMM)
	}
}

// A rail that hangs under the moving part, on its side; own numbers know no size and no mass.
func TestInventoryOfOtherGuides(t *testing.T) {
	model, err := buildBeams(crossAt(t, 10, 0, 0))
	require.NoError(t, err)
	x := model.Inventory().Axes[1].Guides[0]
	require.Equal(t, &answer.Block{FromMM: [3]float64{-100, -57.5, 81}, ToMM: [3]float64{120, -42.5, 96}}, x.Rail,
		"down from the table's underside")
	require.Equal(t, answer.Block{FromMM: [3]float64{-70, -67, 68}, ToMM: [3]float64{-10, -33, 92.25}}, x.Blocks[0])
	z := model.Inventory().Axes[2]
	require.Nil(t, z.Drives[0].Shaft)
	require.Nil(t, z.Drives[0].ScrewKg)
	own := readMachine(t, strings.ReplaceAll(models.Sledge, "rail: profile-15", "stiffness: {press: 1e5}"))
	model, err = buildBeams(own)
	require.NoError(t, err)
	g := model.Inventory().Axes[0].Guides[0]
	require.Nil(t, g.RailKg)
	require.Nil(t, g.CarriageKg)
	require.Equal(t, &answer.Block{FromMM: [3]float64{-180, -40, 20}, ToMM: [3]float64{180, -40, 20}}, g.Rail, "a line")
	require.Equal(t, answer.Block{FromMM: [3]float64{-40, -40, 20}, ToMM: [3]float64{-40, -40, 48}}, g.Blocks[0])
}

// The centre of mass of two plates of one metal, by hand: volumes of 50 and 40 cm³ about (50, 25, 5) and (5, 25, 50).
func TestCentreOfMass(t *testing.T) {
	inv := buildText(t, twoPlates+"joints: [{between: [base, post], bonded: true}]\n"+
		"grounds: [{part: base, face: bottom, fixed: true}]\n").Inventory()
	for k, want := range [3]float64{(5*50 + 4*5) / 9., 25, (5*5 + 4*50) / 9.} {
		require.InDelta(t, want, inv.CentreMM[k], 1e-9)
	}
}
