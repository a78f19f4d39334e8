package drive_test

import (
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Of the project, only beam lies below this package.
func TestImports(t *testing.T) {
	list, err := exec.Command("go", "list", "-deps", "tiploop/frame/drive").Output()
	require.NoError(t, err)
	var own []string
	for name := range strings.FieldsSeq(string(list)) {
		if strings.HasPrefix(name, "tiploop/") && name != "tiploop/frame/drive" {
			own = append(own, name)
		}
	}
	require.Equal(t, []string{"tiploop/beam"}, own)
}
