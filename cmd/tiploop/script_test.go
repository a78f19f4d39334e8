package main

import (
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"tiploop/report/browsertest"
	"tiploop/testdata/checks"
)

var update = flag.Bool("update", false, "rewrite what the scripts compare with")

// held runs the tests and holds the worst errors of the checks against their bounds.
type held struct{ *testing.M }

func (h held) Run() int {
	fewDraws()
	return browsertest.Main(func() int { return checks.Main(h.M.Run, "commandline") })
}

func TestMain(m *testing.M) {
	testscript.Main(held{m}, map[string]func(){"tiploop": func() { os.Exit(run(os.Args[1:])) }})
}

func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "testdata/script", UpdateScripts: *update, RequireExplicitExec: true,
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"begins": begins, "exits": exits, "garbage": garbage, "only": only, "same": same, "within": within,
		},
		Condition: func(word string) (bool, error) {
			if word != "thorough" {
				return false, fmt.Errorf("condition %q is not known", word)
			}
			return thorough(), nil
		},
	})
}

// exits CODE PROGRAM ARGS... runs a program that must end with that exit code.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits code program [args...]")
	}
	code := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		code = exit.ExitCode()
	}
	if strconv.Itoa(code) != args[0] {
		ts.Fatalf("exit code %d, want %s", code, args[0])
	}
}

// only FILES... checks that nothing else stands in the script's directory.
func only(ts *testscript.TestScript, neg bool, args []string) {
	if neg {
		ts.Fatalf("usage: only [files...]")
	}
	entries, err := os.ReadDir(ts.MkAbs("."))
	ts.Check(err)
	var found []string
	for _, e := range entries {
		if e.Name() != ".tmp" { // where testscript puts the program's own temporary files
			found = append(found, e.Name())
		}
	}
	slices.Sort(args)
	if !slices.Equal(found, args) {
		ts.Fatalf("there are %q, want %q", found, args)
	}
}

// begins FILE TEXT checks how a file begins; the text is quoted as in Go.
func begins(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: begins file text")
	}
	want, err := strconv.Unquote(`"` + args[1] + `"`)
	ts.Check(err)
	if got := ts.ReadFile(args[0]); !strings.HasPrefix(got, want) {
		ts.Fatalf("%s begins with %q, want %q", args[0], got[:min(len(got), len(want))], want)
	}
}

// garbage FILE BYTES writes a file of noise that is the same every time.
func garbage(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: garbage file bytes")
	}
	size, err := strconv.Atoi(args[1])
	ts.Check(err)
	data := make([]byte, size)
	_, err = rand.NewChaCha8([32]byte{1}).Read(data)
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), data, 0o644))
}
