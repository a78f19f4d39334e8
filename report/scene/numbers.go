package scene

import (
	"encoding/base64"
	"encoding/binary"
	"math"

	"tiploop/report/number"
)

// packed is numbers of 16 bits as base64.
func packed[T int16 | uint16](list []T) string {
	b := make([]byte, 0, 2*len(list))
	for _, v := range list {
		b = binary.LittleEndian.AppendUint16(b, uint16(v))
	}
	return base64.StdEncoding.EncodeToString(b)
}

// steps are vectors in whole steps of the least size that they fit in.
func steps(all [][3]float64) (step float64, moved string) {
	most := 0.0
	for _, v := range all {
		most = max(most, math.Abs(v[0]), math.Abs(v[1]), math.Abs(v[2]))
	}
	step = most / math.MaxInt16
	var list []int16
	for _, v := range all {
		for _, c := range v {
			if step > 0 {
				c = math.Round(c / step)
			}
			list = append(list, int16(c))
		}
	}
	return step, packed(list)
}

// samePlace is how far a corner may be off a body that has only been shifted, mm: rounding.
const samePlace = 1e-6

// shift is by how much corners have been moved together; not rigid when they have not.
func shift(from, to [][3]float64) (by [3]float64, rigid bool) {
	by = less(to[0], from[0])
	for i := range from {
		off := less(less(to[i], from[i]), by)
		if number.Norm(off) > samePlace {
			return by, false
		}
	}
	for k := range by {
		by[k] = rounded(by[k], 9)
	}
	return by, true
}

func less(a, b [3]float64) [3]float64 { return [3]float64{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

// largest is the largest size of some vectors; NaN where one is.
func largest(list [][3]float64) (most float64) {
	for _, v := range list {
		if size := number.Norm(v); size > most || math.IsNaN(size) {
			most = size
		}
	}
	return most
}

// rounded is a number to some digits, so that the data is short and does not change with rounding.
func rounded(v float64, digits int) float64 {
	if v == 0 {
		return 0
	}
	scale := math.Pow(10, float64(digits-1)-math.Floor(math.Log10(math.Abs(v))))
	if r := math.Round(v*scale) / scale; !math.IsNaN(r) && !math.IsInf(r, 0) {
		return r + 0
	}
	return v
}
