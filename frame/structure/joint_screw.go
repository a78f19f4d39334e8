package structure

import (
	"fmt"
	"math"
	"slices"

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
		for _, b := range []*body{j.drilled, j.tapped} {
			if thick := b.fills.size(j.touch.normal); s.Thickness > thick {
				f := m.fault(j.joint.Pos, "a shim of that size is a part of its own, or its unit is missing",
					"joint %s: the shim is %s thick and %s only %s", j.name, machine.MM(s.Thickness), b.part.Name,
					machine.MM(thick))
				return &f
			}
		}
		pinch.Shim = &joint.Layer{
			Key: s.Key, Thickness: s.Thickness, E: s.Material.E, Nu: s.Material.Nu, Paper: s.Paper,
		}
	}
	sheets := m.shimScrew(&pinch, machine.Mounting{Kind: machine.AtJoint, Joint: slices.IndexFunc(m.machine.Joints,
		func(o machine.Joint) bool { return o.Parts == j.joint.Parts })})
	rect := joint.Rect2{Min: [2]float64{j.touch.lo[p], j.touch.lo[q]}, Max: [2]float64{j.touch.hi[p], j.touch.hi[q]}}
	inner, outer := pinch.Ring()
	for i, place := range places {
		zone := joint.PressureZone(rect, places, i, inner, outer)
		if pinch.ZoneArea = zone.Area; pinch.ZoneArea == 0 {
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
		m.addScrew(j, where, softened(k, sheets, zone.Area), zone, source)
	}
	return nil
}

// addScrew adds the springs of one screw: square to the face, along it, and against the turning of the pressed zone.
// What a zone presses with it presses with in its middle, which edges and neighbours move away from the hole; the
// screw itself pulls in the hole, and the two together act between. The zone resists tilting and spinning with its
// stiffness against that spread over it: its second moments. So zones that share a face act as what they make up
// together, and one more screw, which takes from its neighbours what it presses on, does not make them softer by
// moving their springs. The springs along the face stand between with the others, a tenth or so of the way from the
// middle to the hole: with a node of its own for each a member would have slivers.
func (m *Model) addScrew(j *madeJoint, hole *spot, k joint.ClampingStiffness, zone joint.Moments, source string) {
	p, q := j.touch.normal.Others()
	middle := zone.Centroid()
	pressing := 1 - k.ScrewAxial/k.Normal
	between, at := *hole, array(hole.at)
	at[p] += pressing * middle[0]
	at[q] += pressing * middle[1]
	between.at = vector(at)

	xx, xy, yy := zone.Central()
	spread, pair := k.Tilt/zone.Area, k.ScrewAxial*pressing // a pair of springs k₁ and k₂ tilts by k₁·k₂/(k₁ + k₂)
	aboutP, aboutQ := spread*yy+pair*middle[1]*middle[1], spread*xx+pair*middle[0]*middle[0]
	both := -spread*xy - pair*middle[0]*middle[1]
	// aboutP·θp² + 2·both·θp·θq + aboutQ·θq² as the squares of two turns
	lean := both / aboutP
	leaning := r3.Add(p.Direction(), r3.Scale(lean, q.Direction()))
	aside := (1 - pressing) * (1 - pressing) * (middle[0]*middle[0] + middle[1]*middle[1])

	screw := madeScrew{at: hole.at, pinch: k, normal: len(m.links)}
	for _, s := range []struct {
		direction r3.Vec
		turning   bool
		stiffness float64
	}{
		{j.touch.normal.Direction(), false, k.Normal},
		{p.Direction(), false, k.Tangential},
		{q.Direction(), false, k.Tangential},
		{r3.Unit(leaning), true, aboutP * r3.Norm2(leaning)},
		{q.Direction(), true, aboutQ - lean*both},
		{j.touch.normal.Direction(), true, k.Spin/zone.Area*(xx+yy) + k.Tangential*aside},
	} {
		m.link(link{a: j.a, b: j.b, spot: &between, direction: s.direction, turning: s.turning, stiffness: s.stiffness,
			source: source})
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
			hint, row := fmt.Sprintf("use fewer or smaller screws along %s", k),
				fmt.Sprintf("%d %s screws in a row along %s need", n, s.Size.Size, k)
			if n == 1 {
				hint, row = "use a smaller screw", fmt.Sprintf("one %s screw needs along %s", s.Size.Size, k)
			}
			return nil, m.screwFault(j)(hint, "%s %s, and the faces share %s", row, machine.MM(need), machine.MM(t.size(k)))
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
