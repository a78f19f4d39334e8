//go:build goexperiment.simd && amd64

package sparse

import "simd/archsimd"

// subtract takes the products of four rows, one every width numbers, with those in strips off the tile.
func (t *tile) subtract(rows []float64, width int, s []strip) {
	if vectorLength == 8 {
		t.subtract512(rows, width, s)
	} else {
		t.subtract256(rows, width, s, 0)
		t.subtract256(rows, width, s, stripRows/2)
	}
	// Scalar instructions may wait for the upper parts of registers otherwise.
	archsimd.ClearAVXUpperBits()
}

func (t *tile) subtract512(rows []float64, width int, s []strip) {
	n := len(s)
	r0, r1, r2, r3 := rows[:n], rows[width:][:n], rows[2*width:][:n], rows[3*width:][:n]
	var s00, s01, s10, s11, s20, s21, s30, s31 archsimd.Float64x8
	for k := range s {
		b0, b1 := load512(&s[k])
		a := archsimd.BroadcastFloat64x8(r0[k])
		s00, s01 = a.MulAdd(b0, s00), a.MulAdd(b1, s01)
		a = archsimd.BroadcastFloat64x8(r1[k])
		s10, s11 = a.MulAdd(b0, s10), a.MulAdd(b1, s11)
		a = archsimd.BroadcastFloat64x8(r2[k])
		s20, s21 = a.MulAdd(b0, s20), a.MulAdd(b1, s21)
		a = archsimd.BroadcastFloat64x8(r3[k])
		s30, s31 = a.MulAdd(b0, s30), a.MulAdd(b1, s31)
	}
	subtract512(t[0], s00, s01)
	subtract512(t[1], s10, s11)
	subtract512(t[2], s20, s21)
	subtract512(t[3], s30, s31)
}

func load512(s *strip) (lo, hi archsimd.Float64x8) {
	return archsimd.LoadFloat64x8((*[8]float64)(s[:8])), archsimd.LoadFloat64x8((*[8]float64)(s[8:]))
}

func subtract512(c *strip, s0, s1 archsimd.Float64x8) {
	c0, c1 := load512(c)
	c0.Sub(s0).Store((*[8]float64)(c[:8]))
	c1.Sub(s1).Store((*[8]float64)(c[8:]))
}

// subtract256 does so for eight of the strips' rows, from row i on.
func (t *tile) subtract256(rows []float64, width int, s []strip, i int) {
	n := len(s)
	r0, r1, r2, r3 := rows[:n], rows[width:][:n], rows[2*width:][:n], rows[3*width:][:n]
	var s00, s01, s10, s11, s20, s21, s30, s31 archsimd.Float64x4
	for k := range s {
		b0, b1 := load256(&s[k], i)
		a := spread(r0[k])
		s00, s01 = a.MulAdd(b0, s00), a.MulAdd(b1, s01)
		a = spread(r1[k])
		s10, s11 = a.MulAdd(b0, s10), a.MulAdd(b1, s11)
		a = spread(r2[k])
		s20, s21 = a.MulAdd(b0, s20), a.MulAdd(b1, s21)
		a = spread(r3[k])
		s30, s31 = a.MulAdd(b0, s30), a.MulAdd(b1, s31)
	}
	subtract256(t[0], i, s00, s01)
	subtract256(t[1], i, s10, s11)
	subtract256(t[2], i, s20, s21)
	subtract256(t[3], i, s30, s31)
}

func load256(s *strip, i int) (lo, hi archsimd.Float64x4) {
	half := (*[8]float64)(s[i:])
	return archsimd.LoadFloat64x4((*[4]float64)(half[:4])), archsimd.LoadFloat64x4((*[4]float64)(half[4:]))
}

func subtract256(c *strip, i int, s0, s1 archsimd.Float64x4) {
	c0, c1 := load256(c, i)
	half := (*[8]float64)(c[i:])
	c0.Sub(s0).Store((*[4]float64)(half[:4]))
	c1.Sub(s1).Store((*[4]float64)(half[4:]))
}

func load(s []float64) archsimd.Float64x4 { return archsimd.LoadFloat64x4Slice(s) }

// spread is a number in all places.
func spread(x float64) archsimd.Float64x4 { return archsimd.BroadcastFloat64x4(x) }

// transposed are the columns of four rows.
func transposed(x0, x1, x2, x3 archsimd.Float64x4) (y0, y1, y2, y3 archsimd.Float64x4) {
	even01, odd01 := x0.SelectFromPairGrouped(0, 2, x1), x0.SelectFromPairGrouped(1, 3, x1)
	even23, odd23 := x2.SelectFromPairGrouped(0, 2, x3), x2.SelectFromPairGrouped(1, 3, x3)
	return even01.Select128FromPair(0, 2, even23), odd01.Select128FromPair(0, 2, odd23),
		even01.Select128FromPair(1, 3, even23), odd01.Select128FromPair(1, 3, odd23)
}
