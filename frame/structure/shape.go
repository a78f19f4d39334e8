package structure

import (
	"context"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
	"tiploop/frame/surface"
)

// How many cells the surface of a part is cut into along its longest side, across it where it is wide, and along a
// gusset's legs: as many as its bending takes to be seen. wideShape is the share of the longest side from which the
// next has wideCells, slimShape that up to which it has one.
const (
	longCells   = 8
	wideCells   = 4
	middleCells = 2
	gussetCells = 4
	wideShape   = 0.5
	slimShape   = 0.12
)

// Corners that are left of a section's outline and of each of its holes.
const (
	outlineCorners = 16
	sawnCorners    = 40
	holeCorners    = 12
)

// Shape returns what the machine looks like, coarsely, and how it moves under each load. It solves the loads again,
// which takes a small part of what building the model took. The error is that of a solution that is no number, or the
// context's.
func (m *Model) Shape(ctx context.Context) (*answer.Shape, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	x := shaping{Model: m}
	shape := &answer.Shape{Option: m.name(), AtMM: m.positions()}
	for i := range m.machine.Loads {
		x.loads = append(x.loads, &m.machine.Loads[i])
		shape.Loads = append(shape.Loads, m.machine.Loads[i].Name)
	}
	if len(x.loads) > 0 {
		states, failed, err := m.solveAll(x.loads, m.tool.gauges())
		if err != nil {
			return nil, fmt.Errorf("load %s: %w", x.loads[failed].Name, err)
		}
		x.states = states
	}
	for _, b := range m.bodies {
		x.add(x.part(b))
	}
	x.fit()
	shape.Bodies = x.bodies
	if m.tool != nil {
		shape.Tip = x.tip()
	}
	if err := finiteShape(shape); err != nil {
		return nil, err
	}
	return shape, nil
}

// stationsOfTravel is at how many places of its travel, both ends among them, an axis is looked at.
const stationsOfTravel = 5

// Shapes returns the shape of a machine as it stands, then with each of its axes at evenly spread places of its travel from
// end to end, the others as they stand. What is meshed is kept by the builder from place to place. The errors are those of
// Build and Shape.
func (b *Builder) Shapes(ctx context.Context, m *machine.Machine) ([]*answer.Shape, error) {
	whole, err := m.Complete()
	if err != nil {
		return nil, err
	}
	stations := []map[string]float64{{}}
	for _, a := range whole.Axes {
		for i := range stationsOfTravel {
			share := float64(i) / (stationsOfTravel - 1)
			if at := a.Travel[0]*(1-share) + a.Travel[1]*share; math.Abs(at-a.At) > machine.Touching {
				stations = append(stations, map[string]float64{a.Name: at})
			}
		}
	}
	var list []*answer.Shape
	for _, at := range stations {
		moved := whole
		if len(at) > 0 {
			if moved, err = whole.At(at); err != nil {
				return nil, err
			}
		}
		model, err := b.Build(ctx, moved)
		if err != nil {
			return nil, err
		}
		shape, err := model.Shape(ctx)
		if err != nil {
			return nil, err
		}
		list = append(list, shape)
	}
	return list, nil
}

// finiteShape refuses a movement that is no number.
func finiteShape(s *answer.Shape) error {
	for _, b := range s.Bodies {
		for _, moved := range b.MovedMM {
			for _, v := range moved {
				if sum := v[0] + v[1] + v[2]; math.IsNaN(sum) || math.IsInf(sum, 0) {
					return fmt.Errorf("%s: its movement is not a number; "+tooFarApart, b.Name)
				}
			}
		}
	}
	return nil
}

// shaping is a model under its loads while its shape is made.
type shaping struct {
	*Model
	loads  []*machine.Load
	states []*state
	bodies []answer.ShapeBody
}

// add puts a body into the shape.
func (x *shaping) add(b answer.ShapeBody) { x.bodies = append(x.bodies, b) }

// surfaced is a body with a surface and how its corners move, by load.
func surfaced(name string, kind answer.ShapeKind, s surface.Surface, moved [][]r3.Vec) answer.ShapeBody {
	b := answer.ShapeBody{Name: name, Kind: kind, Triangles: s.Triangles, Edges: s.Edges}
	for _, at := range s.At {
		b.AtMM = append(b.AtMM, array(at))
	}
	for _, load := range moved {
		list := make([][3]float64, len(load))
		for i, v := range load {
			list[i] = array(v)
		}
		b.MovedMM = append(b.MovedMM, list)
	}
	return b
}

// part is the surface of a part.
func (x *shaping) part(b *body) answer.ShapeBody {
	line := b.line()
	s := b.surface()
	out := surfaced(line.Name, answer.ShapeKind(line.Kind), s, b.moved(x, s.At))
	out.Material, out.MassKg, out.Source = line.Material, line.MassKg, b.source()
	return out
}

// surface is that of a part by what the builder wrote, or of the box that it takes.
func (b *body) surface() surface.Surface {
	switch {
	case b.part.Gusset != nil:
		g := b.part.Gusset
		return surface.Gusset(g.Corner, g.Legs, g.Thickness, gussetCells)
	case b.part.Bar != nil && b.mount == nil:
		return b.barSurface()
	case b.sawn() != nil:
		return b.sawn().surface()
	}
	return boxSurface(b.fills)
}

// boxSurface is the surface of a box, cut finely along its long sides.
func boxSurface(b box) surface.Surface {
	long := b.longest()
	cells := [3]int{1, 1, 1}
	for k := machine.X; k <= machine.Z; k++ {
		switch share := b.size(k) / b.size(long); {
		case k == long:
			cells[k] = longCells
		case share >= wideShape:
			cells[k] = wideCells
		case share >= slimShape:
			cells[k] = middleCells
		}
	}
	return surface.Box(vector(b.lo), vector(b.hi), cells)
}

// outline is that of a bar's section. One of plain numbers has none: a square of its area stands for it.
func (b *body) outline() [][][2]float64 {
	if len(b.section.Outline) > 0 {
		return b.section.Outline
	}
	h := math.Sqrt(b.section.A) / 2
	return [][][2]float64{{{-h, -h}, {h, -h}, {h, h}, {-h, h}}}
}

// barSurface draws a bar's section out along it.
func (b *body) barSurface() surface.Surface {
	loops, y, z := b.outline(), b.side(), b.up
	var sections [][][]r3.Vec
	for i := range longCells + 1 {
		middle := r3.Add(b.from, r3.Scale(float64(i)/longCells, r3.Sub(b.to, b.from)))
		var section [][]r3.Vec
		for l, loop := range loops {
			corners := outlineCorners
			if l > 0 {
				corners = holeCorners
			}
			var drawn []r3.Vec
			for _, p := range surface.Thinned(loop, corners) {
				drawn = append(drawn, r3.Add(middle, r3.Add(r3.Scale(p[0], y), r3.Scale(p[1], z))))
			}
			section = append(section, drawn)
		}
		sections = append(sections, section)
	}
	return surface.Loft(sections, b.direction())
}

// surface draws the outline out through the thickness, its sides cut so that their bending is seen.
func (k *sawnKind) surface() surface.Surface {
	n := k.across()
	u, v := n.Others()
	step := k.b.fills.size(k.b.fills.longest()) / longCells
	var sections [][][]r3.Vec
	for _, level := range []float64{k.b.fills.lo[n], k.b.fills.hi[n]} {
		var section [][]r3.Vec
		for l, loop := range k.drawn.Outline {
			corners := sawnCorners
			if l > 0 {
				corners = holeCorners
			}
			loop = surface.Thinned(loop, corners)
			var drawn []r3.Vec
			for i, p := range loop {
				q := loop[(i+1)%len(loop)]
				pieces := math.Ceil(math.Hypot(q[0]-p[0], q[1]-p[1])/step - stepRounding)
				for c := range int(pieces) {
					share := float64(c) / pieces
					var at [3]float64
					at[n], at[u], at[v] = level, p[0]+share*(q[0]-p[0]), p[1]+share*(q[1]-p[1])
					drawn = append(drawn, vector(at))
				}
			}
			section = append(section, drawn)
		}
		sections = append(sections, section)
	}
	return surface.Loft(sections, n.Direction())
}

// moved: how the forms of a place make it move, and what of the metal grows without them.
func (k *baseKind) moved(x *shaping, at []r3.Vec) [][]r3.Vec {
	list := make([][]r3.Vec, len(x.loads))
	for _, place := range at {
		s := &spot{at: place}
		for n, l := range x.loads {
			by := x.growth(l, k.b, s)
			for d := machine.X; d <= machine.Z; d++ {
				by[d] += x.states[n].Value(k.b.move(x.frame, s, d.Direction()))
			}
			list[n] = append(list[n], vector(by))
		}
	}
	return list
}

// moved: a section stays flat and turns as the member does there; across it the metal grows with its mean warmth.
func (k *memberLine) moved(x *shaping, at []r3.Vec) [][]r3.Vec {
	b, list := k.b, make([][]r3.Vec, len(x.loads))
	for n, l := range x.loads {
		grown := 0.0
		for _, a := range l.Actions {
			if x.warms(a, b) {
				rise, _ := x.rise(a, b)
				grown += rise * b.part.Material.Expansion
			}
		}
		type motion struct{ move, turn r3.Vec }
		known := map[float64]motion{}
		for _, place := range at {
			along := b.along(place)
			here, ok := known[along]
			if !ok {
				i := 0
				for i < len(k.members)-1 && along > k.stations[i+1] {
					i++
				}
				here.move, here.turn = x.states[n].MemberMoved(k.members[i], along-k.stations[i])
				known[along] = here
			}
			beside := r3.Sub(place, r3.Add(b.from, r3.Scale(along, b.direction())))
			by := r3.Add(here.move, r3.Add(r3.Cross(here.turn, beside), r3.Scale(grown, beside)))
			list[n] = append(list[n], by)
		}
	}
	return list
}

// moved: a strip's fields are known between its nodes.
func (k *stripKind) moved(x *shaping, at []r3.Vec) [][]r3.Vec { return k.baseKind.moved(x, at) }

// moved: as the mesh does.
func (k *meshedKind) moved(x *shaping, at []r3.Vec) (list [][]r3.Vec) {
	probe := x.solids[k.number].reduced.Probe(at...)
	for _, s := range x.states {
		list = append(list, probe.Moved(s.fields[k.number]))
	}
	return list
}

// rigid is how what is fixed to a body round a place moves, at some places: as one rigid piece that goes as nearly as
// can be, by least squares, with the metal within reach of the place.
func (x *shaping) rigid(b *body, round r3.Vec, reach float64, at []r3.Vec) [][]r3.Vec {
	near := b.nearestMetal(round)
	var felt []r3.Vec
	for _, dx := range []float64{-reach, reach} {
		for _, dy := range []float64{-reach, reach} {
			for _, dz := range []float64{-reach, reach} {
				felt = append(felt, b.nearestMetal(r3.Add(near, r3.Vec{X: dx, Y: dy, Z: dz})))
			}
		}
	}
	forms := mat.NewDense(3*len(felt), 6, nil)
	for i, p := range felt {
		arm := r3.Sub(p, near)
		for k := range 3 {
			forms.Set(3*i+k, k, 1)
			for t, v := range lever(arm, k) {
				forms.Set(3*i+k, 3+t, v/reach) // so that all columns are of one size
			}
		}
	}
	var svd mat.SVD
	if !svd.Factorize(forms, mat.SVDThin) {
		panic("structure: places round a fitting without principal directions")
	}
	rank := svd.Rank(rigidRank)
	list := make([][]r3.Vec, len(x.loads))
	for n, moved := range b.moved(x, felt) {
		rhs := mat.NewVecDense(3*len(felt), nil)
		for i, v := range moved {
			for k, c := range array(v) {
				rhs.SetVec(3*i+k, c)
			}
		}
		var motion mat.VecDense
		svd.SolveVecTo(&motion, rhs, rank)
		v := motion.RawVector().Data
		move, turn := r3.Vec{X: v[0], Y: v[1], Z: v[2]}, r3.Scale(1/reach, r3.Vec{X: v[3], Y: v[4], Z: v[5]})
		for _, p := range at {
			list[n] = append(list[n], r3.Add(move, r3.Cross(turn, r3.Sub(p, near))))
		}
	}
	return list
}

// rigidRank is the share of the largest below which a principal value counts as none: metal as thin as a line tells no
// rotation about it.
const rigidRank = 1e-6
