package main

import (
	"io"

	"github.com/spf13/cobra"

	"tiploop/frame/answer"
	"tiploop/frame/structure"
	"tiploop/report"
	"tiploop/report/screen"
)

func newCompare(s streams) *cobra.Command {
	o := &modelOptions{stdin: s.in}
	all := false
	cmd := &cobra.Command{
		Use:   "compare <model.yaml>",
		Short: "Options side by side: which to build",
		Long: `What does each option of the model do, which of them is the steadiest, and which gives most for a kilogram and
for an hour at the drill press? How sure is that, and what would settle what is open? The answer is one screen;
--all prints everything: stiffness by direction, movement by load, travel within tolerance, mass, holes.`,
		Example: `  tiploop compare mill.yaml
  tiploop compare mill.yaml --option 'plain column' --option 'braced column' --out compare.png`,
		RunE: func(cmd *cobra.Command, args []string) error {
			o.path = args[0]
			text := func(w io.Writer, a answer.Answer) error { return screen.Compare(w, a, report.MisfitQuantities()) }
			if all {
				text = report.WriteCompare
			}
			if all && (o.json || o.csv) {
				return misuse("--all is for text: JSON and CSV leave nothing out\n\tleave it out")
			}
			return o.answer(cmd.Context(), s, answerForms{structure.FullTravel, text, report.WriteCompareCSV,
				report.ComparePicture})
		},
	}
	o.addTo(cmd, "a picture of the options side by side", detailNames...)
	cmd.Flags().BoolVar(&all, "all", false, "print everything instead of one screen")
	return cmd
}
