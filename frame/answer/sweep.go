package answer

import (
	"cmp"
	"math"
	"slices"
)

// Sweep is what a machine does while one of its values, or two, run over a range. Its JSON keys are a contract like
// those of [Answer].
type Sweep struct {
	Tiploop int          `json:"tiploop"`
	Machine string       `json:"machine"`
	Option  string       `json:"option"`
	Detail  string       `json:"detail"`
	Values  []SweptValue `json:"values"` // one or two
	Places  []SweptStep  `json:"places"` // the second value runs faster; those left out are missing
	LeftOut []LeftOut    `json:"left_out"`
	Knees   []Knee       `json:"knees"`
	Within  *float64     `json:"tolerance_um"`   // least tolerance of a travel; nil: none given
	Sure    *SweptSure   `json:"sure,omitempty"` // how the places were drawn; nil where none was, as of two values
	Asks    Asks         `json:"-"`
}

// SweptSure is how sure the places of a sweep are: all of them were drawn under the same luck, see [Sure].
type SweptSure struct {
	Draws          int     `json:"draws"` // of all places, see [Sure]
	Seed           uint64  `json:"seed"`
	SettledPercent float64 `json:"settled_percent"` // at the place where that is most
	Settled        bool    `json:"settled"`         // everywhere
	// at the place where that is most; a knee in a gain that is no larger is no surer than that
	ErrorPercent float64 `json:"error_percent"`
}

// SweptValue is a value and the numbers it took.
type SweptValue struct {
	Name  string    `json:"name"`
	Unit  string    `json:"unit"` // "" for a plain number
	Whole bool      `json:"whole"`
	Drawn float64   `json:"drawn"` // what the file, or its option, says
	At    []float64 `json:"at"`
}

// SweptStep is the machine with the values at some numbers.
type SweptStep struct {
	At     []float64   `json:"at"` // of each value
	MassKg float64     `json:"mass_kg"`
	Holes  Holes       `json:"holes"`
	Tip    *Tip        `json:"tip"` // nil in a model without a tool
	Loads  []SweptLoad `json:"loads"`

	// range of the least stiffness, nine draws in ten; nil where nothing was drawn
	SoftestNPerUm90 *[2]float64 `json:"stiffness_softest_n_per_um_90,omitempty"`
	SoftestNPerUm   []float64   `json:"-"` // in every draw
}

// SweptLoad is what a load does there.
type SweptLoad struct {
	Name      string                `json:"name"`
	OnTip     bool                  `json:"on_tip"`
	TipUm     *[3]float64           `json:"tip_um"`
	TipSizeUm *float64              `json:"tip_size_um"`
	PointsUm  map[string][3]float64 `json:"points_um"`

	// range of TipSizeUm, nine draws in ten; nil where it was not drawn
	TipSizeUm90 *[2]float64 `json:"tip_size_um_90,omitempty"`
	DrawnUm     []float64   `json:"-"` // TipSizeUm in every draw

	MeshErrorPercent *float64 `json:"mesh_error_percent,omitempty"` // as in LoadResult
}

// LeftOut is a place at which the values make no machine.
type LeftOut struct {
	At  []float64 `json:"at"`
	Why string    `json:"why"`
}

// FindKnees finds where the stiffness and the movement under each load on the tip stop paying: along one value, or along
// each of two with the other where it is drawn, or as near as the grid comes. Where a value took no numbers, or a place
// does not say those of all values, there is nothing to find. Where all places of a line were drawn, under the same luck,
// each knee is looked for again in every draw that all of them have.
func (s *Sweep) FindKnees() {
	for k, v := range s.Values {
		var line []SweptStep
		var other *float64
		if len(s.Values) == 2 {
			o := s.Values[1-k]
			if len(o.At) == 0 {
				continue
			}
			near := o.At[0]
			for _, at := range o.At {
				if math.Abs(at-o.Drawn) < math.Abs(near-o.Drawn) {
					near = at
				}
			}
			other = &near
		}
		for _, p := range s.Places {
			if len(p.At) == len(s.Values) && (other == nil || p.At[1-k] == *other) {
				line = append(line, p)
			}
		}
		for _, curve := range curves(line) {
			x := make([]float64, len(line))
			for i, p := range line {
				x[i] = p.At[k]
			}
			knee := findKnee(x, curve.better)
			knee.judge(x, curve.drawn)
			knee.Of, knee.Load, knee.Along, knee.AtOther = stiffnessWord, curve.load, v.Name, other
			if curve.load != nil {
				knee.Of = *curve.load
			}
			s.Knees = append(s.Knees, knee)
		}
	}
}

// stiffnessWord is what a knee of the tip's least stiffness is called. A load may have the same name.
const stiffnessWord = "stiffness"

// curve is something that gets better as it grows: a stiffness, or a movement with its sign turned.
type curve struct {
	load   *string // whose movement it is; nil: the stiffness
	better []float64
	drawn  [][]float64 // of each place, in as many draws as all places have
}

// curves are what is followed along a line of places: the least stiffness and the movement under each load on the tip.
// A load that is not there everywhere has no curve.
func curves(line []SweptStep) (list []curve) {
	if len(line) == 0 || slices.ContainsFunc(line, func(p SweptStep) bool { return p.Tip == nil }) {
		return nil
	}
	stiffness := curve{}
	for _, p := range line {
		stiffness.better = append(stiffness.better, p.Tip.StiffnessNPerUm.Softest)
		stiffness.drawn = append(stiffness.drawn, p.SoftestNPerUm)
	}
	list = append(list, stiffness.cut(1))
	for _, l := range line[0].Loads {
		if !l.OnTip {
			continue
		}
		c := curve{load: &l.Name}
		for _, p := range line {
			if o := p.Load(l.Name); o != nil && o.TipSizeUm != nil {
				c.better = append(c.better, -*o.TipSizeUm)
				c.drawn = append(c.drawn, o.DrawnUm)
			}
		}
		if len(c.better) == len(line) {
			list = append(list, c.cut(-1))
		}
	}
	return list
}

// cut keeps as many draws as all places have, with their sign.
func (c curve) cut(sign float64) curve {
	draws := len(slices.MinFunc(c.drawn, func(a, b []float64) int { return cmp.Compare(len(a), len(b)) }))
	kept := make([][]float64, len(c.drawn))
	for i, values := range c.drawn {
		for _, v := range values[:draws] {
			kept[i] = append(kept[i], sign*v)
		}
	}
	c.drawn = kept
	return c
}

// Load is the load of a name; nil when it is not there.
func (p *SweptStep) Load(name string) *SweptLoad {
	for i := range p.Loads {
		if p.Loads[i].Name == name {
			return &p.Loads[i]
		}
	}
	return nil
}
