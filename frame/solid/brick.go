package solid

// brickCorners are the signs of a brick's corners.
var brickCorners = [8][3]float64{
	{-1, -1, -1}, {1, -1, -1}, {1, 1, -1}, {-1, 1, -1},
	{-1, -1, 1}, {1, -1, 1}, {1, 1, 1}, {-1, 1, 1},
}

// brickEdges are the corners at the ends of each edge, in the order of the nodes at their middles.
var brickEdges = [12][2]int{
	{0, 1}, {1, 2}, {2, 3}, {3, 0},
	{0, 4}, {1, 5}, {2, 6}, {3, 7},
	{4, 5}, {5, 6}, {6, 7}, {7, 4},
}

// brickPlaces are the local coordinates of a brick's nodes.
var brickPlaces = func() (places [20][3]float64) {
	copy(places[:], brickCorners[:])
	for i, e := range brickEdges {
		for k := range 3 {
			places[8+i][k] = (brickCorners[e[0]][k] + brickCorners[e[1]][k]) / 2
		}
	}
	return places
}()

// brickShapes writes the serendipity functions of the 20-node hexahedron and their local derivatives (Zienkiewicz &
// Taylor, The Finite Element Method, vol. 1, ch. 8: at a corner
// ⅛(1+ξξᵢ)(1+ηηᵢ)(1+ζζᵢ)(ξξᵢ+ηηᵢ+ζζᵢ−2), at the middle of an edge along ξ
// ¼(1−ξ²)(1+ηηᵢ)(1+ζζᵢ)). They hold every quadratic of the three coordinates.
func brickShapes(xi [3]float64, n []float64, d [][3]float64) {
	for i, s := range brickPlaces {
		// f is the factor of each coordinate, g its derivative.
		var f, g [3]float64
		for k := range 3 {
			if s[k] == 0 {
				f[k], g[k] = 1-xi[k]*xi[k], -2*xi[k]
			} else {
				f[k], g[k] = 1+xi[k]*s[k], s[k]
			}
		}
		product := f[0] * f[1] * f[2]
		slope := [3]float64{g[0] * f[1] * f[2], f[0] * g[1] * f[2], f[0] * f[1] * g[2]}
		if i >= 8 {
			n[i] = product / 4
			for k := range 3 {
				d[i][k] = slope[k] / 4
			}
			continue
		}
		last := xi[0]*s[0] + xi[1]*s[1] + xi[2]*s[2] - 2
		n[i] = product * last / 8
		for k := range 3 {
			d[i][k] = (slope[k]*last + product*s[k]) / 8
		}
	}
}
