package machine

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"tiploop/frame/constant"
)

// checkFinite looks at every number of a machine, whatever it is for: one that is none, or a band that is none,
// spoils all that is worked out with it. Nearly all machines are in order and every building asks, so numbers are
// looked through first without a word on where they stand ([finding]); words are made only where something is wrong.
func (c *checker) checkFinite() {
	machine := reflect.ValueOf(c.m).Elem()
	if findingOf(machine.Type()).inOrder(machine) {
		return
	}
	for i := range machine.NumField() {
		c.finite(machine.Field(i), machine.Type().Field(i).Name, FilePos{})
	}
}

// exported gives a value its type; false when it is of another one, or hidden in another package's struct.
func exported[T any](v reflect.Value) (t T, ok bool) {
	if v.CanInterface() {
		t, ok = v.Interface().(T)
	}
	return t, ok
}

// finite goes through a value; path is how Go writes what it is, pos where a file says it.
func (c *checker) finite(v reflect.Value, path string, pos FilePos) {
	switch v.Kind() {
	case reflect.Float64:
		if f := v.Float(); !isFinite(f) {
			c.fault(pos, "", "%s is %g, which is no number to build with", path, f)
		}
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			c.finite(v.Elem(), path, pos)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			c.finite(v.Index(i), fmt.Sprintf("%s[%d]", path, i), pos)
		}
	case reflect.Map:
		keys := v.MapKeys()
		slices.SortFunc(keys, func(a, b reflect.Value) int { return strings.Compare(fmt.Sprint(a), fmt.Sprint(b)) })
		for _, key := range keys {
			c.finite(v.MapIndex(key), fmt.Sprintf("%s[%q]", path, key), pos)
		}
	case reflect.Struct:
		if band, ok := exported[constant.Band](v); ok {
			c.err(pos, only(path), band.Check())
			return
		}
		for i := range v.NumField() {
			if at, ok := exported[FilePos](v.Field(i)); ok {
				pos = at
			}
		}
		for i := range v.NumField() {
			c.finite(v.Field(i), strings.TrimPrefix(path+"."+v.Type().Field(i).Name, "."), pos)
		}
	}
}

// mostNumber is beyond any number of a machine in N, mm, MPa, tonne and K, second moments of area of whole halls among
// them; what is larger would overflow in the products that it stands in.
const mostNumber = 1e24

// isFinite tells whether a number can be one of a machine; NaN fails both comparisons.
func isFinite(f float64) bool { return f >= -mostNumber && f <= mostNumber }
