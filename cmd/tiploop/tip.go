package main

import (
	"github.com/spf13/cobra"

	"tiploop/frame/structure"
	"tiploop/report"
)

func newTip(s streams) *cobra.Command {
	o := &modelOptions{next: true}
	cmd := &cobra.Command{
		Use:   "tip <model.yaml>",
		Short: "How far the tool tip moves, and whose fault it is",
		Long: `How far does the tool tip move against the work under each load, in which direction is the machine
softest, which part, joint or ground gives way most, and what is best stiffened next? Do screws slip or open,
do guides, drives and motors bear their loads, what does play cost, what do parts out of line lock in?
Without a tool: how far do the points move?`,
		Example: `  tiploop tip mill.yaml
  tiploop tip mill.yaml --option 'gussets' --out shares.svg`,
		RunE: func(cmd *cobra.Command, args []string) error {
			o.path = args[0]
			return o.answer(cmd.Context(), s, answerForms{structure.TipOnly, report.WriteTip, report.WriteTipCSV,
				report.SharesPicture})
		},
	}
	o.addTo(cmd, "a bar chart of who gives way", detailNames...)
	return cmd
}
