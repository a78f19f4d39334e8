package solid

// wedgeEdges are the corners at the ends of each edge, in the order of the nodes at their middles.
var wedgeEdges = [9][2]int{
	{0, 1}, {1, 2}, {2, 0},
	{0, 3}, {1, 4}, {2, 5},
	{3, 4}, {4, 5}, {5, 3},
}

// wedgePlaces are the local coordinates r, s, t of a wedge's nodes.
var wedgePlaces = func() (places [15][3]float64) {
	corners := [6][3]float64{{0, 0, -1}, {1, 0, -1}, {0, 1, -1}, {0, 0, 1}, {1, 0, 1}, {0, 1, 1}}
	copy(places[:], corners[:])
	for i, e := range wedgeEdges {
		for k := range 3 {
			places[6+i][k] = (corners[e[0]][k] + corners[e[1]][k]) / 2
		}
	}
	return places
}()

// wedgeShapes writes the functions of the 15-node wedge and their local derivatives (Zienkiewicz & Taylor, The Finite
// Element Method, vol. 1, ch. 8). With the area coordinates L = 1−r−s, r, s: at a corner ½L(1±t)(2L−2±t), at
// the middle of a triangle's edge 2LᵢLⱼ(1±t), at the middle of an upright L(1−t²). On the faces they are those
// of the brick.
func wedgeShapes(xi [3]float64, n []float64, d [][3]float64) {
	t := xi[2]
	area := [3]float64{1 - xi[0] - xi[1], xi[0], xi[1]}
	along := [3][2]float64{{-1, -1}, {1, 0}, {0, 1}} // derivatives of the area coordinates
	set := func(i int, value float64, byArea [3]float64, byT float64) {
		n[i] = value
		d[i] = [3]float64{0, 0, byT}
		for c, v := range byArea {
			d[i][0] += v * along[c][0]
			d[i][1] += v * along[c][1]
		}
	}
	for c, l := range area {
		var by [3]float64
		for side, sign := range [2]float64{-1, 1} {
			up := 1 + sign*t
			by[c] = up * (4*l - 2 + sign*t) / 2
			set(3*side+c, l*up*(2*l-2+sign*t)/2, by, l*sign*(2*l-1+2*sign*t)/2)
		}
		by[c] = 1 - t*t
		set(9+c, l*(1-t*t), by, -2*l*t)
		next := (c + 1) % 3
		m := area[next]
		for side, sign := range [2]float64{-1, 1} {
			up := 1 + sign*t
			var by [3]float64
			by[c], by[next] = 2*m*up, 2*l*up
			set(6+6*side+c, 2*l*m*up, by, 2*l*m*sign)
		}
	}
}
