package page

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report"
	"tiploop/report/number"
	"tiploop/report/paper"
	"tiploop/report/phrase"
	"tiploop/report/screen"
	"tiploop/report/table"
	"tiploop/report/wrap"
)

// part gives the blocks of a screen's block for the option that the page is about, without its heading.
func (c Content) part(name string) ([]Block, error) {
	blocks, err := blocksOf(func(w io.Writer) error { return screen.Part(w, name, c.result(), answer.Asks{}) })
	if len(blocks) > 0 {
		switch first := &blocks[0]; {
		case first.Table != nil:
			first.Table.Caption = ""
		case first.Items == nil:
			blocks = blocks[1:]
		}
	}
	return blocks, err
}

// tipTables gives some tables of tip for that option, as far as they have something to tell.
func (c Content) tipTables(names ...string) ([]Block, error) {
	r := c.result()
	known := report.TipTablesOf(r)
	names = slices.DeleteFunc(slices.Clone(names), func(n string) bool { return !slices.Contains(known, n) })
	if len(names) == 0 {
		return nil, nil
	}
	one := answer.Answer{Machine: c.Answer.Machine, Detail: c.Answer.Detail, Options: []answer.Result{r}}
	return blocksOf(func(w io.Writer) error { return report.WriteTip(w, one, names...) })
}

// loads is how far each load moves the tip.
func loads(c Content) (Section, error) {
	r := c.result()
	s := Section{Heading: "No load moves anything"}
	blocks, err := c.part(screen.Loads)
	if err != nil {
		return s, err
	}
	for i := range blocks {
		if t := blocks[i].Table; t != nil {
			t.Columns = []table.Column{table.Named("load"), table.Measured("moves the tip (nine of ten such machines)"),
				table.Named("which way")}
			if r.Tip == nil {
				t.Columns[1] = table.Measured("moves the point (nine of ten such machines)")
			}
		}
	}
	if r.Tip != nil {
		k := r.Tip.StiffnessNPerUm
		s.Heading = fmt.Sprintf("The tip is softest %s: %s N/µm", phrase.Line(k.SoftestDirection), number.Digits(k.Softest, 2))
	} else if len(blocks) > 0 && blocks[0].Table != nil && len(blocks[0].Table.Rows) > 0 {
		first := blocks[0].Table.Rows[0]
		s.Heading = fmt.Sprintf("%s moves farthest: %s", phrase.Quoted(first[0]), first[1])
	}
	more, err := c.tipTables("stiffness", "loads", "points", "play", "bars", "grounds")
	s.Blocks = append(blocks, folded("Components, points and play", more)...)
	return s, err
}

// cuts is what each cut leaves on the work.
func cuts(c Content) (Section, error) {
	if len(c.result().Cuts) == 0 {
		return Section{}, nil
	}
	blocks, err := c.part(screen.Cuts)
	if err != nil {
		return Section{}, err
	}
	s := Section{Heading: cutInWords(screen.CutsOf(c.result())[0]), Blocks: blocks}
	more, err := c.tipTables("cuts")
	s.Blocks = append(s.Blocks, folded("Each cut in full", more)...)
	return s, err
}

// cutInWords is what a cut costs in a line: what is beyond its tolerance, or else how far the tip moves.
func cutInWords(cut screen.Cut) string {
	says := cut.Moves
	if cut.Beyond && cut.Surface != "" {
		says = cut.Surface
	}
	return phrase.Capital(phrase.Quoted(cut.Name) + ": " + says)
}

// options are those of the file, side by side.
func options(c Content) (Section, error) {
	if !c.several() {
		return Section{}, nil
	}
	s := Section{Heading: "The options differ in nothing that was compared"}
	if most := report.MostDifferent(c.Answer); most != "" {
		s.Heading = "The options differ most in " + most
	}
	var err error
	s.Blocks, err = blocksOf(func(w io.Writer) error { return report.WriteCompareTables(w, c.Answer, "options") })
	return s, err
}

// mostCurves is how many options are drawn over each other; of more, the one of the page and the file's first are.
const mostCurves = 3

// places is the movement of the tip along paths and axes and over planes.
func places(c Content) (Section, error) {
	r := c.result()
	if len(r.Travel)+len(r.Straight)+len(r.Maps) == 0 {
		return Section{}, nil
	}
	a := c.Answer
	if len(a.Options) > mostCurves {
		a.Options = a.Options[:1:1]
		if c.picked() != 0 {
			a.Options = append(a.Options, r)
		}
	}
	s := Section{Heading: c.along()}
	picture, err := report.TravelPicture(a)
	if nothing := paper.NothingToDraw(""); err != nil && !asNothing(err, &nothing) {
		return s, err
	} else if err == nil {
		s.Blocks = append(s.Blocks, Block{Figure: &Figure{Name: "places", Picture: picture,
			Words: "The movement of the tool tip along its travel. " + s.Heading + ". The numbers stand below the picture."}})
	}
	one := answer.Answer{Machine: a.Machine, Detail: a.Detail, Options: []answer.Result{r}}
	more, err := blocksOf(func(w io.Writer) error { return report.WriteTravel(w, one, report.TravelTablesOf(r)...) })
	s.Blocks = append(s.Blocks, folded("The numbers"+c.of(), more)...)
	return s, err
}

// along says the most telling of the travels.
func (c Content) along() string {
	r, what := c.result(), "The tip"
	if c.several() {
		what = phrase.Quoted(r.Name)
	}
	if t, ok := report.TightestTravel(r); ok {
		return report.KeepsTolerance(what, t)
	}
	for _, m := range r.Maps {
		for _, l := range m.Loads {
			if l.WithinPercent != nil {
				return fmt.Sprintf("%s keeps %s µm over %s %% of %s under %s", what, number.Given(m.ToleranceUm),
					number.Digits(*l.WithinPercent, 2), wrap.OneLine(m.Name), phrase.Quoted(l.Load))
			}
		}
	}
	if len(r.Travel) > 0 {
		t := r.Travel[0]
		least, most := number.Norm(t.TipUm[0]), 0.0
		for _, um := range t.TipUm {
			least, most = min(least, number.Norm(um)), max(most, number.Norm(um))
		}
		low, high := number.Digits(least, 2), number.Digits(most, 2)
		if low != high {
			high = low + " to " + high
		}
		return fmt.Sprintf("Along %s the tip moves %s µm under %s", wrap.OneLine(t.Path), high, phrase.Quoted(t.Load))
	}
	if len(r.Straight) > 0 {
		st := r.Straight[0]
		return fmt.Sprintf("Axis %s runs straight within %s µm across %s under its own weight", wrap.OneLine(st.Axis),
			number.Digits(st.Um, 2), st.Across)
	}
	return "The softest place of the plane " + wrap.OneLine(r.Maps[0].Name) + " has " +
		number.Digits(r.Maps[0].Softest.Value, 2) + " N/µm"
}

// sentence is a sentence as a heading: it begins with a capital and ends without its stop.
func sentence(s string) string { return phrase.Capital(strings.TrimSuffix(strings.TrimSpace(s), ".")) }
