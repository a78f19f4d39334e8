package main

import (
	"context"
	"io"

	"github.com/spf13/cobra"

	"tiploop/frame/machine"
	"tiploop/report"
)

func newCompare(s streams) *cobra.Command {
	o := &modelOptions{}
	cmd := &cobra.Command{
		Use:   "compare <model.yaml>",
		Short: "Options side by side: what each gains and costs",
		Long: `What does each option of the model gain and cost against the first: tip stiffness by direction, movement
by load, travel within tolerance, mass, holes and drilling operations? Which is the better buy?`,
		Example: `  tiploop compare mill.yaml
  tiploop compare mill.yaml --option 'short bed' --option 'long bed' --out compare.png`,
		RunE: func(cmd *cobra.Command, args []string) error {
			o.path = args[0]
			return runCompare(cmd.Context(), s, o)
		},
	}
	o.addTo(cmd, "a picture of the options side by side")
	return cmd
}

func runCompare(ctx context.Context, s streams, o *modelOptions) error {
	if err := o.check(); err != nil {
		return err
	}
	answer, err := o.solve(ctx, machine.FullTravel)
	if err != nil {
		return err
	}
	return o.write(s, form{
		text:    func(w io.Writer) error { return report.WriteCompare(w, answer) },
		csv:     func(w io.Writer) error { return report.WriteCompareCSV(w, answer) },
		json:    answer,
		picture: func() (*report.Picture, error) { return report.ComparePicture(answer) },
	})
}
