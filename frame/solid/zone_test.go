package solid

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func (f form) of(u []float64) (v [6]float64) {
	for _, s := range f {
		for c := range v {
			v[c] += s.reads[c] * u[s.unknown]
		}
	}
	return v
}

// moved is a field at the mesh's nodes.
func moved(m *Mesh, field func(r3.Vec) r3.Vec) []float64 {
	var u []float64
	for _, at := range m.Nodes {
		d := field(at)
		u = append(u, d.X, d.Y, d.Z)
	}
	return u
}

// By definition: a rigid motion is its own mean, wherever the zone lies, whatever hangs over and wherever At is.
func TestZonesReadRigidMotionExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBody(t, 0)
		r, err := b.meshed(Settings{Mesh: coarse}, plainly(b))
		require.NoError(t, err)
		about := r3.Vec{X: 3, Y: -20, Z: 11}
		var q [6]float64
		for i := range q {
			q[i] = rapid.Float64Range(-1, 1).Draw(t, "motion")
		}
		u := moved(r.mesh, func(at r3.Vec) r3.Vec {
			m := rigid(at, about)
			return r3.Vec{X: dot6(m[0], q), Y: dot6(m[1], q), Z: dot6(m[2], q)}
		})
		for i, f := range r.forms {
			got := f.of(u)
			carried := carry(about, b.Zones[i].At)
			for c := range got {
				require.InDelta(t, dot6(carried[c], q), got[c], 1e-12*200, "zone %d freedom %d", i, c)
			}
		}
	})
}

// meanOf is the mean and the rotations of a field over a rectangle of z = const, by many points.
func TestZonesReadMeans(t *testing.T) {
	b := &Body{Part: blockOf("a", soft, r3.Vec{}, r3.Vec{X: 60, Y: 40, Z: 20})}
	b.Zones = []Zone{
		patchOn(span{[3]float64{10, 8, 20}, [3]float64{30, 32, 20}}),
		patchOn(span{[3]float64{10, 8, 13}, [3]float64{30, 32, 13}}),   // inside
		patchOn(span{[3]float64{50, -10, 20}, [3]float64{70, 10, 20}}), // over the edge: counts up to 60 and from 0
	}
	r, err := b.meshed(Settings{}, plainly(b))
	require.NoError(t, err)
	// u = (x², x·y, y² + z²) is in the mesh's space. Over a rectangle of half sides p, q round (x, y): the mean of x²
	// is x² + p²/3, of x·y x·y, of y² y² + q²/3. Tilt about x is ∂u_z/∂y = 2y, about y −∂u_z/∂x = 0; spin
	// is (p²·∂u_y/∂x − q²·∂u_x/∂y)/(p² + q²) = p²·y/(p² + q²): by hand.
	u := moved(r.mesh, func(at r3.Vec) r3.Vec { return r3.Vec{X: at.X * at.X, Y: at.X * at.Y, Z: at.Y*at.Y + at.Z*at.Z} })
	for i, z := range []struct{ x, y, z, p, q float64 }{{20, 20, 20, 10, 12}, {20, 20, 13, 10, 12}, {55, 5, 20, 5, 5}} {
		want := [6]float64{z.x*z.x + z.p*z.p/3, z.x * z.y, z.y*z.y + z.q*z.q/3 + z.z*z.z, 2 * z.y, 0,
			z.p * z.p * z.y / (z.p*z.p + z.q*z.q)}
		at := b.Zones[i].At
		arm := r3.Sub(at, r3.Vec{X: z.x, Y: z.y, Z: z.z})
		carried := r3.Cross(r3.Vec{X: want[3], Y: want[4], Z: want[5]}, arm)
		want[0], want[1], want[2] = want[0]+carried.X, want[1]+carried.Y, want[2]+carried.Z
		got := r.forms[i].of(u)
		for c := range want {
			require.InDelta(t, want[c], got[c], 1e-9, "zone %d freedom %d", i, c)
		}
	}
}

// A ring of radii a, b has the mean of x² + y² at (a² + b²)/2 about its middle (any table of integrals). The
// circles are polygons of equal area with 24 sides.
func TestRingZone(t *testing.T) {
	for n := range 3 {
		size := [3]float64{60, 60, 60}
		size[n] = 20
		at := [3]float64{30, 30, 30}
		at[n] = 20
		b := &Body{Part: blockOf("a", soft, r3.Vec{}, vector(size))}
		b.Zones = []Zone{{At: vector(at), Normal: n, Inner: 4, Outer: 11, Polygon: rectangle([2]float64{0, 0},
			[2]float64{60, 60})}}
		r, err := b.meshed(Settings{}, plainly(b))
		require.NoError(t, err)
		u := moved(r.mesh, func(x r3.Vec) r3.Vec { d := r3.Sub(x, vector(at)); return r3.Vec{X: r3.Dot(d, d)} })
		require.InEpsilon(t, (4*4+11*11)/2., r.forms[0].of(u)[0], 2e-4, "normal %d", n)
	}
}

// A gusset's section is a triangle: the mean of a linear field is its value at the triangle's middle, a third along the
// legs; in a plane across a leg it is a rectangle.
func TestZonesOnGussets(t *testing.T) {
	for _, sign := range []float64{1, -1} {
		g := &Gusset{r3.Vec{X: 5, Y: 7, Z: 9}, [2]r3.Vec{{X: 60 * sign}, {Z: 90}}, r3.Vec{Y: 12 * sign}}
		p := Part{Name: "g", Made: soft, Gusset: g}
		lo, hi := p.Box()
		side := span{lo, hi}
		side.From[1], side.To[1] = 7, 7
		cut := span{lo, hi}
		cut.From[0], cut.To[0] = 5+20*sign, 5+20*sign
		b := &Body{Part: p, Zones: []Zone{patchOn(side), patchOn(cut)}}
		for i := range b.Zones {
			b.Zones[i].At = r3.Vec{X: b.Zones[i].At.X, Y: b.Zones[i].At.Y}
		}
		b.Zones[1].At.X = 5 + 20*sign
		r, err := b.meshed(Settings{}, plainly(b))
		require.NoError(t, err)
		u := moved(r.mesh, func(x r3.Vec) r3.Vec { return r3.Vec{Y: 1 + 2*x.X + 3*x.Z} })
		v := r.forms[0].of(u)
		// Tilts of u_y = 1 + 2x + 3z: about x ∂u_z/∂y… the normal is y: θ × r has the y part θ_z·x − θ_x·z.
		require.InDelta(t, 2, v[5], 1e-9)
		require.InDelta(t, -3, v[3], 1e-9)
		at := b.Zones[0].At
		require.InDelta(t, 1+2*at.X+3*at.Z, v[1], 1e-8, "carried from the middle of the triangle to At")
		// Across the leg a third along: the rectangle reaches two thirds up.
		area := 0.0
		for _, c := range r.cuts(plane{0, 5 + 20*sign}, [2]float64{-1e9, -1e9}, [2]float64{1e9, 1e9}) {
			area += c.area.area()
		}
		require.InEpsilon(t, 12*90*2/3., area, 1e-9)
	}
}
