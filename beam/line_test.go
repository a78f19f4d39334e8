package beam

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"tiploop/testdata/checks"
)

// line is a row of members end to end along x, solved with dense matrices: the plain reference
// for the member matrices.
type line struct {
	members []Member
	at      []float64 // places of the nodes, mm
	held    map[int]float64
	K       *mat.SymDense
	F       []float64
}

// Freedoms of a node.
const (
	ux = iota
	uy
	uz
	rx
	ry
	rz
)

// newLine cuts a member at the places given.
func newLine(m Member, cuts ...float64) *line {
	l := &line{at: []float64{0}, held: map[int]float64{}}
	for _, c := range append(cuts, m.Length) {
		part := m
		part.Length = c - l.at[len(l.at)-1]
		l.members = append(l.members, part)
		l.at = append(l.at, c)
	}
	return l.build()
}

// rowOf is members already cut.
func rowOf(members ...Member) *line {
	l := &line{members: members, at: []float64{0}, held: map[int]float64{}}
	for i, m := range members {
		l.at = append(l.at, l.at[i]+m.Length)
	}
	return l.build()
}

func (l *line) build() *line {
	n := 6 * len(l.at)
	l.K, l.F = mat.NewSymDense(n, nil), make([]float64, n)
	for e, m := range l.members {
		addBlock(l.K, 6*e, m.Stiffness())
	}
	return l
}

func addBlock(dst *mat.SymDense, at int, block [12][12]float64) {
	for i := range 12 {
		for j := i; j < 12; j++ {
			dst.SetSym(at+i, at+j, dst.At(at+i, at+j)+block[i][j])
		}
	}
}

func (l *line) hold(node int, freedoms ...int) *line {
	for _, f := range freedoms {
		l.held[6*node+f] = 0
	}
	return l
}

func (l *line) clamp(node int) *line { return l.hold(node, ux, uy, uz, rx, ry, rz) }

// simple holds both ends of the line so that it is free to bend.
func (l *line) simple() *line {
	return l.hold(0, ux, uy, uz, rx).hold(l.last(), uy, uz)
}

func (l *line) last() int { return len(l.at) - 1 }

// down puts a force along −z on a node.
func (l *line) down(node int, force float64) *line {
	l.F[6*node+uz] -= force
	return l
}

func (l *line) spring(node, freedom int, k float64) *line {
	i := 6*node + freedom
	l.K.SetSym(i, i, l.K.At(i, i)+k)
	return l
}

// addEnds adds the end forces of one member.
func (l *line) addEnds(member int, f [12]float64) *line {
	for i, x := range f {
		l.F[6*member+i] += x
	}
	return l
}

// loadDown puts a load along −z on the whole line that varies from one end to the other.
func (l *line) loadDown(first, last float64) *line {
	q := func(x float64) [3]float64 {
		part := x / l.at[l.last()]
		return [3]float64{2: -((1-part)*first + part*last)}
	}
	for e, m := range l.members {
		l.addEnds(e, m.LineLoad(0, m.Length, q(l.at[e]), q(l.at[e+1])))
	}
	return l
}

// free lists the freedoms that are not held.
func (l *line) free() (free []int) {
	for i := range l.F {
		if _, held := l.held[i]; !held {
			free = append(free, i)
		}
	}
	return free
}

// solve returns the movements and the reactions of the held freedoms.
func (l *line) solve(t require.TestingT) (d, reactions []float64) {
	free := l.free()
	d = make([]float64, len(l.F))
	for i, v := range l.held {
		d[i] = v
	}
	k, f := mat.NewSymDense(len(free), nil), mat.NewVecDense(len(free), nil)
	for a, i := range free {
		rest := l.F[i]
		for c, v := range l.held {
			rest -= l.K.At(i, c) * v
		}
		f.SetVec(a, rest)
		for b, j := range free {
			if b >= a {
				k.SetSym(a, b, l.K.At(i, j))
			}
		}
	}
	var chol mat.Cholesky
	require.True(t, chol.Factorize(k), "the line is loose")
	var x mat.VecDense
	err := chol.SolveVecTo(&x, f)
	if _, poor := err.(mat.Condition); !poor {
		require.NoError(t, err)
	}
	for a, i := range free {
		d[i] = x.AtVec(a)
	}
	reactions = make([]float64, len(l.F))
	for i := range reactions {
		for j := range d {
			reactions[i] += l.K.At(i, j) * d[j]
		}
		reactions[i] -= l.F[i]
	}
	return d, reactions
}

// frequencies returns the lowest n natural frequencies in Hz; extra is mass added to freedoms.
func (l *line) frequencies(t require.TestingT, n int, extra map[int]float64) []float64 {
	M := mat.NewSymDense(len(l.F), nil)
	for e, m := range l.members {
		addBlock(M, 6*e, m.Mass())
	}
	for i, x := range extra {
		M.SetSym(i, i, M.At(i, i)+x)
	}
	free := l.free()
	k, m := mat.NewSymDense(len(free), nil), mat.NewSymDense(len(free), nil)
	for a, i := range free {
		for b := a; b < len(free); b++ {
			k.SetSym(a, b, l.K.At(i, free[b]))
			m.SetSym(a, b, M.At(i, free[b]))
		}
	}
	// K·v = ω²·M·v with K = LLᵀ is L⁻¹ML⁻ᵀ·w = w/ω².
	var chol mat.Cholesky
	require.True(t, chol.Factorize(k))
	var low mat.TriDense
	chol.LTo(&low)
	var half, whole mat.Dense
	require.NoError(t, ignorePoor(half.Solve(&low, m)))
	require.NoError(t, ignorePoor(whole.Solve(&low, half.T())))
	sym := mat.NewSymDense(len(free), nil)
	for i := range free {
		for j := i; j < len(free); j++ {
			sym.SetSym(i, j, (whole.At(i, j)+whole.At(j, i))/2)
		}
	}
	var eig mat.EigenSym
	require.True(t, eig.Factorize(sym, false))
	values := eig.Values(nil)
	var hz []float64
	for i := range n {
		hz = append(hz, 1/(2*math.Pi*math.Sqrt(values[len(values)-1-i])))
	}
	return hz
}

func ignorePoor(err error) error {
	if _, poor := err.(mat.Condition); poor {
		return nil
	}
	return err
}

// slender returns the check's rectangular member without shear deflection.
func slender(t *testing.T, c checks.Case) Member {
	return checkMember(t, c, 0, c.In(t, "height_mm"))
}

// checkMember returns a member of the check's material and width and the height given.
func checkMember(t *testing.T, c checks.Case, shearArea, h float64) Member {
	b := c.In(t, "width_mm")
	s := mustSection(
		t,
		Plain{A: b * h, Iy: b * h * h * h / 12, Iz: h * b * b * b / 12, J: b * h * h * h / 3, Ay: shearArea, Az: shearArea},
		0.33,
	)
	m := Member{Section: s, Material: Material{Key: c.ID, E: c.In(t, "E_MPa"), Nu: 0.33}, Length: c.In(t, "length_mm")}
	if _, ok := c.Inputs["shear_modulus_MPa"]; ok {
		m.Material.Nu = m.Material.E/(2*c.In(t, "shear_modulus_MPa")) - 1
	}
	if _, ok := c.Inputs["density_tonne_per_mm3"]; ok {
		m.Material.Density = c.In(t, "density_tonne_per_mm3")
	}
	if _, ok := c.Inputs["expansion_per_K"]; ok {
		m.Material.Expansion = c.In(t, "expansion_per_K")
	}
	return m
}

func (m Member) eiFlat() float64 { return m.Material.E * m.Section.Iy }

// evenCuts are the places that cut a length into n.
func evenCuts(length float64, n int) (cuts []float64) {
	for i := 1; i < n; i++ {
		cuts = append(cuts, length*float64(i)/float64(n))
	}
	return cuts
}
