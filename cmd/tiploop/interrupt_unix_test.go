//go:build unix

package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// longWork is a run of the sample that takes tens of seconds, and leaveWithin how soon an interrupted one must be gone:
// it takes some hundredths of a second on an idle machine, so this holds on one that is busy a hundredfold, and is
// still far less than the work.
var longWork = []string{"--detail", "solid", "--mesh", "0.25", "--option", "short bed held all along"}

const (
	leaveWithin = 10 * time.Second
	intoWork    = 300 * time.Millisecond // after which the program meshes and factors
)

// started is the program at work in a directory of its own. It reads its model from a pipe: once that is open at both
// ends, the program has begun, and minds signals.
type started struct {
	cmd      *exec.Cmd
	out, err bytes.Buffer
	dir      string
	pipe     *os.File
}

func start(t *testing.T, command string, flags ...string) *started {
	t.Helper()
	s := &started{dir: t.TempDir()}
	path := filepath.Join(s.dir, "mill.yaml")
	require.NoError(t, syscall.Mkfifo(path, 0o600))
	ctx, cancel := context.WithTimeout(t.Context(), 2*leaveWithin)
	t.Cleanup(cancel)
	s.cmd = exec.CommandContext(ctx, "tiploop", append([]string{command, path}, flags...)...)
	s.cmd.Dir, s.cmd.Stdout, s.cmd.Stderr = s.dir, &s.out, &s.err
	require.NoError(t, s.cmd.Start())
	var err error
	s.pipe, err = os.OpenFile(path, os.O_WRONLY, 0) // waits for the program to open it
	require.NoError(t, err)
	t.Cleanup(func() { _ = s.pipe.Close() })
	return s
}

// work hands the model over and waits until the program is at it.
func (s *started) work(t *testing.T) {
	t.Helper()
	model, err := os.ReadFile(sample)
	require.NoError(t, err)
	_, err = s.pipe.Write(model)
	require.NoError(t, err)
	require.NoError(t, s.pipe.Close())
	time.Sleep(intoWork)
}

// leaves sends signals and waits for the program's end; state is how it ended.
func (s *started) leaves(t *testing.T, signals ...os.Signal) (state *os.ProcessState) {
	t.Helper()
	sent := time.Now()
	for _, signal := range signals {
		if err := s.cmd.Process.Signal(signal); !errors.Is(err, os.ErrProcessDone) { // gone before the second one
			require.NoError(t, err)
		}
	}
	var exit *exec.ExitError
	require.ErrorAs(t, s.cmd.Wait(), &exit)
	require.Less(t, time.Since(sent), leaveWithin)
	require.Empty(t, s.out.String())
	left, err := os.ReadDir(s.dir)
	require.NoError(t, err)
	require.Len(t, left, 1, "the model, and no picture or beginning of one")
	return exit.ProcessState
}

// TestInterrupted: the real program, deep in a factorisation, leaves at once, says so in one line, and leaves nothing
// behind.
func TestInterrupted(t *testing.T) {
	const want = "interrupted; nothing was written\n"
	for _, tt := range []struct {
		name, command string
		flags         []string
		signal        os.Signal
	}{
		{"tip with a picture", "tip", []string{"--out", "mill.svg"}, os.Interrupt},
		{"travel", "travel", []string{"--json", "--out", "mill.pdf"}, syscall.SIGTERM},
		{"show", "show", []string{"--out", "mill.png"}, os.Interrupt},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := start(t, tt.command, append(tt.flags, longWork...)...)
			s.work(t)
			require.Equal(t, failed, s.leaves(t, tt.signal).ExitCode())
			require.Equal(t, want, s.err.String())
		})
	}
	t.Run("while it waits for its model", func(t *testing.T) {
		for _, command := range []string{"show", "tip"} {
			s := start(t, command, "--out", "mill.svg")
			require.Equal(t, failed, s.leaves(t, os.Interrupt).ExitCode())
			require.Equal(t, want, s.err.String())
		}
	})
	t.Run("twice", func(t *testing.T) {
		s := start(t, "tip", append([]string{"--out", "mill.svg"}, longWork...)...)
		s.work(t)
		state := s.leaves(t, os.Interrupt, os.Interrupt)
		// The second one may end the program before it has said anything.
		if status := state.Sys().(syscall.WaitStatus); status.Signaled() {
			require.Equal(t, syscall.SIGINT, status.Signal())
			return
		}
		require.Equal(t, failed, state.ExitCode())
		require.Equal(t, want, s.err.String())
	})
}

// TestInterruptedTwiceInFullPipe: an answer that no one reads hangs in the pipe, where the first signal only asks; the
// second ends the program.
func TestInterruptedTwiceInFullPipe(t *testing.T) {
	read, write, err := os.Pipe()
	require.NoError(t, err)
	t.Cleanup(func() { _ = read.Close() })
	fill(t, write)
	cmd := exec.Command("tiploop", "tables")
	cmd.Stdout = write
	require.NoError(t, cmd.Start())
	require.NoError(t, write.Close())
	gone := make(chan error, 1)
	go func() { gone <- cmd.Wait() }()
	every := time.NewTicker(intoWork)
	defer every.Stop()
	late := time.After(leaveWithin)
	for sent := 0; ; {
		select {
		case <-every.C:
			sent++
			_ = cmd.Process.Signal(os.Interrupt) // may be gone
		case err := <-gone:
			var exit *exec.ExitError
			require.ErrorAs(t, err, &exit)
			require.Equal(t, syscall.SIGINT, exit.Sys().(syscall.WaitStatus).Signal())
			require.LessOrEqual(t, sent, 3, "two signals, and one on its way")
			return
		case <-late:
			_ = cmd.Process.Kill()
			<-gone
			t.Fatal("still there")
		}
	}
}

// fill writes to a pipe until it is full.
func fill(t *testing.T, pipe *os.File) {
	t.Helper()
	require.NoError(t, pipe.SetWriteDeadline(time.Now().Add(intoWork)))
	block := make([]byte, 1<<16)
	for {
		if _, err := pipe.Write(block); err != nil {
			require.ErrorIs(t, err, os.ErrDeadlineExceeded)
			return
		}
	}
}

// A page that is served ends with an interrupt, as it is meant to.
func TestInterruptedWatch(t *testing.T) {
	path, _ := starterFile(t)
	ctx, cancel := context.WithTimeout(t.Context(), 2*leaveWithin)
	defer cancel()
	cmd := exec.CommandContext(ctx, "tiploop", "watch", path)
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	lines := bufio.NewScanner(out)
	require.True(t, lines.Scan())
	response, err := http.Get(lines.Text() + "events")
	require.NoError(t, err)
	defer response.Body.Close()
	require.NoError(t, cmd.Process.Signal(os.Interrupt))
	require.NoError(t, cmd.Wait(), "the exit code is 0")
	left, err := os.ReadDir(filepath.Dir(path))
	require.NoError(t, err)
	require.Len(t, left, 1)
}
