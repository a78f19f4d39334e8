package main

import (
	"bytes"
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/require"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"tiploop": func() { os.Exit(run(os.Args[1:])) }})
}

// called runs the program in this process.
func called(t testing.TB, args ...string) (code int, out, complaint string) {
	t.Helper()
	var o, e bytes.Buffer
	code = runWith(t.Context(), args, streams{out: &o, err: &e})
	return code, o.String(), e.String()
}

// answer runs the program in this process, and gives what it wrote; it must have answered, and complained of nothing.
func answer(t testing.TB, args ...string) []byte {
	t.Helper()
	code, out, complaint := called(t, args...)
	require.Equal(t, answered, code, complaint)
	require.Empty(t, complaint)
	return []byte(out)
}
