package main

import (
	"flag"
	"os"
	"regexp"
)

// thorough tells whether tests take the draws, models and meshes that go beyond what a newcomer waits for:
// TIPLOOP_THOROUGH is set to anything.
func thorough() bool { return os.Getenv("TIPLOOP_THOROUGH") != "" }

// quickScreens are the examples whose golden screens are held in every run; those of the others wait for thorough
// tests, unless they are rewritten.
var quickScreens = regexp.MustCompile("gussets|motor-mount|(tip|travel)-bed-layouts")

// slow tells whether a golden screen waits for thorough tests.
func slow(name string) bool { return !thorough() && !*update && !quickScreens.MatchString(name) }

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
