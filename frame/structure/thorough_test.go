package structure

import (
	"flag"
	"os"
	"testing"
)

// thorough tells whether the environment asks for everything: all bodies, planes and draws, at the finest meshes.
func thorough() bool { return os.Getenv("TIPLOOP_THOROUGH") != "" }

// fewDraws and manyDraws are how often a property is tried, each on whole machines; -rapid.checks goes before them.
const fewDraws, manyDraws = "8", "60"

func TestMain(m *testing.M) {
	draws := fewDraws
	if thorough() {
		draws = manyDraws
	}
	if err := flag.Set("rapid.checks", draws); err != nil {
		panic(err)
	}
	os.Exit(m.Run())
}
