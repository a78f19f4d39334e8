package solid

import (
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r3"
)

// railBody is a plate 340 x 120 x 30 screwed down on six places, two rails on top of it on which two carriages each go
// along by a hundred positions.
func railBody() (b *Body, carriages []Zone) {
	b = &Body{Part: blockOf("plate", soft, r3.Vec{}, r3.Vec{X: 340, Y: 120, Z: 30})}
	for _, x := range []float64{20, 170, 320} {
		for _, y := range []float64{15, 105} {
			z := patchOn(span{[3]float64{x - 9, y - 9, 0}, [3]float64{x + 9, y + 9, 0}})
			z.Inner, z.Outer = 3, 9
			b.Zones = append(b.Zones, z)
		}
	}
	for i := range 100 {
		for _, y := range []float64{30, 90} {
			for _, x := range []float64{25, 125} {
				at := x + 190*float64(i)/99
				carriages = append(carriages, patchOn(span{[3]float64{at - 20, y - 7, 30}, [3]float64{at + 20, y + 7, 30}}))
			}
		}
	}
	b.Watched = carriages
	return b, carriages
}

// tableBody is a plate 220 x 200 x 20 on four carriages, with work on a grid of spots on top, round ones as wide as the
// plate is thick.
func tableBody() (b *Body, spots []Zone) {
	b = &Body{Part: blockOf("table", soft, r3.Vec{}, r3.Vec{X: 220, Y: 200, Z: 20})}
	for _, x := range []float64{50, 170} {
		for _, y := range []float64{40, 160} {
			b.Zones = append(b.Zones, patchOn(span{[3]float64{x - 20, y - 14, 0}, [3]float64{x + 20, y + 14, 0}}))
		}
	}
	for i := range 100 {
		for j := range 100 {
			x, y := 10+200*float64(i)/99, 10+180*float64(j)/99
			spot := patchOn(span{[3]float64{0, 0, 20}, [3]float64{220, 200, 20}})
			spot.At, spot.Outer = r3.Vec{X: x, Y: y, Z: 20}, 10
			spots = append(spots, spot)
		}
	}
	b.Watched = spots
	return b, spots
}

// inReductions reports the time of what is done as a multiple of a reduction of the body.
func inReductions(b *testing.B, body *Body, do func(r *Reduced)) {
	var reducing, doing time.Duration
	b.ReportAllocs()
	r := reduced(b, body, 1)
	for b.Loop() {
		start := time.Now()
		r = reduced(b, body, 1)
		reducing += time.Since(start)
		start = time.Now()
		do(r)
		doing += time.Since(start)
	}
	b.ReportMetric(float64(doing)/float64(reducing), "reductions")
	b.ReportMetric(float64(r.Unknowns()), "unknowns")
}

func BenchmarkPorts(b *testing.B) {
	body, carriages := railBody()
	table, spots := tableBody()
	touched := 0
	b.Run("rails", func(b *testing.B) {
		inReductions(b, body, func(r *Reduced) {
			p, err := r.Ports(carriages...)
			if err != nil {
				b.Fatal(err)
			}
			touched = p.Local.SymmetricDim()
		})
		b.ReportMetric(float64(touched), "touched")
	})
	b.Run("table", func(b *testing.B) {
		inReductions(b, table, func(r *Reduced) {
			if _, err := r.gauges(spots...); err != nil {
				b.Fatal(err)
			}
		})
	})
}
