package main

import (
	"context"
	"slices"
	"time"

	"tiploop/frame/answer"
	"tiploop/frame/chance"
	"tiploop/report/live"
	"tiploop/report/page"
)

// restFor is how long moved numbers must rest before the meshed machine is solved with them.
const restFor = 150 * time.Millisecond

// solveMeshes answers by the meshed model: typical numbers first, then how sure they are, then what to stiffen next.
func (d *desk) solveMeshes(ctx context.Context) {
	s := newSolver()
	for t, ok := next(ctx, d.meshes); ok; t, ok = next(ctx, d.meshes) {
		if t.moved {
			select {
			case <-time.After(restFor):
			case <-t.ctx.Done():
				continue
			case <-ctx.Done():
				return
			}
		}
		if err := d.solve(s, t); err != nil {
			d.failed(t, err)
		}
	}
}

// solve answers for one task.
func (d *desk) solve(s *solver, t task) error {
	// The option that is looked at goes first: the reader has its numbers before the others are solved.
	first, err := s.option(t.ctx, t.now, t.option)
	if err != nil {
		return err
	}
	var file *solvedOption
	var before *answer.Result
	if t.moved {
		if file, err = s.option(t.ctx, t.file, t.option); err != nil {
			return err
		}
		before = file.result
	}
	readout := live.ReadoutOf(live.ByMeshes, first.result, before)
	readout.Pending = live.DrawsFollow
	d.found(t, func(state *live.State) { state.Readout = readout })
	found, list, err := s.typical(t.ctx, t.now)
	if err != nil {
		return err
	}
	i := slices.Index(optionsOf(t.now), t.option)
	if err := d.publish(t, s, list, found, readout); err != nil {
		return err
	}
	var columns chance.Columns
	if found, err = s.surely(t.ctx, found, list, &columns); err != nil {
		return err
	}
	if t.moved { // drawn under the same luck
		drawn := *file.result
		if drawn.Sure, err = file.model.Sure(t.ctx, &columns, &drawn); err != nil {
			return err
		}
		before = &drawn
	}
	readout = live.ReadoutOf(live.ByMeshes, &found.Options[i], before)
	readout.Pending = live.NextFollows
	if err := d.publish(t, s, list, found, readout); err != nil {
		return err
	}
	if found, err = s.next(t.ctx, t.now, found); err != nil {
		return err
	}
	d.found(t, func(state *live.State) { live.TellSteps(state.Values, &found.Options[i]) })
	readout.Pending = ""
	return d.publish(t, s, list, found, readout)
}

// publish puts up what was found for a task.
func (d *desk) publish(t task, s *solver, list []*solvedOption, found answer.Answer, readout live.Readout) error {
	html, err := d.render(t.ctx, s, page.Source{Name: d.state.File, Text: t.now.Text()}, list, found)
	if err != nil {
		return err
	}
	if err := t.ctx.Err(); err != nil {
		return err
	}
	d.found(t, func(state *live.State) {
		d.wall.ShowPage(html)
		state.Readout = readout
	})
	return nil
}
