package structure

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame/constant"
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

// oneCarriage is a stout table of %[1]s on one carriage over the middle of a rail.
const oneCarriage = `machine: one carriage
materials: {rigid: {E: 1e8 MPa, nu: 0.3, density: 2700}}
parts:
  base:  {plate: {from: [-120, -80, -100], to: [120, 80, 0]}, material: %[1]s}
  table: {plate: {from: [-60, -60, 28], to: [60, 60, 88]}, material: %[1]s}
grounds: [{part: base, face: bottom, fixed: true}]
axes:
  x:
    along: x
    carries: [table]
    travel: [-10, 10]
    guides: [{rail: profile-15, on: base, part: table, from: [-100, 0, 0], to: [100, 0, 0], carriages: [0]}]
    drive: {stiffness: 30 N/um, part: table, on: base, at: [0, 0, 28]}
points:
  low:  {part: table, at: [0, 0, 28]}
  high: {part: table, at: [0, 0, 88]}
loads:
  low:  {at: low, force: [0, 100, 0]}
  high: {at: high, force: [0, 100, 0]}
  roll: {at: low, moment: [1000, 0, 0]}
`

// sideways is how stiff the carriage is to the side, N/mm: pushed so far over its seat as the table is, which is free
// to roll, and with a table that others keep from rolling.
func sideways(m *Model, t *testing.T) (low, high, kept float64) {
	t.Helper()
	require.NoError(t, m.fillFrame())
	system, err := m.frame.Factor()
	require.NoError(t, err)
	m.system = system
	r, err := m.Solve(TipOnly)
	require.NoError(t, err)
	move := func(load int, point string) float64 { return r.Loads[load].PointsUm[point][1] / constant.UmPerMM }
	c, turned := move(0, "low")/100, r.Loads[0].PointsRad["low"][0]/100
	rolled := r.Loads[2].PointsRad["low"][0] / 1000
	return 1 / c, 100 / move(1, "high"), 1 / (c - turned*turned/rolled)
}

// A push from the side on a rigid table, by rigid bodies on springs kᵢ to the side and rᵢ against rolling: the rail on
// its screws turns about its seat, the block about its rows, the table about the block's top, so that a table that is
// free to roll, pushed z over the seat, moves by
//
//	Σ 1/kᵢ + Σ (z − zᵢ)²/rᵢ, zᵢ = 0, 7.5 and 28 mm over the seat,
//
// and one that may not roll as if pushed where it would not: at the mean of the zᵢ weighted by 1/rᵢ. The rail is made
// rigid for that. Of size 15 the balls have 0.65·170 N/µm to the side and 170·(0.43·15)² N·m/rad against rolling (order
// of makers' catalogues, from memory). With all in one point the second sum is not there.
func TestLeversOfACarriage(t *testing.T) {
	m, err := beams().draw(completed(t, fmt.Sprintf(oneCarriage, "rigid")))
	require.NoError(t, err)
	r := m.rails[0]
	r.body.part.Material.E = 1e9
	low, high, kept := sideways(m, t)

	var bedSide, bedRoll float64
	require.Len(t, r.screws.screws, 4)
	for _, s := range r.screws.screws {
		for _, l := range m.links[s.normal : s.normal+6] {
			switch {
			case !l.turning && l.direction == (r3.Vec{Y: 1}):
				bedSide += l.stiffness
			case l.turning && math.Abs(l.direction.X) > 0.999:
				bedRoll += l.stiffness
			}
		}
	}
	g := m.axes[0].guides[0]
	give, err := carriageScrews(g.guide, g.part, g.carriages[0].over)
	require.NoError(t, err)
	together := 1/bedSide + 1/(0.65*170e3) + give[1]
	levers := []struct{ z, roll float64 }{{0, 1 / bedRoll}, {7.5, 1 / (170e3 * 0.43 * 15 * 0.43 * 15)}, {28, give[3]}}
	byHand := func(z float64) float64 {
		sum := together
		for _, l := range levers {
			sum += (z - l.z) * (z - l.z) * l.roll
		}
		return 1 / sum
	}
	near(t, byHand(28), low, 2e-3, "pushed at the block's top")
	near(t, byHand(88), high, 2e-3, "pushed on the table")
	var moments, rolls float64
	for _, l := range levers {
		moments, rolls = moments+l.z*l.roll, rolls+l.roll
	}
	near(t, byHand(moments/rolls), kept, 2e-3, "not rolling")
	require.Less(t, kept, 0.97/together, "levers make it softer")
}

// Screwed to aluminium, on a rail that bends and twists between its screws, the block's rolling takes a third off what
// the three have in a row. The sum by hand with the bed of the whole rail in one place, 222.9 N/µm to the side and 9.0
// N·m/mrad against rolling (RailBed), gives 47 N/µm of 69; the screws nearest to the carriage are softer than the bed.
func TestSideStiffnessOnAluminium(t *testing.T) {
	m, err := beams().draw(completed(t, fmt.Sprintf(oneCarriage, "aluminium-5083")))
	require.NoError(t, err)
	g := m.axes[0].guides[0]
	top, err := carriageScrews(g.guide, g.part, g.carriages[0].over)
	require.NoError(t, err)
	bed, err := railScrews(g.guide, g.on, g.under(m.axes[0].axis, g.carriages[0]))
	require.NoError(t, err)
	_, _, kept := sideways(m, t)
	together := 1 / (bed[1] + 1/(0.65*170e3) + top[1])
	require.Greater(t, kept, 0.55*together)
	require.Less(t, kept, 0.72*together)
}
