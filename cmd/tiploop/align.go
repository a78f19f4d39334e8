package main

import (
	"context"
	"errors"

	"github.com/spf13/cobra"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
	"tiploop/frame/structure"
	"tiploop/report"
)

func newAlign(s streams) *cobra.Command {
	o := &modelOptions{align: true, stdin: s.in}
	cmd := &cobra.Command{
		Use:   "align <model.yaml>",
		Short: "What must be aligned first, and what parts out of line lock in",
		Long: `Supports and rails never end up quite in line. Which hundredths matter? Every foot, rail, carriage, nut
and bearing is tried out of place, along the whole travel of its axis: how far may it be before something
takes a tenth of its rating, uses up its preload, or the tip leaves its tolerance? In which order to tighten,
and what does an indicator show meanwhile? And of the misfits that the file names: what do they lock in,
what do they cost in life, where does an axis bind, what does a shim do?`,
		Example: `  tiploop align mill.yaml
  tiploop align mill.yaml --csv`,
		RunE: func(cmd *cobra.Command, args []string) error {
			o.path = args[0]
			if o.detail == bothDetails {
				return misuse("align takes one detail at a time: solid or section")
			}
			return o.answer(cmd.Context(), s, answerForms{structure.TipOnly, report.WriteAlign, report.WriteAlignCSV,
				report.AlignPicture})
		},
	}
	o.addTo(cmd, "what may be out of place by how much", solidDetail, sectionDetail)
	return cmd
}

// alignBy answers for one option by one builder.
func (o *modelOptions) alignBy(ctx context.Context, by *structure.Builder, doc *modelfile.Document,
	option string) (*answer.Result, error) {
	name := drawnName(doc, option)
	m, err := doc.Machine(name)
	var r *answer.Result
	if err == nil {
		r, err = by.Align(ctx, m)
	}
	var faults machine.Faults
	switch {
	case errors.As(err, &faults):
		return nil, unbuilt(ctx, by, doc, name, err)
	case err != nil:
		return nil, ofOption(option, err)
	}
	return r, nil
}
