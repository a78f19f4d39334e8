package main

import (
	"io"

	"github.com/spf13/cobra"

	"tiploop/frame/answer"
	"tiploop/frame/structure"
	"tiploop/report"
	"tiploop/report/screen"
)

func newTip(s streams) *cobra.Command {
	o := &modelOptions{next: true, oneFirst: true, stdin: s.in, tables: &tablesAsked{}}
	cmd := &cobra.Command{
		Use:   "tip <model.yaml>",
		Short: "How far the tool tip moves, and whose fault it is",
		Long: `How far does the tool tip move against the work under each load, in which direction is the machine
softest, which part, joint or ground gives way most, and what is best stiffened next? Do screws slip or open,
do guides, drives and motors bear their loads, what does play cost, what do parts out of line lock in?
Without a tool: how far do the points move? The answer is one screen for the file's first option, or for
those asked for; --all prints everything for every option, --show some of the tables.`,
		Example: `  tiploop tip mill.yaml
  tiploop tip mill.yaml --option 'braced column' --out shares.svg
  tiploop tip mill.yaml --show shares,screws`,
		RunE: func(cmd *cobra.Command, args []string) error {
			o.path = args[0]
			return o.answer(cmd.Context(), s, answerForms{structure.TipOnly, o.writeTip, report.WriteTipCSV,
				report.SharesPicture})
		},
	}
	o.addTo(cmd, "a bar chart of who gives way", detailNames...)
	o.tables.addTo(cmd, report.TipTables())
	return cmd
}

// writeTip writes the screen, or what else is asked for.
func (o *modelOptions) writeTip(w io.Writer, a answer.Answer) error {
	if o.tables.screen() {
		return screen.Tip(w, a, o.others, report.TipTablesOf)
	}
	return report.WriteTip(w, a, o.tables.show...)
}
