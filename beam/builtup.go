package beam

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// BuiltUp is a section of rectangles of one or more materials, glued or screwed so tightly that
// they act as one. Each rectangle must share part of a side with the rest; none may overlap.
type BuiltUp struct {
	Base   Material // the material the section is transformed to
	Pieces []Piece
}

// Piece is one rectangle of a built-up section.
type Piece struct {
	Width, Height float64 // along y, along z, mm
	Y, Z          float64 // its middle in the drawing's coordinates, mm
	Material      Material
}

// Section returns the transformed section: a member of material Base with these properties is as
// stiff as the real one (Gere & Timoshenko, Mechanics of Materials, composite beams). Areas count
// times E/E of the base, the centroid is the elastic one, and J and the shear areas come from a
// numerical solution with each piece's own shear modulus. nu is ignored: each material has its
// own Poisson's ratio, and for the sideways strain of bending the whole section takes that of
// Base. Mass and thermal expansion are in Section.Composite. There is no stress: it steps from piece
// to piece with E, each material has its own yield, and where two end together it has no bound.
func (b BuiltUp) Section(nu float64) (Section, error) {
	if err := b.check(); err != nil {
		return Section{}, fmt.Errorf("built-up section: %w", err)
	}
	total, first, outline := 0.0, point{}, [4]float64{math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)}
	for _, p := range b.Pieces {
		ea := p.area() * p.Material.E / b.Base.E
		total += ea
		first[0] += ea * p.Y
		first[1] += ea * p.Z
		outline[0], outline[1] = min(outline[0], p.Y-p.Width/2), max(outline[1], p.Y+p.Width/2)
		outline[2], outline[3] = min(outline[2], p.Z-p.Height/2), max(outline[3], p.Z+p.Height/2)
	}
	centroid := point{first[0] / total, first[1] / total}
	stiff := b.integrals(centroid, func(m Material) float64 { return m.E / b.Base.E })
	s := Section{
		Name: fmt.Sprintf("built-up of %d", len(b.Pieces)),
		A:    stiff[0][0], Iy: stiff[2][2], Iz: stiff[1][1], Iyz: stiff[1][2],
		YMin: outline[0] - centroid[0], YMax: outline[1] - centroid[0],
		ZMin: outline[2] - centroid[1], ZMax: outline[3] - centroid[1],
		CentroidY: centroid[0], CentroidZ: centroid[1],
		Composite: &Composite{
			Mass:      b.integrals(centroid, func(m Material) float64 { return m.Density }),
			Expansion: b.integrals(centroid, func(m Material) float64 { return m.Expansion * m.E / b.Base.E }),
		},
	}

	unit := math.Sqrt(total)
	mesh, corners, err := b.mesh(centroid, 1/unit)
	if err != nil {
		return Section{}, fmt.Errorf("built-up section: %w", err)
	}
	s.Outline = scaledOutline(mesh, unit)
	mesh.refine(corners, meshCoarse)
	ratios := make([]stiffnessRatio, len(b.Pieces))
	for i, p := range b.Pieces {
		ratios[i] = stiffnessRatio{e: p.Material.E / b.Base.E, g: p.Material.G() / b.Base.G()}
	}
	el, err := solveSection(mesh, ratios, b.Base.Nu)
	if err != nil {
		return Section{}, fmt.Errorf("built-up section: %w", err)
	}
	s.J = (el.jLow + el.jHigh) / 2 * total * total
	s.Ay, s.Az = el.ay*total, el.az*total
	s.ShearY, s.ShearZ = el.shearY*unit, el.shearZ*unit
	return s, nil
}

func (p Piece) area() float64 { return p.Width * p.Height }

// check returns an error unless there are pieces and each is possible by itself.
func (b BuiltUp) check() error {
	if len(b.Pieces) == 0 {
		return errors.New("it has no pieces")
	}
	if err := b.Base.Check(); err != nil {
		return fmt.Errorf("base: %w", err)
	}
	for i, p := range b.Pieces {
		for _, s := range []size{{"width", p.Width}, {"height", p.Height}} {
			if err := positive(s.name, s.value); err != nil {
				return fmt.Errorf("piece %d: %w", i+1, err)
			}
		}
		if !finite(p.Y) || !finite(p.Z) {
			return fmt.Errorf("piece %d: (%g, %g) is not a place", i+1, p.Y, p.Z)
		}
		if err := p.Material.Check(); err != nil {
			return fmt.Errorf("piece %d: %w", i+1, err)
		}
	}
	return nil
}

// integrals is ∫ c·(1, y, z)ᵀ(1, y, z) dA about the place given.
func (b BuiltUp) integrals(about point, c func(Material) float64) (sum [3][3]float64) {
	for _, p := range b.Pieces {
		w := c(p.Material) * p.area()
		v := [3]float64{1, p.Y - about[0], p.Z - about[1]}
		for i := range 3 {
			for j := range 3 {
				sum[i][j] += w * v[i] * v[j]
			}
		}
		sum[1][1] += w * p.Width * p.Width / 12
		sum[2][2] += w * p.Height * p.Height / 12
	}
	return sum
}

// mesh divides the pieces along a common grid of all their sides; regions are the pieces. It
// also returns the places to refine at: the corners of all pieces, as stress may be singular
// where two materials end.
func (b BuiltUp) mesh(about point, scale float64) (*mesh, []meshCorner, error) {
	var ys, zs []float64
	var corners []meshCorner
	type box struct{ low, high point }
	boxes := make([]box, len(b.Pieces))
	for i, p := range b.Pieces {
		low := point{(p.Y - p.Width/2 - about[0]) * scale, (p.Z - p.Height/2 - about[1]) * scale}
		high := point{(p.Y + p.Width/2 - about[0]) * scale, (p.Z + p.Height/2 - about[1]) * scale}
		boxes[i] = box{low, high}
		ys, zs = append(ys, low[0], high[0]), append(zs, low[1], high[1])
		for _, at := range []point{low, {high[0], low[1]}, high, {low[0], high[1]}} {
			corners = append(corners, meshCorner{at, pieceCornerSize * scale * min(p.Width, p.Height)})
		}
	}
	ys, zs = merged(ys), merged(zs)
	number := func(j, k int) int { return j*len(zs) + k }
	var cells [][3]int
	var regions []int
	for j := range len(ys) - 1 {
		for k := range len(zs) - 1 {
			middle := midpoint(point{ys[j], zs[k]}, point{ys[j+1], zs[k+1]})
			owner := -1
			for i, x := range boxes {
				if middle[0] < x.low[0] || middle[0] > x.high[0] || middle[1] < x.low[1] || middle[1] > x.high[1] {
					continue
				}
				if owner >= 0 {
					return nil, nil, fmt.Errorf("pieces %d and %d overlap", owner+1, i+1)
				}
				owner = i
			}
			if owner < 0 {
				continue
			}
			cells = append(
				cells,
				[3]int{number(j, k), number(j+1, k), number(j+1, k+1)},
				[3]int{number(j, k), number(j+1, k+1), number(j, k+1)},
			)
			regions = append(regions, owner, owner)
		}
	}
	points, cells := usedPoints(ys, zs, cells)
	m, ok := newMesh(points, cells, regions)
	if !ok {
		panic("beam: grid cells do not fit together")
	}
	if apart := m.detached(); apart >= 0 {
		return nil, nil, fmt.Errorf("piece %d shares no side with the rest", m.tris[apart].region+1)
	}
	if _, ok := m.loops(); !ok {
		return nil, nil, errors.New("two pieces meet only at a corner")
	}
	return m, corners, nil
}

// pieceCornerSize is the longest mesh side at a piece's corner, as a part of its smaller side.
const pieceCornerSize = 0.15

// usedPoints numbers the grid points the cells use from 0 and returns them and the cells.
func usedPoints(ys, zs []float64, cells [][3]int) (points []point, renumbered [][3]int) {
	place := make(map[int]int)
	for _, c := range cells {
		var r [3]int
		for i, v := range c {
			at, ok := place[v]
			if !ok {
				at = len(points)
				place[v] = at
				points = append(points, point{ys[v/len(zs)], zs[v%len(zs)]})
			}
			r[i] = at
		}
		renumbered = append(renumbered, r)
	}
	return points, renumbered
}

// merged sorts places and makes one of those closer than rounding (the section has unit area).
func merged(at []float64) []float64 {
	slices.Sort(at)
	return slices.CompactFunc(at, func(a, b float64) bool { return math.Abs(a-b) <= touchTolerance })
}

// detached returns a triangle that no chain of neighbours joins to the first one, or -1.
func (m *mesh) detached() int {
	met := make([]bool, len(m.tris))
	met[0] = true
	for stack := []int{0}; len(stack) > 0; {
		t := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		for _, o := range m.tris[t].n {
			if o != noNeighbour && !met[o] {
				met[o] = true
				stack = append(stack, o)
			}
		}
	}
	return slices.Index(met, false)
}

// scaledOutline draws the boundary of a mesh, the outer loop first, corners on straight lines left
// out, times scale.
func scaledOutline(m *mesh, scale float64) [][]point {
	numbers, _ := m.loops()
	var loops [][]point
	outer := 0
	for _, run := range numbers {
		var loop []point
		for i, v := range run {
			before, after := m.points[run[(i+len(run)-1)%len(run)]], m.points[run[(i+1)%len(run)]]
			at := m.points[v]
			if math.Abs(cross(before, at, after)) > touchTolerance*distance(before, at)*distance(at, after) {
				loop = append(loop, point{at[0] * scale, at[1] * scale})
			}
		}
		if loopArea(loop) > 0 {
			outer = len(loops)
		}
		loops = append(loops, loop)
	}
	loops[0], loops[outer] = loops[outer], loops[0]
	return loops
}
