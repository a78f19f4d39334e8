package report

import (
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
)

// noise is the size below which a number is printed as 0: a picometre, a milligram. What is smaller than that is
// what rounding left over.
const noise = 1e-6

// noiseInTurn is the same for a rotation, rad: one that moves the end of a metre's arm by noise.
const noiseInTurn = 1e-12

// noiseInVector is the share of a vector's size below which one of its components is printed as 0: it could not be
// told from rounding at the digits shown, and no dial could show it.
const noiseInVector = 1e-5

// Bounds outside of which significant writes a power of ten rather than a row of zeros.
const (
	plainFrom = 1e-4
	plainTo   = 1e7
)

// significant writes v with three significant digits, without "-0".
func significant(v float64) string {
	if math.Abs(v) < noise {
		return "0"
	}
	rounded := strconv.FormatFloat(v, 'e', 2, 64)
	mantissa, exponent, _ := strings.Cut(rounded, "e")
	power, _ := strconv.Atoi(exponent)
	if a := math.Abs(v); a < plainFrom || a >= plainTo {
		return mantissa + "e" + strconv.Itoa(power)
	}
	r, _ := strconv.ParseFloat(rounded, 64)
	return strconv.FormatFloat(r, 'f', max(0, 2-power), 64)
}

// components writes the three numbers of a vector, leaving out what is noise beside its size.
func components(v [3]float64) [3]string {
	var s [3]string
	for i, c := range besideNoise(v) {
		s[i] = significant(c)
	}
	return s
}

// besideNoise is a vector with 0 for what is noise beside its size.
func besideNoise(v [3]float64) [3]float64 {
	floor := size(v) * noiseInVector
	for i, c := range v {
		v[i] = withoutRounding(c, floor)
	}
	return v
}

// size is the length of a vector.
func size(v [3]float64) float64 { return math.Hypot(math.Hypot(v[0], v[1]), v[2]) }

// length writes a measure in mm as a drawing gives it: to the hundredth, without trailing zeros.
func length(mm float64) string {
	s := strconv.FormatFloat(mm, 'f', 2, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

// given writes a number that the builder chose himself, as he chose it, without digits he did not write.
func given(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// along writes a place or a stretch along a path, mm, no finer than anyone sets a bed by: to the tenth, and to the whole
// millimetre from 100 mm on.
func along(mm float64) string {
	const wholeFrom = 100
	if math.Abs(mm) < wholeFrom {
		mm = math.Round(10*mm) / 10
	} else {
		mm = math.Round(mm)
	}
	return length(mm)
}

// rounding is the part of a value, or of the whole it is a share of, below which a difference is what rounding left over:
// far above the 16 digits of the numbers, far below what the least reported movement could tell.
const rounding = 1e-9

// exceeds says whether a is more than b by more than rounding. Of equals, whichever is looked at first then stays.
func exceeds(a, b float64) bool { return a-b > rounding*math.Max(math.Abs(a), math.Abs(b)) }

// settled takes the rounding off a percentage, so that parts that are equal, such as the two of a mirrored pair, have
// equal ones, and those that carry nothing have none.
func settled(percent float64) float64 {
	const steps = 1 / leastShare // in one percent
	return math.Round(withoutRounding(percent, leastShare)*steps) / steps
}

// leastShare is the percentage below which a share is what rounding left over.
const leastShare = 100 * rounding

// withoutRounding is v, or 0 when it is smaller than least.
func withoutRounding(v, least float64) float64 {
	if math.Abs(v) < least {
		return 0
	}
	return v
}

// percent writes a percentage to a tenth; what is smaller but not nothing is "<0.1".
func percent(v float64) string {
	v = settled(v)
	if v > 0 && v < leastPercent {
		return "<0.1"
	}
	s := strconv.FormatFloat(v, 'f', 1, 64)
	if s == "-0.0" {
		return "0.0"
	}
	return s
}

// leastPercent is the least percentage that is written as a number.
const leastPercent = 0.05

// tableDigits is how many digits a CSV carries: far more than the numbers deserve, and fewer than those in which two
// processors may differ.
const tableDigits = 12

// full writes v for a program to read, without "-0".
func full(v float64) string {
	if v == 0 {
		return "0" // also for −0
	}
	return strconv.FormatFloat(v, 'g', tableDigits, 64)
}

// checkFinite looks for a NaN or an infinity anywhere in v and says where it is.
func checkFinite(v any) error {
	where, bad := notFinite(reflect.ValueOf(v), "")
	if where == "" {
		return nil
	}
	return fmt.Errorf("report: %s is %v, not a number that can be shown", strings.TrimPrefix(where, "."), bad)
}

// notFinite gives the path to the first number in v that is not finite; "" when there is none.
func notFinite(v reflect.Value, path string) (string, float64) {
	switch v.Kind() {
	case reflect.Float32, reflect.Float64:
		if f := v.Float(); math.IsNaN(f) || math.IsInf(f, 0) {
			return path, f
		}
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			return notFinite(v.Elem(), path)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			if where, f := notFinite(v.Index(i), path+"["+strconv.Itoa(i)+"]"); where != "" {
				return where, f
			}
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if where, f := notFinite(v.Field(i), path+"."+v.Type().Field(i).Name); where != "" {
				return where, f
			}
		}
	case reflect.Map:
		found, value := "", 0.0
		for _, k := range v.MapKeys() { // any order: the least path is kept
			where, f := notFinite(v.MapIndex(k), fmt.Sprintf("%s[%v]", path, k))
			if where != "" && (found == "" || where < found) {
				found, value = where, f
			}
		}
		return found, value
	}
	return "", 0
}
