package machine

// Variable is a number that a machine is drawn with and could be drawn with otherwise: a value of a model file, or what
// a program draws its machines from.
type Variable struct {
	Name    string
	Unit    string  // in which At is told: "mm"; "" for a plain number
	At      float64 // how much of it there is
	Whole   bool    // it counts something, such as screws
	PerUnit float64 // one Unit in the consistent set (mm, N, MPa, tonne, s, K, rad)
	Length  bool    // it is a length, of which hundredths of a millimetre are a small step
	Unused  bool    // nothing is drawn with it: more of it is the same machine

	// More draws the machine with so much more of it, in the consistent set. What is wrong with that machine is the error.
	// It must be set, and give one of the two.
	More func(by float64) (*Machine, error)
}
