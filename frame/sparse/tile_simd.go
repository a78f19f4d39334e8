//go:build goexperiment.simd && amd64

package sparse

import "simd/archsimd"

// subtract takes the products of four rows, one every width numbers, with those in strips off the tile.
func (t *tile) subtract(rows []float64, width int, s []strip) {
	if vectorLength == 8 {
		t.subtract512(rows, width, s)
	} else {
		subtract256(t[0], t[1], rows, width, s)
		subtract256(t[2], t[3], rows[2*width:], width, s)
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
	takeOff512(t[0], s00, s01)
	takeOff512(t[1], s10, s11)
	takeOff512(t[2], s20, s21)
	takeOff512(t[3], s30, s31)
}

func load512(s *strip) (lo, hi archsimd.Float64x8) {
	return archsimd.LoadFloat64x8((*[8]float64)(s[:8])), archsimd.LoadFloat64x8((*[8]float64)(s[8:]))
}

func takeOff512(c *strip, s0, s1 archsimd.Float64x8) {
	c0, c1 := load512(c)
	c0.Sub(s0).Store((*[8]float64)(c[:8]))
	c1.Sub(s1).Store((*[8]float64)(c[8:]))
}

// subtract256 does so for two of the rows. Every call that the compiler inlines leaves an instruction behind that does
// nothing; this loop is as fast as its instructions are few, so it loads without load.
func subtract256(c0, c1 *strip, rows []float64, width int, s []strip) {
	n := len(s)
	r0, r1 := rows[:n], rows[width:][:n]
	var s00, s01, s02, s03, s10, s11, s12, s13 archsimd.Float64x4
	for k := range s {
		b := &s[k]
		b0, b1 := archsimd.LoadFloat64x4((*[4]float64)(b[:4])), archsimd.LoadFloat64x4((*[4]float64)(b[4:8]))
		b2, b3 := archsimd.LoadFloat64x4((*[4]float64)(b[8:12])), archsimd.LoadFloat64x4((*[4]float64)(b[12:]))
		a0, a1 := archsimd.BroadcastFloat64x4(r0[k]), archsimd.BroadcastFloat64x4(r1[k])
		s00, s10 = b0.MulAdd(a0, s00), b0.MulAdd(a1, s10)
		s01, s11 = b1.MulAdd(a0, s01), b1.MulAdd(a1, s11)
		s02, s12 = b2.MulAdd(a0, s02), b2.MulAdd(a1, s12)
		s03, s13 = b3.MulAdd(a0, s03), b3.MulAdd(a1, s13)
	}
	takeOff256(c0, s00, s01, s02, s03)
	takeOff256(c1, s10, s11, s12, s13)
}

func takeOff256(c *strip, s0, s1, s2, s3 archsimd.Float64x4) {
	load(c[:4]).Sub(s0).StoreSlice(c[:4])
	load(c[4:8]).Sub(s1).StoreSlice(c[4:8])
	load(c[8:12]).Sub(s2).StoreSlice(c[8:12])
	load(c[12:]).Sub(s3).StoreSlice(c[12:])
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
