package structure

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/machine"
	"tiploop/frame/solid"
)

// snap makes faces that count as touching lie in one plane exactly, so that meshes on both sides of a face meet: of
// places along an axis that are nearer than touching the lowest stands for all.
func snap(s *solid.Body) {
	var places [3][]float64
	note := func(v [3]float64) {
		for k := range v {
			places[k] = append(places[k], v[k])
		}
	}
	for _, p := range s.Parts {
		if p.Block != nil {
			note(array(p.Block.From))
			note(array(p.Block.To))
			continue
		}
		reach := r3.Add(p.Gusset.Corner, r3.Add(r3.Add(p.Gusset.Legs[0], p.Gusset.Legs[1]), p.Gusset.Thickness))
		note(array(p.Gusset.Corner))
		note(array(reach)) // legs and thickness lie along one axis each
	}
	var planes [3][]float64
	for k := range places {
		slices.Sort(places[k])
		for _, v := range places[k] {
			if n := len(planes[k]); n == 0 || v-planes[k][n-1] > machine.Touching {
				planes[k] = append(planes[k], v)
			}
		}
	}
	onto := func(k int, v float64) float64 {
		i, _ := slices.BinarySearch(planes[k], v-machine.Touching)
		if i < len(planes[k]) && math.Abs(planes[k][i]-v) <= machine.Touching {
			return planes[k][i]
		}
		return v
	}
	all := func(v [3]float64) [3]float64 {
		for k := range v {
			v[k] = onto(k, v[k])
		}
		return v
	}
	for i := range s.Parts {
		p := &s.Parts[i]
		if p.Block != nil {
			p.Block.From, p.Block.To = vector(all(array(p.Block.From))), vector(all(array(p.Block.To)))
			continue
		}
		g := p.Gusset
		corner := all(array(g.Corner))
		stretch := func(v [3]float64) [3]float64 {
			for k := range v {
				if v[k] != 0 {
					v[k] = onto(k, array(g.Corner)[k]+v[k]) - corner[k]
				}
			}
			return v
		}
		g.Legs[0], g.Legs[1], g.Thickness = vector(stretch(array(g.Legs[0]))), vector(stretch(array(g.Legs[1]))), vector(stretch(array(g.Thickness)))
		g.Corner = vector(corner)
	}
	for i := range s.Ties {
		s.Ties[i].Lo, s.Ties[i].Hi = all(s.Ties[i].Lo), all(s.Ties[i].Hi)
	}
	for i := range s.Held {
		s.Held[i].Lo, s.Held[i].Hi = all(s.Held[i].Lo), all(s.Held[i].Hi)
	}
	for i := range s.Zones {
		z := &s.Zones[i]
		at := array(z.At)
		at[z.Normal] = onto(z.Normal, at[z.Normal])
		z.At = vector(at)
	}
}
