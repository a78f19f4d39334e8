package frame

// Places and weights of Gauss's rules (Abramowitz & Stegun, Handbook of Mathematical Functions, table 25.4), in rising
// order. gonum's quad.Legendre has the same, but some an ulp off and the last first, and a sum taken in another order
// rounds in another way: readings would not keep all their digits.
var (
	// gauss2 is of two points on −1..1, each of weight 1, exact to degree three.
	gauss2 = [2]float64{-0.57735026918962576, 0.57735026918962576}

	// gauss4 is of four points on 0..1, each a place and a weight, exact to degree seven.
	gauss4 = [4][2]float64{
		{0.06943184420297371, 0.17392742256872692},
		{0.33000947820757187, 0.32607257743127307},
		{0.66999052179242813, 0.32607257743127307},
		{0.93056815579702629, 0.17392742256872692},
	}
)
