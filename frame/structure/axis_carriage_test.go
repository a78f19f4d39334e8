package structure

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame/guide"
	"tiploop/frame/joint"
	"tiploop/frame/machine"
)

// screwedOn is a plate of steel and a place on its top for a rail or a carriage.
func screwedOn(t *testing.T) (*body, touch, joint.Surface) {
	t.Helper()
	steel, _ := beam.LookupMaterial("steel")
	b, err := newBody(&machine.Part{Material: steel, Plate: &machine.Plate{To: r3.Vec{X: 200, Y: 120, Z: 30}}})
	require.NoError(t, err)
	faces, ok := joint.LookupSurface("milled")
	require.True(t, ok)
	return b, touch{kind: onFace, normal: machine.Z, box: box{lo: [3]float64{70, 40, 30}, hi: [3]float64{130, 80, 30}}},
		faces
}

// Four screws at ±x and ±y are four springs: Σk·y² against roll, Σk·x² against pitch (statics).
func TestScrewsOfACarriage(t *testing.T) {
	plate, place, faces := screwedOn(t)
	c, ok := guide.LookupCarriage("profile-20")
	require.True(t, ok)
	give, err := carriageScrews(&machine.Guide{Rail: &c, Surface: faces}, plate, place)
	require.NoError(t, err)
	near(t, c.HolesAcross*c.HolesAcross/4, give[2]/give[3], 1e-12, "roll")
	near(t, c.HolesAlong*c.HolesAlong/4, give[2]/give[4], 1e-12, "pitch")
	near(t, (c.HolesAcross*c.HolesAcross+c.HolesAlong*c.HolesAlong)/4, give[1]/give[5], 1e-12, "yaw")
	// What a profile carriage has over its rail, a bush has over the middle of its shaft (ISO 10285 draws h from there).
	bush := c
	bush.Kind = guide.OpenBush
	bush.Height += c.Rail.Width / 2
	same, err := carriageScrews(&machine.Guide{Rail: &bush, Surface: faces}, plate, place)
	require.NoError(t, err)
	for k := range give {
		require.InDelta(t, give[k], same[k], 1e-9*give[k])
	}
}

// Two rows of screws hold a rail's tilting by N·a² per length more than their own rings do, N the bed of both, a half
// their distance (parallel axis theorem). N and the bed against tilting are found from what a carriage feels:
// Hetényi's beam on a bed, of frame/guide, the other way round.
func TestRailOnTwoRowsOfScrews(t *testing.T) {
	plate, place, faces := screwedOn(t)
	c, ok := guide.LookupCarriage("round-12")
	require.True(t, ok)
	require.Equal(t, 2, c.Rail.ScrewRows)
	section, err := c.RailSection(machine.ScrewNu)
	require.NoError(t, err)
	bendable, twistable := machine.ScrewE*section.Iy, machine.ScrewE/(2*(1+machine.ScrewNu))*section.J
	beds := func(rows int) (normal, tilt float64) {
		with := c
		with.Rail.ScrewRows = rows
		with.Rail.SeatWidth = c.Rail.SeatWidth / 2 * float64(rows) // a row's own width stays
		give, err := railScrews(&machine.Guide{Rail: &with, Surface: faces}, plate, place)
		require.NoError(t, err)
		low, high := 1e-3, 1e9
		for range 200 {
			normal = math.Sqrt(low * high)
			bed := guide.RailBed{Normal: normal, Along: 1, Tilt: 1, EIz: bendable, EIy: 1e9, GJ: 1}
			if vertical, _, _, _, _ := bed.Under(c.Body); vertical < 1/give[2] {
				low = normal
			} else {
				high = normal
			}
		}
		root := (math.Sqrt(twistable+c.Body/give[3]) - math.Sqrt(twistable)) / c.Body
		return normal, root * root
	}
	one, ring := beds(1)
	two, tilt := beds(2)
	near(t, 2*one, two, 1e-9, "two rows press twice")
	half := twoRows / 2 * c.Rail.SeatWidth
	near(t, 2*ring+two*half*half, tilt, 1e-6, "against tilting")
}
