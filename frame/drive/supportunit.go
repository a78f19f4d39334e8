package drive

import "tiploop/frame/constant"

// SupportUnit is a bearing that holds the end of a screw.
type SupportUnit struct {
	Key    string // "fixed-12": fixed, bore 12 mm
	Name   string
	Bore   float64       // mm
	Screw  float64       // diameter of the screw that usually takes it, mm
	Axial  constant.Band // stiffness along the screw, N/mm
	Play   constant.Band // along the screw, mm; zero with preload
	Load   constant.Band // load along the screw that it permits, N
	Source string
}

// A catalogue states one figure; the seat and the nut that clamps it take some of it.
func newFixedUnit(key, name string, bore, screw, axial, load float64) SupportUnit {
	return SupportUnit{
		Key: key, Name: name, Bore: bore, Screw: screw,
		Axial: constant.Between(0.6*axial, axial, 1.15*axial), Load: constant.Between(0.8*load, load, 1.1*load),
		Source: sourceUnit,
	}
}

func newPlainUnit(key, name string, bore, screw, load float64) SupportUnit {
	return SupportUnit{
		Key: key, Name: name, Bore: bore, Screw: screw,
		Axial: constant.Between(10e3, 20e3, 40e3), Play: constant.Between(0.005, 0.02, 0.05),
		Load: constant.Between(0.5*load, load, 1.5*load), Source: sourcePractice,
	}
}

var supportUnits = []SupportUnit{
	newFixedUnit("fixed-10", "angular-contact pair, bore 10", 10, 12, 65e3, 3100),
	newFixedUnit("fixed-12", "angular-contact pair, bore 12", 12, 16, 88e3, 3250),
	newFixedUnit("fixed-15", "angular-contact pair, bore 15", 15, 20, 100e3, 4000),
	newFixedUnit("fixed-17", "angular-contact pair, bore 17", 17, 25, 125e3, 5850),
	newFixedUnit("fixed-20", "angular-contact pair, bore 20", 20, 32, 155e3, 8500),
	newPlainUnit("plain-8", "deep-groove bearing, bore 8", 8, 10, 500),
	newPlainUnit("plain-10", "deep-groove bearing, bore 10", 10, 12, 700),
	newPlainUnit("plain-12", "deep-groove bearing, bore 12", 12, 16, 900),
	newPlainUnit("plain-15", "deep-groove bearing, bore 15", 15, 20, 1100),
}

// SupportUnits returns the known units: preloaded pairs, then single bearings without preload.
func SupportUnits() []SupportUnit { return append([]SupportUnit(nil), supportUnits...) }

// LookupSupportUnit returns the unit of that key.
func LookupSupportUnit(key string) (SupportUnit, bool) {
	return constant.Find(supportUnits, key, func(u SupportUnit) string { return u.Key })
}

// FixedUnitFor returns the preloaded unit that a screw of that diameter, mm, usually takes: the
// largest whose usual screw is no larger, the smallest for screws below them all.
func FixedUnitFor(diameter float64) SupportUnit {
	constant.MustBePositive("drive: diameter", diameter)
	chosen := supportUnits[0]
	for _, u := range supportUnits {
		if u.Play.High == 0 && u.Screw <= diameter {
			chosen = u
		}
	}
	return chosen
}
