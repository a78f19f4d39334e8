package order

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// levelOf is a whole graph as a level.
func levelOf(g *Graph) *level {
	l := &level{net: net{start: narrow(g.Start), near: narrow(g.Near), weight: narrow(g.Weight)}}
	l.link = make([]int32, len(l.near))
	for k := range l.link {
		l.link[k] = 1
	}
	for _, w := range l.weight {
		l.total += w
	}
	return l
}

// requireCut fails unless no edge joins the two sides.
func requireCut(t require.TestingT, l *level, side []int8) {
	for v := range int32(l.vertices()) {
		for _, u := range l.of(v) {
			require.False(t, side[v] != separator && side[u] != separator && side[v] != side[u], "%d and %d", v, u)
		}
	}
}

func TestHalveCuts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyGraph(t)
		for v := range g.Weight {
			g.Weight[v] = max(1, g.Weight[v])
		}
		if len(g.Weight) < 2 {
			return
		}
		l := levelOf(g)
		d := newDissector(&l.net, l, nil)
		m := method(rapid.IntRange(0, 1).Draw(t, "method"))
		side, _ := d.halve(l, m)
		if side == nil {
			return
		}
		requireCut(t, l, side)
	})
}

func TestBisectFindsTheShortSeparator(t *testing.T) {
	for _, tt := range []struct {
		name string
		g    *Graph
		most int32 // unknowns of the straight separator in the middle, which nothing balanced undercuts by much
	}{
		{"plate of squares 40x60", bricks(40, 60, 2), 40 * 6},
		{"plate of bricks 20x30x4", bricks(20, 30, 4), 20 * 4 * 3},
		{"grillage 40x60", lattice(40, 60, 1, 1), 40},
		{"space frame 12x12x12", lattice(12, 12, 12, 1), 144},
	} {
		t.Run(tt.name, func(t *testing.T) {
			l := levelOf(tt.g)
			d := newDissector(&l.net, l, nil)
			side, _ := d.halve(l, comparing)
			requireCut(t, l, side)
			require.LessOrEqual(t, d.best.amount[separator], tt.most)
			require.LessOrEqual(t, max(d.best.amount[left], d.best.amount[right]), int32(int64(l.total)*heaviestShare/1000))
		})
	}
}

func TestPiecesBalance(t *testing.T) {
	var coupled [][]int
	for v := range 300 {
		if v%3 < 2 {
			coupled = append(coupled, []int{v, v + 1})
		}
	}
	l := levelOf(graphOf(equal(300, 1), coupled)) // a hundred chains of three
	d := newDissector(&l.net, l, nil)
	side, _ := d.halve(l, comparing)
	requireCut(t, l, side)
	var count [3]int
	for _, s := range side {
		count[s]++
	}
	require.Equal(t, [3]int{150, 150, 0}, count)
}
