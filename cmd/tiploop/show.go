package main

import (
	"context"
	"io"

	"github.com/spf13/cobra"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
	"tiploop/frame/structure"
	"tiploop/report"
	"tiploop/report/drawing"
	"tiploop/report/paper"
)

func newShow(s streams) *cobra.Command {
	o := &modelOptions{}
	cmd := &cobra.Command{
		Use:   "show <model.yaml>",
		Short: "What is in the model: parts, joints, holes, mass, a drawing",
		Long: `What is in the model: each part with its size and mass, each joint with the face it was found to touch
on and its screws, the grounds, the axes with their guides and drives, what hangs on the parts and weighs, how
many holes and drilling operations all that takes, and how far the loads are from making a part yield. --out
draws front, side and top views. One option at a time; without --option, the model as it is
drawn, and what is wrong with any option of it.`,
		Example: `  tiploop show mill.yaml
  tiploop show mill.yaml --option 'long bed' --out mill.pdf`,
		RunE: func(cmd *cobra.Command, args []string) error {
			o.path = args[0]
			return runShow(cmd.Context(), s, o)
		},
	}
	o.addTo(cmd, "a drawing of front, side and top views", solidDetail, sectionDetail)
	return cmd
}

func runShow(ctx context.Context, s streams, o *modelOptions) error {
	if err := o.check(); err != nil {
		return err
	}
	drawn := o.options == nil
	if drawn {
		o.options = []string{structure.AsDrawn}
	}
	if o.detail == bothDetails {
		return misuse("show takes one detail at a time: solid or section")
	}
	if len(o.options) > 1 {
		return misuse("show takes one option at a time")
	}
	bar := newProgress(s)
	found, err := atOnce(ctx, func() (shown, error) {
		found, err := o.show(ctx, bar)
		if err == nil && drawn {
			err = o.checkOptions(ctx)
		}
		return found, err
	})
	bar.clear()
	if err != nil {
		return err
	}
	return o.write(s, form{
		text:    func(w io.Writer) error { return report.WriteShow(w, found.inventory) },
		csv:     func(w io.Writer) error { return report.WriteShowCSV(w, found.inventory) },
		json:    found.inventory,
		picture: func() (*paper.Picture, error) { return drawing.Picture(found.machine, found.inventory) },
	})
}

// shown is what is in the model of one option.
type shown struct {
	machine   *machine.Machine
	inventory answer.Inventory
}

// show lists what is in the model of the one option, with the stresses under its loads.
func (o *modelOptions) show(ctx context.Context, bar *progress) (shown, error) {
	doc, options, err := o.read()
	if err != nil {
		return shown{}, err
	}
	bar.begin(1)
	bar.on(options[0])
	m, model, err := build(ctx, o.builder(bar), doc, options[0])
	if err != nil {
		return shown{}, err
	}
	result, err := model.Solve(structure.TipOnly)
	if err != nil {
		return shown{}, err
	}
	inventory := model.Inventory()
	inventory.Stress = answer.WorstStresses(result.Stress)
	inventory.Notes = append(inventory.Notes, answer.LargeNotes(result.Loads)...)
	return shown{m, inventory}, nil
}

// checkOptions finds what is wrong with any option of the file, as compare does, by the beam model.
func (o *modelOptions) checkOptions(ctx context.Context) error {
	doc, _, err := o.read()
	if err != nil {
		return err
	}
	beams := o.beams()
	for _, option := range doc.OptionNames() {
		if _, err := o.solveBy(ctx, beams, doc, option, structure.TipOnly, nil); err != nil {
			return err
		}
	}
	return nil
}
