package constant_test

import (
	"fmt"

	"tiploop/frame/constant"
)

// A cube of a length known to a tenth lies between 0.729 and 1.331 of the middle (by hand).
func ExampleBand_Times() {
	length := constant.Between(0.9, 1, 1.1)
	cube := length.Times(length).Times(length)
	fmt.Printf("%.3f to %.3f\n", cube.At(constant.Low), cube.At(constant.High))
	// Output: 0.729 to 1.331
}
