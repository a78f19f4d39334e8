package machine

import (
	"fmt"
	"math"
	"reflect"
	"strings"

	"tiploop/frame/constant"
)

// checkFinite looks at every number of a machine, whatever it is for: one that is none, or a band that is none,
// spoils all that is worked out with it.
func (c *checker) checkFinite() {
	lists := reflect.ValueOf(*c.m)
	for i := range lists.NumField() {
		field := lists.Type().Field(i)
		c.finite(lists.Field(i), field.Name, FilePos{})
	}
}

// exported gives a value its type; false when it is of another one, or hidden in another package's struct.
func exported[T any](v reflect.Value) (t T, ok bool) {
	if v.CanInterface() {
		t, ok = v.Interface().(T)
	}
	return t, ok
}

// finite goes through a value; path is how Go writes what it is, place where a file says it.
func (c *checker) finite(v reflect.Value, path string, place FilePos) {
	switch v.Kind() {
	case reflect.Float64:
		if f := v.Float(); math.IsNaN(f) || math.IsInf(f, 0) {
			c.fault(place, "", "%s is %g, which is no number to build with", path, f)
		}
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			c.finite(v.Elem(), path, place)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			c.finite(v.Index(i), fmt.Sprintf("%s[%d]", path, i), place)
		}
	case reflect.Map:
		for entries := v.MapRange(); entries.Next(); {
			c.finite(entries.Value(), fmt.Sprintf("%s[%q]", path, entries.Key()), place)
		}
	case reflect.Struct:
		if band, ok := exported[constant.Band](v); ok {
			c.err(place, path, band.Check())
			return
		}
		if at := v.FieldByName("Place"); at.IsValid() && at.Type() == reflect.TypeFor[FilePos]() {
			place = FilePos{int(at.Field(0).Int()), int(at.Field(1).Int())}
		}
		for i := range v.NumField() {
			c.finite(v.Field(i), strings.TrimPrefix(path+"."+v.Type().Field(i).Name, "."), place)
		}
	}
}
