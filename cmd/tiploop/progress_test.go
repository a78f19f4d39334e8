package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tiploop/report/wrap"
)

// terminal is a terminal on which all that is written is kept, safe for several goroutines.
type terminal struct {
	mu      sync.Mutex
	written bytes.Buffer
}

func (t *terminal) Write(p []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.written.Write(p)
}

func (t *terminal) String() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.written.String()
}

// screen is what stands on the terminal in the end: a carriage return goes back to the start of the line.
func (t *terminal) screen() string {
	var lines []string
	for line := range strings.SplitSeq(t.String(), "\n") {
		var cells []rune
		for part := range strings.SplitSeq(line, "\r") {
			r := []rune(part)
			cells = append(r, cells[min(len(r), len(cells)):]...)
		}
		lines = append(lines, strings.TrimRight(string(cells), " "))
	}
	return strings.Join(lines, "\n")
}

// atWork is a bar that has worked on two models and is half through the second one.
func atWork(p *progress) {
	p.begin(2)
	p.on("short bed")
	p.within(0, 4)
	p.within(3, 4)
	p.next()
	p.on("long bed")
	p.within(2, 4)
}

func TestProgressBar(t *testing.T) {
	screen := &terminal{}
	p := newProgress(streams{err: screen, errIsTTY: true})
	p.timer.Stop()
	atWork(p)
	require.Empty(t, screen.String(), "before patience is over")
	p.appear()
	require.Contains(t, screen.screen(), "solving long bed  75% |")
	p.within(3, 4)
	require.Contains(t, screen.screen(), "solving long bed  87% |")
	p.clear()
	require.Empty(t, screen.screen())
	cleared := screen.String()
	p.within(4, 4)
	p.next()
	p.on("another")
	p.appear()
	p.clear()
	require.Empty(t, strings.TrimRight(strings.TrimPrefix(screen.String(), cleared), "\r "),
		"work that was left alone reports after the end")
}

// TestProgressFits: a bar is no wider than its terminal, of 80 columns where that does not say, whatever the option is
// called, is of one line and has no colours; and what a model without solid bodies reports is no trouble. There is none
// on a terminal too narrow for one.
func TestProgressFits(t *testing.T) {
	for _, width := range []int{0, 14, 15, 20, 33, 40, 79, 200} {
		for _, option := range []string{"a", "long bed held in the middle", strings.Repeat("länge ", 30),
			strings.Repeat("…", 34), strings.Repeat("木", 40)} {
			progressFits(t, width, option)
		}
	}
	screen := &terminal{}
	p := newProgress(streams{err: screen, errIsTTY: true, errWidth: 10})
	p.begin(1)
	p.appear()
	p.on("as drawn")
	p.next()
	p.clear()
	require.Empty(t, screen.String())
}

func progressFits(t *testing.T, width int, option string) {
	t.Helper()
	screen := &terminal{}
	p := newProgress(streams{err: screen, errIsTTY: true, errWidth: width})
	p.timer.Stop()
	p.begin(1)
	p.appear()
	p.on(option)
	for done := range 4 {
		p.within(done, 3)
	}
	p.within(0, 0)
	p.next()
	p.clear()
	require.NotEmpty(t, screen.String())
	require.NotContains(t, screen.String(), "\n")
	require.NotContains(t, screen.String(), "\x1b")
	if width == 0 {
		width = 80
	}
	for draw := range strings.SplitSeq(screen.String(), "\r") {
		require.Less(t, wrap.Letters(draw), width, draw)
	}
}

// TestProgressAppears: the bar appears by itself although the work tells nothing meanwhile.
func TestProgressAppears(t *testing.T) {
	screen := &terminal{}
	p := newProgress(streams{err: screen, errIsTTY: true})
	p.begin(1)
	p.on("as drawn")
	require.Eventually(t, func() bool { return strings.Contains(screen.String(), "solving as drawn   0% |") }, 20*patience,
		patience/10)
	p.clear()
	require.Empty(t, screen.screen())
}

// TestNoProgress: nothing is shown where there is no terminal, for work that is soon done, or before it is known what
// to do.
func TestNoProgress(t *testing.T) {
	pipe := &terminal{}
	p := newProgress(streams{err: pipe})
	atWork(p)
	p.appear()
	p.within(4, 4)
	p.clear()
	require.Empty(t, pipe.String())

	screen := &terminal{}
	p = newProgress(streams{err: screen, errIsTTY: true})
	p.appear()
	p.clear()
	require.Empty(t, screen.String())

	var out bytes.Buffer
	require.Equal(t, answered, runWith(context.Background(), []string{"show", filepath.Join("testdata", "checks",
		"beam-ss-central.yaml")}, streams{out: &out, err: screen, errIsTTY: true}))
	require.Empty(t, screen.String())
}

// unreadable is a terminal that has gone.
type unreadable struct{}

func (unreadable) Write([]byte) (int, error) { return 0, errors.New("gone") }

func TestProgressOnNoTerminalLeft(t *testing.T) {
	p := newProgress(streams{err: unreadable{}, errIsTTY: true})
	p.appear()
	atWork(p)
	p.clear()
}

// TestInterruptedOnTerminal: when work is left, the bar goes, and the goroutine left at it writes no more.
func TestInterruptedOnTerminal(t *testing.T) {
	for _, command := range modelCommands {
		ctx, cancel := context.WithCancel(context.Background())
		screen, out := &terminal{}, &bytes.Buffer{}
		time.AfterFunc(20*time.Millisecond, cancel) // well within the work
		code := runWith(ctx, []string{command, sample, "--detail", "solid", "--out", filepath.Join(t.TempDir(), "a.svg")},
			streams{out: out, err: screen, errIsTTY: true})
		require.Equal(t, failed, code)
		require.Empty(t, out.String())
		require.Equal(t, "interrupted; nothing was written\n", screen.screen())
	}
}

// TestAtOnce: the answer or the error of work, or the context's error without waiting for work.
func TestAtOnce(t *testing.T) {
	v, err := atOnce(context.Background(), func() (int, error) { return 3, nil })
	require.NoError(t, err)
	require.Equal(t, 3, v)
	_, err = atOnce(context.Background(), func() (int, error) { return 3, os.ErrNotExist })
	require.ErrorIs(t, err, os.ErrNotExist)
	ctx, cancel := context.WithCancel(context.Background())
	forever := make(chan struct{})
	t.Cleanup(func() { close(forever) })
	v, err = atOnce(ctx, func() (int, error) {
		cancel()
		<-forever
		return 3, nil
	})
	require.ErrorIs(t, err, context.Canceled)
	require.Zero(t, v)
}
