package solid

import (
	"flag"
	"os"

	_ "pgregory.net/rapid" // for its flags
)

// thorough tells whether the environment asks for all bodies and draws: TIPLOOP_THOROUGH is not empty.
func thorough() bool { return os.Getenv("TIPLOOP_THOROUGH") != "" }

// fewDraws is how often a property is tried otherwise; -rapid.checks goes before it.
const fewDraws = "30"

func init() {
	if !thorough() {
		if err := flag.Set("rapid.checks", fewDraws); err != nil {
			panic(err)
		}
	}
}
