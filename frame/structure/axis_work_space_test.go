package structure

import (
	"cmp"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"tiploop/beam"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
)

// router is a table along x under a head along z and y, with room for obstacles: a block on the table, one on the head.
const router = `machine: router
parts:
  base:   {plate: {from: [-300, -200, 0], to: [300, 200, 20]}, material: steel}
  table:  {plate: {from: [-60, -60, 48], to: [60, 60, 68]}, material: steel}
  block:  {%s, material: steel}
  wall:   {plate: {from: [-300, 180, 20], to: [300, 200, 400]}, material: steel}
  head:   {plate: {from: [-30, 140, 240], to: [30, 152, 380]}, material: steel}
  arm:    {plate: {from: [-20, 0, 260], to: [20, 140, 280]}, material: steel}
  nose:   {%s, material: steel}
joints: [{between: [table, block], bonded: true}, {between: [base, wall], bonded: true}, {between: [head, arm], bonded: true}, {between: [arm, nose], bonded: true}]
grounds: [{part: base, face: bottom, fixed: true}]
axes:
  x:
    along: x
    carries: [table]
    travel: [-100, 100]
    guides: [{rail: profile-15, on: base, part: table, from: [-250, 0, 20], to: [250, 0, 20], carriages: [-30, 30]}]
    drive: {stiffness: 30 N/um, part: table, on: base, at: [0, 0, 34]}
  z:
    along: z
    carries: [head]
    travel: [-40, 20]
    guides: [{rail: profile-15, on: wall, part: head, from: [0, 180, 150], to: [0, 180, 400], carriages: [290, 350]}]
    drive: {stiffness: 30 N/um, part: head, on: wall, at: [0, 166, 300]}
`

// routerFaults are what is wrong with a router, the same wherever it stands when it is built.
func routerFaults(t *testing.T, block, nose string) string {
	t.Helper()
	m := readMachine(t, fmt.Sprintf(router, block, nose))
	_, err := buildBeams(m)
	moved, atErr := m.At(map[string]float64{"x": 60, "z": 20})
	require.NoError(t, atErr)
	_, movedErr := buildBeams(moved)
	require.Equal(t, err, movedErr)
	if err == nil {
		return ""
	}
	return err.Error()
}

// Where blocks run into each other and what they share, by hand from their corners: the table's block moves ±100 along
// x, the head's nose from −40 to +20 along z.
func TestRunsIntoByHand(t *testing.T) {
	const nose = "plate: {from: [-20, -10, 200], to: [20, 10, 260]}"
	for _, c := range []struct{ name, block, nose, want string }{
		{"as low as the nose comes", "plate: {from: [-60, -60, 68], to: [60, 60, 160]}", nose, ""},
		{"at one end", "plate: {from: [-60, -60, 68], to: [60, 60, 170]}", nose,
			"m.yaml:19:3: with axis z at -40 mm: block and nose run into each other: they share 40 x 20 x 10 mm (x, y, " +
				"z)\n\tshorten its travel, or move one of them by 10 mm"},
		{"in a corner", "plate: {from: [-60, -60, 68], to: [-50, 60, 175]}",
			"plate: {from: [10, -10, 200], to: [60, 10, 260]}",
			"m.yaml:13:3: with axes x at 100 mm and z at -40 mm: block and nose run into each other: they share 10 x 20 x 15 " +
				"mm (x, y, z)\n\tshorten the travel along z, or move one of them, by 15 mm"},
		// 10 mm wide, it has passed the nose when x is at its end.
		{"between the ends of one axis, at the end of another", "plate: {from: [-60, -60, 68], to: [-50, 60, 175]}", nose,
			"m.yaml:13:3: with axes x at 30 mm and z at -25 mm: block and nose run into each other\n\tmoving one of them by " +
				"15 mm along z would let them pass"},
		{"between the ends of one axis", "plate: {from: [-60, -60, 68], to: [-50, 60, 205]}", nose,
			"m.yaml:13:3: with axis x between 30 mm and 80 mm: block and nose run into each other\n\tmoving one of them by 5 " +
				"mm along z would let them pass"},
		// The slope is 122 mm high, where the nose comes down to, 60·(1 − 122/150) = 11.2 mm from its foot; its box would
		// meet the nose without any way along x.
		{"under the slope of a gusset", "gusset: {corner: [-60, -5, 68], legs: [[60, 0, 0], [0, 0, 150]], thickness: [0, " +
			"10, 0]}", "plate: {from: [-20, -10, 230], to: [20, 10, 260]}",
			"m.yaml:13:3: with axes x at 28.8 mm and z at -40 mm: block and nose run into each other\n\tmoving one of them by " +
				"15 mm along y would let them pass"},
	} {
		t.Run(c.name, func(t *testing.T) { require.Equal(t, c.want, routerFaults(t, c.block, c.nose)) })
	}
}

// loosePair is two parts of which axes move one or the other, without anything round them.
func loosePair(t require.TestingT, a, b *machine.Part, axes []*machine.FeedAxis, signs []float64) crossing {
	one, err := newBody(a)
	require.NoError(t, err)
	two, err := newBody(b)
	require.NoError(t, err)
	return crossing{one, two, axes, signs}
}

// Axes along one line add up: with four each at 10 mm two blocks 35 mm apart share 5; of five, 45 mm apart, not all
// combinations of ends are tried, and the first one is as little off as it may be.
func TestManyAxesBetweenTwoParts(t *testing.T) {
	steel, _ := beam.LookupMaterial("steel")
	block := func(name string, from float64) *machine.Part {
		return &machine.Part{Name: name, Material: steel, Plate: &machine.Plate{From: r3.Vec{X: from},
			To: r3.Vec{X: from + 20, Y: 20, Z: 20}}}
	}
	for n, want := range map[int]string{
		4: "with axes a at 10 mm, b at 10 mm, c at 10 mm and d at 10 mm: left and right run into each other: they share 5 " +
			"x 20 x 20 mm (x, y, z)\n\tshorten the travel along x, or move one of them, by 5 mm",
		5: "with axes a at 5 mm, b at 10 mm, c at 10 mm, d at 10 mm and e at 10 mm: left and right run into each " +
			"other\n\tmoving one of them by 5 mm along x would let them pass",
	} {
		var axes []*machine.FeedAxis
		var signs []float64
		for i := range n {
			axes = append(axes, &machine.FeedAxis{Name: string(rune('a' + i)), Travel: [2]float64{0, 10}})
			signs = append(signs, 1-2*float64(i%2)) // every other one moves the left block
		}
		for i := 1; i < n; i += 2 {
			axes[i].Travel = [2]float64{-10, 0}
			want = strings.Replace(want, axes[i].Name+" at 10 mm", axes[i].Name+" at -10 mm", 1)
		}
		c := loosePair(t, block("left", 20+float64(n)*10-5), block("right", 0), axes, signs)
		require.True(t, c.meets(c.everywhere()))
		c.a.part.Name, c.b.part.Name = "left", "right"
		f := (&Model{machine: &machine.Machine{}}).runsInto(c)
		require.Equal(t, want, f.Error())
	}
}

// drawnBlock is a plate or a gusset with corners on whole millimetres.
func drawnBlock(t *rapid.T, name string) *machine.Part {
	whole := func(lo, hi int, what string) float64 { return float64(rapid.IntRange(lo, hi).Draw(t, name+" "+what)) }
	steel, _ := beam.LookupMaterial("steel")
	p := &machine.Part{Name: name, Material: steel}
	at := r3.Vec{X: whole(-6, 6, "x"), Y: whole(-6, 6, "y"), Z: whole(-6, 6, "z")}
	size := [3]float64{whole(1, 8, "width"), whole(1, 8, "depth"), whole(1, 8, "height")}
	through := rapid.IntRange(-1, 2).Draw(t, name+": plate, or axis of the gusset's thickness")
	if through < 0 {
		p.Plate = &machine.Plate{From: at, To: r3.Add(at, vector(size))}
		return p
	}
	u, v := machine.Axis(through).Others()
	sign := rapid.SampledFrom([]float64{-1, 1})
	p.Gusset = &machine.Gusset{Corner: at, Thickness: r3.Scale(size[through], machine.Axis(through).Direction()),
		Legs: [2]r3.Vec{r3.Scale(size[u]*sign.Draw(t, name+" first leg"), u.Direction()),
			r3.Scale(size[v]*sign.Draw(t, name+" second leg"), v.Direction())}}
	return p
}

// cornersOf are the corners of a plate or gusset.
func cornersOf(p *machine.Part) (list []r3.Vec) {
	if g := p.Gusset; g != nil {
		for _, c := range []r3.Vec{g.Corner, r3.Add(g.Corner, g.Legs[0]), r3.Add(g.Corner, g.Legs[1])} {
			list = append(list, c, r3.Add(c, g.Thickness))
		}
		return list
	}
	for i := range 8 {
		c := array(p.Plate.From)
		for k, far := range array(p.Plate.To) {
			if i>>k&1 > 0 {
				c[k] = far
			}
		}
		list = append(list, vector(c))
	}
	return list
}

// farthest is the corner that reaches farthest along a direction.
func farthest(corners []r3.Vec, along r3.Vec) r3.Vec {
	return slices.MaxFunc(corners, func(a, b r3.Vec) int { return cmp.Compare(r3.Dot(a, along), r3.Dot(b, along)) })
}

// separation is the distance of the hulls of some corners, by E. G. Gilbert's way of finding the shortest vector of
// their difference (SIAM J. Control 4, 1966): a lower and an upper bound of it, which may stay apart.
func separation(a, b []r3.Vec) (low, high float64) {
	v := r3.Sub(a[0], b[0])
	for range 3000 {
		s := r3.Sub(farthest(a, r3.Scale(-1, v)), farthest(b, v))
		if high = r3.Norm(v); high < 1e-9 {
			return 0, high
		}
		low = math.Max(low, r3.Dot(v, s)/high)
		way := r3.Sub(s, v)
		if r3.Norm(way) == 0 {
			return low, high
		}
		v = r3.Add(v, r3.Scale(math.Min(1, -r3.Dot(v, way)/r3.Norm2(way)), way))
		if low > 1e-6 {
			return low, r3.Norm(v)
		}
	}
	return low, r3.Norm(v)
}

// Whether two parts meet anywhere in the work space, against the distance of one of them from the hull of all places of
// the other, by another method. Where they only touch, or nearly so, neither is asked.
func TestMeetsAgainstDistanceOfHulls(t *testing.T) {
	asked := map[bool]int{}
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawnBlock(t, "a"), drawnBlock(t, "b")
		var axes []*machine.FeedAxis
		var signs []float64
		swept := cornersOf(b)
		for i := range rapid.IntRange(1, 3).Draw(t, "axes") {
			lo, hi := -rapid.IntRange(0, 12).Draw(t, "least"), rapid.IntRange(1, 12).Draw(t, "greatest")
			axis := &machine.FeedAxis{Along: machine.Axis(rapid.IntRange(0, 2).Draw(t, "along")), Travel: [2]float64{float64(lo),
				float64(hi)}}
			axes, signs = append(axes, axis), append(signs, 1-2*float64(i%2))
			var further []r3.Vec
			for _, c := range swept {
				for _, end := range axis.Travel {
					further = append(further, r3.Add(c, r3.Scale(signs[i]*end, axis.Along.Direction())))
				}
			}
			swept = further
		}
		c := loosePair(t, a, b, axes, signs)
		meets := c.meets(c.everywhere())
		inside := cornersOf(a) // nine tenths of the part
		var middle r3.Vec
		for _, p := range inside {
			middle = r3.Add(middle, r3.Scale(1/float64(len(inside)), p))
		}
		for i, p := range inside {
			inside[i] = r3.Add(r3.Scale(0.9, p), r3.Scale(0.1, middle))
		}
		if low, _ := separation(cornersOf(a), swept); low > 1e-6 {
			asked[false]++
			require.False(t, meets, "they are %g mm apart", low)
		}
		if _, high := separation(inside, swept); high < 1e-4 {
			asked[true]++
			require.True(t, meets, "nine tenths of one meet the other")
		}
	})
	t.Logf("%d apart, %d together", asked[false], asked[true])
	if thorough() { // otherwise rapid draws but a few
		require.Greater(t, asked[false], 5)
		require.Greater(t, asked[true], 5)
	}
}

// A coarse and a fine axis along one line: the face that slides on the base leaves it only with both at their ends.
func TestSlideLeavesInACorner(t *testing.T) {
	const text = `machine: coarse and fine
parts:
  base:   {plate: {from: [-180, -100, 0], to: [180, 100, 20]}, material: steel}
  saddle: {plate: {from: [-200, -60, 48], to: [200, 60, 60]}, material: steel}
  table:  {plate: {from: [-60, 70, 20], to: [60, 90, 60]}, material: steel}
grounds: [{part: base, face: bottom, fixed: true}]
axes:
  coarse:
    along: x
    carries: [saddle, table]
    travel: [%g, 100]
    guides:
      - {rail: profile-15, on: base, part: saddle, from: [-180, 0, 20], to: [180, 0, 20], carriages: [0]}
      - {slide: , between: [base, table]}
    drive: {stiffness: 30 N/um, part: saddle, on: base, at: [0, 0, 34]}
  fine:
    along: x
    carries: [table]
    travel: [-130, 130]
    guides: [{stiffness: {press: 1e5, roll: 1e8, pitch: 1e8, yaw: 1e8}, on: saddle, part: table, from: [-200, 60, 54], to: [200, 60, 54], carriages: [0]}]
    drive: {stiffness: 30 N/um, part: table, on: saddle, at: [0, 60, 54]}
`
	_, err := buildBeams(readMachine(t, fmt.Sprintf(text, -120.)))
	require.EqualError(t, err, "m.yaml:14:9: axis coarse, slide 1: with axes coarse at -120 mm and fine at -130 mm: "+
		"base and table do not touch: they are apart by 10 mm along x (right of table at -190 mm, left of base at -180 "+
		"mm)\n\tshorten the travel, or lengthen one of them")
	_, err = buildBeams(readMachine(t, fmt.Sprintf(text, -100.)))
	require.NoError(t, err, "20 mm of it are left there")
}

// BenchmarkMill builds a machine with three axes: its whole work space is looked through for every option and sample.
func BenchmarkMill(b *testing.B) {
	text, err := os.ReadFile("../../examples/fixed-gantry-mill.yaml")
	require.NoError(b, err)
	doc, err := modelfile.Parse("mill", text)
	require.NoError(b, err)
	m, err := doc.Machine("")
	require.NoError(b, err)
	model, err := buildBeams(m)
	require.NoError(b, err)
	b.Run("build", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := buildBeams(m); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("work space", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if faults := model.checkWorkSpace(); faults != nil {
				b.Fatal(faults)
			}
		}
	})
}
