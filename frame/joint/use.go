package joint

import "math"

// RingLoad is what a load does to one clamping, about the middle of its pressed zone. The faces' axes are p and q.
type RingLoad struct {
	Pull  float64    // takes pressure off the whole zone, N: the clamped parts' share of the pull
	Lift  [2]float64 // by how much the pressure falls per mm along p and q, MPa/mm
	Shear [2]float64 // along p and q, N
	Twist float64    // about the screw, N·mm
}

// Opposite is what the opposite load does.
func (l RingLoad) Opposite() RingLoad {
	return RingLoad{Pull: -l.Pull, Lift: [2]float64{-l.Lift[0], -l.Lift[1]}, Shear: [2]float64{-l.Shear[0], -l.Shear[1]},
		Twist: -l.Twist}
}

// Use returns how far the load goes towards slip and towards opening; at 1 it happens. Both count from LeastPreload.
//
// The edge of the zone opens where the pressure of the preload is used up: p - N/A - M r/I = 0. The zone slips when all
// of it does, in the face and about the screw at once (see [Ring]), the pull growing with the load and taking its share
// of the preload off. What presses the faces together helps against slip.
func (k ClampingStiffness) Use(zone Pressed, l RingLoad) (slip, open float64) {
	mean := k.LeastPreload / zone.Moments.Area
	open = math.Max(0, (l.Pull/zone.Moments.Area+zone.reach(l.Lift))/mean)
	needed := EqualRing(zone.Moments).Sliding(math.Hypot(l.Shear[0], l.Shear[1]), l.Twist)
	if friction := needed / k.SlipForce; friction > nothing {
		slip = math.Max(0, friction+l.Pull/k.LeastPreload)
	}
	return slip, open
}

// Fails tells whether Use is 1 or more, most often without working out how friction holds force and torque at once: that
// takes no less than an ellipse through the limits of both, and no more than the straight line between them.
func (k ClampingStiffness) Fails(zone Pressed, l RingLoad) (slips, opens bool) {
	const margin = 1e-3
	ring := EqualRing(zone.Moments)
	force, turn := math.Hypot(l.Shear[0], l.Shear[1]), math.Abs(l.Twist)/ring.FrictionArm()
	left := k.SlipForce * (1 - l.Pull/k.LeastPreload)
	slips = math.Hypot(force, turn) > left*(1+margin)
	if !(left > 0) || !slips && force+turn > left*(1-margin) {
		slip, open := k.Use(zone, l)
		return slip >= 1, open >= 1
	}
	mean := k.LeastPreload / zone.Moments.Area
	return slips, l.Pull/zone.Moments.Area+zone.reach(l.Lift) >= mean
}

// nothing is a share of a limit below which there is no shear but rounding.
const nothing = 1e-9

// Pressed is a pressure zone with what bounds it.
type Pressed struct {
	Moments Moments      // about the screw
	Outline [][2]float64 // the polygon that cuts the ring, see Outline; relative to the screw, mm
	Outer   float64      // outer radius of the ring, mm
}

// Widened returns the moments of the zone if its ring had other radii, mm; what cuts the ring stays.
func (z Pressed) Widened(inner, outer float64) Moments {
	ring := func(outer float64) Moments {
		return discOverlap(z.Outline, outer).plus(discOverlap(z.Outline, inner).times(-1))
	}
	return ring(outer).times(z.Moments.Area / ring(z.Outer).Area) // screws in one place share it
}

// reach returns the largest of what grows by that much per mm from nothing in the zone's middle. The ends of the zone
// are corners of the polygon inside the ring, places where its sides cross the circle, and one on the circle.
func (z Pressed) reach(grows [2]float64) float64 {
	steep := math.Hypot(grows[0], grows[1])
	if steep == 0 {
		return 0
	}
	middle, most := z.Moments.Centroid(), 0.0
	take := func(p [2]float64) {
		most = math.Max(most, grows[0]*(p[0]-middle[0])+grows[1]*(p[1]-middle[1]))
	}
	if far := [2]float64{grows[0] / steep * z.Outer, grows[1] / steep * z.Outer}; inConvex(z.Outline, far) {
		take(far)
	}
	for k, p := range z.Outline {
		q := z.Outline[(k+1)%len(z.Outline)]
		if math.Hypot(p[0], p[1]) <= z.Outer {
			take(p)
		}
		for _, t := range crossings(p, q, z.Outer) {
			take([2]float64{p[0] + t*(q[0]-p[0]), p[1] + t*(q[1]-p[1])})
		}
	}
	return most
}

// inConvex says that a place lies in an anticlockwise convex polygon, or outside by no more than rounding: rings that just
// touch are common, and the sides of the polygon are then tangents of the ring.
func inConvex(polygon [][2]float64, at [2]float64) bool {
	const rounding = 1e-9
	for k, p := range polygon {
		q := polygon[(k+1)%len(polygon)]
		dx, dy := q[0]-p[0], q[1]-p[1]
		if dx*(at[1]-p[1])-dy*(at[0]-p[0]) < -rounding*math.Hypot(dx, dy)*math.Hypot(at[0], at[1]) {
			return false
		}
	}
	return true
}

// crossings are where the way from p to q, 0 to 1, crosses the circle about the origin.
func crossings(p, q [2]float64, r float64) (at []float64) {
	dx, dy := q[0]-p[0], q[1]-p[1]
	a := dx*dx + dy*dy
	half, c := p[0]*dx+p[1]*dy, p[0]*p[0]+p[1]*p[1]-r*r
	if a == 0 || half*half < a*c {
		return nil
	}
	root := math.Sqrt(half*half - a*c)
	for _, t := range []float64{(-half - root) / a, (-half + root) / a} {
		if t >= 0 && t <= 1 {
			at = append(at, t)
		}
	}
	return at
}
