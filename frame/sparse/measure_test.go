//go:build unix

package sparse

import (
	"bufio"
	"encoding/binary"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"runtime"
	"slices"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

var (
	measured   = flag.String("shape", "", "measure the shape of this name and print a line of JSON")
	matrixFile = flag.String("matrix", "", "with -shape: write its matrix to this file")
)

// TestMeasure is run by testdata/sparse-speed/speed.py.
func TestMeasure(t *testing.T) {
	if *measured == "" {
		t.Skip("run by hand: needs -shape")
	}
	i := slices.IndexFunc(shapes, func(s shape) bool { return s.name == *measured })
	require.GreaterOrEqual(t, i, 0)
	s := shapes[i]
	nodes, cliques := s.cliques()
	_, m := s.built()
	p := m.pattern
	if *matrixFile != "" {
		require.NoError(t, write(m, *matrixFile))
	}
	const columns = 20
	x, many := make([]float64, p.n), make([]float64, p.n*columns)
	times := map[string][]float64{}
	for range 3 {
		runtime.GC()
		take := func(name string, do func()) {
			start := cpuSeconds()
			do()
			times[name] = append(times[name], cpuSeconds()-start)
		}
		var f *Factor
		take("analyse", func() { NewPattern(s.sizes(nodes), cliques) })
		runtime.GC()
		take("factor", func() {
			var err error
			f, err = m.Factorize()
			require.NoError(t, err)
		})
		for i := range x {
			x[i] = 1
		}
		for i := range many {
			many[i] = 1
		}
		take("solve", func() { f.SolveTo(x, x) })
		take("twenty", func() { f.SolveManyTo(many, many, columns) })
	}
	out := map[string]float64{
		"rows": float64(p.n), "nonzeros": float64(p.Entries()), "store": 8 * float64(p.factors.store),
	}
	stack := 0
	for k, q := range p.factors.parent {
		if q < 0 {
			out["work"] += p.factors.work[k]
			stack = max(stack, p.factors.stack[k])
		}
	}
	out["peak"] = out["store"] + 8*float64(stack)
	for name, list := range times {
		slices.Sort(list)
		out[name] = list[len(list)/2]
	}
	line, err := json.Marshal(out)
	require.NoError(t, err)
	fmt.Println(string(line))
}

func cpuSeconds() float64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		panic(err)
	}
	return float64(u.Utime.Nano()+u.Stime.Nano()) / 1e9
}

// write writes the lower triangle by columns, the whole pattern: the order and the number of entries as 64-bit
// integers, where columns begin and the rows of entries as 32-bit ones, then the entries.
func write(m *Matrix, path string) error {
	p := m.pattern
	b := &p.blocks
	unknown := make([]int32, p.n)
	for i, k := range p.place {
		unknown[k] = int32(i)
	}
	type entry struct {
		row int32
		v   float64
	}
	columns := make([][]entry, p.n)
	for v := range len(b.begin) - 1 {
		rows := slices.Collect(func(yield func(int32) bool) {
			for i := b.begin[v]; i < b.begin[v+1]; i++ {
				yield(i)
			}
			for _, u := range b.near[b.start[v]:b.start[v+1]] {
				for i := b.begin[u]; i < b.begin[u+1]; i++ {
					yield(i)
				}
			}
		})
		width := int(b.begin[v+1] - b.begin[v])
		for r, row := range rows {
			for c := range width {
				if r < c {
					continue
				}
				i, j := unknown[row], unknown[int(b.begin[v])+c]
				columns[min(i, j)] = append(columns[min(i, j)], entry{max(i, j), m.store[b.at[v]+r*width+c]})
			}
		}
	}
	starts, rows, values := []int32{0}, []int32{}, []float64{}
	for _, column := range columns {
		slices.SortFunc(column, func(a, b entry) int { return int(a.row - b.row) })
		for _, e := range column {
			rows, values = append(rows, e.row), append(values, e.v)
		}
		starts = append(starts, int32(len(rows)))
	}
	file, err := os.Create(path)
	if err != nil {
		return err
	}
	out := bufio.NewWriterSize(file, 1<<20)
	for _, part := range []any{[]int64{int64(p.n), int64(len(rows))}, starts, rows, values} {
		if err := binary.Write(out, binary.LittleEndian, part); err != nil {
			return err
		}
	}
	if err := out.Flush(); err != nil {
		return err
	}
	return file.Close()
}
