package main

import (
	"bytes"
	"context"
	"io"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/report/table"
)

// wide is where tables need not be broken, which is tested where they are written.
const wide = 250

// called runs the program in this process; watch, which otherwise goes on, until it has written where its page is.
func called(args ...string) (code int, out, complaint string) {
	var o, e bytes.Buffer
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	s := streams{out: &o, err: &e, medium: table.Medium{Width: wide}}
	if len(args) > 0 && args[0] == "watch" {
		s.out = whenWritten{&o, cancel}
	}
	code = runWith(ctx, args, s)
	return code, o.String(), e.String()
}

// whenWritten does something whenever anything is written.
type whenWritten struct {
	io.Writer
	then func()
}

func (w whenWritten) Write(b []byte) (int, error) {
	defer w.then()
	return w.Writer.Write(b)
}

// answer runs the program in this process, and gives what it wrote; it must have answered, and complained of nothing.
func outputOf(t require.TestingT, args ...string) []byte {
	code, out, complaint := called(args...)
	require.Equal(t, answered, code, complaint)
	require.Empty(t, complaint)
	return []byte(out)
}

func TestExitCodes(t *testing.T) {
	for _, tt := range []struct {
		name string
		args []string
		want int
	}{
		{"help", []string{}, answered},
		{"version", []string{"--version"}, answered},
		{"an answer", []string{"tip", sample, "--csv"}, answered},
		{"a flag", []string{"--colour"}, misused},
		{"a command", []string{"simulate"}, misused},
		{"an option", []string{"tip", sample, "--option", "none such"}, misused},
		{"a directory", []string{"tip", "testdata"}, misused},
		{"no file", []string{"tip", "none such.yaml"}, failed},
		{"a picture in no directory", []string{"show", sample, "--out", "none such/a.svg"}, failed},
	} {
		t.Run(tt.name, func(t *testing.T) {
			code, out, complaint := called(tt.args...)
			require.Equal(t, tt.want, code, complaint)
			if tt.want == answered {
				require.NotEmpty(t, out)
				require.Empty(t, complaint)
				return
			}
			require.Empty(t, out)
			require.NotEmpty(t, complaint)
		})
	}
}

// TestCancelled: an interrupted run answers nothing and leaves no file.
func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	picture := filepath.Join(t.TempDir(), "a.svg")
	for _, command := range modelCommands {
		var o, e bytes.Buffer
		require.Equal(t, failed, runWith(ctx, []string{command, sample, "--out", picture}, streams{out: &o, err: &e}))
		require.Empty(t, o.String())
		require.NoFileExists(t, picture)
	}
}

// brokenPipe refuses whatever is written to it.
type brokenPipe struct{}

func (brokenPipe) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }

// TestBrokenPipe: an answer that cannot be written is a failure, whichever command gives it.
func TestBrokenPipe(t *testing.T) {
	bare := filepath.Join("testdata", "checks", "beam-ss-central.yaml")
	for _, args := range [][]string{
		{"show", bare}, {"tip", bare, "--csv"}, {"compare", bare, "--json"}, {"travel", sample, "--detail", "section"}, {"new"},
		{"tables"}, {"--help"}, {"tip", "--help"}, {"completion", "bash"},
	} {
		var e bytes.Buffer
		require.Equal(t, failed, runWith(context.Background(), args, streams{out: brokenPipe{}, err: &e}), "%q", args)
		require.NotEmpty(t, e.String())
	}
}

// A name cannot steer the terminal, nor turn the direction of writing.
func TestNamesDoNotSteer(t *testing.T) {
	code, _, complaint := called("tip", "a\x1b[31m\u202ered.yaml")
	require.NotEqual(t, answered, code)
	require.NotContains(t, complaint, "\x1b")
	require.NotContains(t, complaint, "\u202e")
}
