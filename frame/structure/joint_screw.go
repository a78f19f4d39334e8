package structure

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/joint"
	"tiploop/frame/machine"
	"tiploop/frame/solid"
)

// madeScrew is one screw: its spot, and where its springs begin in Model.links: square to the face, then two along it.
type madeScrew struct {
	at     r3.Vec
	pinch  joint.ClampingStiffness
	normal int
}

// screwed joins two parts by the springs of each screw.
func (m *Model) screwed(j *madeJoint, source string) *machine.Fault {
	j.drilled, j.tapped = j.a, j.b
	switch {
	case j.joint.Drilled == machine.DrilledFirst:
	case j.joint.Drilled == machine.DrilledSecond:
		j.drilled, j.tapped = j.b, j.a
	case j.b.reachThrough(j.touch.normal) < j.a.reachThrough(j.touch.normal):
		j.drilled, j.tapped = j.b, j.a
	}
	places, fault := m.screwPlaces(j)
	if fault != nil {
		return fault
	}
	p, q := j.touch.normal.Others()
	pinch := joint.Clamping{
		Screw: j.joint.Screws.Size, TorqueNmm: j.joint.Screws.TorqueNmm, Surface: j.joint.Surface,
		Drilled: j.drilled.plate(j.touch), Tapped: j.tapped.plate(j.touch),
	}
	if s := j.joint.Shim; s != nil {
		pinch.Shim = &joint.Layer{
			Key: s.Key, Thickness: s.Thickness, E: s.Material.E, Nu: s.Material.Nu, Paper: s.Paper,
		}
	}
	rect := joint.Rect2{Min: [2]float64{j.touch.lo[p], j.touch.lo[q]}, Max: [2]float64{j.touch.hi[p], j.touch.hi[q]}}
	inner, outer := pinch.Ring()
	for i, place := range places {
		pinch.ZoneArea = joint.ZoneArea(rect, places, i, inner, outer)
		if pinch.ZoneArea == 0 {
			f := m.fault(j.joint.Screws.Pos, "move the screws apart or away from the edge",
				"joint %s: edges and neighbours leave nothing of the pressed ring of a screw", j.name)
			return &f
		}
		k, err := pinch.Stiffness()
		if err != nil {
			f := m.fault(j.joint.Screws.Pos, "move the screws apart or away from the edge", "joint %s: %v", j.name, err)
			return &f
		}
		at := j.touch.lo
		at[p], at[q] = place[0], place[1]
		where := &spot{at: vector(at), zone: solid.Zone{
			At: vector(at), Normal: int(j.touch.normal), Polygon: joint.Outline(rect, places, i), Inner: inner, Outer: outer,
			Lone: true,
		}}
		m.addScrew(j, where, k, zoneReach(rect, places, i, outer), source)
	}
	return nil
}

// zoneReach is how far the pressed zone of a screw reaches along the two axes of the face, before the edges of the face
// and half the way to its neighbours.
func zoneReach(rect joint.Rect2, places [][2]float64, i int, outer float64) (reach [2]float64) {
	for k := range reach {
		reach[k] = math.Min(outer, math.Min(places[i][k]-rect.Min[k], rect.Max[k]-places[i][k]))
		for o, other := range places {
			across := math.Abs(other[1-k] - places[i][1-k])
			if gap := math.Abs(other[k] - places[i][k]); o != i && gap > across {
				reach[k] = math.Min(reach[k], gap/2)
			}
		}
	}
	return reach
}

// addScrew adds the springs of one screw: square to the face, along it, and against the turning of the pressed ring.
// The ring resists tilting about an axis of the face with its stiffness against that spread over it, k·(R² + r²)/4 with
// R how far it reaches across that axis, and spinning in the same way. A single row of screws depends on that.
func (m *Model) addScrew(j *madeJoint, where *spot, k joint.ClampingStiffness, reach [2]float64, source string) {
	p, q := j.touch.normal.Others()
	hole := k.ZoneInner * k.ZoneInner
	across := [2]float64{(reach[0]*reach[0] + hole) / 4, (reach[1]*reach[1] + hole) / 4}
	screw := madeScrew{at: where.at, pinch: k, normal: len(m.links)}
	for _, s := range []struct {
		axis      machine.Axis
		turning   bool
		stiffness float64
	}{
		{j.touch.normal, false, k.Normal}, {p, false, k.Tangential}, {q, false, k.Tangential},
		{p, true, k.Tilt * across[1]}, {q, true, k.Tilt * across[0]},
		{j.touch.normal, true, k.Spin * (across[0] + across[1])},
	} {
		m.link(link{
			a: j.a, b: j.b, spot: where, direction: s.axis.Direction(), turning: s.turning,
			stiffness: s.stiffness, source: source,
		})
	}
	j.screws = append(j.screws, screw)
}

// Distances a drilled hole needs, in screw diameters [common practice, no source]: a grid keeps gridEdge from the
// sides; a hole given by hand may come as near as leastEdge.
const (
	gridEdge  = 1.5
	leastEdge = 1.0
)

// screwPlaces are the screws' places on the contact face, checked.
func (m *Model) screwPlaces(j *madeJoint) ([][2]float64, *machine.Fault) {
	s, t := j.joint.Screws, j.touch
	p, q := t.normal.Others()
	fail := m.screwFault(j)
	var places [][2]float64
	if s.At == nil {
		var f *machine.Fault
		if places, f = m.gridPlaces(j); f != nil {
			return nil, f
		}
	}
	for _, at := range s.At {
		places = append(places, [2]float64{at[0] + machine.Component(j.joint.Moved, p),
			at[1] + machine.Component(j.joint.Moved, q)})
	}
	for i, place := range places {
		at := t.lo
		at[p], at[q] = place[0], place[1]
		for c, k := range []machine.Axis{p, q} {
			if edge := math.Min(place[c]-t.lo[k], t.hi[k]-place[c]); edge < leastEdge*s.Size.D-machine.Touching {
				return nil, fail(fmt.Sprintf("the faces share %s to %s along %s; keep %s from the edge", machine.MM(t.lo[k]),
					machine.MM(t.hi[k]), k, machine.MM(leastEdge*s.Size.D)),
					"the %s screw at %s = %s, %s = %s is too near the edge of the face or off it", s.Size.Size, p,
					machine.MM(place[0]), q, machine.MM(place[1]))
			}
		}
		if t.inside != nil && !t.inside(vector(at)) {
			return nil, fail("give the places with at: [[…], …]",
				"the %s screw at %s = %s, %s = %s is beside the gusset's slope",
				s.Size.Size, p, machine.MM(place[0]), q, machine.MM(place[1]))
		}
		for _, other := range places[:i] {
			if d := math.Hypot(place[0]-other[0], place[1]-other[1]); d < s.Size.HeadDiameter-machine.Touching {
				return nil, fail("use fewer or smaller screws", "two %s screws stand %s apart and their heads are %s wide",
					s.Size.Size, machine.MM(d), machine.MM(s.Size.HeadDiameter))
			}
		}
	}
	return places, nil
}

// screwFault words what is wrong with the screws of a joint.
func (m *Model) screwFault(j *madeJoint) func(hint, format string, args ...any) *machine.Fault {
	return func(hint, format string, args ...any) *machine.Fault {
		f := m.fault(j.joint.Screws.Pos, hint, "joint "+j.name+": "+format, args...)
		return &f
	}
}

// gridPlaces spreads a grid of screws evenly over the contact face.
func (m *Model) gridPlaces(j *madeJoint) (places [][2]float64, f *machine.Fault) {
	s, t := j.joint.Screws, j.touch
	p, q := t.normal.Others()
	var lines [2][]float64
	for i, k := range []machine.Axis{p, q} {
		n := s.Grid[i]
		need := float64(n-1)*s.Size.HeadDiameter + 2*gridEdge*s.Size.D
		if n == 1 {
			need = 2 * leastEdge * s.Size.D
		}
		if t.size(k) < need-machine.Touching {
			return nil, m.screwFault(j)(fmt.Sprintf("use fewer or smaller screws along %s", k),
				"%d %s screws in a row along %s need %s, and the faces share %s",
				n, s.Size.Size, k, machine.MM(need), machine.MM(t.size(k)))
		}
		if n == 1 {
			lines[i] = []float64{t.middle(k)}
			continue
		}
		edge := gridEdge * s.Size.D
		for c := range n {
			lines[i] = append(lines[i], t.lo[k]+edge+(t.size(k)-2*edge)*float64(c)/float64(n-1))
		}
	}
	for _, a := range lines[0] {
		for _, b := range lines[1] {
			places = append(places, [2]float64{a, b})
		}
	}
	return places, nil
}
