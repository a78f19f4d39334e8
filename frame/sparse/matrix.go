package sparse

import "fmt"

// Matrix is a symmetric matrix of some pattern.
type Matrix struct {
	pattern *Pattern
	store   []float64 // in the shape of the pattern's blocks
	last    found     // where Add was last off the diagonal, for elements are added block by block
}

// found is a block of the store: the entry at places (i, j) is at base + i·width + j.
type found struct {
	row, column int32 // vertices
	width, base int
}

// NewMatrix returns a matrix of zeros.
func (p *Pattern) NewMatrix() *Matrix {
	return &Matrix{pattern: p, store: make([]float64, p.blocks.at[len(p.blocks.at)-1]), last: found{row: -1, column: -1}}
}

// found returns the block of a row and an earlier column or the same; its width is 0 outside the pattern.
func (b *blocks) found(row, column int32) found {
	f := found{row: row, column: column}
	if at := b.find(row, column); at >= 0 {
		f.width = int(b.begin[column+1] - b.begin[column])
		f.base = at - int(b.begin[row])*f.width - int(b.begin[column])
	}
	return f
}

// Add adds v at (i, j) and, when i ≠ j, at (j, i): give every unordered pair once.
func (m *Matrix) Add(i, j int, v float64) {
	p := m.pattern
	hi, lo := p.place[i], p.place[j]
	if hi < lo {
		hi, lo = lo, hi
	}
	row, column := p.blocks.of[hi], p.blocks.of[lo]
	if row == column {
		first := p.blocks.begin[row]
		m.store[p.blocks.at[row]+int((hi-first)*(p.blocks.begin[row+1]-first)+lo-first)] += v
		return
	}
	if row != m.last.row || column != m.last.column {
		m.last = p.blocks.found(row, column)
	}
	if m.last.width == 0 {
		panic(fmt.Sprintf("sparse: entry (%d, %d) outside the pattern", i, j))
	}
	m.store[m.last.base+int(hi)*m.last.width+int(lo)] += v
}

// AddOuter adds weight·f·fᵀ, f having the given factors of the given unknowns, all different, those of one group
// together. It is quicker than entry by entry, for each pair of groups is looked up once.
func (m *Matrix) AddOuter(weight float64, unknowns []int, factors []float64) {
	if len(unknowns) != len(factors) {
		panic(fmt.Sprintf("sparse: %d factors of %d unknowns", len(factors), len(unknowns)))
	}
	parts := m.outerParts(unknowns, factors)
	b := &m.pattern.blocks
	for i := range parts {
		for j := range i + 1 {
			p, q := &parts[i], &parts[j]
			if p.vertex < q.vertex {
				p, q = q, p
			}
			at := b.find(p.vertex, q.vertex)
			if at < 0 {
				panic(fmt.Sprintf("sparse: unknowns %v are not all coupled", unknowns))
			}
			width := int(b.begin[q.vertex+1] - b.begin[q.vertex])
			for k, r := range p.rows { // on the diagonal both triangles, of which one is used
				line, w := m.store[at+int(r)*width:][:width], weight*p.factors[k]
				for l, c := range q.rows {
					line[c] += w * q.factors[l]
				}
			}
		}
	}
}

// outerPart is what a form has of one vertex: rows within it and their factors.
type outerPart struct {
	vertex  int32
	rows    []int32
	factors []float64
}

func (m *Matrix) outerParts(unknowns []int, factors []float64) (parts []outerPart) {
	b := &m.pattern.blocks
	rows := make([]int32, len(unknowns))
	from := 0
	for i, u := range unknowns {
		place := m.pattern.place[u]
		vertex := b.of[place]
		rows[i] = place - b.begin[vertex]
		if last := len(parts) - 1; last >= 0 && parts[last].vertex == vertex {
			parts[last].rows, parts[last].factors = rows[from:i+1], factors[from:i+1]
			continue
		}
		from = i
		parts = append(parts, outerPart{vertex, rows[i : i+1], factors[i : i+1]})
	}
	return parts
}

// AddBlock adds the symmetric matrix k of an element that couples the unknowns of the given groups, all different, in
// their order; k goes row by row and holds both triangles, of which one is read. It is quicker than entry by entry, for
// each pair of groups is looked up once.
func (m *Matrix) AddBlock(groups []int, k []float64) {
	b := &m.pattern.blocks
	n := 0
	for _, g := range groups {
		n += m.pattern.size(g)
	}
	if len(k) != n*n {
		panic(fmt.Sprintf("sparse: block of %d numbers for groups of %d unknowns", len(k), n))
	}
	from := 0
	for i, g := range groups {
		size := m.pattern.size(g)
		to := 0
		for j, h := range groups[:i+1] {
			width := m.pattern.size(h)
			if size > 0 && width > 0 {
				row, column := b.vertexOf[g], b.vertexOf[h]
				if j < i && row == column {
					panic(fmt.Sprintf("sparse: group %d twice in a block", g))
				}
				at := b.find(max(row, column), min(row, column))
				if at < 0 {
					panic(fmt.Sprintf("sparse: groups %d and %d are not coupled", g, h))
				}
				if row >= column {
					for r := range size {
						add(m.store[at+r*width:][:width], k[(from+r)*n+to:])
					}
				} else {
					for r := range width {
						add(m.store[at+r*size:][:size], k[(to+r)*n+from:])
					}
				}
			}
			to += width
		}
		from += size
	}
}

func add(dst, s []float64) {
	s = s[:len(dst)]
	for i := range dst {
		dst[i] += s[i]
	}
}

// size is the number of unknowns of a group.
func (p *Pattern) size(group int) int {
	v := p.blocks.vertexOf[group]
	if v < 0 {
		return 0
	}
	return int(p.blocks.begin[v+1] - p.blocks.begin[v])
}

// At is the entry (i, j).
func (m *Matrix) At(i, j int) float64 {
	p := m.pattern
	hi, lo := p.place[i], p.place[j]
	if hi < lo {
		hi, lo = lo, hi
	}
	f := p.blocks.found(p.blocks.of[hi], p.blocks.of[lo])
	if f.width == 0 {
		return 0
	}
	return m.store[f.base+int(hi)*f.width+int(lo)]
}

// diagonal is the entry on the diagonal at a place.
func (m *Matrix) diagonal(place int32) float64 {
	b := &m.pattern.blocks
	v := b.of[place]
	i := int(place - b.begin[v])
	return m.store[b.at[v]+i*int(b.begin[v+1]-b.begin[v])+i]
}

// MulTo writes K·x into dst. dst must not overlap x.
func (m *Matrix) MulTo(dst, x []float64) {
	p := m.pattern
	if len(dst) != p.n || len(x) != p.n {
		panic(fmt.Sprintf("sparse: vectors of %d and %d for a matrix of order %d", len(dst), len(x), p.n))
	}
	b := &p.blocks
	scratch := make([]float64, 2*p.n)
	in, out := scratch[:p.n], scratch[p.n:]
	for i, k := range p.place {
		in[k] = x[i]
	}
	for v := range len(b.begin) - 1 {
		from, to := b.begin[v], b.begin[v+1]
		width := int(to - from)
		xv, yv := in[from:to], out[from:to]
		store := m.store[b.at[v]:b.at[v+1]]
		for i := range xv {
			row := store[i*width : i*width+i]
			sum := store[i*width+i] * xv[i]
			for j, k := range row {
				sum += k * xv[j]
				yv[j] += k * xv[i]
			}
			yv[i] += sum
		}
		store = store[width*width:]
		for _, u := range b.near[b.start[v]:b.start[v+1]] {
			for i := b.begin[u]; i < b.begin[u+1]; i++ {
				row, xi, sum := store[:width], in[i], 0.0
				store = store[width:]
				for j, k := range row {
					sum += k * xv[j]
					yv[j] += k * xi
				}
				out[i] += sum
			}
		}
	}
	for i, k := range p.place {
		dst[i] = out[k]
	}
}
