package main

import (
	"context"
	"io"

	"github.com/spf13/cobra"

	"tiploop/frame/machine"
	"tiploop/report"
)

func newTravel(s streams) *cobra.Command {
	o := &modelOptions{}
	cmd := &cobra.Command{
		Use:   "travel <model.yaml>",
		Short: "How far the tip moves along the bed",
		Long: `How far does the tip move with the work spot at each place along a path of the model, and over which
stretch does it keep the tolerance?`,
		Example: `  tiploop travel mill.yaml --out bed.svg
  tiploop travel mill.yaml --csv`,
		RunE: func(cmd *cobra.Command, args []string) error {
			o.path = args[0]
			return runTravel(cmd.Context(), s, o)
		},
	}
	o.addTo(cmd, "the movement along each path, all options in one chart,")
	return cmd
}

func runTravel(ctx context.Context, s streams, o *modelOptions) error {
	if err := o.check(); err != nil {
		return err
	}
	answer, err := o.solve(ctx, machine.FullTravel)
	if err != nil {
		return err
	}
	return o.write(s, form{
		text:    func(w io.Writer) error { return report.WriteTravel(w, answer) },
		csv:     func(w io.Writer) error { return report.WriteTravelCSV(w, answer) },
		json:    answer,
		picture: func() (*report.Picture, error) { return report.TravelPicture(answer) },
	})
}
