package solid

import (
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/sparse"
)

// touching is zones as sums over as few unit loads as tell all their readings: those on the unknowns of the mesh that
// any of them reads or, where these are fewer, those on the zones' own freedoms. The number of the former is bounded by
// the mesh.
type touching struct {
	loads [][]sparse.Term // by unknown of the mesh
	begin []int           // loads near one another are in one group: the first of each, and their number
	zones []touch
}

// touch is a zone's six readings by loads, ascending.
type touch struct {
	loads []int
	reads [6][]float64
}

func newTouch(loads int) touch {
	z, scratch := touch{loads: make([]int, loads)}, make([]float64, 6*loads)
	for k := range z.reads {
		z.reads[k] = scratch[k*loads : (k+1)*loads : (k+1)*loads]
	}
	return z
}

// nodesAtOnce is how many nodes' unknowns make a group. Fewer make more groups for a zone to lie on, more make groups
// of which a zone reads but a corner.
const nodesAtOnce = 16

// touched chooses the loads of zones and says how each reads.
func (r *Reduced) touched(readings []reading) *touching {
	read := make([]bool, 3*len(r.mesh.Nodes))
	var nodes []int
	unknowns := 0
	for _, f := range readings {
		for _, s := range f.form {
			if !read[s.unknown] {
				read[s.unknown] = true
				unknowns++
				if len(nodes) == 0 || nodes[len(nodes)-1] != s.unknown/3 {
					nodes = append(nodes, s.unknown/3)
				}
			}
		}
	}
	if unknowns > 6*len(readings) {
		return touchedFreedoms(readings)
	}
	return r.touchedUnknowns(readings, read, nodes)
}

// touchedFreedoms has the loads on the zones' own freedoms.
func touchedFreedoms(readings []reading) *touching {
	t := &touching{zones: make([]touch, len(readings)), begin: []int{0}}
	for i, f := range readings {
		t.zones[i] = newTouch(6)
		for k := range 6 {
			var load []sparse.Term
			for _, s := range f.form {
				if s.reads[k] != 0 {
					load = append(load, sparse.Term{Unknown: s.unknown, Factor: s.reads[k]})
				}
			}
			t.zones[i].loads[k], t.zones[i].reads[k][k] = len(t.loads), 1
			t.loads = append(t.loads, load)
		}
		t.begin = append(t.begin, len(t.loads))
	}
	return t
}

// touchedUnknowns has the loads on the unknowns of the mesh that are read, all of them of the given nodes.
func (r *Reduced) touchedUnknowns(readings []reading, read []bool, nodes []int) *touching {
	t := &touching{zones: make([]touch, len(readings)), begin: []int{0}}
	number := make([]int, len(read)) // of the load
	slices.Sort(nodes)
	for _, group := range r.grouped(slices.Compact(nodes)) {
		for _, node := range group {
			for u := 3 * node; u < 3*node+3; u++ {
				if read[u] {
					number[u] = len(t.loads)
					t.loads = append(t.loads, []sparse.Term{{Unknown: u, Factor: 1}})
				}
			}
		}
		t.begin = append(t.begin, len(t.loads))
	}
	each(len(readings), func(i int) {
		f := readings[i].form
		order := make([]int, len(f)) // load and place in the form as one number
		for a, s := range f {
			order[a] = number[s.unknown]*len(f) + a
		}
		slices.Sort(order)
		z := newTouch(len(f))
		for at, o := range order {
			z.loads[at] = o / len(f)
			for k, read := range f[o%len(f)].reads {
				z.reads[k][at] = read
			}
		}
		t.zones[i] = z
	})
	return t
}

// grouped halves nodes, ascending, across their longest extent until groups are small.
func (r *Reduced) grouped(nodes []int) [][]int {
	if len(nodes) <= nodesAtOnce {
		return [][]int{nodes}
	}
	lo := components(r.mesh.Nodes[nodes[0]])
	hi := lo
	for _, n := range nodes {
		for k, x := range components(r.mesh.Nodes[n]) {
			lo[k], hi[k] = min(lo[k], x), max(hi[k], x)
		}
	}
	size := r3.Sub(vector(hi), vector(lo))
	longest := 0
	for k, d := range components(size) {
		if d > components(size)[longest] {
			longest = k
		}
	}
	slices.SortStableFunc(nodes, func(a, b int) int {
		switch x, y := components(r.mesh.Nodes[a])[longest], components(r.mesh.Nodes[b])[longest]; {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	half := len(nodes) / 2
	return append(r.grouped(nodes[:half]), r.grouped(nodes[half:])...)
}

// neighbours are for each group those up to itself that a zone reads together with it, ascending.
func (t *touching) neighbours() [][]int {
	near := make([][]int, len(t.begin)-1)
	var groups []int
	for _, z := range t.zones {
		groups = groups[:0]
		g := 0
		for _, load := range z.loads {
			if len(groups) > 0 && load < t.begin[g+1] {
				continue
			}
			g, _ = slices.BinarySearch(t.begin, load+1)
			g--
			groups = append(groups, g)
			for _, h := range groups {
				if at, found := slices.BinarySearch(near[g], h); !found {
					near[g] = slices.Insert(near[g], at, h)
				}
			}
		}
	}
	return near
}

// each calls do for 0 … count−1, in no particular order, on as many goroutines as GOMAXPROCS allows.
func each(count int, do func(i int)) {
	const atOnce = 16 // that a goroutine takes, lest they queue up for the counter
	var next atomic.Int64
	var done sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), (count+atOnce-1)/atOnce) {
		done.Go(func() {
			for from := int(next.Add(atOnce)) - atOnce; from < count; from = int(next.Add(atOnce)) - atOnce {
				for i := from; i < min(from+atOnce, count); i++ {
					do(i)
				}
			}
		})
	}
	done.Wait()
}
