package main

import (
	"cmp"
	"context"
	"io"

	"github.com/spf13/cobra"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
	"tiploop/frame/structure"
	"tiploop/report"
	"tiploop/report/paper"
	"tiploop/report/screen"
)

func newShow(s streams) *cobra.Command {
	o := &modelOptions{stdin: s.in, tables: &tablesAsked{}, turns: true}
	bent, sheets := &bending{}, &sheetsAsked{}
	cmd := &cobra.Command{
		Use:   "show <model.yaml>",
		Short: "What is in the model: parts, joints, holes, mass, a drawing",
		Long: `What is in the model: each part with its size and mass, each joint with the face it was found to touch
on and its screws, the grounds, the axes with their guides and drives, what hangs on the parts and weighs, how
many holes and drilling operations all that takes, what there is to saw, and how far the loads are from making a
part yield. --out draws front, side and top views; with --bent, the machine bent by a load, from a corner; into a
.glb it writes the machine bent by each load, for other programs to turn. --sheets writes what is taken to the
drill press. One option at a time; without --option, the model as it is drawn, and what is wrong with any option
of it. The answer is one screen; --all prints everything, --show some of the tables.`,
		Example: `  tiploop show mill.yaml
  tiploop show mill.yaml --option 'braced column' --out mill.pdf
  tiploop show mill.yaml --bent drilling --out bent.svg
  tiploop show mill.yaml --sheets drilling --paper letter`,
		RunE: func(cmd *cobra.Command, args []string) error {
			o.path = args[0]
			return runShow(cmd.Context(), s, o, bent, sheets)
		},
	}
	o.addTo(cmd, "a drawing of front, side and top views", solidDetail, sectionDetail)
	bent.addTo(cmd)
	o.tables.addTo(cmd, report.ShowTables())
	sheets.addTo(cmd)
	return cmd
}

func runShow(ctx context.Context, s streams, o *modelOptions, bent *bending, sheets *sheetsAsked) error {
	if err := cmp.Or(o.check(), sheets.check()); err != nil {
		return err
	}
	if err := bent.check(o.out, o.wantsGLB()); err != nil {
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
		found, doc, err := o.show(ctx, bar)
		if err == nil && drawn {
			err = o.checkOptions(ctx, doc, doc.OptionNames())
		}
		return found, err
	})
	bar.clear()
	if err != nil {
		return err
	}
	if err := sheets.write(found.machine, found.inventory); err != nil {
		return err
	}
	return o.write(s, form{
		text:    func(w io.Writer) error { return o.writeShow(w, found.inventory) },
		csv:     func(w io.Writer) error { return report.WriteShowCSV(w, found.inventory) },
		json:    found.inventory,
		picture: func() (*paper.Picture, error) { return bent.picture(ctx, found) },
		glb:     func() ([]byte, error) { return found.glb(ctx) },
	})
}

// shown is what is in the model of one option.
type shown struct {
	machine   *machine.Machine
	model     *structure.Model
	inventory answer.Inventory
}

// show lists what is in the model of the one option, with the stresses under its loads.
func (o *modelOptions) show(ctx context.Context, bar *progress) (shown, *modelfile.Document, error) {
	doc, options, err := o.read()
	if err != nil {
		return shown{}, nil, err
	}
	bar.begin(1)
	bar.on(options[0])
	m, model, err := build(ctx, o.builder(bar), doc, options[0])
	if err != nil {
		return shown{}, nil, err
	}
	result, err := model.Solve(structure.TipOnly)
	if err != nil {
		return shown{}, nil, err
	}
	return shown{m, model, inventoryOf(model, result)}, doc, nil
}

// inventoryOf is what is in a model, with the stresses of its result.
func inventoryOf(model *structure.Model, result *answer.Result) answer.Inventory {
	inventory := model.Inventory()
	inventory.Stress = answer.WorstStresses(result.Stress)
	inventory.Notes = append(inventory.Notes, answer.LargeNotes(result.Loads)...)
	return inventory
}

// checkOptions finds what is wrong with options that are not answered for, by the beam model.
func (o *modelOptions) checkOptions(ctx context.Context, doc *modelfile.Document, options []string) error {
	for _, option := range options {
		_, model, err := build(ctx, o.beams(), doc, option)
		if err != nil {
			return err
		}
		if _, err := model.SolveContext(ctx, structure.TipOnly); err != nil {
			return ofOption(option, err)
		}
	}
	return nil
}

// writeShow writes the screen, or what else is asked for.
func (o *modelOptions) writeShow(w io.Writer, inv answer.Inventory) error {
	if o.tables.screen() {
		return screen.Show(w, inv, report.ShowTablesOf(inv))
	}
	return report.WriteShow(w, inv, o.tables.show...)
}
