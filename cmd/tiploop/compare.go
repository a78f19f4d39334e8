package main

import (
	"github.com/spf13/cobra"

	"tiploop/frame/structure"
	"tiploop/report"
)

func newCompare(s streams) *cobra.Command {
	o := &modelOptions{stdin: s.in}
	cmd := &cobra.Command{
		Use:   "compare <model.yaml>",
		Short: "Options side by side: what each gains and costs",
		Long: `What does each option of the model gain and cost against the first: tip stiffness by direction, movement
by load, travel within tolerance, mass, holes and drilling operations? Which is the better buy?`,
		Example: `  tiploop compare mill.yaml
  tiploop compare mill.yaml --option 'plain column' --option 'braced column' --out compare.png`,
		RunE: func(cmd *cobra.Command, args []string) error {
			o.path = args[0]
			return o.answer(cmd.Context(), s, answerForms{structure.FullTravel, report.WriteCompare, report.WriteCompareCSV,
				report.ComparePicture})
		},
	}
	o.addTo(cmd, "a picture of the options side by side", detailNames...)
	return cmd
}
