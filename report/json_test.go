package report

import (
	"bytes"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestWriteJSON(t *testing.T) {
	a := sampleAnswer(sampleOption("as drawn", 1, 1, 130))
	a.Options[0].Travel = nil
	a.Options[0].Notes = []string{"a [\n1,\n2] and <b> & µ"}
	golden(t, "answer.json", written(t, func(b *bytes.Buffer) error { return WriteJSON(b, a) }))
	numbers := []float64{math.Copysign(0, -1), -0.5, 1e-7, -1e-7, 1e21, 3}
	require.Equal(t, "[0, -0.5, 1e-7, -1e-7, 1e+21, 3]\n",
		string(written(t, func(b *bytes.Buffer) error { return WriteJSON(b, numbers) })))
	require.Equal(t, "{\n  \"a\": [0, 0],\n  \"b\": []\n}\n", string(written(t, func(b *bytes.Buffer) error {
		return WriteJSON(b, map[string][]float64{"b": {}, "a": {math.Copysign(0, -1), 0}})
	})))
	require.Equal(t, `"a -0, \"-0\" and [-0]"`+"\n",
		string(written(t, func(b *bytes.Buffer) error { return WriteJSON(b, `a -0, "-0" and [-0]`) })))
	var b bytes.Buffer
	require.Error(t, WriteJSON(&b, map[string]any{"f": func() {}}))
	require.Empty(t, b.String())
}
