package frame_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"tiploop/frame"
)

func TestZZ(t *testing.T) {
	worst := map[string]float64{}
	for seed := range uint64(400) {
		c := chance{rand.New(rand.NewPCG(seed, 1))}
		p := &plan{size: 5000}
		for _, cell := range c.Perm(27)[:2+5] {
			p.nodes = append(p.nodes, r3v(c, cell, p.size))
		}
		for n := 1; n < len(p.nodes); n++ {
			p.addMember(c, c.IntN(n), n)
		}
		p.addHinge(c)
		p.addStrip(c)
		p.addGround(c)
		p.addLoads(c)
		b := p.build(upright)
		sys, err := b.Factor()
		if err != nil {
			t.Fatal(err)
		}
		s, err := sys.Solve(b.load())
		if err != nil {
			fmt.Println(seed, err)
			continue
		}
		d := math.Floor(math.Log10(s.Residual))
		worst[fmt.Sprintf("%03.0f", d)]++
		_ = frame.Form{}
	}
	fmt.Println(worst)
}
