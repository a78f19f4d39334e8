package live

import (
	"encoding/json"
	"sync"
)

// board holds what is shown: the newest page and the newest state, each with how many there were before it. Whoever
// waits for news waits for the channel to be closed.
type board struct {
	mu      sync.Mutex
	page    []byte
	pages   int
	state   State
	sent    []byte // the state as JSON
	version int    // of sent
	news    chan struct{}
}

// newBoard is a board that shows a page.
func newBoard(first []byte) *board {
	b := &board{page: first, pages: 1, news: make(chan struct{})}
	b.set(State{})
	return b
}

// showPage puts up a page.
func (b *board) showPage(page []byte) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.page = page
	b.pages++
	b.set(b.state)
}

// showState puts up a state.
func (b *board) showState(s State) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.set(s)
}

// set is showState for one that holds the lock.
func (b *board) set(s State) {
	s.Page = b.pages
	b.state = s
	sent, err := json.Marshal(s)
	if err != nil {
		panic("live: " + err.Error()) // a NaN, which no answer lets through
	}
	b.sent = sent
	b.version++
	close(b.news)
	b.news = make(chan struct{})
}

// newest is the state, its version, and what is closed when there is a newer one.
func (b *board) newest() (sent []byte, version int, news <-chan struct{}) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.sent, b.version, b.news
}

// shown is the page.
func (b *board) shown() []byte {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.page
}
