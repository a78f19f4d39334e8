package beam

import "math"

// BedLambda is the reciprocal of the length over which a beam on an elastic bed spreads a force:
// λ = (k/4EI)^¼, 1/mm, with the bed k in N/mm per mm of length (Hetényi, Beams on Elastic
// Foundation, 1946; from memory, as all of this file on beds).
func BedLambda(bed, ei float64) float64 { return math.Pow(bed/(4*ei), 0.25) }

// InfiniteBed is a very long beam on an elastic bed with a force on it; deflection and moment
// under the force are F·λ/2k, F/4λ.
func InfiniteBed(force, bed, ei float64) (underLoad, moment float64) {
	lambda := BedLambda(bed, ei)
	return force * lambda / (2 * bed), force / (4 * lambda)
}

// FreeBedCentral is a beam with free ends, its whole length on an elastic bed, with a force in the
// middle. With u = λL and S = sinh u + sin u:
//
//	middle = (Fλ/2k)(cosh u + cos u + 2)/S
//	ends   = (2Fλ/k)·cosh(u/2)·cos(u/2)/S   (negative: they lift)
//	moment under the force = (F/4λ)(cosh u − cos u)/S
//
// Beyond u = 80 the infinite beam's values are the same to all digits and are returned.
func FreeBedCentral(force, length, bed, ei float64) (middle, end, moment float64) {
	lambda := BedLambda(bed, ei)
	u := lambda * length
	if u > 80 { // cosh would overflow before long
		middle, moment = InfiniteBed(force, bed, ei)
		return middle, 0, moment
	}
	s := math.Sinh(u) + math.Sin(u)
	middle = force * lambda / (2 * bed) * (math.Cosh(u) + math.Cos(u) + 2) / s
	end = 2 * force * lambda / bed * math.Cosh(u/2) * math.Cos(u/2) / s
	moment = force / (4 * lambda) * (math.Cosh(u) - math.Cos(u)) / s
	return middle, end, moment
}
