package screen

import (
	"cmp"
	"fmt"
	"io"
	"maps"
	"slices"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/table"
	"tiploop/report/wrap"
)

// tipBlocks are what a screen says of one option, in its order.
var tipBlocks = []func(*sheet, answer.Result){(*sheet).does, (*sheet).cuts, (*sheet).why, (*sheet).changes, (*sheet).limits,
	(*sheet).check, (*sheet).sure}

// Tip writes a screen for each option of an answer: how far the tip moves, why, what to change next, what is near a limit,
// how to check it with a dial and how sure that is. Others are options that the answer is not for; tables are
// those that there are of an option.
func Tip(w io.Writer, a answer.Answer, others []string, tables func(answer.Result) []string) error {
	if err := number.CheckFinite(a); err != nil {
		return err
	}
	for i, r := range a.Options {
		if i > 0 {
			if _, err := io.WriteString(w, "\n"); err != nil {
				return err
			}
		}
		err := fill(w, a.Asks, func(s *sheet) {
			s.Title(wrap.OneLine(a.Machine) + ": " + wrap.OneLine(r.Name))
			s.standing(r.AtMM)
			for _, block := range tipBlocks {
				block(s, r)
			}
			s.more(tables(r))
			s.otherOptions(others)
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// standing says where the axes stand.
func (s *sheet) standing(at map[string]float64) {
	var words []string
	for _, name := range slices.Sorted(maps.Keys(at)) {
		words = append(words, wrap.OneLine(name)+" "+number.Length(at[name]))
	}
	if words != nil {
		s.Say("Axes at " + phrase.List(words) + " mm.")
	}
}

// otherOptions names those that the answer is not for.
func (s *sheet) otherOptions(names []string) {
	if len(names) == 0 {
		return
	}
	most := s.of(6, 2)
	var words []string
	for _, name := range names[:min(len(names), most)] {
		words = append(words, phrase.Quoted(name))
	}
	if more := len(names) - most; more > 0 {
		words = append(words, fmt.Sprintf("%d more", more))
	}
	s.Item("  ", "Other options, by "+s.asks.ForOption()+": "+phrase.List(words)+".")
}

// does says how far each load moves the tip, or where there is no tool the point that moves farthest, and how stiff the tip
// is.
func (s *sheet) does(r answer.Result) {
	heading, loads := "How far the tip moves against the work", r.Loads
	if r.Tip == nil {
		heading = "How far the points move; there is no tool"
	}
	loads = slices.Clone(slices.DeleteFunc(slices.Clone(loads), func(l answer.LoadResult) bool { return ofCut(r, l.Name) }))
	slices.SortStableFunc(loads, func(a, b answer.LoadResult) int {
		return cmp.Compare(number.AsWritten(reach(b)), number.AsWritten(reach(a)))
	})
	most := s.of(6, 5)
	var rows [][]string
	for _, l := range loads[:min(len(loads), most)] {
		if row := s.loadRow(r, l); row != nil {
			rows = append(rows, row)
		}
	}
	if len(rows) > 0 || r.Tip != nil {
		s.Heading(heading)
	} else {
		s.Line("")
		s.Say("There is no tool, and no load moves a point.")
	}
	s.List([]table.Column{table.Named(""), table.Measured(""), table.Named("")}, rows)
	if more := len(loads) - most; more > 0 {
		s.Item("  ", fmt.Sprintf("%d more move less: %s loads.", more, s.asks.ForTables()))
	}
	s.stiffness(r)
}

// ofCut tells whether a load is the peak of a cut, which has lines of its own.
func ofCut(r answer.Result, load string) bool {
	return slices.ContainsFunc(r.Cuts, func(c answer.CutResult) bool { return c.Load == load })
}

// reach is how far a load moves the tip, or without a tool the point that moves farthest, µm.
func reach(l answer.LoadResult) float64 {
	if l.TipUm != nil {
		return number.Norm(*l.TipUm)
	}
	_, um := farthest(l)
	return number.Norm(um)
}

// farthest is the point that a load moves farthest, the first of equals by name; "" without points.
func farthest(l answer.LoadResult) (name string, um [3]float64) {
	for _, n := range slices.Sorted(maps.Keys(l.PointsUm)) {
		if v := l.PointsUm[n]; name == "" || number.Exceeds(number.Norm(v), number.Norm(um)) {
			name, um = n, v
		}
	}
	return name, um
}

// loadRow is a load with how far and which way it moves the tip, what that loses to play, and of a load that does not push
// the tip the point that it moves farthest.
func (s *sheet) loadRow(r answer.Result, l answer.LoadResult) []string {
	point, um := farthest(l)
	if l.TipUm == nil {
		if point == "" {
			return nil
		}
		return []string{wrap.OneLine(l.Name), phrase.Ranged(number.Norm(um), r.MovementRange(l.Name, point), "µm"),
			"point " + phrase.Point(r, point) + ", " + phrase.ShortWay(um)}
	}
	size := number.Norm(*l.TipUm)
	way := phrase.ShortWay(*l.TipUm)
	if size < number.Noise {
		way = ""
	}
	if l.LostMotionSizeUm != nil && *l.LostMotionSizeUm >= number.Noise {
		way += fmt.Sprintf(", and %s µm by play", number.Significant(*l.LostMotionSizeUm))
	}
	if far := number.Norm(um); !l.OnTip && far >= number.Noise {
		way += fmt.Sprintf("; point %s %s", phrase.Point(r, point), phrase.Ranged(far, r.MovementRange(l.Name, point), "µm"))
	}
	return []string{wrap.OneLine(l.Name), phrase.Ranged(size, r.MovementRange(l.Name, ""), "µm"), way}
}

// plainPush is the push, in N, by which a stiffness is put in words: about what a hand on the spindle gives.
const plainPush = 100

// stiffness says which way the tip is softest, and how stiff it is along the axes.
func (s *sheet) stiffness(r answer.Result) {
	if r.Tip == nil {
		return
	}
	k := r.Tip.StiffnessNPerUm
	one := func(v float64, direction string) string { return phrase.Ranged(v, r.StiffnessRange(direction), "") }
	s.Item("  ", fmt.Sprintf("Stiffness x %s, y %s, z %s N/µm.", one(k.X, "x"), one(k.Y, "y"), one(k.Z, "z")))
	words := fmt.Sprintf("Softest %s, %s N/µm", phrase.Line(k.SoftestDirection), one(k.Softest, "softest"))
	if k.Softest > 0 {
		words += fmt.Sprintf(": a push of %d N moves it %s µm", plainPush, number.Digits(plainPush/k.Softest, phrase.RangedDigits))
	}
	s.Item("  ", words+".")
}
