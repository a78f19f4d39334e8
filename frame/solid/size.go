package solid

import "fmt"

// mostUnknowns bounds the meshes of a machine: a thick body of that many unknowns takes some 10 GB.
const mostUnknowns = 600_000

// mostCouplings bounds the stiffnesses between the zones of bodies, (6·zones)² of each: those of one body with a
// thousand. A dozen matrices as large stand beside one another while it is reduced, some 4 GB with those of its mesh.
const mostCouplings = 36e6

// SizeError says that one body, or several together, would be too large to be solved here. It comes before any mesh is
// made.
type SizeError struct {
	What        string
	Count, Most float64
	Coupled     bool // what is too much lies between the zones, not in the meshes
}

func (e *SizeError) Error() string {
	return fmt.Sprintf("%s, %.2g at most can be solved here", e.What, e.Most)
}

// checkMesh is an error when a mesh of the body has too many unknowns.
func (b *Body) checkMesh(unknowns float64) error {
	if unknowns <= mostUnknowns {
		return nil
	}
	what := fmt.Sprintf("the mesh of part %q would have %.2g unknowns", b.Part.Name, unknowns)
	return &SizeError{What: what, Count: unknowns, Most: mostUnknowns}
}

// CheckSizes is an error when different bodies, each of which could be reduced, are too large to be kept beside one
// another; largest is the one that has most of what is too much. An error about one body alone is of the first.
func CheckSizes(bodies []*Body, s Settings) (largest int, err error) {
	var unknowns, couplings tally
	for i, b := range bodies {
		n := b.plan(s, nil).unknowns()
		if err := b.checkMesh(n); err != nil {
			return i, err
		}
		unknowns.add(i, n)
		felt := 6 * float64(len(b.Zones)+len(b.Held))
		couplings.add(i, felt*felt)
	}
	switch {
	case unknowns.sum > mostUnknowns:
		most := bodies[unknowns.largest]
		return unknowns.largest, &SizeError{Count: unknowns.sum, Most: mostUnknowns, What: fmt.Sprintf(
			"the meshes of all parts, the largest of which is part %q, would have %.2g unknowns", most.Part.Name, unknowns.sum)}
	case couplings.sum > mostCouplings:
		most := bodies[couplings.largest]
		return couplings.largest, &SizeError{Count: couplings.sum, Most: mostCouplings, Coupled: true, What: fmt.Sprintf(
			"between the spots of the parts, %d of them on part %q, there would be %.2g stiffnesses",
			len(most.Zones)+len(most.Held), most.Part.Name, couplings.sum)}
	}
	return 0, nil
}

// tally is a sum and which of its terms is the largest, the first of equals.
type tally struct {
	sum, most float64
	largest   int
}

func (t *tally) add(i int, n float64) {
	t.sum += n
	if n > t.most {
		t.most, t.largest = n, i
	}
}
