package beam

import "math"

// mat6 is a matrix over the six freedoms of one section.
type mat6 [6][6]float64

// rigid returns R(l): movements of a point l further along x per movement of a rigid body.
func rigid(l float64) (R mat6) {
	for i := range 6 {
		R[i][i] = 1
	}
	R[1][5] = l
	R[2][4] = -l
	return R
}

// leverRows returns Q·a, where R(l) = I + l·Q.
func leverRows(a mat6) (qa mat6) {
	for j := range 6 {
		qa[1][j] = a[5][j]
		qa[2][j] = -a[4][j]
	}
	return qa
}

func transpose6(a mat6) (t mat6) {
	for i := range 6 {
		for j := range 6 {
			t[j][i] = a[i][j]
		}
	}
	return t
}

func mul6(a, b mat6) (c mat6) {
	for i := range 6 {
		for l := range 6 {
			if a[i][l] == 0 {
				continue
			}
			for j := range 6 {
				c[i][j] += a[i][l] * b[l][j]
			}
		}
	}
	return c
}

func mulVec6(a mat6, v [6]float64) (w [6]float64) {
	for i := range 6 {
		for j := range 6 {
			w[i] += a[i][j] * v[j]
		}
	}
	return w
}

// inverse6 returns the inverse of a symmetric positive definite matrix by its Cholesky factor,
// which does not mind that the rows have different units. It panics if a is not positive definite.
func inverse6(a mat6) (inv mat6) {
	var l mat6
	for j := range 6 {
		for i := j; i < 6; i++ {
			sum := a[i][j]
			for k := range j {
				sum -= l[i][k] * l[j][k]
			}
			if i > j {
				l[i][j] = sum / l[j][j]
				continue
			}
			if !(sum > 0) {
				panic("beam: flexibility is not positive definite")
			}
			l[j][j] = math.Sqrt(sum)
		}
	}
	for c := range 6 {
		var x [6]float64
		for i := range 6 {
			if i == c {
				x[i] = 1
			}
			for k := range i {
				x[i] -= l[i][k] * x[k]
			}
			x[i] /= l[i][i]
		}
		for i := 5; i >= 0; i-- {
			for k := i + 1; k < 6; k++ {
				x[i] -= l[k][i] * x[k]
			}
			x[i] /= l[i][i]
		}
		for i := range 6 {
			inv[i][c] = x[i]
		}
	}
	for i := range 6 {
		for j := range i {
			inv[i][j] = (inv[i][j] + inv[j][i]) / 2
			inv[j][i] = inv[i][j]
		}
	}
	return inv
}

// gaussPoint is a place and weight for integrals from 0 to 1.
type gaussPoint struct{ at, weight float64 }

// gauss4 is Gauss's rule of four points, exact to degree 7 (Abramowitz & Stegun, table 25.4), in rising
// order. gonum's quad.Legendre has the last point first and one of them an ulp off; every digit of a
// reading would then change at its end.
var gauss4 = func() (rule [4]gaussPoint) {
	outer := math.Sqrt(3.0/7 + 2.0/7*math.Sqrt(6.0/5))
	inner := math.Sqrt(3.0/7 - 2.0/7*math.Sqrt(6.0/5))
	wOuter := (18 - math.Sqrt(30)) / 72
	wInner := (18 + math.Sqrt(30)) / 72
	return [4]gaussPoint{
		{(1 - outer) / 2, wOuter}, {(1 - inner) / 2, wInner},
		{(1 + inner) / 2, wInner}, {(1 + outer) / 2, wOuter},
	}
}()
