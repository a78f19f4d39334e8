package solid

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame/sparse"
)

// candidate is an element that might have been taken for boxes: its nodes are the first of a brick's 20.
type candidate struct {
	name      string
	nodes     int
	stiffness func(m *Mesh, e int) []float64
}

var (
	chosen    = candidate{"20 nodes, 27 points", 20, func(m *Mesh, e int) []float64 { return m.ElementStiffness(e) }}
	fewPoints = candidate{"20 nodes, 8 points", 20, func(m *Mesh, e int) []float64 {
		return boxStiffness(m, e, 20,
			false)
	}}
	withModes = candidate{"8 nodes, incompatible modes", 8, func(m *Mesh, e int) []float64 {
		return boxStiffness(m, e, 8,
			true)
	}}
	eightNodes = candidate{"8 nodes", 8, func(m *Mesh, e int) []float64 { return boxStiffness(m, e, 8, false) }}
)

// boxStiffness is the stiffness of a box from 2 × 2 × 2 points: of its 20 nodes; of 8; of 8 with Wilson's
// incompatible modes 1−ξ², 1−η², 1−ζ² in each direction, condensed (Wilson et al. 1973; Taylor, Beresford &
// Wilson 1976: of a box their correction changes nothing).
func boxStiffness(m *Mesh, e, nodes int, modes bool) []float64 {
	sub := &Mesh{Metals: m.Metals}
	for _, n := range m.Elements[e].Nodes {
		sub.Nodes = append(sub.Nodes, m.Nodes[n])
	}
	half := r3.Scale(.5, r3.Sub(sub.Nodes[6], sub.Nodes[0]))
	volume := half.X * half.Y * half.Z
	functions := nodes
	if modes {
		functions += 3
	}
	lambda, mu := lame(m.Metals[m.Elements[e].Part])
	k := mat.NewSymDense(3*functions, nil)
	const point = 0.5773502691896257 // 1/√3
	for p := range 8 {
		xi := [3]float64{point * float64(2*(p&1)-1), point * float64(p&2-1), point * (float64(p&4)/2 - 1)}
		d := make([][3]float64, functions)
		if nodes == 20 {
			brickShapes(xi, make([]float64, 20), d)
		} else {
			for i, s := range brickCorners {
				for c := range 3 {
					d[i][c] = s[c] * (1 + s[(c+1)%3]*xi[(c+1)%3]) * (1 + s[(c+2)%3]*xi[(c+2)%3]) / 8
				}
			}
		}
		for i := nodes; i < functions; i++ {
			d[i][i-nodes] = -2 * xi[i-nodes]
		}
		for a, da := range d {
			ga := [3]float64{da[0] / half.X, da[1] / half.Y, da[2] / half.Z}
			for b, db := range d[:a+1] {
				gb := [3]float64{db[0] / half.X, db[1] / half.Y, db[2] / half.Z}
				dot := ga[0]*gb[0] + ga[1]*gb[1] + ga[2]*gb[2]
				for i := range 3 {
					for j := range 3 {
						v := lambda*ga[i]*gb[j] + mu*ga[j]*gb[i]
						if i == j {
							v += mu * dot
						}
						if 3*b+j <= 3*a+i {
							k.SetSym(3*a+i, 3*b+j, k.At(3*a+i, 3*b+j)+volume*v)
						}
					}
				}
			}
		}
	}
	n := 3 * nodes
	whole := mat.DenseCopyOf(k.SliceSym(0, n))
	if modes {
		var inner mat.Cholesky
		inner.Factorize(k.SliceSym(n, n+9).(*mat.SymDense))
		outer := mat.DenseCopyOf(k).Slice(n, n+9, 0, n)
		var gives, off mat.Dense
		if err := inner.SolveTo(&gives, outer); err != nil {
			panic(err)
		}
		off.Mul(outer.T(), &gives)
		whole.Sub(whole, &off)
	}
	return whole.RawMatrix().Data
}

// trial is a body of boxes on one grid, with places that are held and pushed.
type trial struct {
	mesh   *Mesh
	fixed  []span
	pushed [][]span
}

// newTrial cuts blocks into cells with lines at the edges of everything, cells of a size there that grow by a factor of
// two away from them up to largest, and joins the blocks.
func newTrial(made beam.Material, blocks, fixed []span, pushed [][]span, size, largest float64) *trial {
	t := &trial{&Mesh{Metals: []beam.Material{made}}, fixed, pushed}
	var hard [3][]float64
	for _, s := range slices.Concat(append(pushed, blocks, fixed)...) {
		for a := range 3 {
			hard[a] = append(hard[a], s.From[a], s.To[a])
		}
	}
	for _, b := range blocks {
		var lines [3][]float64
		for a := range 3 {
			var wants []Want
			for _, x := range hard[a] {
				wants = append(wants, Want{x, x, size})
			}
			lines[a] = Lines(slices.DeleteFunc(slices.Clone(hard[a]), func(x float64) bool {
				return x < b.From[a] ||
					x > b.To[a]
			}), wants, 2, largest)
		}
		t.mesh.AddBlock(0, lines)
	}
	const same = 1e-6 // mm
	known := map[[3]int]int{}
	for _, el := range t.mesh.Elements {
		for i, n := range el.Nodes {
			x := t.mesh.Nodes[n]
			place := [3]int{int(math.Round(x.X / same)), int(math.Round(x.Y / same)), int(math.Round(x.Z / same))}
			if _, ok := known[place]; !ok {
				known[place] = n
			}
			el.Nodes[i] = known[place]
		}
	}
	return t
}

func (s span) holds(x r3.Vec) bool {
	for a, v := range [3]float64{x.X, x.Y, x.Z} {
		if v < s.From[a] || v > s.To[a] {
			return false
		}
	}
	return true
}

// weights are the shares of an even load over spans that an element's nodes take: a face's four corners a quarter each,
// or −1/12 with 1/3 for the middles of its edges.
func (t *trial) weights(c candidate, spans []span) map[int]float64 {
	total, share := 0., map[int]float64{}
	for _, el := range t.mesh.Elements {
		for _, s := range spans {
			var on []int
			for i, n := range el.Nodes[:c.nodes] {
				if s.holds(t.mesh.Nodes[n]) {
					on = append(on, i)
				}
			}
			if len(on) != map[int]int{8: 4, 20: 8}[c.nodes] {
				continue
			}
			size := r3.Sub(t.mesh.Nodes[el.Nodes[6]], t.mesh.Nodes[el.Nodes[0]])
			side := [3]float64{size.X, size.Y, size.Z}
			side[s.normal()] = 1
			area := side[0] * side[1] * side[2]
			total += area
			for _, i := range on {
				switch {
				case c.nodes == 8:
					share[el.Nodes[i]] += area / 4
				case i < 8:
					share[el.Nodes[i]] -= area / 12
				default:
					share[el.Nodes[i]] += area / 3
				}
			}
		}
	}
	for n := range share {
		share[n] /= total
	}
	return share
}

// gives are the mean movements of the pushed places along x, y and z under a load of 1 along each, and the number of
// unknowns.
func (t *trial) gives(tb testing.TB, c candidate) (moves [][3]float64, unknowns int, err error) {
	first := make([]int, len(t.mesh.Nodes))
	for n := range first {
		first[n] = -1
	}
	var coupled [][]int
	for _, el := range t.mesh.Elements {
		coupled = append(coupled, el.Nodes[:c.nodes])
		for _, n := range el.Nodes[:c.nodes] {
			first[n] = 0
		}
	}
	sizes := make([]int, len(first))
	for n, x := range t.mesh.Nodes {
		if slices.ContainsFunc(t.fixed, func(s span) bool { return s.holds(x) }) {
			first[n] = -1
		}
		if first[n] == 0 {
			first[n], sizes[n] = unknowns, 3
			unknowns += 3
		}
	}
	k := sparse.NewPattern(sizes, coupled).NewMatrix()
	known := map[figure][]float64{}
	for e := range t.mesh.Elements {
		f, ok := t.mesh.figure(e)
		require.True(tb, ok)
		if known[f] == nil {
			known[f] = c.stiffness(t.mesh, e)
		}
		addFree(k, coupled[e], first, known[f])
	}
	factor, err := k.Factorize()
	if err != nil {
		return nil, unknowns, err
	}
	for _, spans := range t.pushed {
		var m [3]float64
		for axis := range 3 {
			b, u := make([]float64, unknowns), make([]float64, unknowns)
			for n, share := range t.weights(c, spans) {
				b[first[n]+axis] = share
			}
			factor.SolveTo(u, b)
			for i, v := range b {
				m[axis] += v * u[i]
			}
		}
		moves = append(moves, m)
	}
	return moves, unknowns, nil
}

func addFree(k *sparse.Matrix, nodes, first []int, ke []float64) {
	n := 3 * len(nodes)
	for i := range n {
		for j := range i + 1 {
			r, c := first[nodes[i/3]], first[nodes[j/3]]
			if r >= 0 && c >= 0 {
				k.Add(r+i%3, c+j%3, ke[i*n+j])
			}
		}
	}
}

// columnError is the worst error of a cantilever 400 × 20 × 30 that pulls and bends across and upright as
// Timoshenko's beam does, for at ν = 0 nothing draws in where it is held (shear coefficient 5/6).
func columnError(t *testing.T, c candidate, size float64) (worst float64, unknowns int, err error) {
	const length, width, height, e = 400., 20., 30., 70e3
	box := func(from, to float64) span { return span{[3]float64{from, 0, 0}, [3]float64{to, width, height}} }
	tr := newTrial(beam.Material{E: e}, []span{box(0, length)}, []span{box(0, 0)}, [][]span{{box(length, length)}}, size,
		size)
	moves, unknowns, err := tr.gives(t, c)
	if err != nil {
		return 0, unknowns, err
	}
	for axis, i := range [3]float64{0, height * width * width * width / 12, width * height * height * height / 12} {
		want := length / (e * width * height)
		if axis > 0 {
			want = length*length*length/(3*e*i) + length/(5./6*e/2*width*height)
		}
		worst = math.Max(worst, math.Abs(moves[0][axis]/want-1))
	}
	return worst, unknowns, nil
}

// bodyError is the worst error over the places and directions of a body of testdata/solid-reference.yaml.
func bodyError(t *testing.T, id string, c candidate, size float64) (worst float64, unknowns int) {
	const cases, largest = 7, 40
	for _, s := range readSolidCases(t, "solid-reference.yaml", cases) {
		if s.ID != id {
			continue
		}
		var pushed [][]span
		for _, r := range s.Results {
			pushed = append(pushed, r.At)
		}
		moves, n, err := newTrial(beam.Material{E: 70e3, Nu: .33}, s.Blocks, s.Fixed, pushed, size, largest).gives(t, c)
		require.NoError(t, err)
		for i, r := range s.Results {
			for axis, want := range [3]float64{r.X, r.Y, r.Z} {
				worst = math.Max(worst, math.Abs(moves[i][axis]*1000/want-1))
			}
		}
		unknowns = n
	}
	return worst, unknowns
}

// Why bricks have 20 nodes. Eight nodes alone lock. With incompatible modes they do not, but where a body is smooth
// they need many times the unknowns; near held edges, where stress has no limit and every element is of the first
// order, the two are a draw for the same number of unknowns, on meshes graded alike. A wedge has no modes as good, so
// gussets would have to be finer than blocks. Reduced integration is a little softer yet, but leaves a bar of single
// bricks loose, and saves nothing: equal boxes share their matrix.
func TestWhyBricksHave20Nodes(t *testing.T) {
	if !thorough() {
		t.Skip("is about elements that are not in use")
	}
	at := func(c candidate, size float64) (float64, int) {
		worst, n, err := columnError(t, c, size)
		require.NoError(t, err)
		t.Logf("cantilever, %s: %.2g off with %d unknowns", c.name, worst, n)
		return worst, n
	}
	twenty, n := at(chosen, 15)
	eight, more := at(withModes, 7.5)
	locked, _ := at(eightNodes, 7.5)
	require.Less(t, n, more)
	require.Less(t, 5*twenty, eight)
	require.Greater(t, locked, 0.05, "shear locking")
	_, _, err := columnError(t, fewPoints, 30)
	require.ErrorAs(t, err, new(*sparse.LooseError))

	for _, row := range []struct {
		id            string
		size          float64
		coarser, fine float64 // of the mesh of eight-noded elements, with fewer and with more unknowns
	}{
		{"solid-S1", 10, 5, 2.5},
		{"solid-M1_12mm", 5, 2.5, 1.2},
	} {
		report := func(c candidate, size float64) (float64, float64) {
			worst, n := bodyError(t, row.id, c, size)
			t.Logf("%s, %s: %.1f %% off with %d unknowns", row.id, c.name, 100*worst, n)
			return math.Log(worst), math.Log(float64(n))
		}
		off, n := report(chosen, row.size)
		report(fewPoints, row.size)
		a, na := report(withModes, row.coarser)
		b, nb := report(withModes, row.fine)
		require.True(t, na < n && n < nb)
		same := a + (b-a)*(n-na)/(nb-na) // error of the eight-noded ones with as many unknowns
		require.InDelta(t, same, off, math.Log(1.2), "a draw")
	}
}
