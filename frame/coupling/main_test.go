package coupling_test

import (
	"flag"
	"os"
	"testing"
)

func TestMain(m *testing.M) {
	fewDraws()
	os.Exit(m.Run())
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
