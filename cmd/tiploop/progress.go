package main

import (
	"io"
	"sync"
	"time"

	"github.com/schollz/progressbar/v3"

	"tiploop/report/wrap"
)

// patience is how long work may last before its progress is shown.
const patience = 500 * time.Millisecond

// The bar's words and cells at most, and what stands round them: a blank, the percentage, the frame and its blanks.
const (
	barWords  = 34
	barCells  = 30
	barAround = 12
)

// usualTerminal is how wide a terminal is taken for that does not say.
const usualTerminal = 80

// barRoom shares out a terminal's width among the bar's words and its cells, one line and less; no cells where there is
// next to no room.
func barRoom(width int) (words, cells int) {
	if width <= 0 {
		width = usualTerminal
	}
	room := max(0, width-barAround-1)
	words = min(barWords, room/2)
	return words, min(barCells, room-words)
}

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
	width    int    // of the terminal; 0: not known
	words    string // what is worked on
}

func newProgress(s streams) *progress {
	p := &progress{width: s.errWidth}
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
	words, _ := barRoom(p.width)
	p.words = shortened("solving "+option, words)
	if p.out != nil && p.bar != nil {
		p.bar.Describe(p.words)
	}
}

// shortened cuts words to so many places on a line.
func shortened(words string, most int) string {
	if wrap.Letters(words) <= most {
		return words
	}
	r := []rune(words)
	for len(r) > 0 && wrap.Letters(string(r)) > most-1 {
		r = r[:len(r)-1]
	}
	return string(r) + "…"
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
	_, cells := barRoom(p.width)
	if p.out == nil || !p.late || p.of == 0 || cells == 0 {
		return
	}
	if p.bar == nil {
		p.bar = progressbar.NewOptions(p.of*perModel, progressbar.OptionSetWriter(p.out), progressbar.OptionClearOnFinish(),
			progressbar.OptionSetDescription(p.words), progressbar.OptionSetWidth(cells),
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
