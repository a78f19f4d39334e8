package sparse

// front is the dense block in which a supernode is eliminated: its columns, kept as panels in the factor's store, and
// what eliminating them leaves for the rows below, its update: the lower triangle, row by row without gaps.
type front struct {
	first        int32
	width, below int
	panels       []panel
	children     []link
	update       []float64
}

// link says where the rows of a child's update lie in its parent's front: row i in row at[i].
type link struct {
	update   []float64
	at       []int32
	pieces   []piece // of a row: first those that lie in panels
	inPanels int     // number of those
}

// piece is a stretch of a child's row that lies in one panel of its parent or in its update. An entry of the parent's
// row r is at base + r·stride and on; base counts from the row's first entry where it lies in the update.
type piece struct {
	from, length int
	base, stride int
}

// open fills in a front's shape and puts the matrix's entries into its panels.
func (w *worker) open(k int) *front {
	s := w.factor.supernodes()
	f := &w.front
	f.first = s.first[k]
	f.width, f.below = int(s.first[k+1]-s.first[k]), int(s.below[k])
	f.panels = s.panelsOf(k)
	row := int32(f.width)
	for _, r := range s.runsOf(k) {
		for i := range r.length {
			w.local[r.at+i] = row + i
		}
		row += r.length
	}
	for i := range int32(f.width) {
		w.local[f.first+i] = i
	}
	w.enter(f)
	f.children = f.children[:0]
	w.rows, w.pieces = w.rows[:0], w.pieces[:0]
	for _, c := range s.of(k) {
		w.link(f, s, int(c))
	}
	return f
}

// enter adds the matrix's columns to the front's panels.
func (w *worker) enter(f *front) {
	m := w.matrix
	b := &m.pattern.blocks
	store := w.factor.store
	for v := b.of[f.first]; v < int32(len(b.begin)-1) && b.begin[v] < f.first+int32(f.width); v++ {
		size := int(b.begin[v+1] - b.begin[v])
		from := int(b.begin[v] - f.first)
		for _, p := range f.panels {
			// The part of the vertex's columns that lies in this panel.
			left := int(p.first - f.first)
			lo, hi := max(from, left), min(from+size, left+int(p.width))
			if lo >= hi {
				continue
			}
			width := int(p.width)
			values := m.store[b.at[v]+lo-from:]
			for i := from; i < from+size; i++ {
				if i >= lo {
					n := min(hi, i+1) - lo
					copy(store[p.at+(i-left)*width+lo-left:][:n], values[(i-from)*size:])
				}
			}
			row := size
			for _, u := range b.near[b.start[v]:b.start[v+1]] {
				at := int(w.local[b.begin[u]])
				for i := range int(b.begin[u+1] - b.begin[u]) {
					copy(store[p.at+(at+i-left)*width+lo-left:][:hi-lo], values[row*size:])
					row++
				}
			}
		}
	}
}

// link finds the pieces of a child's update.
func (w *worker) link(f *front, s *supernodes, c int) {
	if s.below[c] == 0 {
		return
	}
	rows, pieces := len(w.rows), len(w.pieces)
	inPanels := 0
	for _, r := range s.runsOf(c) {
		from, at, length := len(w.rows)-rows, int(w.local[r.at]), int(r.length)
		for i := range length {
			w.rows = append(w.rows, int32(at+i))
		}
		for _, p := range f.panels {
			left, width := int(p.first-f.first), int(p.width)
			if n := min(left+width-at, length); n > 0 && at >= left {
				w.pieces = append(w.pieces, piece{from, n, p.at - left*width + at - left, width})
				inPanels++
				from, at, length = from+n, at+n, length-n
			}
		}
		if length > 0 {
			w.pieces = append(w.pieces, piece{from, length, at - f.width, 0})
		}
	}
	f.children = append(f.children, link{w.updates[c], w.rows[rows:], w.pieces[pieces:], inPanels})
}

// addToPanels adds those rows of a child's update that are entries of the front's own columns.
func (l *link) addToPanels(store []float64, from, to int) {
	for i := from; i < to; i++ {
		row := l.update[triangle(i):][:i+1]
		r := int(l.at[i])
		for _, p := range l.pieces[:l.inPanels] {
			if p.from > i {
				break
			}
			n := min(p.length, i+1-p.from)
			add(store[p.base+r*p.stride:][:n], row[p.from:])
		}
	}
}

// addToUpdate adds the other entries of its rows to the front's update.
func (l *link) addToUpdate(f *front, from, to int) {
	for i := from; i < to; i++ {
		r := int(l.at[i]) - f.width
		if r < 0 {
			continue
		}
		row := l.update[triangle(i):][:i+1]
		dst := f.update[triangle(r):]
		for _, p := range l.pieces[l.inPanels:] {
			if p.from > i {
				break
			}
			n := min(p.length, i+1-p.from)
			add(dst[p.base:][:n], row[p.from:])
		}
	}
}

// catchUp takes the products with the earlier panels off rows from to to of panel b, counted in the front.
func (f *front) catchUp(store []float64, b, from, to int) {
	p := f.panels[b]
	left, width := int(p.first-f.first), int(p.width)
	for _, a := range f.panels[:b] {
		k := int(a.width)
		rows := store[a.at+(left-int(a.first-f.first))*k:]
		r := products{rows: rows, width: k, target: store[p.at:], stride: width, columns: width}
		arithmetic.subtract(r, from-left, to-left)
	}
}

// divide divides rows from to to of panel b by the panel's triangle.
func (f *front) divide(store []float64, b, from, to int) {
	p := f.panels[b]
	left, width := int(p.first-f.first), int(p.width)
	arithmetic.substitute(store[p.at+(from-left)*width:], store[p.at:], to-from, width)
}

// multiply sets rows from to to of the update to what eliminating the front's columns leaves: −L·Lᵀ of the rows below.
func (f *front) multiply(store []float64, from, to int) {
	for n, a := range f.panels {
		k := int(a.width)
		rows := store[a.at+(f.width-int(a.first-f.first))*k:]
		r := products{rows: rows, width: k, target: f.update, columns: to, fresh: n == 0}
		arithmetic.subtract(r, from, to)
	}
}
