package machine

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// TestFaultsSorted: by line, then by column; what stands at one place keeps its order.
func TestFaultsSorted(t *testing.T) {
	at := func(line, col int, what string) Fault { return Fault{Pos: FilePos{Line: line, Col: col}, What: what} }
	got := Faults{at(3, 1, "d"), at(2, 9, "b"), at(2, 9, "c"), at(2, 4, "a")}.Sorted()
	var order string
	for _, f := range got {
		order += f.What
	}
	require.Equal(t, "abcd", order)
}
