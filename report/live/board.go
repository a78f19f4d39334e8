package live

import (
	"encoding/json"
	"fmt"
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
	_ = b.set(State{}) // all its numbers are zero
	return b
}

// showPage puts up a page.
func (b *board) showPage(page []byte) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.page = page
	b.pages++
	_ = b.set(b.state) // which could be sent when it was put up
}

// showState puts up a state.
func (b *board) showState(s State) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.set(s)
}

// set is showState for one that holds the lock.
func (b *board) set(s State) error {
	s.Page = b.pages
	sent, err := json.Marshal(s)
	if err != nil {
		return fmt.Errorf("show the state: %w", err)
	}
	b.state, b.sent = s, sent
	b.version++
	close(b.news)
	b.news = make(chan struct{})
	return nil
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
