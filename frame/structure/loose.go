package structure

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame"
	"tiploop/frame/machine"
)

// checkLoose finds parts with no way to the ground, by following joints and guides alone.
func (m *Model) checkLoose() (faults machine.Faults) {
	held := map[*body]bool{}
	for _, g := range m.grounds {
		held[g.body] = true
	}
	if len(held) == 0 {
		return machine.Faults{m.fault(machine.FilePos{}, "add grounds: to the model",
			"nothing holds the machine: it has no grounds")}
	}
	for grew := true; grew; {
		grew = false
		for _, j := range m.joints {
			if held[j.a] != held[j.b] {
				held[j.a], held[j.b], grew = true, true, true
			}
		}
		for _, a := range m.axes {
			for _, g := range a.guides {
				if held[g.on] != held[g.part] {
					held[g.on], held[g.part], grew = true, true, true
				}
			}
		}
	}
	for _, b := range m.bodies {
		if !held[b] {
			hint := "join it to its neighbours under joints:, or ground it"
			if near := m.neighbours(b); near != "" {
				hint = "it touches " + near + "; " + hint
			}
			faults = append(faults, m.fault(b.part.Pos, hint,
				"part %s is loose: no joint or ground connects it to the ground, so it can move every way", b.part.Name))
		}
	}
	return faults
}

// neighbours names the parts that a loose one touches.
func (m *Model) neighbours(b *body) string {
	var names []string
	for _, o := range m.bodies {
		if o == b {
			continue
		}
		if _, err := findTouch(b, o); err == nil {
			names = append(names, o.part.Name)
		}
	}
	return strings.Join(names, ", ")
}

// unjoined are notes of parts that touch while nothing joins them: as the machine is drawn they slide and part freely
// there, which is seldom meant.
func (m *Model) unjoined() (notes []string) {
	held := map[[2]*body]bool{}
	for _, j := range m.joints {
		held[[2]*body{j.a, j.b}], held[[2]*body{j.b, j.a}] = true, true
	}
	for _, a := range m.axes {
		for _, g := range a.guides {
			held[[2]*body{g.on, g.part}], held[[2]*body{g.part, g.on}] = true, true
		}
	}
	for i, a := range m.bodies {
		for _, b := range m.bodies[i+1:] {
			if held[[2]*body{a, b}] {
				continue
			}
			t, err := findTouch(a, b)
			if depth, ok := overlap(a, b); err != nil && ok && a.hasBox && b.hasBox {
				notes = append(notes, fmt.Sprintf("%s and %s run into each other, they share %s, and nothing joins them. Join them "+
					"under joints:, or leave a gap.", a.part.Name, b.part.Name, sizes(depth)))
			}
			if err != nil {
				continue
			}
			notes = append(notes, fmt.Sprintf("%s and %s touch %s and nothing joins them: they are taken to slide and part "+
				"there. Join them under joints:, or leave a gap.", a.part.Name, b.part.Name, t.inWords()))
		}
	}
	return notes
}

// How far a material may be from those of the table before that is asked about: E and expansion so many times the
// greatest, stiffness by weight so many times less than the least. Stiffer than anything is how a rigid part is drawn, so
// none of these is a fault. House values.
const (
	beyondTable = 5
	belowTable  = 10
)

// metalNotes ask about materials that are none: mostly a GPa that should be MPa, or the other way.
func (m *Model) metalNotes() (notes []string) {
	most, least := beam.Material{}, math.Inf(1)
	for _, known := range beam.Materials() {
		most.E, most.Expansion = max(most.E, known.E), max(most.Expansion, known.Expansion)
		if known.Expansion > 0 { // paper and card, of which no part is made, have none
			least = min(least, known.E/known.Density)
		}
	}
	parts := map[string][]string{}
	var order []string
	for _, b := range m.bodies {
		made, what := b.part.Material, ""
		switch {
		case made.E > beyondTable*most.E:
			what = fmt.Sprintf("an E of %.3g GPa, %.2g times the stiffest of the table", made.E/1000, made.E/most.E)
		case made.Density > 0 && made.E/made.Density < least/belowTable:
			what = fmt.Sprintf("an E of %.3g GPa, by its weight %.2g times softer than the softest of the table", made.E/1000,
				least/(made.E/made.Density))
		case made.Expansion > beyondTable*most.Expansion:
			what = fmt.Sprintf("an expansion of %.3g um/m/K, %.2g times the greatest of the table", made.Expansion*1e6,
				made.Expansion/most.Expansion)
		default:
			continue
		}
		if parts[what] == nil {
			order = append(order, what)
		}
		parts[what] = append(parts[what], b.part.Name)
	}
	for _, what := range order {
		notes = append(notes, fmt.Sprintf("made of a material with %s: %s. Is its unit right?", what,
			strings.Join(parts[what], ", ")))
	}
	return notes
}

// inWords says where two parts meet: "over 20 x 50 mm at 0, 10, 40".
func (t touch) inWords() string {
	at := vector(t.lo)
	where := "at"
	switch t.kind {
	case onFace:
		p, q := t.normal.Others()
		at = r3.Scale(0.5, r3.Add(t.from(), t.to()))
		where = fmt.Sprintf("over %.4g x %s at", t.size(p), machine.MM(t.size(q)))
	case along:
		where = fmt.Sprintf("along %s from", machine.MM(r3.Norm(r3.Sub(t.to(), t.from()))))
	}
	return where + " " + placeText(array(at))
}

// A part takes part in a free motion when it moves by more than stirring of the largest movement.
const stirring = 1e-6

// nameLoose turns a free motion of the frame into words: which parts move, and how.
func (m *Model) nameLoose(err error) error {
	var loose *frame.LooseError
	if !errors.As(err, &loose) {
		return err
	}
	most, size := -1, 0.0
	var moving []string
	for i, b := range m.bodies {
		move, turn := m.motionOf(b, loose.Motion)
		s := r3.Norm(move) + r3.Norm(turn)*math.Max(b.length, 1)
		if s > stirring {
			moving = append(moving, b.part.Name)
		}
		if s > size*(1+stirring) {
			most, size = i, s
		}
	}
	if most < 0 {
		return machine.Faults{m.fault(machine.FilePos{}, "check its joints and grounds",
			"something in the machine can move freely")}
	}
	b := m.bodies[most]
	how := m.describe(b, loose.Motion)
	what := fmt.Sprintf("part %s is loose: it can %s without resistance", b.part.Name, how)
	if len(moving) > 1 {
		what = fmt.Sprintf("parts %s are loose: %s can %s without resistance", strings.Join(moving, ", "), b.part.Name, how)
	}
	return machine.Faults{m.fault(b.part.Pos, "hold that movement with a joint or a ground", "%s", what)}
}

// nameUneven turns forces out of balance into words: at which part, and what to do.
func (m *Model) nameUneven(err error) error {
	var uneven *frame.UnevenError
	if !errors.As(err, &uneven) {
		return err
	}
	for _, b := range m.bodies {
		if slices.Contains(b.nodes(), uneven.Node) {
			return m.unevenAt(b, fmt.Sprintf("forces are out of balance by %.1e of the load", uneven.Residual))
		}
	}
	return machine.Faults{m.fault(machine.FilePos{}, "look for a stiffness, a thickness or a modulus without its unit",
		"forces are out of balance by %.1e of the load: the machine is too unevenly stiff to be solved", uneven.Residual)}
}

// unevenAt is the fault of a part that is too stiff or too soft beside the others.
func (m *Model) unevenAt(b *body, found string) error {
	return machine.Faults{m.fault(b.part.Pos, "look for a size or a modulus without its unit; a part as thin as foil is "+
		"better left out, one as stiff as rock made ground",
		"part %s is too stiff or too soft beside what it is joined to: %s", b.part.Name, found)}
}

// motionOf is the largest movement and rotation of a body's nodes in a motion.
func (m *Model) motionOf(b *body, u []float64) (move, turn r3.Vec) {
	for _, n := range b.nodes() {
		d, r := r3.Vec{X: u[6*n], Y: u[6*n+1], Z: u[6*n+2]}, r3.Vec{X: u[6*n+3], Y: u[6*n+4], Z: u[6*n+5]}
		if r3.Norm(d) > r3.Norm(move) {
			move = d
		}
		if r3.Norm(r) > r3.Norm(turn) {
			turn = r
		}
	}
	return move, turn
}

// describe puts a motion into words: "slide along y", "turn about x".
func (m *Model) describe(b *body, u []float64) string {
	move, turn := m.motionOf(b, u)
	if r3.Norm(turn)*math.Max(b.length, 1) > stirring*r3.Norm(move) {
		return "turn about " + machine.DirectionInWords(turn)
	}
	return "slide along " + machine.DirectionInWords(move)
}
