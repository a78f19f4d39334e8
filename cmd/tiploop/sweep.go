package main

import (
	"context"
	"errors"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
	"tiploop/frame/structure"
	"tiploop/report"
	"tiploop/report/paper"
	"tiploop/report/screen"
)

// The bounds of --steps: a curve has two ends, and a grid of the most is many thousands of machines.
const (
	usualSteps = 11
	leastSteps = 2
	mostSteps  = 201
)

// sweepOptions are the flags of sweep.
type sweepOptions struct {
	modelOptions
	ranges []string
	steps  int
}

func newSweep(s streams) *cobra.Command {
	o := &sweepOptions{modelOptions: modelOptions{stdin: s.in, tables: &tablesAsked{}}}
	cmd := &cobra.Command{
		Use:   "sweep <model.yaml> [--value name=from..to]",
		Short: "One value over a range: where does more stop helping?",
		Long: `How stiff is the tool tip, how far does each load move it and what does it cost while one of the file's
values runs over a range, or two over a grid, and where does more of it stop helping? The ends of a range are
numbers or expressions, with units as in the file. Where the file says what a value is worth trying at
(leg: {value: 60 mm, sweep: 40..140 mm}), --value leg takes that, and without --value the one value with a sweep
is taken. Places at which the model is wrong are left out and named.
Over one value everything uncertain is drawn, the same at all places: in how many draws does the place stay
where it is? Over two nothing is drawn.
One option at a time; without --option, the model as it is drawn. The answer is one screen; --all prints
everything, --show some of the tables.`,
		Example: `  tiploop sweep mill.yaml --value reach=100..180 --out reach.svg
  tiploop sweep mill.yaml --value 'reach=10 cm..180 mm' --value bed_length=180..240 --steps 5`,
		RunE: func(cmd *cobra.Command, args []string) error {
			o.path = args[0]
			return runSweep(cmd.Context(), s, o)
		},
	}
	o.addTo(cmd, "a chart (of one value) or contours (of two)", solidDetail, sectionDetail)
	cmd.Flags().StringArrayVar(&o.ranges, "value", nil,
		"a value of the file and the `range` it runs over, name=from..to, or name alone for the file's sweep; may be given twice")
	cmd.Flags().IntVar(&o.steps, "steps", usualSteps, "how `many` places along each range; counts take whole numbers only")
	o.tables.addTo(cmd, report.SweepTables())
	completeFromModel(cmd, "value", cobra.ShellCompDirectiveNoSpace, valueNames)
	return cmd
}

// valueNames are the values of a file that can run over a range, as --value begins.
func valueNames(doc *modelfile.Document) (words []string) {
	values, err := doc.Values("")
	if err != nil {
		return nil
	}
	for _, v := range values {
		if !v.Made {
			words = append(words, v.Name+"=")
		}
	}
	return words
}

// writeSweep writes the screen, or what else is asked for.
func (o *sweepOptions) writeSweep(w io.Writer, s answer.Sweep) error {
	if o.tables.screen() {
		return screen.Sweep(w, s, report.SweepTables())
	}
	return report.WriteSweep(w, s, o.tables.show...)
}

func (o *sweepOptions) check() error {
	if err := o.modelOptions.check(); err != nil {
		return err
	}
	switch {
	case o.detail == bothDetails:
		return misuse("sweep takes one detail at a time: solid or section")
	case len(o.options) > 1:
		return misuse("sweep takes one option at a time")
	case len(o.ranges) > 2:
		return misuse("sweep takes one value or two, not %d", len(o.ranges))
	case o.steps < leastSteps || o.steps > mostSteps:
		return misuse("--steps %d is not between %d and %d", o.steps, leastSteps, mostSteps)
	}
	return nil
}

func runSweep(ctx context.Context, s streams, o *sweepOptions) error {
	if err := o.check(); err != nil {
		return err
	}
	if o.options == nil {
		o.options = []string{structure.AsDrawn}
	}
	bar := newProgress(s)
	found, err := atOnce(ctx, func() (*answer.Sweep, error) { return o.sweep(ctx, bar) })
	bar.clear()
	if err != nil {
		return err
	}
	return o.write(s, form{
		text:    func(w io.Writer) error { return o.writeSweep(w, *found) },
		csv:     func(w io.Writer) error { return report.WriteSweepCSV(w, *found) },
		json:    found,
		picture: func() (*paper.Picture, error) { return report.SweepPicture(*found) },
	})
}

func (o *sweepOptions) sweep(ctx context.Context, bar *progress) (*answer.Sweep, error) {
	doc, options, err := o.read()
	if err != nil {
		return nil, err
	}
	option := drawnName(doc, options[0])
	asked := o.ranges
	if len(asked) == 0 {
		if asked, err = theSwept(doc, option); err != nil {
			return nil, err
		}
	}
	var ranges []*modelfile.Range
	for _, text := range asked {
		r, err := doc.Range(option, text)
		if err != nil {
			return nil, ofValueFlag(err)
		}
		if len(ranges) > 0 && ranges[0].Name == r.Name {
			return nil, misuse("value %s is asked for twice", r.Name)
		}
		ranges = append(ranges, r)
	}
	places := 1
	var values []answer.SweptValue
	for _, r := range ranges {
		at := r.Places(o.steps)
		values = append(values, answer.SweptValue{Name: r.Name, Unit: r.Unit, Whole: r.Whole, Drawn: r.At, At: at})
		places *= len(at)
	}
	bar.begin(places)
	bar.on(options[0])
	draw := func(at []float64) (*machine.Machine, error) { return doc.MachineAt(option, ranges, at) }
	return o.builder(bar).Sweep(ctx, values, draw, bar.next)
}

// theSwept is the one value of a file of which that says what it is worth trying at.
func theSwept(doc *modelfile.Document, option string) ([]string, error) {
	names, err := doc.Swept(option)
	switch {
	case err != nil:
		return nil, err
	case len(names) == 0:
		return nil, misuse("sweep needs a value and its range\n\tfor instance --value gusset_leg=30..130")
	case len(names) > 1:
		return nil, misuse("sweep needs one value: the file has sweeps of %s\n\tfor instance --value %s", strings.Join(names, ", "),
			names[0])
	}
	return names, nil
}

// ofValueFlag says which flag a range that is wrong was given with.
func ofValueFlag(err error) error {
	var wrong *modelfile.RangeError
	if !errors.As(err, &wrong) {
		return err
	}
	for i := range wrong.Faults {
		wrong.Faults[i].File = "--value " + wrong.Faults[i].File
		if wrong.Truth {
			wrong.Faults[i].Hint += ", and use --option"
		}
	}
	return wrong.Faults
}
