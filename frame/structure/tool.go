package structure

import (
	"cmp"
	"fmt"
	"strings"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame"
	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/machine"
	"tiploop/frame/spindle"
)

// The names under which the energy of the cutter, of its grip and of the spindle's bearings is counted.
const (
	toolSource    = "tool"
	holderSource  = "holder"
	spindleSource = "spindle"
)

// hold carries one node along with another place in one direction, exactly or by a spring.
type hold struct {
	direction  r3.Vec
	sprung     bool
	spring     int
	constraint int
}

// hung is a place that something hangs on: its movements and rotations along the world's axes.
type hung struct{ move, turn [3]frame.Form }

// gauge reads and pushes the place.
func (h hung) gauge() *gauge {
	g := &gauge{body: -1}
	copy(g.forms[:3], h.move[:])
	copy(g.forms[3:], h.turn[:])
	return g
}

// along is the movement, and about the rotation, of the place along a direction.
func (h hung) along(d r3.Vec) frame.Form { return combined(h.move, d) }
func (h hung) about(d r3.Vec) frame.Form { return combined(h.turn, d) }

func combined(forms [3]frame.Form, d r3.Vec) (sum frame.Form) {
	for k, c := range array(d) {
		if c != 0 {
			sum = sum.Plus(c, forms[k])
		}
	}
	return sum
}

// nodeAt is a new node as a place to hang on.
func (m *Model) nodeAt(at r3.Vec) (node int, h hung) {
	node = m.frame.AddNode(at)
	for k := machine.X; k <= machine.Z; k++ {
		h.move[k], h.turn[k] = frame.Move(node, r3.Vec{}, k.Direction()), frame.Turn(node, k.Direction())
	}
	return node, h
}

// standTool makes the chain from the part that carries the tool to its tip: the spindle's bearings and the holder as
// springs at the tool's root, where they give, then shank and flutes as round bars. The root goes with the metal it
// stands on, which on a strip or a gusset is not the nearest node's turning. Nothing lets the tool spin: its motor
// holds it.
func (m *Model) standTool() {
	t := m.tool
	var on hung
	for k := machine.X; k <= machine.Z; k++ {
		on.move[k], on.turn[k] = t.holder.move(m.frame, t.root, k.Direction()), t.holder.turn(t.root, k.Direction())
	}
	for _, g := range m.toolStiffnesses() {
		node, next := m.nodeAt(t.root.at)
		held := m.holdTo(next, on, g.stiffness, g.source)
		if t.held == nil {
			t.held = held
		}
		if t.foot, on = node, next; g.source == spindleSource {
			t.nose = &next
		}
	}
	at := t.root.at
	t.node = t.foot
	for _, s := range toolStretches(t.tool) {
		at = r3.Sub(at, r3.Scale(s.length, t.back()))
		if s.last {
			at = t.tool.At
		}
		from := t.node
		t.node = m.frame.AddNode(at)
		made := t.tool.Material
		made.Density = 0 // a cutter's few grams are no part of the machine's mass
		t.members = append(t.members, m.frame.AddMember(frame.Member{
			Ends: [2]int{from, t.node}, Up: t.up(), Section: toolRound(t.tool, s.diameter), Made: made, Source: toolSource,
		}))
	}
}

// up is any direction across the tool.
func (t *madeTool) up() r3.Vec {
	if b := array(t.back()); b[machine.Y]*b[machine.Y] > 0.5 {
		return machine.Z.Direction()
	}
	return machine.Y.Direction()
}

// sourcedStiffness is a stiffness and whose it is.
type sourcedStiffness struct {
	stiffness machine.Stiffness
	source    string
}

// toolStiffnesses are the links between the part and the tool, from the part outwards; one that does not give when none
// does.
func (m *Model) toolStiffnesses() (list []sourcedStiffness) {
	if s := m.machine.Spindle; s != nil && s.Stiffness != (machine.Stiffness{}) {
		list = append(list, sourcedStiffness{s.Stiffness, spindleSource})
	}
	if h := m.machine.Tool.Holder; h != nil && h.Stiffness != (machine.Stiffness{}) {
		list = append(list, sourcedStiffness{h.Stiffness, holderSource})
	}
	if list == nil {
		list = append(list, sourcedStiffness{machine.Stiffness{}, toolSource})
	}
	return list
}

// toolSources are the names under which the energy of the tool and what holds it is counted.
func (m *Model) toolSources() (list []string) {
	if m.tool == nil || m.tool.node < 0 {
		return nil
	}
	for _, g := range m.toolStiffnesses() {
		if g.stiffness != (machine.Stiffness{}) {
			list = append(list, g.source)
		}
	}
	return append(list, toolSource)
}

// holdTo holds a node to a place: by springs where there is give, exactly elsewhere. It returns what holds the
// movements.
func (m *Model) holdTo(node, on hung, g machine.Stiffness, source string) (held []hold) {
	frameOf := [3]r3.Vec{machine.X.Direction(), machine.Y.Direction(), machine.Z.Direction()}
	axis := -1
	if g != (machine.Stiffness{}) {
		a := m.tool.back()
		side := r3.Unit(r3.Cross(m.tool.up(), a))
		frameOf, axis = [3]r3.Vec{side, r3.Cross(a, side), a}, 2
	}
	for k, d := range frameOf {
		along, across := g.Radial, g.Tilt
		if k == axis {
			along, across = g.Axial, 0
		} else if g.Bearings != nil {
			held = append(held, m.bear(node, on, d, g.Bearings, source)...)
			continue
		}
		moves, turns := node.along(d).Plus(-1, on.along(d)), node.about(d).Plus(-1, on.about(d))
		h := hold{direction: d}
		if along > 0 {
			what := unsureRadial
			if k == axis {
				what = unsureAxial
			}
			h.sprung, h.spring = true, m.toolSpring(moves, along, source, what)
		} else {
			h.constraint = m.frame.Constrain(frame.Constraint{Form: moves, Name: source})
		}
		held = append(held, h)
		if across > 0 {
			m.toolSpring(turns, across, source, unsureTilt)
		} else {
			m.frame.Constrain(frame.Constraint{Form: turns, Name: source})
		}
	}
	return held
}

// toolSpring is a spring of the tool's chain: its number in the frame, whose it is, and which of its stiffnesses, by
// its key in a model file.
type toolSpring struct {
	spring       int
	source, what string
}

// The stiffnesses of a spindle or a holder.
const (
	unsureRadial = "radial"
	unsureAxial  = "axial"
	unsureTilt   = "tilt"
	unsureFront  = "front"
	unsureRear   = "rear"
)

func (m *Model) toolSpring(form frame.Form, stiffness float64, source, what string) int {
	spring := m.frame.AddSpring(frame.Spring{Form: form, Stiffness: stiffness, Source: source})
	m.tool.springs = append(m.tool.springs, toolSpring{spring, source, what})
	return spring
}

// toolStretch is a round bar that a tool bends like.
type toolStretch struct {
	length, diameter float64 // mm
	last             bool    // ends at the tip
}

// bear holds a node across the tool by the two bearings behind it, each where it is: a push on the tool turns the shaft
// too.
func (m *Model) bear(node, on hung, across r3.Vec, b *machine.BearingPair, source string) (held []hold) {
	for _, bearing := range []struct {
		behind, stiffness float64
		what              string
	}{{b.Overhang, b.Front, unsureFront}, {b.Overhang + b.Span, b.Rear, unsureRear}} {
		arm := r3.Scale(bearing.behind, m.tool.back())
		at := func(h hung) frame.Form { return h.along(across).Plus(1, h.about(r3.Cross(arm, across))) }
		held = append(held, hold{direction: across, sprung: true,
			spring: m.toolSpring(at(node).Plus(-1, at(on)), bearing.stiffness, source, bearing.what)})
	}
	// Of the two turns across each is held by the bearings in the other direction; the spin is held with the movement
	// along.
	return held
}

// toolStretches are a tool's, from the root to the tip.
func toolStretches(t *machine.Tool) (list []toolStretch) {
	if t.Shank != nil {
		list = append(list, toolStretch{length: t.Shank.Length, diameter: t.Shank.Diameter})
	}
	core := t.Core
	if core == 0 {
		core = t.Diameter
	}
	return append(list, toolStretch{length: t.FluteLength(), diameter: core, last: true})
}

// toolRound is the section of a round bar of the tool's material.
func toolRound(t *machine.Tool, diameter float64) beam.Section {
	section, err := beam.Round{Diameter: diameter}.Section(t.Material.Nu)
	if err != nil {
		panic(fmt.Sprintf("structure: tool of diameter %g: %v", diameter, err))
	}
	return section
}

// warmTool grows the tool, when the whole machine is warmed, and the part between its nodes and the tool's root.
func (m *Model) warmTool(out *frame.Load, a machine.Action) {
	t := m.tool
	if t == nil || t.node < 0 {
		return
	}
	if a.Part == nil {
		for _, member := range t.members {
			out.Warm = append(out.Warm, frame.Warm{Member: member, Mean: a.Rise})
		}
	}
	if !m.warms(a, t.holder) {
		return
	}
	for _, h := range t.held {
		by := a.Rise * t.holder.grown(m.frame, t.root, h.direction)
		switch {
		case by == 0:
		case h.sprung:
			out.Stretched = append(out.Stretched, frame.Stretched{Spring: h.spring, By: -by})
		default:
			out.Moved = append(out.Moved, frame.Moved{Constraint: h.constraint, Value: by})
		}
	}
}

// rigidNotes say what of the tool's chain is taken as rigid because nothing is said of it, and what it usually costs:
// the tip's stiffness with it, for what stands in a row adds up.
func (m *Model) rigidNotes(tip *answer.Tip) []string {
	if m.tool == nil {
		return nil
	}
	t := m.tool.tool
	if !(t.Stickout > 0) {
		return []string{"tool: taken as rigid are the cutter, its grip and the spindle's bearings, for nothing is said of " +
			"them; in a small machine they often give as much as all the rest. Say stickout, diameter, material, flutes and " +
			"holder of the tool, and spindle: {class: …}."}
	}
	unsaid := spindle.Unsaid{Flutes: t.Flutes == 0 && t.Core == 0, Holder: t.Holder == nil,
		Bearings: m.machine.Spindle == nil || m.machine.Spindle.Stiffness == (machine.Stiffness{})}
	var words, keys []string
	diameter := 0.0
	if m.tool.holder.slender() {
		diameter = 2 * m.tool.holder.halfWidth()
	}
	class := spindle.UsualClass(diameter)
	for _, of := range []struct {
		missing    bool
		what, with string
	}{{unsaid.Flutes, "flutes", "flutes: 2"}, {unsaid.Holder, "grip", "holder: collet"},
		{unsaid.Bearings, "spindle bearings", "spindle: {class: " + class.Key + "}"}} {
		if of.missing {
			words, keys = append(words, of.what), append(keys, of.with)
		}
	}
	if words == nil {
		return nil
	}
	cutter := spindle.Cutter{Diameter: t.Diameter, Flutes: cmp.Or(t.Flutes, spindle.UsualFlutes), Stickout: t.Stickout,
		FluteLength: t.FluteLength(), E: t.Material.E}
	if t.Shank != nil {
		cutter.Shank = t.Shank.Diameter
	}
	note := "tool: taken as rigid, for nothing is said of it: " + strings.Join(words, ", ") + ". "
	if across, along, err := unsaid.Give(class.Springs().Typical, cutter); err == nil {
		note += fmt.Sprintf("With %s the tip would have %.2g instead of %.2g N/µm where it is softest.",
			strings.Join(keys, ", "), m.softestWith(tip, across, along), tip.StiffnessNPerUm.Softest)
	}
	return []string{note}
}

// softestWith is the tip's stiffness in its softest direction, N/µm, with more give across the tool and along it, mm/N.
func (m *Model) softestWith(tip *answer.Tip, across, along float64) float64 {
	axis := array(m.tool.back())
	c := mat.NewSymDense(3, nil)
	for i := range 3 {
		for j := range i + 1 {
			v := tip.ComplianceUmPerN[i][j]/constant.UmPerMM + (along-across)*axis[i]*axis[j]
			if i == j {
				v += across
			}
			c.SetSym(i, j, v)
		}
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(c, false) {
		panic("structure: a symmetric matrix of order 3 without principal values")
	}
	return nPerUm(eigen.Values(nil)[2])
}
