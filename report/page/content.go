package page

import (
	"errors"
	"fmt"
	"slices"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
	"tiploop/report"
	"tiploop/report/number"
)

// Content is all that a page is made of.
type Content struct {
	Answer   answer.Answer // of compare, travel and tip at once: every option in full
	Drawn    []Drawn       // the machine of each option of the answer, in its order
	Scene    []byte        // of the machine in three dimensions, by scene.Data; nil: the page has the still drawing alone
	Source   Source        // the model file; without text the page leaves it out
	Version  string        // of the program
	Sections []string      // the names of those that the page has; none: all that have something to tell
}

// Drawn is the machine of one option and what is in it.
type Drawn struct {
	Machine   *machine.Machine
	Inventory answer.Inventory
	Shape     *answer.Shape // what it looks like; nil: the page has front, side and top views alone
}

// Source is a model file.
type Source struct {
	Name string // without folders
	Text string
}

// picked is the number of the option that the page is about.
func (c Content) picked() int { return report.Picked(c.Answer) }

// result, machine and inventory are those of the option that the page is about.
func (c Content) result() answer.Result       { return c.Answer.Options[c.picked()] }
func (c Content) machine() *machine.Machine   { return c.Drawn[c.picked()].Machine }
func (c Content) inventory() answer.Inventory { return c.Drawn[c.picked()].Inventory }

// several tells whether there are options to choose from.
func (c Content) several() bool { return len(c.Answer.Options) > 1 }

// note is the builder's own text in a section; "" where there is none.
func (c Content) note(section string) string {
	for _, n := range c.machine().Notes {
		if n.Section == section {
			return n.Text
		}
	}
	return ""
}

// check finds what keeps a content from being a page.
func (c Content) check() error {
	if len(c.Answer.Options) == 0 || len(c.Drawn) != len(c.Answer.Options) {
		return fmt.Errorf("page: %d machines for %d options", len(c.Drawn), len(c.Answer.Options))
	}
	for _, d := range c.Drawn {
		if d.Machine == nil {
			return errors.New("page: an option has no machine")
		}
		if err := number.CheckFinite(d.Inventory); err != nil {
			return err
		}
	}
	for _, name := range c.Sections {
		if !slices.Contains(Names(), name) {
			return fmt.Errorf("page: no section %q", name)
		}
	}
	return errors.Join(number.CheckFinite(c.Answer), report.CheckTravels(c.Answer))
}
