package machine

import (
	"reflect"
	"sync"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/constant"
)

// finding is how the numbers in values of a type are found, worked out once for each type: most of a machine's fields
// are words, indices and places in a file, and need no look.
type finding struct {
	kind   reflect.Kind // Invalid: there are no numbers in it
	band   bool         // it is a constant.Band
	vector bool         // it is a r3.Vec
	fields []foundField // of a struct, those with numbers
	elem   *finding     // of an array
}

type foundField struct {
	index int
	*finding
}

// findings are those of the types met so far.
var findings sync.Map // reflect.Type to *finding

func findingOf(t reflect.Type) *finding {
	if f, ok := findings.Load(t); ok {
		return f.(*finding)
	}
	f := newFinding(t)
	findings.Store(t, f)
	return f
}

// newFinding works a finding out. What a pointer, a list or an interface leads to is looked up when it is met: a type
// may lead to itself.
func newFinding(t reflect.Type) *finding {
	f := &finding{kind: t.Kind(), band: t == reflect.TypeFor[constant.Band](), vector: t == reflect.TypeFor[r3.Vec]()}
	switch t.Kind() {
	case reflect.Float64, reflect.Interface:
		return f
	case reflect.Pointer, reflect.Slice, reflect.Map:
		switch t.Elem().Kind() {
		case reflect.Bool, reflect.Int, reflect.String:
		default:
			return f
		}
	case reflect.Array:
		if f.elem = newFinding(t.Elem()); f.elem.kind != reflect.Invalid {
			return f
		}
	case reflect.Struct:
		for i := range t.NumField() {
			if field := newFinding(t.Field(i).Type); field.kind != reflect.Invalid {
				f.fields = append(f.fields, foundField{i, field})
			}
		}
		if f.fields != nil {
			return f
		}
	}
	return &finding{}
}

// inOrder tells whether all numbers in a value are finite and all bands are bands.
func (f *finding) inOrder(v reflect.Value) bool {
	switch f.kind {
	case reflect.Float64:
		return isFinite(v.Float())
	case reflect.Pointer, reflect.Interface:
		return v.IsNil() || findingOf(v.Elem().Type()).inOrder(v.Elem())
	case reflect.Slice:
		return v.Len() == 0 || findingOf(v.Type().Elem()).allInOrder(v)
	case reflect.Array:
		return f.elem.allInOrder(v)
	case reflect.Map:
		elem := findingOf(v.Type().Elem())
		for entries := v.MapRange(); entries.Next(); {
			if !elem.inOrder(entries.Value()) {
				return false
			}
		}
	case reflect.Struct:
		if f.vector && v.CanAddr() && v.CanInterface() { // most numbers of a machine
			vec := v.Addr().Interface().(*r3.Vec)
			return isFinite(vec.X) && isFinite(vec.Y) && isFinite(vec.Z)
		}
		if f.band {
			band := constant.Band{Low: v.Field(0).Float(), Typical: v.Field(1).Float(), High: v.Field(2).Float()}
			return band.Check() == nil
		}
		for _, field := range f.fields {
			if !field.inOrder(v.Field(field.index)) {
				return false
			}
		}
	}
	return true
}

// allInOrder looks through a list of values that the finding is of.
func (f *finding) allInOrder(list reflect.Value) bool {
	if f.kind == reflect.Invalid {
		return true
	}
	for i := range list.Len() {
		if !f.inOrder(list.Index(i)) {
			return false
		}
	}
	return true
}
