package sparse_test

import (
	"fmt"

	"tiploop/frame/sparse"
)

// A chain of three springs of 2 N/mm, held at one end and pulled with 6 N at the other: the ends of the springs move by
// F/k, 2·F/k and 3·F/k, and the chain's compliance is 3/k.
func Example() {
	pattern := sparse.NewPattern([]int{1, 1, 1}, [][]int{{0, 1}, {1, 2}}) // three nodes of one unknown
	k := pattern.NewMatrix()
	k.Add(0, 0, 2) // the spring to the ground
	for _, spring := range [][]int{{0, 1}, {1, 2}} {
		k.AddBlock(spring, []float64{2, -2, -2, 2})
	}
	factor, err := k.Factorize()
	if err != nil {
		fmt.Println(err) // a node that nothing holds
		return
	}
	moved := make([]float64, pattern.Order())
	factor.SolveTo(moved, []float64{0, 0, 6})
	fmt.Printf("%.2f mm\n", moved)

	compliance := make([]float64, 1)
	factor.ComplianceTo(compliance, [][]sparse.Term{{{Unknown: 2, Factor: 1}}})
	fmt.Printf("%.2f mm/N\n", compliance[0])
	// Output:
	// [3.00 6.00 9.00] mm
	// 1.50 mm/N
}
