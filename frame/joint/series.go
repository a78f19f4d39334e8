package joint

import "tiploop/frame/constant"

// Series returns the stiffness of springs in a row: 1/k = Σ 1/k_i. All must be positive.
func Series(k ...float64) float64 {
	return 1 / totalCompliance(k)
}

// SeriesShares returns each spring's share of the deflection of springs in a row; the shares add
// up to 1.
func SeriesShares(k ...float64) []float64 {
	total := totalCompliance(k)
	shares := make([]float64, len(k))
	for i, v := range k {
		shares[i] = 1 / v / total
	}
	return shares
}

func totalCompliance(k []float64) float64 {
	if len(k) == 0 {
		panic("joint: no springs in the row")
	}
	c := 0.0
	for _, v := range k {
		constant.MustBePositive("joint: spring stiffness", v)
		c += 1 / v
	}
	return c
}
