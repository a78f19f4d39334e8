package main

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestNearest(t *testing.T) {
	known := []string{"compare", "show", "tip", "travel", "tables", "new"}
	for _, tt := range []struct{ word, want string }{
		{"tip", "tip"}, {"tpi", "tip"}, {"tap", "tip"}, {"Travel", "travel"}, {"trvel", "travel"}, {"com", "compare"},
		{"shwo", "show"},
		{"news", "new"}, {"simulate", ""}, {"qqq", ""}, {"", ""},
	} {
		require.Equal(t, tt.want, nearest(tt.word, known), tt.word)
	}
	require.Empty(t, nearest("tip", nil))
}

func TestArguments(t *testing.T) {
	for _, command := range modelCommands {
		code, out, complaint := called(command)
		require.Equal(t, misused, code, command)
		require.Empty(t, out)
		require.Equal(t, "tiploop "+command+" needs a model file\n\tsee tiploop "+command+" --help\n", complaint)
		code, _, _ = called(command, sample, sample)
		require.Equal(t, misused, code, command)
	}
}
