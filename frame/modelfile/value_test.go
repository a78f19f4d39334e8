package modelfile

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestValues(t *testing.T) {
	values := map[string]string{"bed_length": "280 mm", "n": "4", "gussets": "true", "half": "bed_length/2",
		"k": "12 N/um", "w": "10"}
	for _, c := range []struct {
		text string
		want any // arithmetic done by hand
		dim  measure
	}{
		{"bed_length/2 - 20 mm", 120.0, aLength},
		{"-bed_length/2", -140.0, aLength},
		{"2*half + 0.5 in", 292.7, aLength},
		{"bed_length - 20", 260.0, aLength},
		{"20 + 1 N", 21.0, aForce},
		{"1 kg + 2", 0.003, aMass},
		{"90 deg + 90", math.Pi, anAngle},
		{"1 - 2 - 3", -4.0, aNumber},
		{"12/3/2", 2.0, aNumber},
		{"2 + 3*4", 14.0, aNumber},
		{"(2 + 3)*4", 20.0, aNumber},
		{"-2*-3", 6.0, aNumber},
		{"+5", 5.0, aNumber},
		{"w*w", 100.0, aNumber},
		{"bed_length*w", 2800.0, aLength},
		{"k*0.1 mm", 1200.0, aForce},
		{"min(3 mm, 0.1 in, w)", 2.54, aLength},
		{"max(3, 4 mm)", 4.0, aLength},
		{"abs(-3 N)", 3.0, aForce},
		{"sqrt(16 mm2)", 4.0, aLength},
		{"cos(0)", 1.0, aNumber},
		{"sin(pi/2 * 1 rad)", 1.0, aNumber},
		{"tan(45)", math.Tan(math.Pi / 4), aNumber},
		{"gussets ? 3 mm : 1/0", 3.0, aLength},
		{"not gussets ? 3 mm : 4 mm", 4.0, aLength},
		{"bed_length/2 == half", true, aNumber},
		{"bed_length > 280", false, aNumber},
		{"bed_length >= 28 cm and n != 3", true, aNumber},
		{"n < 3 or n/0 > 1 or gussets", nil, aNumber},
		{"gussets or 1/0 > 1", true, aNumber},
		{"not gussets and 1/0 > 1", false, aNumber},
		{"1 < n < 5", true, aNumber},
		{"1 < n < 3", false, aNumber},
		{"gussets == (n <= 4)", true, aNumber},
		{"gussets != true", false, aNumber},
	} {
		t.Run(c.text, func(t *testing.T) {
			v, bad := evaluateText(c.text, values)
			switch want := c.want.(type) {
			case nil:
				require.NotNil(t, bad)
			case bool:
				require.Nil(t, bad)
				require.True(t, v.isTruth)
				require.Equal(t, want, v.truth)
			case float64:
				require.Nil(t, bad)
				require.False(t, v.isTruth)
				require.Equal(t, c.dim.name, measureOf(v.dim).name)
				const rounding = 4e-16 // of one or two operations
				if e := math.Abs(v.x - want); !(e <= rounding*math.Abs(want)) {
					t.Errorf("got %v, want %v", v.x, want)
				}
			}
		})
	}
}

func TestValueFaults(t *testing.T) {
	values := map[string]string{"a": "280 mm", "f": "3 N", "yes": "true", "zero": "a - 280"}
	for _, c := range []struct{ text, want string }{
		{"a + f", `2: a length (280 mm) and a force (3 N) cannot be added or subtracted`},
		{"f - a", `2: a force (3 N) and a length (280 mm) cannot be added or subtracted`},
		{"a < f", `2: a length (280 mm) and a force (3 N) cannot be compared`},
		{"a == f", `2: a length (280 mm) and a force (3 N) cannot be compared`},
		{"a == yes", `2: a length (280 mm) and true cannot be compared`},
		{"max(a, f)", `0: a length (280 mm) and a force (3 N) cannot be compared`},
		{"a + yes", `4: true where a number belongs`},
		{"-yes", `1: true where a number belongs`},
		{"not a", `4: a length (280 mm) where true or false belongs`},
		{"a and yes", `0: a length (280 mm) where true or false belongs`},
		{"a ? 1 : 2", `0: a length (280 mm) where true or false belongs`},
		{"sin(a)", `0: sin of a length (280 mm): an angle belongs here`},
		{"sqrt(a)", `0: the square root of a length (280 mm) has no meaning`},
		{"sqrt(-4)", `0: the square root of a negative number, -4`},
		{"1 / zero", `2: division by zero`},
		{"a + a/0", `5: division by zero`},
		{"1e300*1e300", `5: the result is not a finite number`},
		{"1e308 + 1e308", `6: the result is not a finite number`},
		{"1/1e-320", `1: the result is not a finite number`},
		{"abs(yes)", `4: true where a number belongs`},
		{"1 mm + 2 N mm * 3 s", "5: a length (1 mm) and a quantity in mm^2 tonne s^-1 (6 mm^2 tonne s^-1) cannot be added " +
			"or subtracted"},
		{"1/2 in + 3 mm", `7: a quantity in mm^-1 (0.019685 mm^-1) and a length (3 mm) cannot be added or subtracted`},
	} {
		t.Run(c.text, func(t *testing.T) {
			_, bad := evaluateText(c.text, values)
			require.NotNil(t, bad)
			got := fmt.Sprintf("%d: %s", bad.offset, bad.what)
			require.Equal(t, c.want, got)
		})
	}
}

func TestValuesOfAModel(t *testing.T) {
	testFaults(t, []faultCase{
		{"ring", two + "values:\n  a: 2*b\n  d: a\n  b: c + 1\n  c: a\n", `
m.yaml:7:6: values run in a ring: a → b → c → a`},
		{"ring entered from outside", two + "values:\n  d: b\n  c: b\n  b: c\n", `
m.yaml:8:6: values run in a ring: c → b → c`},
		{"ring of one", two + "values:\n  a: a + 1\n", `
m.yaml:7:6: values run in a ring: a → a`},
		{"two rings", two + "values: {a: b, b: a, c: d, d: c, e: a + c}\n", `
m.yaml:6:13: values run in a ring: a → b → a
m.yaml:6:25: values run in a ring: c → d → c`},
		{"unit as a name", two + "values: {mm: 3, m2: 4, in: 3, min: 3, pi: 3, nan: 3}\n", `
m.yaml:6:10: "mm" cannot be the name of a value
	it is a unit
m.yaml:6:17: "m2" cannot be the name of a value
	it is a unit
m.yaml:6:24: "in" cannot be the name of a value
	it is a unit
m.yaml:6:31: "min" cannot be the name of a value
	it means something else in an expression
m.yaml:6:39: "pi" cannot be the name of a value
	it means something else in an expression
m.yaml:6:46: "nan" cannot be the name of a value
	it means something else in an expression`},
		{"blank in a name", two + "values: {bed length: 3, 2a: 3, é: 3, a-b: 3}\n", `
m.yaml:6:10: "bed length" cannot be the name of a value
	letters a to z, digits and _ make a name, as in bed_length
m.yaml:6:25: "2a" cannot be the name of a value
	letters a to z, digits and _ make a name, as in bed_length
m.yaml:6:32: "é" cannot be the name of a value
	letters a to z, digits and _ make a name, as in bed_length
m.yaml:6:38: "a-b" cannot be the name of a value
	letters a to z, digits and _ make a name, as in bed_length`},
		{"list as a value", two + "values: {a: [1, 2], b: {c: 1}, c: }\n", `
m.yaml:6:13: a number must be a single value, not a list
m.yaml:6:24: value "b" has no value
	value takes: number with its unit, or a plain one
m.yaml:6:24: value "b" has no sweep
	sweep takes: range, from..to
m.yaml:6:25: key "c" is not known in value "b"
	one of: value, sweep
m.yaml:6:34: a number must be a single value, not nothing`},
		{"wrong, and used twice", two + "values: {a: 1 mm + 1 N, b: a, c: a}\n", `
m.yaml:6:18: a length (1 mm) and a force (1 N) cannot be added or subtracted`},
		{"not used, and wrong", two + "values: {a: 1/0}\n", `
m.yaml:6:14: division by zero`},
		{"wrong inside an expression", two + "values:\n  long: 3\n  a: 2*long + 3*logn - 2\n", `
m.yaml:8:17: value "logn" is not known
	did you mean long? one of: long, a`},
		{"in quotes", two + "values:\n  a: \"2 * lng\"\n", `
m.yaml:7:6: value "lng" is not known
	one of: a`},
		{"over two lines", two + "values:\n  a: 2 *\n    lng\n", `
m.yaml:7:6: value "lng" is not known
	one of: a`},
		{"too long", two + "values:\n  a: " + longSum(200) + "\n", `
m.yaml:7:6: an expression of 801 characters is too long: at most 500`},
		{"block text", two + "values:\n  a: |\n    2 * lng\n", `
m.yaml:7:6: value "lng" is not known
	one of: a`},
	})
}

func longSum(n int) string {
	text := "1"
	for range n {
		text += " + 1"
	}
	return text
}
