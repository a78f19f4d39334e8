package phrase

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
)

// A part that is sawn to an outline is told from a plate that is all of its block.
func TestKind(t *testing.T) {
	inv := answer.Inventory{CutList: []answer.CutLine{{Kind: "plate", Parts: []string{"base"}},
		{Kind: "plate", Parts: []string{"left", "right"}, Outline: "M 0 0 H 30 V 20 Z"}}}
	require.Equal(t, "plate", Kind(inv, answer.PartLine{Name: "base", Kind: "plate"}))
	require.Equal(t, "plate, sawn to outline", Kind(inv, answer.PartLine{Name: "right", Kind: "plate"}))
	require.Equal(t, "bar", Kind(inv, answer.PartLine{Name: "spindle", Kind: "bar"}))
}
