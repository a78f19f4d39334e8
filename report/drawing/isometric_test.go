package drawing

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/modelfile"
	"tiploop/frame/structure"
	"tiploop/report/paper"
)

// shapeOf is the shape of a model file as drawn, by the beam model.
func shapeOf(t testing.TB, path string) *answer.Shape {
	t.Helper()
	doc, err := modelfile.Read(filepath.Join("../..", path))
	require.NoError(t, err)
	m, err := doc.Machine("")
	require.NoError(t, err)
	model, err := (&structure.Builder{Detail: structure.Section}).Build(context.Background(), m)
	require.NoError(t, err)
	shape, err := model.Shape(context.Background())
	require.NoError(t, err)
	return shape
}

// What is looked at: plates, rails and screws that run through one another, and tubes.
var isoExamples = []struct {
	path string
	load int
}{{"examples/fixed-gantry-mill.yaml", 0}, {"examples/tube-frame.yaml", AtRest}, {"examples/gussets.yaml", 1}}

// Where the picture has something, it has what is nearest to the reader there: found anew by looking at every triangle
// at each of some thousand places (E. Catmull's depth buffer, 1974). Places at a border, and where two faces run through
// one another, may go either way: no more than one in a hundred does.
func TestNearestIsPaintedLast(t *testing.T) {
	for _, e := range isoExamples {
		p := &isoPicture{shape: shapeOf(t, e.path)}
		times := 0.0
		if e.load != AtRest {
			times = p.shape.Magnification(e.load)
		}
		p.bend(e.load, times)
		wrong, looked := 0, 0
		const across = 70
		for i := range across {
			for k := range across {
				s := seen{p.lo.right + (p.hi.right-p.lo.right)*(float64(i)+0.37)/across,
					p.lo.up + (p.hi.up-p.lo.up)*(float64(k)+0.41)/across, 0}
				nearest, painted := math.Inf(-1), math.Inf(-1)
				for n := range p.patches {
					for _, tri := range p.patches[n].triangles {
						if covers(tri, s) {
							nearest, painted = max(nearest, depthAt(tri, s)), depthAt(tri, s)
						}
					}
				}
				if math.IsInf(nearest, -1) {
					continue
				}
				if looked++; nearest-painted > 0.5 {
					wrong++
				}
			}
		}
		require.Greater(t, looked, across*across/8, e.path)
		require.LessOrEqual(t, wrong, looked/100, "%s: of %d places", e.path, looked)
	}
}

// A cube is seen as a regular hexagon (ISO 5456-3: the three axes 120 degrees apart, foreshortened alike by √(2/3)).
func TestIsometricOfACube(t *testing.T) {
	for _, axis := range [][3]float64{{1}, {0, 1}, {0, 0, 1}} {
		s := isometric(vector(axis))
		require.InDelta(t, math.Sqrt(2./3), math.Hypot(s.right, s.up), 1e-12)
	}
	x, y, z := isometric(vector([3]float64{1})), isometric(vector([3]float64{0, 1})), isometric(vector([3]float64{0, 0, 1}))
	require.Zero(t, math.Round(1e12*z.right), "z goes up")
	require.InDelta(t, -0.5, (x.right*z.right+x.up*z.up)/(2./3), 1e-12, "120 degrees")
	require.InDelta(t, 0.5, (y.right*z.right+y.up*z.up)/(2./3), 1e-12, "60 degrees: y goes away")
}

// The picture is light, the same on each run, names load and magnification, and numbers every part that is seen.
func TestIsometricPicture(t *testing.T) {
	for _, e := range isoExamples {
		shape := shapeOf(t, e.path)
		pic, err := Isometric("A mill", shape, e.load)
		require.NoError(t, err)
		var svg, again bytes.Buffer
		require.NoError(t, pic.Encode(&svg, paper.SVG))
		require.NoError(t, pic.Encode(&again, paper.SVG))
		require.Equal(t, svg.String(), again.String())
		require.Less(t, svg.Len(), 200_000, e.path)
		if e.load == AtRest {
			require.Contains(t, svg.String(), "at rest")
		} else {
			require.Contains(t, svg.String(), shape.Loads[e.load])
			require.Contains(t, svg.String(), "times as far")
		}
		parts := 0
		for _, b := range shape.Bodies {
			if b.Kind == answer.ShapeTool && e.load != AtRest {
				require.Contains(t, svg.String(), "its tip against the work")
			}
			if b.IsPart() || b.Kind == answer.ShapeTool {
				parts++
				require.Contains(t, svg.String(), ">"+fmt.Sprint(parts)+"<", "%s: number of %s", e.path, b.Name)
			}
		}
		if folder := os.Getenv("TIPLOOP_SHOTS"); folder != "" {
			name := fmt.Sprintf("iso-%s%d.png", strings.TrimSuffix(filepath.Base(e.path), ".yaml"), e.load)
			require.NoError(t, pic.Save(filepath.Join(folder, name)))
		}
	}
}

// Hostile names are text, and what is no machine or no number is an error.
func TestIsometricOfOddShapes(t *testing.T) {
	_, err := Isometric("m", &answer.Shape{}, AtRest)
	require.ErrorContains(t, err, "nothing to draw")
	shape := shapeOf(t, "examples/gussets.yaml")
	shape.Bodies[0].Name = "</text><script>alert(1)</script> " + strings.Repeat("long ", 2000) + "\u202E"
	pic, err := Isometric("<b>&", shape, 0)
	require.NoError(t, err)
	var svg bytes.Buffer
	require.NoError(t, pic.Encode(&svg, paper.SVG))
	require.NotContains(t, svg.String(), "<script")
	shape.Bodies[0].AtMM[0][1] = math.Inf(1)
	_, err = Isometric("m", shape, 0)
	require.Error(t, err)
}
