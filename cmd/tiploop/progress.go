package main

import (
	"io"
	"sync"
	"time"

	"github.com/schollz/progressbar/v3"
)

// patience is how long work may last before its progress is shown.
const patience = 500 * time.Millisecond

// The bar's words and cells: with the percentage and the frame they are 76 columns, which fit a terminal of 80.
const (
	barWords = 34
	barCells = 30
)

// perModel is how many steps of the bar one model takes.
const perModel = 1000

// progress is a bar on a terminal, and nothing where there is none. It appears once patience is over, whatever the work
// has told by then.
type progress struct {
	mu       sync.Mutex
	out      io.Writer // nil: not a terminal, or cleared for good
	timer    *time.Timer
	late     bool // patience is over
	bar      *progressbar.ProgressBar
	done, of int    // models answered, and all of them
	step     int    // of perModel times all models
	words    string // what is worked on
}

func newProgress(s streams) *progress {
	p := &progress{}
	if s.errIsTTY {
		p.out = s.err
		p.timer = time.AfterFunc(patience, p.appear)
	}
	return p
}

// appear is called when patience is over.
func (p *progress) appear() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.late = true
	p.draw()
}

// begin says how many models are worked on.
func (p *progress) begin(models int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.of = models
}

// on says for which option the next model is worked on.
func (p *progress) on(option string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.words = shortened("solving "+option, barWords)
	if p.out != nil && p.bar != nil {
		p.bar.Describe(p.words)
	}
}

// shortened cuts words to so many characters.
func shortened(words string, most int) string {
	if r := []rune(words); len(r) > most {
		return string(r[:most-1]) + "…"
	}
	return words
}

// within tells how far the present model is.
func (p *progress) within(done, total int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if total > 0 { // a model of bars has no solid bodies
		p.step = p.done*perModel + perModel*done/total
	}
	p.draw()
}

// next says that a model is answered.
func (p *progress) next() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.done++
	p.step = p.done * perModel
	p.draw()
}

func (p *progress) draw() {
	if p.out == nil || !p.late || p.of == 0 {
		return
	}
	if p.bar == nil {
		p.bar = progressbar.NewOptions(p.of*perModel, progressbar.OptionSetWriter(p.out), progressbar.OptionClearOnFinish(),
			progressbar.OptionSetDescription(p.words), progressbar.OptionSetWidth(barCells),
			progressbar.OptionSetElapsedTime(false), progressbar.OptionSetPredictTime(false))
		_ = p.bar.RenderBlank() // a bar that cannot be drawn is no reason to stop
	}
	_ = p.bar.Set(p.step)
}

// clear takes the bar away for good: work that was left alone may still report.
func (p *progress) clear() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.timer != nil {
		p.timer.Stop()
	}
	if p.bar != nil {
		_ = p.bar.Clear()
	}
	p.out = nil
}
