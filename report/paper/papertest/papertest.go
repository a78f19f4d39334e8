// Package papertest checks pictures in the tests of those who draw them.
package papertest

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/recorder"

	"tiploop/report/paper"
)

// Encoded gives the bytes of a picture's file.
func Encoded(t *testing.T, p *paper.Picture, f paper.Format) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, p.Encode(&b, f))
	return b.Bytes()
}

// NothingClipped sees to it that every text stands on the paper in letters that can be read, and none is a number that
// is none. Text that is turned, which stands beside an axis, is not looked at.
func NothingClipped(t *testing.T, name string, p *paper.Picture) {
	t.Helper()
	var c recorder.Canvas
	p.Paint(draw.NewCanvas(&c, p.Width, p.Height))
	turned, texts := 0, 0 // turned is how many of the canvases pushed are turned
	var depth []bool
	for _, a := range c.Actions {
		switch a := a.(type) {
		case *recorder.Push:
			depth = append(depth, false)
		case *recorder.Pop:
			if depth[len(depth)-1] {
				turned--
			}
			depth = depth[:len(depth)-1]
		case *recorder.Rotate:
			if a.Angle != 0 && !depth[len(depth)-1] {
				depth[len(depth)-1] = true
				turned++
			}
		case *recorder.FillString:
			require.NotRegexp(t, `NaN|Inf|^-0$`, a.String, name)
			if turned > 0 || a.String == "" {
				continue
			}
			texts++
			sty := paper.Lettering(a.Size, paper.Ink)
			sty.Font = a.Font
			require.GreaterOrEqual(t, a.Point.X, vg.Length(0), "%s: %s", name, a.String)
			require.LessOrEqual(t, a.Point.X+sty.Width(a.String), p.Width, "%s: %s", name, a.String)
			require.GreaterOrEqual(t, a.Point.Y, vg.Length(0), "%s: %s", name, a.String)
			require.LessOrEqual(t, a.Point.Y+a.Size, p.Height, "%s: %s", name, a.String)
			require.GreaterOrEqual(t, a.Size, paper.SmallSize, "%s: %s", name, a.String)
		}
	}
	require.Greater(t, texts, 5, name)
}
