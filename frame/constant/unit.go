package constant

// Factors between the units inside (N, mm, MPa, tonne) and those that are told: how many of the smaller make one of the
// larger. Exact.
const (
	UmPerMM     = 1e3 // also of N/µm in N/mm
	NewtonPerKN = 1e3
	MMPerM      = 1e3
	MMPerKm     = 1e6
	KgPerTonne  = 1e3
	NmmPerNm    = 1e3
)
