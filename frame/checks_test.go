package frame_test

import (
	"flag"
	"os"
	"testing"

	"tiploop/testdata/checks"
)

// The bounds that the tests keep are rewritten with -update; testdata/checks reads the flag.
var _ = flag.Bool("update", false, "rewrite the worst errors of the checks")

func TestMain(m *testing.M) { os.Exit(checks.Main(m.Run, "frame")) }
