package modelfile

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/machine"
)

// noted is a machine of one part with what stands above it.
func noted(t *testing.T, above string) *machine.Machine {
	t.Helper()
	doc, err := Parse("m.yaml", []byte("machine: m\n"+above+
		"parts: {a: {plate: {from: [0, 0, 0], to: [10, 10, 10]}, material: steel}}\n"))
	require.NoError(t, err)
	m, err := doc.Machine("")
	require.NoError(t, err)
	return m
}

// Notes are the builder's own words as they stand, in the order of the sections.
func TestNotes(t *testing.T) {
	m := noted(t, "date: 2026-11-26\nnotes:\n  parts: |\n    *Saw* first.\n\n    - then drill\n  question: Which?\n")
	require.Equal(t, "2026-11-26", m.Date)
	require.Equal(t, []machine.Note{{Section: "question", Text: "Which?"}, {Section: "parts", Text: "*Saw* first.\n\n- then drill"}},
		m.Notes)
	require.Equal(t, []machine.Note{{Section: plainNotes, Text: "In one piece."}}, noted(t, "notes: In one piece.\n").Notes)
	require.Empty(t, noted(t, "notes:\n").Notes)
}

// A section that is none is told with the nearest one.
func TestNotesWrong(t *testing.T) {
	for text, want := range map[string]string{
		"notes: {vedict: x}\n":     `m.yaml:2:9: key "vedict" is not known in notes`,
		"notes: [x]\n":             "m.yaml:2:8: notes must be a mapping, not a list",
		"notes: {parts: [x]}\n":    "m.yaml:2:16: note parts must be a single value, not a list",
		"notes: {parts: {a: b}}\n": "m.yaml:2:16: note parts must be a single value, not a mapping",
	} {
		require.Contains(t, faultsOf("machine: m\n"+text+
			"parts: {a: {plate: {from: [0, 0, 0], to: [10, 10, 10]}, material: steel}}\n"), want, text)
	}
}
