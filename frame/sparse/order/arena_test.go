package order

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestArenaLendsApart(t *testing.T) {
	var a arena
	fill := func(s []int32, x int32) []int32 {
		for i := range s {
			s[i] = x
		}
		return s
	}
	one := fill(a.take(3), 1)
	m := a.mark()
	two := fill(a.take(100), 2) // the store is replaced
	three := fill(a.trim(a.take(10), 4), 3)
	require.Equal(t, []int32{1, 1, 1}, one)
	require.Equal(t, int32(2), two[99])
	a.release(m)
	four := fill(a.take(100), 4)
	require.Equal(t, []int32{1, 1, 1}, one)
	require.Equal(t, int32(4), four[99])
	require.Len(t, three, 4)
	require.Equal(t, 4, cap(three))
}
