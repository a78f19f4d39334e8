package report

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// What a spreadsheet takes for a formula is written as text; numbers stay numbers (CWE-1236 names the characters).
func TestHarmlessCells(t *testing.T) {
	for cell, want := range map[string]string{
		"=1+1": "'=1+1", "@SUM(A1)": "'@SUM(A1)", "+cmd": "'+cmd", "-x": "'-x", "\tx": "'\tx", "\rx": "'\rx",
		"-12.5": "-12.5", "+3": "+3", "bed": "bed", "": "", "a=b": "a=b",
	} {
		require.Equal(t, want, harmless(cell))
	}
}
