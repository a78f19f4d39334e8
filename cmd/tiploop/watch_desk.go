package main

import (
	"context"
	"path/filepath"
	"slices"
	"sync"

	"tiploop/frame/answer"
	"tiploop/frame/modelfile"
	"tiploop/report/live"
	"tiploop/report/page"
)

// wall is where a desk puts up what it found.
type wall interface {
	ShowPage(html []byte)
	ShowState(live.State) error
}

// rendering makes the page of a model file, of its machines in the order of its options and of what is known of them.
type rendering func(ctx context.Context, s *solver, source page.Source, list []*solvedOption, found answer.Answer) ([]byte, error)

// desk holds a model file against the numbers that were moved, and has both solved. What is moved while it solves takes
// the place of what was moved before.
type desk struct {
	path   string
	wall   wall
	render rendering

	mu    sync.Mutex
	held  *looked             // the file, good or not; nil: it has not been looked at
	doc   *modelfile.Document // the last that made a machine; nil: there has been none
	fault *live.Fault         // of the file as it is
	moved map[string]float64
	state live.State
	job   int // the last one that was given
	stop  context.CancelFunc

	beams, meshes chan task // what is to be solved next, at most one
}

// task is one thing to solve: the document of the file with the moved numbers in it.
type task struct {
	ctx    context.Context
	job    int
	file   *modelfile.Document
	now    *modelfile.Document
	option string
	moved  bool // now is not file
}

func newDesk(path string) *desk {
	return &desk{path: path, stop: func() {}, moved: map[string]float64{}, beams: make(chan task, 1),
		meshes: make(chan task, 1), state: live.State{File: filepath.Base(path), Options: []string{}, Values: []live.Value{},
			Readout: live.Readout{Rows: []live.Row{}}}}
}

// holds is what the desk takes the file for; another one each time that it takes the file in.
func (d *desk) holds() *looked {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.held
}

// takeInstead is take for one who looked at the file while the desk held that. If it holds something else by now, the
// desk has written meanwhile, and what was seen may be older.
func (d *desk) takeInstead(held *looked, now looked) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.held == held {
		d.takeText(now)
	}
}

// takeText takes in what became of the file, for one that holds the lock.
func (d *desk) takeText(now looked) {
	d.held, d.fault = &now, nil
	if now.gone != nil {
		d.fault = goneFault(d.state.File, now.gone)
		d.show()
		return
	}
	doc, err := now.document(d.state.File)
	if err != nil {
		d.fault = faultOf("The file makes no machine.", err, now.text)
		d.show()
		return
	}
	d.doc = doc
	d.state.Options = optionsOf(doc)
	if !slices.Contains(d.state.Options, d.state.Option) {
		d.state.Option = d.state.Options[0]
		d.moved = map[string]float64{}
	}
	d.give()
}

// Move takes numbers in place of the file's; see [live.Desk].
func (d *desk) Move(_ context.Context, m live.Moved) (int, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.doc == nil {
		return 0, live.Refusal("there is no machine yet")
	}
	if !slices.Contains(d.state.Options, m.Option) {
		return 0, live.Refusal("the file has no such option any more")
	}
	moved := map[string]float64{}
	for name, at := range m.Values {
		moved[name] = asMeant(at)
	}
	if _, err := d.doc.Rewrite(drawnName(d.doc, m.Option), moved); err != nil {
		return 0, refusalOf(err)
	}
	d.state.Option, d.moved = m.Option, moved
	d.state.Move++
	d.give()
	return d.state.Move, nil
}

// Write puts a number that was moved into the file; see [live.Desk].
func (d *desk) Write(_ context.Context, w live.Written) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	at, moved := d.moved[w.Name]
	switch {
	case !moved:
		return live.Refusal("the file has this number already")
	case d.doc.Text() != string(d.held.text):
		return live.Refusal("the file has a fault: mend that first")
	case d.state.Readout.Trouble != nil:
		return noMachine(d.state.Readout.Trouble)
	}
	doc, err := d.doc.Rewrite(drawnName(d.doc, d.state.Option), map[string]float64{w.Name: at})
	if err != nil {
		return refusalOf(err)
	}
	// The other numbers that were moved stay out of the file: alone this one must make a machine, under every option.
	now := looked{text: []byte(doc.Text())}
	if _, err := now.document(d.state.File); err != nil {
		return noMachine(faultOf("With this number alone the file makes no machine.", err, nil))
	}
	if err := writeBack(d.path, d.held.text, now.text); err != nil {
		return err
	}
	d.takeText(now)
	return nil
}

// give has the file solved with the moved numbers in it, and leaves what it was at.
func (d *desk) give() {
	d.stop()
	d.job++
	now, err := d.standing()
	d.state.Readout.Pending, d.state.Readout.Trouble = live.MeshesFollow, nil
	if err != nil {
		d.state.Readout.Pending = ""
		d.state.Readout.Trouble = faultOf(numbersMakeNone, err, nil)
		d.show()
		return
	}
	d.show()
	var ctx context.Context
	ctx, d.stop = context.WithCancel(context.Background())
	t := task{ctx, d.job, d.doc, now, d.state.Option, len(d.moved) > 0}
	put(d.meshes, t)
	if t.moved {
		put(d.beams, t)
	}
}

// numbersMakeNone is the title of what is wrong with the numbers that were moved.
const numbersMakeNone = "These numbers make no machine."

// put gives a worker something to do next in place of what it was to do next.
func put(to chan task, t task) {
	select {
	case <-to:
	default:
	}
	to <- t
}

// next is what a worker is to do next; false when the context is done.
func next(ctx context.Context, from <-chan task) (t task, ok bool) {
	select {
	case t = <-from:
		return t, true
	case <-ctx.Done():
		return t, false
	}
}

// standing lists the values of the option, drops what was moved to where it was, or is no value any more, and gives the
// document with the rest in it.
func (d *desk) standing() (*modelfile.Document, error) {
	option := drawnName(d.doc, d.state.Option)
	written, err := d.doc.Written(option)
	if err != nil {
		return nil, err
	}
	moved := map[string]float64{}
	d.state.Values = []live.Value{}
	for _, w := range written {
		v := sliderOf(w)
		if at, ok := d.moved[w.Name]; ok && at != asMeant(w.At) {
			v.At = at
			moved[w.Name] = at
		}
		d.state.Values = append(d.state.Values, v)
	}
	d.moved = moved
	if len(moved) == 0 {
		return d.doc, nil
	}
	return d.doc.Rewrite(option, moved)
}

// show puts up the state; of one that cannot be shown, why not.
func (d *desk) show() {
	d.state.Fault = d.fault
	s := d.state
	s.Values, s.Options = slices.Clone(s.Values), slices.Clone(s.Options)
	if err := d.wall.ShowState(s); err != nil {
		s.Values, s.Readout = []live.Value{}, live.Readout{Rows: []live.Row{}}
		s.Fault = faultOf("The numbers of the file cannot be shown.", err, nil)
		_ = d.wall.ShowState(s) // which has no numbers
	}
}

// found changes the state by what a task found, unless there is a newer one.
func (d *desk) found(t task, change func(*live.State)) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if t.job == d.job {
		change(&d.state)
		d.show()
	}
}

// failed says that a task's numbers make no machine. Of the file's own that is a fault of the file.
func (d *desk) failed(t task, err error) {
	if t.ctx.Err() != nil {
		return
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	if t.job != d.job {
		return
	}
	d.state.Readout.Pending = ""
	if t.moved {
		d.state.Readout.Trouble = faultOf(numbersMakeNone, err, nil)
	} else {
		d.fault = faultOf("The file makes no machine that can be solved.", err, d.held.text)
	}
	d.show()
}

// leave stops what is being solved.
func (d *desk) leave() {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.stop()
}
