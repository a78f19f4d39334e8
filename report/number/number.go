package number

import (
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
)

// Noise is the size below which a number is printed as 0: a picometre, a milligram. What is smaller than that is
// what rounding left over.
const Noise = 1e-6

// NoiseInTurn is the same for a rotation, rad: one that moves the end of a metre's arm by Noise.
const NoiseInTurn = 1e-12

// NoiseInVector is the share of a vector's size below which one of its components is printed as 0: it could not be
// told from rounding at the digits shown, and no dial could show it.
const NoiseInVector = 1e-5

// Absent stands for a number that there is not.
const Absent = "–"

// Bounds outside of which Significant writes a power of ten rather than a row of zeros.
const (
	plainFrom = 1e-4
	plainTo   = 1e7
)

// Significant writes v with three significant digits, without "-0".
func Significant(v float64) string { return Digits(v, 3) }

// AsWritten is v to the digits that Significant writes: two numbers that are written alike are equal.
func AsWritten(v float64) float64 {
	rounded, err := strconv.ParseFloat(Significant(v), 64)
	if err != nil {
		panic("number: " + err.Error()) // Significant writes numbers only
	}
	return rounded
}

// Digits writes v with so many significant digits, one or more, without "-0".
func Digits(v float64, digits int) string {
	if math.Abs(v) < Noise {
		return "0"
	}
	rounded := strconv.FormatFloat(v, 'e', digits-1, 64)
	mantissa, exponent, _ := strings.Cut(rounded, "e")
	power, _ := strconv.Atoi(exponent)
	if a := math.Abs(v); a < plainFrom || a >= plainTo {
		return mantissa + "e" + strconv.Itoa(power)
	}
	r, _ := strconv.ParseFloat(rounded, 64)
	return strconv.FormatFloat(r, 'f', max(0, digits-1-power), 64)
}

// Components writes the three numbers of a vector, leaving out what is noise beside its size.
func Components(v [3]float64) [3]string {
	var s [3]string
	for i, c := range BesideNoise(v) {
		s[i] = Significant(c)
	}
	return s
}

// leastShown is the part of a movement below which a person is shown 0: no dial tells it beside the rest.
const leastShown = 0.01

// Movement writes the three numbers of a movement, leaving out what is less than a hundredth of the whole movement that
// it is a part of; of is that one's size.
func Movement(v [3]float64, of float64) [3]string {
	var s [3]string
	for i, c := range v {
		s[i] = Significant(WithoutRounding(c, leastShown*of))
	}
	return s
}

// MovementSize writes the size of a movement that is a part of another one, whose size is of, in the same way.
func MovementSize(v [3]float64, of float64) string {
	return Significant(WithoutRounding(Norm(v), leastShown*of))
}

// BesideNoise is a vector with 0 for what is noise beside its size.
func BesideNoise(v [3]float64) [3]float64 {
	floor := Norm(v) * NoiseInVector
	for i, c := range v {
		v[i] = WithoutRounding(c, floor)
	}
	return v
}

// Norm is the length of a vector.
func Norm(v [3]float64) float64 { return math.Hypot(math.Hypot(v[0], v[1]), v[2]) }

// Length writes a measure in mm as a drawing gives it: to the hundredth, without trailing zeros.
func Length(mm float64) string {
	s := strconv.FormatFloat(mm, 'f', 2, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

// Sizes writes three lengths, mm, as a workshop does.
func Sizes(mm [3]float64) string {
	return Length(mm[0]) + " × " + Length(mm[1]) + " × " + Length(mm[2])
}

// Given writes a number that the builder chose himself, as he chose it, without digits he did not write.
func Given(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// Along writes a place or a stretch along a path, mm, no finer than anyone sets a bed by: to the tenth, and to the
// whole millimetre from 100 mm on.
func Along(mm float64) string {
	const wholeFrom = 100
	if math.Abs(mm) < wholeFrom {
		mm = math.Round(10*mm) / 10
	} else {
		mm = math.Round(mm)
	}
	return Length(mm)
}

// rounding is the part of a value, or of the whole it is a share of, below which a difference is what rounding left
// over: far above the 16 digits of the numbers, far below what the least reported movement could tell.
const rounding = 1e-9

// Exceeds says whether a is more than b by more than rounding. Of equals, whichever is looked at first then stays.
func Exceeds(a, b float64) bool { return a-b > rounding*math.Max(math.Abs(a), math.Abs(b)) }

// RoundedPercent takes the rounding off a percentage, so that parts that are equal, such as the two of a mirrored pair,
// have equal ones, and those that carry nothing have none.
func RoundedPercent(percent float64) float64 {
	const steps = 1 / LeastShare // in one percent
	return math.Round(WithoutRounding(percent, LeastShare)*steps) / steps
}

// LeastShare is the percentage below which a share is what rounding left over.
const LeastShare = 100 * rounding

// WithoutRounding is v, or 0 when it is smaller than least.
func WithoutRounding(v, least float64) float64 {
	if math.Abs(v) < least {
		return 0
	}
	return v
}

// Percent writes a percentage to a tenth; what is smaller but not nothing is "<0.1".
func Percent(v float64) string {
	v = RoundedPercent(v)
	if v > 0 && v < LeastPercent {
		return "<0.1"
	}
	s := strconv.FormatFloat(v, 'f', 1, 64)
	if s == "-0.0" {
		return "0.0"
	}
	return s
}

// LeastPercent is the least percentage that is written as a number.
const LeastPercent = 0.05

// tableDigits is how many digits a CSV carries: more than the numbers deserve, and far fewer than those in which two
// processors may differ.
const tableDigits = 6

// Full writes v for a program to read, without "-0".
func Full(v float64) string {
	if v == 0 {
		return "0" // also for −0
	}
	return strconv.FormatFloat(v, 'g', tableDigits, 64)
}

// CheckFinite looks for a NaN or an infinity anywhere in v and says where it is.
func CheckFinite(v any) error {
	where, value, bad := notFinite(reflect.ValueOf(v))
	if !bad {
		return nil
	}
	return fmt.Errorf("report: %s is %v, not a number that can be shown", strings.TrimPrefix(where, "."), value)
}

// notFinite gives the path to the first number in v that is not finite. The path is made on the way back from there: of
// thousands of numbers hardly ever one is bad.
func notFinite(v reflect.Value) (where string, value float64, bad bool) {
	switch v.Kind() {
	case reflect.Float32, reflect.Float64:
		f := v.Float()
		return "", f, math.IsNaN(f) || math.IsInf(f, 0)
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			return notFinite(v.Elem())
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			if where, value, bad = notFinite(v.Index(i)); bad {
				return fmt.Sprintf("[%d]%s", i, where), value, true
			}
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if where, value, bad = notFinite(v.Field(i)); bad {
				return "." + v.Type().Field(i).Name + where, value, true
			}
		}
	case reflect.Map:
		for _, k := range v.MapKeys() { // in any order: the least path is kept
			below, f, wrong := notFinite(v.MapIndex(k))
			if !wrong {
				continue
			}
			if path := fmt.Sprintf("[%v]%s", k, below); !bad || path < where {
				where, value, bad = path, f, true
			}
		}
		return where, value, bad
	}
	return "", 0, false
}
