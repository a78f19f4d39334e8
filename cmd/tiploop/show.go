package main

import (
	"context"
	"io"

	"github.com/spf13/cobra"

	"tiploop/frame/machine"
	"tiploop/report"
)

func newShow(s streams) *cobra.Command {
	o := &modelOptions{}
	cmd := &cobra.Command{
		Use:   "show <model.yaml>",
		Short: "What is in the model: parts, joints, holes, mass, a drawing",
		Long: `What is in the model: each part with its size and mass, each joint with the face it was found to touch
on and its screws, the grounds, how many holes and drilling operations all that takes, and how far the
loads are from making a part yield. --out draws front, side and top views. One option at a time; without
--option, the model as it is drawn.`,
		Example: `  tiploop show mill.yaml
  tiploop show mill.yaml --option 'long bed' --out mill.pdf`,
		RunE: func(cmd *cobra.Command, args []string) error {
			o.path = args[0]
			return runShow(cmd.Context(), s, o)
		},
	}
	o.addTo(cmd, "a drawing of front, side and top views")
	return cmd
}

func runShow(ctx context.Context, s streams, o *modelOptions) error {
	if err := o.check(); err != nil {
		return err
	}
	if o.options == nil {
		o.options = []string{machine.AsDrawn}
	}
	if o.detail == bothDetails {
		return misuse("show takes one detail at a time: section or solid")
	}
	if len(o.options) > 1 {
		return misuse("show takes one option at a time")
	}
	doc, options, err := o.read()
	if err != nil {
		return err
	}
	bar := newProgress(s)
	m, inventory, err := showOne(ctx, o, doc, options[0], bar)
	bar.clear()
	if err != nil {
		return err
	}
	return o.write(s, form{
		text:    func(w io.Writer) error { return report.WriteShow(w, inventory) },
		csv:     func(w io.Writer) error { return report.WriteShowCSV(w, inventory) },
		json:    inventory,
		picture: func() (*report.Picture, error) { return report.DrawingPicture(m, inventory) },
	})
}

// showOne lists what is in the model of one option, with the stresses under its loads.
func showOne(ctx context.Context, o *modelOptions, doc *machine.Document, option string, bar *progress) (*machine.Machine, machine.Inventory, error) {
	bar.of = 1
	var m *machine.Machine
	inventory, err := atOnce(ctx, func() (machine.Inventory, error) {
		by := &machine.Builder{Detail: detailsOf[o.detail][0], Mesh: o.mesh, Progress: bar.within}
		drawn, model, err := build(ctx, by, doc, option)
		if err != nil {
			return machine.Inventory{}, err
		}
		result, err := model.Solve(machine.TipOnly)
		if err != nil {
			return machine.Inventory{}, err
		}
		m = drawn
		inventory := model.Inventory()
		inventory.Stress = machine.WorstStresses(result.Stress)
		return inventory, nil
	})
	return m, inventory, err
}
