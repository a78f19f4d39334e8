package reference

// What is held in N, mm, MPa, tonne, s is divided by one of these to be shown in the larger unit that builders and
// catalogues use: each says how many of the smaller unit make one of the larger.
const (
	mpaPerGPa          = 1e3
	nmmPerKNm          = 1e6
	tonneMM2PerGramCM2 = 1e-4
)

// These two multiply, for the unit shown is the smaller one.
const (
	kgM3PerTonneMM3 = 1e12
	umPerM          = 1e6 // a growth of 1/K in µm/(m·K)
)
