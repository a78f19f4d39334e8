package scene

import (
	"encoding/json"
	"errors"
	"fmt"
	"image/color"
	"maps"
	"math"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/drawing"
	"tiploop/report/number"
	"tiploop/report/paper"
)

// Option is one machine to be looked at: its shape where it stands, then at other positions of one axis at a time, with the
// same bodies in the same order; and its answer, of which shares and ranges are taken, or nil.
type Option struct {
	Name   string
	Shapes []*answer.Shape
	Result *answer.Result
}

// form is the version of the data; a script reads its own only.
const form = 1

// micron is a µm in mm.
const micron = 1e-3

// data and what it is made of are as the script reads them. Numbers of many places stand as base64 of little-endian
// integers of 16 bits.
type data struct {
	Form    int                         `json:"form"`
	Machine string                      `json:"machine"`
	Inks    map[answer.ShapeKind]string `json:"inks"`
	Scale   []string                    `json:"scale"`
	From    [3]float64                  `json:"from"`   // mm, of the least corner of the box round all options
	Step    float64                     `json:"step"`   // mm of one in a corner's numbers
	Places  []string                    `json:"places"` // of corners: three numbers each, in steps from the least corner
	Bases   []basis                     `json:"bases"`
	Meshes  []meshData                  `json:"meshes"`
	Options []optionData                `json:"options"`
}

// meshData is how corners are joined; equal bodies share it.
type meshData struct {
	Corners   int    `json:"corners"`
	Triangles string `json:"triangles"` // three corners each
	Edges     string `json:"edges"`     // two corners each
}

type optionData struct {
	Name   string      `json:"name"`
	Bodies []bodyData  `json:"bodies"`
	Axes   []axisData  `json:"axes,omitempty"`
	States []stateData `json:"states"`
	Fewer  bool        `json:"fewer,omitempty"` // positions of the axes were left out
}

// axisData is where an axis stands in the first state, mm.
type axisData struct {
	Name string  `json:"name"`
	At   float64 `json:"at"`
}

type bodyData struct {
	Name     string           `json:"name"`
	Kind     answer.ShapeKind `json:"kind"`
	Material string           `json:"material,omitempty"`
	Kg       float64          `json:"kg,omitempty"`
	Mesh     int              `json:"mesh"`
	Basis    int              `json:"basis"`
	At       int              `json:"at"` // in Places
}

// stateData is an option with its axes in one position.
type stateData struct {
	Words string      `json:"words"`          // "x = −60 mm"
	Axis  string      `json:"axis,omitempty"` // which has gone elsewhere than it stands in the first state; "" of that
	At    float64     `json:"at,omitempty"`   // where it has gone, mm
	Moved []moveData  `json:"moved,omitempty"`
	Drawn []drawnData `json:"drawn,omitempty"`
	Tip   *[3]float64 `json:"tip,omitempty"` // where the tool cuts, mm
	Loads []loadData  `json:"loads"`
}

// moveData says by how much a body goes along with the axes, mm; drawnData that it is drawn anew.
type (
	moveData struct {
		Body int        `json:"body"`
		By   [3]float64 `json:"by"`
	}
	drawnData struct {
		Body int `json:"body"`
		At   int `json:"at"`
	}
)

type loadData struct {
	Name  string      `json:"name"`
	Step  float64     `json:"step"`            // mm of one in Moved
	Moved string      `json:"moved"`           // coefficients of all bodies in turn: three numbers a term of the body's basis
	Most  []float64   `json:"most"`            // largest movement of each body, µm
	Share []float64   `json:"share,omitempty"` // of the give, percent by body
	TipUm *float64    `json:"tip,omitempty"`   // the tip against the work
	Range *[2]float64 `json:"range,omitempty"` // nine in ten lie between, µm
}

// finely is the digits of a number that a script rounds again, so many that it then comes out as without.
const finely = 9

// mostName is how many letters of a name are kept: what is longer is no name, and would make a page heavy.
const mostName = 80

// Data is everything that the viewer shows, as JSON in which no character has a meaning in HTML: the same bytes on each
// run. It wants one option at least, and one shape of each. An option whose bodies change from shape to shape is a
// programmer's mistake and an error, and so is a number that is none.
func Data(machine string, options []Option) ([]byte, error) {
	if len(options) == 0 {
		return nil, errors.New("scene: no option to show")
	}
	d := data{Form: form, Machine: shortened(machine), Inks: map[answer.ShapeKind]string{}}
	for _, c := range paper.Movement {
		d.Scale = append(d.Scale, hex(c))
	}
	if err := d.measure(options); err != nil {
		return nil, err
	}
	for i := range options {
		o, err := d.option(&options[i])
		if err != nil {
			return nil, fmt.Errorf("scene of option %s: %w", options[i].Name, err)
		}
		d.Options = append(d.Options, o)
	}
	text, err := json.Marshal(d) // escapes <, > and &
	thin := func(i int, ends bool) {
		if err == nil && len(text) > mostBytes && d.Options[i].thin(ends) {
			text, err = json.Marshal(d)
		}
	}
	for _, ends := range []bool{true, false} {
		for i := len(d.Options) - 1; i > 0; i-- {
			thin(i, ends)
		}
	}
	thin(0, true)
	return text, err
}

// mostBytes is from where on positions of the axes are left out, those of the last option first: all but the ends of travel
// and what is halfway, then all; of the first option these three always stay, and of each the position that it stands in.
const mostBytes = 400_000

// thin leaves out positions, all or all but the ends and the middle one of each axis. It tells whether there was one to
// leave out.
func (o *optionData) thin(ends bool) bool {
	byAxis := map[string][]int{}
	for i, s := range o.States[1:] {
		byAxis[s.Axis] = append(byAxis[s.Axis], i)
	}
	kept := o.States[:1:1]
	for i, s := range o.States[1:] {
		// Where the middle one is missing, the axis stands there in the first state.
		if of := byAxis[s.Axis]; ends && (i == of[0] || i == of[len(of)-1] || len(of)%2 == 1 && i == of[len(of)/2]) {
			kept = append(kept, s)
		}
	}
	thinner := len(kept) < len(o.States)
	o.States, o.Fewer = kept, o.Fewer || thinner
	return thinner
}

func hex(c color.NRGBA) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// shortened is a name of at most mostName letters.
func shortened(name string) string {
	letters := []rune(strings.ToValidUTF8(name, "\uFFFD"))
	if len(letters) <= mostName {
		return string(letters)
	}
	return string(letters[:mostName-1]) + "…"
}

func (d *data) option(o *Option) (out optionData, err error) {
	if len(o.Shapes) == 0 {
		return out, errors.New("no shape of it")
	}
	if err := sameBodies(o.Shapes); err != nil {
		return out, err
	}
	out.Name = shortened(o.Name)
	for _, name := range slices.Sorted(maps.Keys(o.Shapes[0].AtMM)) {
		out.Axes = append(out.Axes, axisData{shortened(name), rounded(o.Shapes[0].AtMM[name], finely)})
	}
	coefficients, err := d.bodies(o, &out)
	if err != nil {
		return out, err
	}
	for n, s := range o.Shapes {
		out.States = append(out.States, d.state(o, n, s, coefficients))
	}
	return out, nil
}

// sameBodies refuses shapes of which one is not the others with moved corners.
func sameBodies(shapes []*answer.Shape) error {
	first := shapes[0]
	if len(first.Bodies) == 0 {
		return errors.New("nothing in it")
	}
	for _, s := range shapes {
		if len(s.Bodies) != len(first.Bodies) || !slices.Equal(s.Loads, first.Loads) {
			return errors.New("its shapes have different bodies or loads")
		}
		for i, b := range s.Bodies {
			if len(b.AtMM) != len(first.Bodies[i].AtMM) || len(b.AtMM) == 0 || len(b.AtMM) > math.MaxUint16 ||
				len(b.MovedMM) != len(s.Loads) {
				return fmt.Errorf("%s differs from shape to shape", b.Name)
			}
		}
		if s != first && len(gone(first, s)) > 1 {
			return errors.New("two of its axes move at once")
		}
	}
	return nil
}

// measure finds the steps in which the corners of all options are told.
func (d *data) measure(options []Option) error {
	lo, hi := [3]float64{}, [3]float64{}
	for k := range lo {
		lo[k], hi[k] = math.Inf(1), math.Inf(-1)
	}
	for _, o := range options {
		for _, s := range o.Shapes {
			for _, b := range s.Bodies {
				for _, p := range b.AtMM {
					for k := range p {
						lo[k], hi[k] = min(lo[k], p[k]), max(hi[k], p[k])
					}
				}
			}
		}
	}
	most := max(hi[0]-lo[0], hi[1]-lo[1], hi[2]-lo[2])
	if !(most > 0) || math.IsInf(most, 0) {
		return errors.New("scene: the size of the machine is not a number that can be drawn")
	}
	d.From, d.Step = lo, most/(2*math.MaxInt16)
	return nil
}

// bodies puts the bodies of an option into out and gives the coefficients of their movements, by body, then by shape and load.
func (d *data) bodies(o *Option, out *optionData) (coefficients [][][][3]float64, err error) {
	loads := len(o.Shapes[0].Loads)
	most := make([]float64, len(o.Shapes)*loads) // largest movement of anything, by shape and load
	for s, shape := range o.Shapes {
		for _, b := range shape.Bodies {
			for l := range loads {
				most[s*loads+l] = max(most[s*loads+l], largest(b.MovedMM[l]))
			}
		}
	}
	for i, b := range o.Shapes[0].Bodies {
		var fields []field
		for s, shape := range o.Shapes {
			for l := range loads {
				moved := shape.Bodies[i].MovedMM[l]
				if size := largest(moved); math.IsNaN(size) || math.IsInf(size, 0) {
					return nil, fmt.Errorf("%s: its movement is not a number", b.Name)
				}
				fields = append(fields, field{b.AtMM, moved, most[s*loads+l]})
			}
		}
		terms, fit := fitted(fields)
		coefficients = append(coefficients, fit)
		d.Inks[b.Kind] = hex(drawing.Fill(b.Kind))
		out.Bodies = append(out.Bodies, bodyData{Name: shortened(b.Name), Kind: b.Kind, Material: shortened(b.Material),
			Kg: rounded(b.MassKg, 3), Mesh: d.mesh(&b), Basis: d.basis(terms), At: d.places(b.AtMM)})
	}
	return coefficients, nil
}

// mesh is the number of a body's mesh among those that are told apart.
func (d *data) mesh(b *answer.ShapeBody) int {
	var triangles, edges []uint16
	for _, t := range b.Triangles {
		triangles = append(triangles, uint16(t[0]), uint16(t[1]), uint16(t[2]))
	}
	for _, e := range b.Edges {
		edges = append(edges, uint16(e[0]), uint16(e[1]))
	}
	m := meshData{len(b.AtMM), packed(triangles), packed(edges)}
	if at := slices.Index(d.Meshes, m); at >= 0 {
		return at
	}
	d.Meshes = append(d.Meshes, m)
	return len(d.Meshes) - 1
}

func (d *data) basis(terms basis) int {
	if at := slices.IndexFunc(d.Bases, func(b basis) bool { return slices.Equal(b, terms) }); at >= 0 {
		return at
	}
	d.Bases = append(d.Bases, terms)
	return len(d.Bases) - 1
}

// places is the number of a body's corners among those that are told apart.
func (d *data) places(at [][3]float64) int {
	var list []uint16
	for _, p := range at {
		for k, v := range p {
			list = append(list, uint16(math.Round((v-d.From[k])/d.Step)))
		}
	}
	text := packed(list)
	if found := slices.Index(d.Places, text); found >= 0 {
		return found
	}
	d.Places = append(d.Places, text)
	return len(d.Places) - 1
}

// state is the option in the position of its n-th shape.
func (d *data) state(o *Option, n int, s *answer.Shape, coefficients [][][][3]float64) stateData {
	first := o.Shapes[0]
	state := stateData{Words: words(first, s), Loads: []loadData{}}
	for _, axis := range gone(first, s) {
		state.Axis, state.At = shortened(axis), rounded(s.AtMM[axis], finely)
	}
	for i, b := range s.Bodies {
		by, rigid := shift(first.Bodies[i].AtMM, b.AtMM)
		switch {
		case !rigid:
			state.Drawn = append(state.Drawn, drawnData{i, d.places(b.AtMM)})
		case by != [3]float64{}:
			state.Moved = append(state.Moved, moveData{i, by})
		}
	}
	if s.Tip != nil {
		at := s.Tip.AtMM
		state.Tip = &at
	}
	for l := range s.Loads {
		load := loadData{Name: shortened(s.Loads[l])}
		var all [][3]float64
		for i, b := range s.Bodies {
			all = append(all, coefficients[i][n*len(s.Loads)+l]...)
			load.Most = append(load.Most, rounded(largest(b.MovedMM[l])/micron, 3))
		}
		load.Step, load.Moved = steps(all)
		if s.Tip != nil {
			um := rounded(number.Norm(less(s.Tip.ToolMM[l], s.Tip.WorkMM[l]))/micron, finely)
			load.TipUm = &um
		}
		if o.Result != nil && n == 0 {
			load.Share, load.Range = shares(o.Result, s, l), ranged(o.Result, s.Loads[l])
		}
		state.Loads = append(state.Loads, load)
	}
	return state
}

// shares are those of the bodies in the give under a load, percent; nil where none is known. What several bodies are
// counted under stands at the first of them.
func shares(r *answer.Result, s *answer.Shape, load int) (list []float64) {
	bySource := map[string]float64{}
	for _, share := range r.Shares {
		if share.Load == s.Loads[load] {
			bySource[share.Source] = share.Percent
		}
	}
	if len(bySource) == 0 {
		return nil
	}
	for _, b := range s.Bodies {
		list = append(list, rounded(bySource[b.Source], 3))
		delete(bySource, b.Source)
	}
	return list
}

// ranged is how far the tip moves in nine of ten draws under a load, µm.
func ranged(r *answer.Result, load string) *[2]float64 {
	if r.Sure == nil || !r.Sure.Settled {
		return nil
	}
	for _, m := range r.Sure.Movements {
		if m.Load == load && m.Point == "" {
			return &[2]float64{rounded(m.SizeUm.Low, finely), rounded(m.SizeUm.High, finely)}
		}
	}
	return nil
}

// gone are the axes that stand elsewhere in a shape than in the first.
func gone(first, s *answer.Shape) (names []string) {
	for _, name := range slices.Sorted(maps.Keys(s.AtMM)) {
		if s.AtMM[name] != first.AtMM[name] {
			names = append(names, name)
		}
	}
	return names
}

// words say where the axes stand in which a shape differs from the first, and of the first where all stand.
func words(first, s *answer.Shape) string {
	names := gone(first, s)
	if s == first {
		names = slices.Sorted(maps.Keys(s.AtMM))
	}
	var list []string
	for _, name := range names {
		list = append(list, shortened(name)+" = "+paper.WithMinus(number.Length(s.AtMM[name]))+" mm")
	}
	return strings.Join(list, ", ")
}
