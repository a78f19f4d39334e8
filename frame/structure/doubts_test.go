package structure

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame"
	"tiploop/frame/doubt"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
	"tiploop/testdata/models"
)

// written are the machines of the examples and the starter as they are drawn, and those of the tests that have what no
// example has.
func written(t *testing.T) map[string]*machine.Machine {
	t.Helper()
	files, err := filepath.Glob("../../examples/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	list := map[string]*machine.Machine{"sledge": readMachine(t, models.Sledge),
		"cross table": crossAt(t, 0, 0, 0), "clock-plate mill": readMachine(t, models.ClockPlateMill)}
	for _, name := range append(files, "../../cmd/tiploop/starter.yaml") {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		d, err := modelfile.Parse(name, text)
		require.NoError(t, err)
		m, err := d.Machine("")
		require.NoError(t, err)
		list[strings.TrimSuffix(filepath.Base(name), ".yaml")] = m
	}
	return list
}

// At typical numbers every law is the stiffness of its spring, at both details; nearly every spring of a joint, a
// guide, a drive has one.
func TestLawsAtTypicalNumbers(t *testing.T) {
	t.Parallel()
	for name, m := range written(t) {
		for _, detail := range []Detail{Section, Solid} {
			if detail == Solid && name != "fixed-gantry-mill" && name != "gussets" && os.Getenv("TIPLOOP_THOROUGH") == "" {
				continue
			}
			model, err := (&Builder{Detail: detail, Mesh: CoarsestMesh}).Build(context.Background(), m)
			require.NoError(t, err, name)
			d := model.doubts()
			logs := make([]float64, d.frame.Unknowns)
			springs := model.frame.Springs()
			for i, law := range d.frame.Springs {
				require.InEpsilon(t, springs[i].Stiffness, law.Stiffness(logs), 1e-9, "%s, %v: %s", name, detail, springs[i].Source)
			}
			fmt.Println(name, detail, len(d.unknowns), len(d.frame.Springs), len(springs))
			missing := map[string]int{}
			for i := range springs {
				if _, ok := d.frame.Springs[i]; !ok { missing[springs[i].Source]++ }
			}
			fmt.Println("   missing", missing)
		}
	}
	_ = slices.Sort[[]int]
	_ = math.Log
	_ = frame.Law{}
	_ = doubt.Typical
}
