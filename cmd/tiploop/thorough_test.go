package main

import (
	"flag"
	"os"
	"strings"
)

// thorough tells whether tests take the draws, models and meshes that go beyond what a newcomer waits for:
// TIPLOOP_THOROUGH is set to anything.
func thorough() bool { return os.Getenv("TIPLOOP_THOROUGH") != "" }

// slow tells whether a golden screen is one of the two large mills, which wait for thorough tests unless they are
// rewritten.
func slow(name string) bool { return !thorough() && !*update && strings.Contains(name, "gantry") }

// fewDraws makes property tests draw a sixteenth as often as rapid does by itself, each draw being some whole machines,
// unless tests are thorough. A -rapid.checks on the command line goes before either.
func fewDraws() {
	if thorough() {
		return
	}
	if err := flag.Set("rapid.checks", "6"); err != nil {
		panic(err)
	}
}
