package modelfile

import (
	"flag"
	"os"
	"testing"
)

func TestMain(m *testing.M) {
	fewDraws()
	os.Exit(m.Run())
}

// thorough tells whether tests take the draws and sizes that go beyond what a newcomer waits for: TIPLOOP_THOROUGH is
// set to anything.
func thorough() bool { return os.Getenv("TIPLOOP_THOROUGH") != "" }

// fewDraws makes property tests draw a third as often as rapid does by itself unless tests are thorough. A
// -rapid.checks on the command line goes before either.
func fewDraws() {
	if thorough() {
		return
	}
	if err := flag.Set("rapid.checks", "30"); err != nil {
		panic(err)
	}
}
