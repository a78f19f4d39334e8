package modelfile

import (
	"fmt"
	"math"
	"strings"

	"tiploop/frame/constant"
	"tiploop/frame/machine"
)

// dimension holds the exponents of length, mass, time, temperature and angle. A force is
// mass·length/time². Angles are kept apart from plain numbers, so that a moment cannot pass for a moment per angle.
type dimension [5]int

func (d dimension) times(e dimension, power int) dimension {
	for i := range d {
		d[i] += power * e[i]
	}
	return d
}

// The dimensions of the base units.
var (
	lengthDim      = dimension{1, 0, 0, 0, 0}
	massDim        = dimension{0, 1, 0, 0, 0}
	timeDim        = dimension{0, 0, 1, 0, 0}
	temperatureDim = dimension{0, 0, 0, 1, 0}
	angleDim       = dimension{0, 0, 0, 0, 1}
	forceDim       = dimension{1, 1, -2, 0, 0}
	pressureDim    = dimension{-1, 1, -2, 0, 0}
	powerDim       = dimension{2, 1, -3, 0, 0}
	rateDim        = dimension{0, 0, -1, 0, 0}
)

// unit is a unit of measure as a fraction num/den of the consistent set (mm, tonne, s, K, rad; so N and MPa).
// Two whole numbers instead of one factor keep 20 um at the double nearest to 0.02.
type unit struct {
	dim      dimension
	num, den float64
}

// Exact by definition (international pound and inch of 1959).
const (
	poundMass = 0.45359237 // kg
	mmPerInch = 25.4
)

var units = map[string]unit{
	"nm":   {lengthDim, 1, 1e6},
	"um":   {lengthDim, 1, 1e3},
	"µm":   {lengthDim, 1, 1e3}, // U+00B5, micro sign
	"μm":   {lengthDim, 1, 1e3}, // U+03BC, Greek mu
	"mm":   {lengthDim, 1, 1},
	"cm":   {lengthDim, 10, 1},
	"m":    {lengthDim, 1e3, 1},
	"in":   {lengthDim, mmPerInch, 1},
	"thou": {lengthDim, 254, 1e4},
	"ft":   {lengthDim, 12 * mmPerInch, 1},

	"g":     {massDim, 1, 1e6},
	"kg":    {massDim, 1, constant.KgPerTonne},
	"tonne": {massDim, 1, 1},
	"lb":    {massDim, poundMass, constant.KgPerTonne},

	"s":   {timeDim, 1, 1},
	"ms":  {timeDim, 1, 1e3},
	"min": {timeDim, 60, 1},
	"rpm": {rateDim, 1, 60}, // revolutions are counted, not measured as angles

	"W":  {powerDim, 1e3, 1},
	"kW": {powerDim, 1e6, 1},

	"K":  {temperatureDim, 1, 1},
	"mK": {temperatureDim, 1, 1e3},

	"deg":  {angleDim, math.Pi, 180},
	"rad":  {angleDim, 1, 1},
	"mrad": {angleDim, 1, 1e3},

	"N":   {forceDim, 1, 1},
	"kN":  {forceDim, 1e3, 1},
	"kgf": {forceDim, machine.StandardGravity, constant.KgPerTonne},
	"lbf": {forceDim, poundMass * machine.StandardGravity, constant.KgPerTonne},

	"Pa":  {pressureDim, 1, 1e6},
	"kPa": {pressureDim, 1, 1e3},
	"MPa": {pressureDim, 1, 1},
	"GPa": {pressureDim, 1e3, 1},
	"psi": {pressureDim, poundMass * machine.StandardGravity, constant.KgPerTonne * mmPerInch * mmPerInch},
	"ksi": {pressureDim, poundMass * machine.StandardGravity, mmPerInch * mmPerInch},
}

// unitNames is what a hint offers for an unknown unit.
var unitNames = []string{
	"mm", "um", "nm", "cm", "m", "in", "thou", "ft", "N", "kN", "kgf", "lbf", "MPa", "GPa", "kPa", "Pa", "psi", "ksi",
	"kg", "g", "tonne", "lb", "deg", "rad", "mrad", "K", "mK", "s", "ms",
	"min", "rpm", "W", "kW",
}

// unitPowers are the exponents a unit's name may end in.
var unitPowers = []struct {
	suffix string
	power  int
}{{"^2", 2}, {"^3", 3}, {"^4", 4}, {"2", 2}, {"3", 3}, {"4", 4}, {"²", 2}, {"³", 3}, {"⁴", 4}}

// lookupUnit gives the unit of a word such as mm, N or mm2.
func lookupUnit(word string) (unit, bool) {
	if u, ok := units[word]; ok {
		return u, true
	}
	for _, p := range unitPowers {
		base, cut := strings.CutSuffix(word, p.suffix)
		if !cut {
			continue
		}
		u, ok := units[base]
		if !ok {
			return unit{}, false
		}
		one := unit{num: 1, den: 1}
		return one.times(u, p.power), true
	}
	return unit{}, false
}

// times gives u·v^power.
func (u unit) times(v unit, power int) unit {
	num, den := v.num, v.den
	if power < 0 {
		num, den = den, num
	}
	for range max(power, -power) {
		u.num *= num
		u.den *= den
	}
	u.dim = u.dim.times(v.dim, power)
	return u
}

// measure is what a key of the model file asks for: a kind of quantity, the unit of a plain number there, and the
// sizes that can be meant.
type measure struct {
	name  string // "length"
	label string // unit of a plain number, for messages
	unit  unit
	least float64 // smallest size of one that must be positive, in the consistent set
	most  float64 // largest size, in the consistent set
}

// largestTolerance is what is believed of a tolerance, a run-out or the way from tooth to tooth, mm: more is a number
// without its unit. A house value.
const largestTolerance = 5.0

// The measures. Their bounds lie far outside what a machine can be, and keep a slip of units or a
// hostile file from overflowing in the calculation.
var (
	aNumber       = measure{"plain number", "", unit{dimension{}, 1, 1}, 1e-12, 1e12}
	aLength       = measure{"length", "mm", unit{lengthDim, 1, 1}, machine.LeastSize, 1e6}
	aTolerance    = measure{"length", "mm", unit{lengthDim, 1, 1}, 1e-6, largestTolerance}
	anArea        = measure{"area", "mm2", unit{dimension{2}, 1, 1}, 1e-6, 1e12}
	aSecondMoment = measure{"second moment", "mm4", unit{dimension{4}, 1, 1}, 1e-12, 1e24}
	aForce        = measure{"force", "N", unit{forceDim, 1, 1}, 1e-9, 1e9}
	aMoment       = measure{"moment", "N mm", unit{dimension{2, 1, -2}, 1, 1}, 1e-9, 1e12}
	aStiffness    = measure{"stiffness", "N/mm", unit{dimension{0, 1, -2}, 1, 1}, 1e-6, 1e12}
	aLineLoad     = measure{"load per length", "N/mm", unit{dimension{0, 1, -2}, 1, 1}, 1e-9, 1e9}
	aTurning      = measure{"stiffness against turning", "N mm/rad", unit{dimension{2, 1, -2, 0, -1}, 1, 1}, 1e-6, 1e18}
	aModulus      = measure{"modulus", "N/mm2", unit{pressureDim, 1, 1}, 1e-6, 1e8}
	aBedAlong     = measure{"stiffness per length", "N/mm2", unit{pressureDim, 1, 1}, 1e-9, 1e9}
	aBedUnder     = measure{"stiffness per area", "N/mm3", unit{dimension{-2, 1, -2}, 1, 1}, 1e-9, 1e9}
	aMass         = measure{"mass", "kg", unit{massDim, 1, constant.KgPerTonne}, 1e-12, 1e6}
	aDensity      = measure{"density", "kg/m3", unit{dimension{-3, 1}, 1, 1e12}, 1e-15, 1e-7}
	anExpansion   = measure{"expansion per temperature", "1/K", unit{dimension{0, 0, 0, -1}, 1, 1}, 1e-12, 1}
	aTemperature  = measure{"temperature difference", "K", unit{temperatureDim, 1, 1}, 1e-9, 1e4}
	anAngle       = measure{"angle", "deg", unit{angleDim, math.Pi, 180}, 1e-12, 1e3}
	anAccel       = measure{"acceleration", "mm/s2", unit{dimension{1, 0, -2}, 1, 1}, 1e-3, 1e9}
	aTime         = measure{"time", "s", unit{timeDim, 1, 1}, 1e-12, 1e9}
	aFeed         = measure{"feed rate", "mm/min", unit{dimension{1, 0, -1}, 1, 60}, 1e-6, 1e6}
	aSpin         = measure{"speed of rotation", "rpm", unit{rateDim, 1, 60}, 1e-6, 1e5}
	aPower        = measure{"power", "W", unit{powerDim, 1e3, 1}, 1e-3, 1e12}
)

// measures names a dimension in messages and gives a plain number its unit where it meets a quantity in an
// expression. Of two measures with one dimension the first counts.
var measures = []measure{
	aNumber, aLength, anArea, {name: "volume", label: "mm3", unit: unit{dimension{3}, 1, 1}}, aSecondMoment, aForce,
	aMoment,
	aStiffness, aTurning, {name: "pressure", label: "N/mm2", unit: unit{pressureDim, 1, 1}}, aBedUnder, aMass, aDensity,
	anExpansion, aTemperature, anAngle, anAccel, aTime, aFeed, aSpin, aPower,
}

// measureOf gives the measure of a dimension; one without a name of its own is told by its base units.
func measureOf(dim dimension) measure {
	for _, m := range measures {
		if m.unit.dim == dim {
			return m
		}
	}
	var label []string
	for i, name := range [...]string{"mm", "tonne", "s", "K", "rad"} {
		switch dim[i] {
		case 0:
		case 1:
			label = append(label, name)
		default:
			label = append(label, fmt.Sprintf("%s^%d", name, dim[i]))
		}
	}
	return measure{name: "quantity in " + strings.Join(label, " "), label: strings.Join(label, " "), unit: unit{dim, 1, 1}}
}

// withArticle gives the measure's name as it stands in a sentence.
func (m measure) withArticle() string {
	if strings.ContainsRune("aeiou", rune(m.name[0])) {
		return "an " + m.name
	}
	return "a " + m.name
}

// show prints a value of the consistent set in the measure's own unit.
func (m measure) show(x float64) string {
	s := fmt.Sprintf("%.6g", x*m.unit.den/m.unit.num)
	if m.label == "" {
		return s
	}
	return s + " " + m.label
}
