package main

import (
	"io"
	"sync"
	"time"

	"github.com/schollz/progressbar/v3"
)

// patience is how long work may last before its progress is shown.
const patience = 500 * time.Millisecond

// progress is a bar on a terminal, and nothing where there is none.
type progress struct {
	mu       sync.Mutex
	out      io.Writer // nil: not a terminal
	began    time.Time
	bar      *progressbar.ProgressBar
	done, of int // models answered, and all of them
}

// perModel is how many steps of the bar one model takes.
const perModel = 1000

func newProgress(s streams) *progress {
	p := &progress{began: time.Now()}
	if s.errIsTTY {
		p.out = s.err
	}
	return p
}

// within tells how far the present model is.
func (p *progress) within(done, total int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.show(p.done*perModel + perModel*done/total)
}

// next says that a model is answered.
func (p *progress) next() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.done++
	p.show(p.done * perModel)
}

func (p *progress) show(step int) {
	if p.out == nil || p.bar == nil && time.Since(p.began) < patience {
		return
	}
	if p.bar == nil {
		p.bar = progressbar.NewOptions(p.of*perModel, progressbar.OptionSetWriter(p.out), progressbar.OptionClearOnFinish(),
			progressbar.OptionSetDescription("reducing solid bodies"), progressbar.OptionSetWidth(30), progressbar.OptionSetElapsedTime(false),
			progressbar.OptionSetPredictTime(false))
	}
	_ = p.bar.Set(step) // a bar that cannot be drawn is no reason to stop
}

// clear takes the bar away for good: work that was left alone may still report.
func (p *progress) clear() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.bar != nil {
		_ = p.bar.Clear()
	}
	p.out = nil
}
