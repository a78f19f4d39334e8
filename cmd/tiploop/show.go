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
on and its screws, the grounds, and how many holes and drilling operations all that takes. --out draws
front, side and top views. One option at a time; without --option, the model as it is drawn.`,
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

func runShow(_ context.Context, s streams, o *modelOptions) error {
	if err := o.check(); err != nil {
		return err
	}
	if o.options == nil {
		o.options = []string{machine.AsDrawn}
	}
	if len(o.options) > 1 {
		return misuse("show takes one option at a time")
	}
	doc, options, err := o.read()
	if err != nil {
		return err
	}
	m, model, err := build(doc, options[0])
	if err != nil {
		return err
	}
	inventory := model.Inventory()
	return o.write(s, form{
		text:    func(w io.Writer) error { return report.WriteShow(w, inventory) },
		csv:     func(w io.Writer) error { return report.WriteShowCSV(w, inventory) },
		json:    inventory,
		picture: func() (*report.Picture, error) { return report.DrawingPicture(m, inventory) },
	})
}
