package main

import (
	"context"

	"tiploop/frame/answer"
	"tiploop/frame/modelfile"
	"tiploop/frame/structure"
	"tiploop/report/live"
)

// solveBeams answers by the beam model for what is being moved, at once.
func (d *desk) solveBeams(ctx context.Context) {
	by := &structure.Builder{Detail: structure.Section}
	var file beamAnswer
	for t, ok := next(ctx, d.beams); ok; t, ok = next(ctx, d.beams) {
		// Not with the task's context: what moves faster than it can be solved would have no answer until it rests.
		err := file.be(ctx, by, t.file, t.option)
		var now beamAnswer
		if err == nil {
			err = now.be(ctx, by, t.now, t.option)
		}
		by.Forget(roundsOfWork)
		if err == nil { // else the meshed model meets the same and says so
			d.foundByBeams(t, live.ReadoutOf(live.ByBeams, now.result, file.result))
		}
	}
}

// foundByBeams tells what the beam model says of numbers that are moving, or moved a moment ago: as long as the meshed one
// has not answered.
func (d *desk) foundByBeams(t task, readout live.Readout) {
	d.mu.Lock()
	defer d.mu.Unlock()
	s := &d.state
	if t.file != d.doc || t.option != s.Option || len(d.moved) == 0 || s.Readout.Pending != live.MeshesFollow {
		return
	}
	readout.Pending = live.MeshesFollow
	s.Readout = readout
	d.show()
}

// beamAnswer is the answer of the beam model for an option of a document.
type beamAnswer struct {
	doc    *modelfile.Document
	option string
	result *answer.Result
}

// be makes it the answer for another one, unless it is that already.
func (b *beamAnswer) be(ctx context.Context, by *structure.Builder, doc *modelfile.Document, option string) error {
	if b.doc == doc && b.option == option {
		return nil
	}
	*b = beamAnswer{}
	m, err := doc.Machine(drawnName(doc, option))
	if err != nil {
		return err
	}
	result, err := by.Answer(ctx, m, structure.TipOnly)
	if err == nil {
		*b = beamAnswer{doc, option, result}
	}
	return err
}
