package joint_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/joint"
)

var unlimited = math.Inf(1)

func TestZoneHalfSpaceLimit(t *testing.T) {
	const e, nu = 70e3, 0.33
	const g = e / (2 * (1 + nu))
	// What a half-space gives below this depth is as much as the depth is larger than the zone.
	const deep, deepTolerance = 1e9, 1e-6
	var rows []sourcedRow
	for _, s := range []struct {
		name string
		a, b float64
	}{{"square", 20, 20}, {"nearly square", 20, 20.000001}, {"10 by 1", 200, 20}, {"1 by 4", 15, 60}} {
		z := joint.Zone{A: s.a, B: s.b, RoomAMinus: unlimited, RoomAPlus: unlimited, RoomBMinus: unlimited,
			RoomBPlus: unlimited}
		alongA, alongB := z.ShearDepth(deep, nu)
		rows = append(rows,
			sourcedRow{s.name + " normal", "mean displacement of a rectangle on a half-space",
				z.ColumnDepth(deep, nu) / (e * s.a * s.b),
				joint.PatchNormal(s.a, s.b, e, nu), deepTolerance},
			sourcedRow{s.name + " along A", "mean displacement of a rectangle on a half-space",
				alongA / (g * s.a * s.b),
				joint.PatchTangential(s.a, s.b, e, nu), deepTolerance},
			sourcedRow{s.name + " along B", "mean displacement of a rectangle on a half-space",
				alongB / (g * s.a * s.b),
				joint.PatchTangential(s.b, s.a, e, nu), deepTolerance},
		)
	}
	checkRows(t, rows)
}

func TestZoneWallToWall(t *testing.T) {
	const nu, b, deep = 0.33, 20.0, 1e6
	z := joint.Zone{A: 150, B: b, RoomBMinus: unlimited, RoomBPlus: unlimited}
	shearA, shearB := z.ShearDepth(deep, nu)
	shearA2, shearB2 := z.ShearDepth(2*deep, nu)
	const source = "Johnson, Contact Mechanics, art. 2.3 to 2.5: displacement under a line load grows with ln d; " +
		"doubling the depth"
	const tol = 1e-4 // b/deep
	checkRows(t, []sourcedRow{
		{"normal", source + " adds 2(1-ν²)/(πE) ln 2 per length", z.ColumnDepth(2*deep, nu) - z.ColumnDepth(deep, nu),
			b * 2 * (1 - nu*nu) / math.Pi * math.Ln2, tol},
		{"shear along the line", source + " adds 1/(πG) ln 2", shearA2 - shearA, b / math.Pi * math.Ln2, tol},
		{"shear across it", source + " adds (1-ν)/(πG) ln 2", shearB2 - shearB, b * (1 - nu) / math.Pi * math.Ln2, tol},
	})

	// The same zone turned by a quarter.
	turned := joint.Zone{A: b, B: 150, RoomAMinus: unlimited, RoomAPlus: unlimited}
	turnedA, turnedB := turned.ShearDepth(deep, nu)
	require.InEpsilon(t, z.ColumnDepth(deep, nu), turned.ColumnDepth(deep, nu), 1e-12)
	require.InEpsilon(t, shearA, turnedB, 1e-12)
	require.InEpsilon(t, shearB, turnedA, 1e-12)

	boxed := joint.Zone{A: 150, B: b}
	require.InEpsilon(t, 40.0, boxed.ColumnDepth(40, nu), 1e-14, "no room at all: a plain column")
}

// drawZone draws a zone with bounded, unlimited or no room on each side.
func drawZone(t *rapid.T) joint.Zone {
	side := func(name string) float64 { return math.Pow(10, rapid.Float64Range(0, 2.5).Draw(t, name)) }
	room := func(name string) float64 {
		switch rapid.IntRange(0, 3).Draw(t, name+" kind") {
		case 0:
			return 0
		case 1:
			return unlimited
		}
		return side(name)
	}
	return joint.Zone{
		A: side("a"), B: side("b"),
		RoomAMinus: room("a-"), RoomAPlus: room("a+"), RoomBMinus: room("b-"), RoomBPlus: room("b+"),
	}
}

// marchedDepth steps down in equal depths, the slope taken from the give of the patch by
// differences: the rule of the essay on Zone, written out the plain way. compliance is the give of a
// patch on a half-space times the modulus, strip the slope under an endless strip along A or B.
func marchedDepth(z joint.Zone, depth float64, compliance func(a, b float64) float64, stripA, stripB float64) float64 {
	const steps = 4000
	rooms := [4]float64{z.RoomAMinus, z.RoomAPlus, z.RoomBMinus, z.RoomBPlus}
	g, sum, dz := 0.0, 0.0, depth/steps
	section := func(g float64) (a, b, endsA, endsB float64) {
		a, b = z.A, z.B
		for i, room := range rooms {
			grown := math.Min(g, room)
			more := 0.0
			if g < room {
				more = 1
			}
			if i < 2 {
				a, endsA = a+grown, endsA+more
			} else {
				b, endsB = b+grown, endsB+more
			}
		}
		return a, b, endsA, endsB
	}
	slope := func(g float64) float64 {
		a, b, endsA, endsB := section(g)
		switch {
		case endsA == 0 && endsB == 0:
			return 1 // no end moves
		case endsA == 0:
			return stripA
		case endsB == 0:
			return stripB
		}
		a, b = 2*a/endsA, 2*b/endsB
		h := 1e-4 * math.Min(a, b)
		return -h / (a * b * (compliance(a+h, b+h) - compliance(a-h, b-h)))
	}
	for range steps {
		half := g + slope(g)*dz/2
		a, b, _, _ := section(half)
		sum += dz * z.A * z.B / (a * b)
		g += slope(half) * dz
	}
	return sum
}

func TestZoneAgainstMarching(t *testing.T) {
	const nu, tol = 0.3, 2e-4 // midpoint rule in 4000 steps, across the kinks at walls
	const source = "the integral ∫ A B/(a b) dz with the slope by differences of the patch give, marched in equal " +
		"depths"
	plane := math.Pi / (4 * (1 - nu*nu))
	slice, line := math.Pi/(2*(1-nu)), math.Pi/2
	g := 1 / (2 * (1 + nu))
	normal := func(a, b float64) float64 { return joint.PatchNormal(a, b, 1, nu) }
	alongA := func(a, b float64) float64 { return g * joint.PatchTangential(a, b, 1, nu) }
	alongB := func(a, b float64) float64 { return g * joint.PatchTangential(b, a, 1, nu) }
	var rows []sourcedRow
	for _, r := range []struct {
		name  string
		zone  joint.Zone
		depth float64
	}{
		{"free", joint.Zone{A: 20, B: 35, RoomAMinus: unlimited, RoomAPlus: unlimited, RoomBMinus: unlimited,
			RoomBPlus: unlimited}, 60},
		{"upright on a base", joint.Zone{A: 200, B: 20, RoomBMinus: 130, RoomBPlus: 0}, 40},
		{"rib under a bed", joint.Zone{A: 30, B: 280, RoomAMinus: 30, RoomAPlus: 180}, 10},
		{"at a corner", joint.Zone{A: 40, B: 40, RoomAPlus: 100, RoomBPlus: 60}, 100},
		{"four walls at four depths", joint.Zone{A: 10, B: 15, RoomAMinus: 3, RoomAPlus: 8, RoomBMinus: 12,
			RoomBPlus: 20}, 100},
		{"long and walled in", joint.Zone{A: 150, B: 4, RoomAMinus: 2, RoomAPlus: 2, RoomBMinus: 50, RoomBPlus: 50},
			80},
	} {
		shearA, shearB := r.zone.ShearDepth(r.depth, nu)
		rows = append(rows,
			sourcedRow{r.name + ", normal", source, r.zone.ColumnDepth(r.depth, nu),
				marchedDepth(r.zone, r.depth, normal, plane, plane), tol},
			sourcedRow{r.name + ", along A", source, shearA, marchedDepth(r.zone, r.depth, alongA, line, slice), tol},
			sourcedRow{r.name + ", along B", source, shearB, marchedDepth(r.zone, r.depth, alongB, slice, line), tol},
		)
	}
	checkRows(t, rows)
}

// wallSlack is how much more a zone may give, relatively, with more metal beside it: without the wall
// the slope of the other sides drops from the strip's to the patch's at once, which costs up to 3 %
// before the wider section makes up for it.
const wallSlack = 0.04

func TestZoneProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		z := drawZone(t)
		nu := rapid.Float64Range(0, 0.49).Draw(t, "nu")
		depth := rapid.Float64Range(0.1, 300).Draw(t, "depth")
		d := z.ColumnDepth(depth, nu)
		require.LessOrEqual(t, d, depth*(1+roundOff), "never more than the plain column")
		require.Greater(t, z.ColumnDepth(1.1*depth, nu), d, "deeper gives more")
		turned := joint.Zone{A: z.B, B: z.A, RoomAMinus: z.RoomBPlus, RoomAPlus: z.RoomBMinus, RoomBMinus: z.RoomAMinus,
			RoomBPlus: z.RoomAPlus}
		require.InEpsilon(t, d, turned.ColumnDepth(depth, nu), 1e-12, "turned by a quarter")
		alongA, alongB := z.ShearDepth(depth, nu)
		turnedA, turnedB := turned.ShearDepth(depth, nu)
		require.InEpsilon(t, alongA, turnedB, 1e-12)
		require.InEpsilon(t, alongB, turnedA, 1e-12)
		require.LessOrEqual(t, alongA, depth*(1+roundOff))
		require.LessOrEqual(t, alongB, depth*(1+roundOff))

		roomier := z
		roomier.RoomAPlus += 1
		roomier.RoomBMinus += 1
		require.LessOrEqual(t, roomier.ColumnDepth(depth, nu), d*(1+wallSlack), "metal beside it stiffens")
	})
	z := joint.Zone{A: 1, B: 1}
	require.Zero(t, z.ColumnDepth(0, 0.3))
	require.Panics(t, func() { z.ColumnDepth(-1, 0.3) })
	require.Panics(t, func() { z.ColumnDepth(unlimited, 0.3) })
	require.Panics(t, func() { joint.Zone{A: 1, B: 0}.ColumnDepth(1, 0.3) })
	require.Panics(t, func() { joint.Zone{A: 1, B: 1, RoomBPlus: -1}.ColumnDepth(1, 0.3) })
}
