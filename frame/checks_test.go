package frame_test

import (
	"flag"
	"os"
	"testing"

	"tiploop/testdata/checks"
)

// The bounds that the tests keep are rewritten with -update; testdata/checks reads the flag.
var _ = flag.Bool("update", false, "rewrite the worst errors of the checks")

func TestMain(m *testing.M) {
	fewDraws()
	os.Exit(checks.Main(m.Run, "frame"))
}

// fewDraws makes property tests draw a third as often as rapid does by itself, so that the tests take seconds; with
// TIPLOOP_THOROUGH set to anything they draw in full. A -rapid.checks on the command line goes before either.
func fewDraws() {
	if os.Getenv("TIPLOOP_THOROUGH") != "" {
		return
	}
	if err := flag.Set("rapid.checks", "30"); err != nil {
		panic(err)
	}
}
