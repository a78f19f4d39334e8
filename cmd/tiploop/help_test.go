package main

import (
	"bytes"
	"cmp"
	"context"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/report/table"
	"tiploop/report/wrap"
)

// TestExamples runs every line of every command's examples, each in a directory of its own with the model that new writes;
// unless tests are thorough, of commands that solve only what their flags say is read: scripts run every one of them.
func TestExamples(t *testing.T) {
	root := newRoot(streams{})
	for _, c := range append(root.Commands(), root) {
		if c.Name() == "help" || c.Name() == "completion" || c.Hidden {
			continue // cobra's own, and what is for those who pack a release
		}
		require.NotEmpty(t, c.Example, c.Name())
		solving := slices.Contains([]string{"tip", "compare", "travel", "sweep", "align", "log"}, c.Name()) || c == root
		for line := range strings.SplitSeq(c.Example, "\n") {
			line = strings.TrimSpace(line)
			t.Run(line, func(t *testing.T) {
				if solving && !thorough() {
					fresh := newRoot(streams{}) // flags that are read stay
					found, flags, err := fresh.Find(shellWords(line)[1:])
					require.NoError(t, err)
					require.NotEqual(t, fresh, found)
					require.NoError(t, found.ParseFlags(flags))
					return
				}
				runExample(t, line)
			})
		}
	}
}

func runExample(t *testing.T, line string) {
	words := shellWords(line)
	require.Equal(t, "tiploop", words[0])
	t.Chdir(t.TempDir())
	if words[1] != "new" {
		require.NoError(t, os.WriteFile("mill.yaml", starter, 0o644))
	}
	words, target, redirected := cutRedirection(words)
	out := outputOf(t, words[1:]...)
	require.NotEmpty(t, out)
	if redirected {
		require.NoError(t, os.WriteFile(target, out, 0o644))
	}
	for i, word := range words {
		if word == "--out" {
			require.FileExists(t, words[i+1])
		}
		if word == "--sheets" {
			require.DirExists(t, words[i+1])
		}
	}
	if words[1] == "new" {
		outputOf(t, "show", "mill.yaml")
	}
}

// shellWords splits a line at blanks, but not within single quotes.
func shellWords(line string) (words []string) {
	for i, part := range strings.Split(line, "'") {
		if i%2 == 1 {
			words = append(words, part)
			continue
		}
		words = append(words, strings.Fields(part)...)
	}
	return words
}

// cutRedirection takes "> file" off the end.
func cutRedirection(words []string) (rest []string, target string, ok bool) {
	n := len(words)
	if n < 2 || words[n-2] != ">" {
		return words, "", false
	}
	return words[:n-2], words[n-1], true
}

// TestHelpFits: help is no wider than its terminal, and than a hundred letters.
func TestHelpFits(t *testing.T) {
	for _, width := range []int{0, 80, 200} {
		for _, command := range []string{"", "show", "tip", "compare", "travel", "sweep", "align", "new", "tables"} {
			var out, errs bytes.Buffer
			args := append(strings.Fields(command), "--help")
			require.Zero(t, runWith(context.Background(), args, streams{out: &out, err: &errs, medium: table.Medium{Width: width}}))
			most := min(100, cmp.Or(width, 100))
			for line := range strings.SplitSeq(out.String(), "\n") {
				if !strings.HasPrefix(strings.TrimSpace(line), "tiploop ") { // an example is typed as it stands
					require.LessOrEqual(t, wrap.Letters(line), most, line)
				}
			}
		}
	}
}

// TestHelp: every command says in one line what it is for, and at length which question it answers.
func TestHelp(t *testing.T) {
	for _, c := range newRoot(streams{}).Commands() {
		require.NotEmpty(t, c.Short, c.Name())
		require.NotEmpty(t, c.Long, c.Name())
	}
}
