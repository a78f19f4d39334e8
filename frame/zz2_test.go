package frame_test

import "gonum.org/v1/gonum/spatial/r3"

func r3v(c chance, cell int, size float64) r3.Vec {
	spread := r3.Vec{X: c.between(-0.3, 0.3), Y: c.between(-0.3, 0.3), Z: c.between(-0.3, 0.3)}
	at := r3.Vec{X: float64(cell % 3), Y: float64(cell / 3 % 3), Z: float64(cell / 9)}
	return r3.Scale(size/3, r3.Add(at, spread))
}
