package frame_test

import (
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Imports run one way: beam, sparse and constant stand on nothing of the project, frame and solid on the first two, and
// neither of these knows the other. Guides, drives, spindles and cutting forces need no frame. Paper knows no machine, a
// drawing no answer's text, and a report no drawing.
func TestImportsRunOneWay(t *testing.T) {
	own := func(of string) (names []string) {
		list, err := exec.Command("go", "list", "-deps", of).Output()
		require.NoError(t, err, of)
		for name := range strings.FieldsSeq(string(list)) {
			if strings.HasPrefix(name, "tiploop/") && name != of {
				names = append(names, name)
			}
		}
		return names
	}
	written := append(own("tiploop/frame/machine"),
		"tiploop/frame/machine", "tiploop/report/number", "tiploop/report/wrap", "tiploop/report/paper")
	for of, want := range map[string][]string{
		"tiploop/beam":               nil,
		"tiploop/frame/sparse/order": nil,
		"tiploop/frame/sparse":       {"tiploop/frame/sparse/order"},
		"tiploop/frame":              {"tiploop/beam", "tiploop/frame/sparse", "tiploop/frame/sparse/order"},
		"tiploop/frame/coupling":     {"tiploop/beam", "tiploop/frame", "tiploop/frame/sparse", "tiploop/frame/sparse/order"},
		"tiploop/frame/solid":        {"tiploop/beam", "tiploop/frame/sparse", "tiploop/frame/sparse/order"},
		"tiploop/frame/constant":     nil,
		"tiploop/frame/cutting":      {"tiploop/frame/constant"},
		"tiploop/frame/guide":        {"tiploop/beam", "tiploop/frame/constant"},
		"tiploop/frame/drive":        {"tiploop/beam", "tiploop/frame/constant"},
		"tiploop/frame/spindle":      {"tiploop/beam", "tiploop/frame/constant"},
		"tiploop/report/number":      nil,
		"tiploop/report/wrap":        nil,
		"tiploop/report/paper":       {"tiploop/report/number", "tiploop/report/wrap"},
		"tiploop/report/drawing":     written,
		"tiploop/report":             written,
	} {
		require.ElementsMatch(t, want, own(of), of)
	}
}
