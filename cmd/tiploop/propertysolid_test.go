package main

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"tiploop/frame/structure"
)

// solidDraws is how many machines each property is tried on with meshed bodies, which take some tenths of a second
// each.
const solidDraws = 3

// eachSolid calls a test with different sizes, with a brace and without; unless tests are thorough with one.
func eachSolid(t *testing.T, test func(t *testing.T, s sizes)) {
	for i := range solidDraws {
		s := rapid.Custom(drawSizes).Example(i)
		s.brace = []int{28, 0, 20}[i]
		test(t, s)
		if !thorough() {
			break
		}
	}
}

// meshed builds bodies on a mesh that is coarse enough to be solved in some tenths of a second.
func meshed() *structure.Builder {
	if thorough() {
		return &structure.Builder{Mesh: 2}
	}
	return &structure.Builder{Mesh: 3}
}

// reordered turns round the order of the parts and of the joints in a model file.
func reordered(model string) string {
	var out, block []string
	inBlock := false
	for line := range strings.Lines(model) {
		if inBlock && strings.HasPrefix(line, "  ") {
			block = append(block, line)
			continue
		}
		slices.Reverse(block)
		out, block = append(append(out, block...), line), nil
		inBlock = line == "parts:\n" || line == "joints:\n"
	}
	return strings.Join(out, "")
}

// TestViewsSolid holds meshed bodies to the same agreement as beams: the mesh rule treats all axes and both directions
// along them alike, so that another view of a machine has the same mesh, and its unknowns in another order.
func TestViewsSolid(t *testing.T) {
	t.Parallel()
	eachSolid(t, func(t *testing.T, s sizes) {
		was := solved(t, meshed(), plain.stand(s))
		for _, v := range views {
			sameAnswer(t, v, was, solved(t, meshed(), v.stand(s)))
		}
	})
}

// TestOrderInFile: the order in which parts and joints stand in the file makes no difference, at either detail.
func TestOrderInFile(t *testing.T) {
	t.Parallel()
	eachSolid(t, func(t *testing.T, s sizes) {
		model := plain.stand(s)
		require.NotEqual(t, model, reordered(model))
		for _, by := range []func() *structure.Builder{meshed, func() *structure.Builder {
			return &structure.Builder{Detail: structure.Section}
		}} {
			sameAnswer(t, plain, solved(t, by(), model), solved(t, by(), reordered(model)))
		}
	})
}
