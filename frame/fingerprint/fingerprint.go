// Package fingerprint tells values apart by all the numbers, words and kinds in them, so that what was worked out for
// one can be found again for another that is the same. Two values have one fingerprint when they have the same types
// and the same bits; it is a cryptographic hash, so that chance does not give it to two others.
package fingerprint

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"math"
	"reflect"
)

// Sum is the fingerprint of some values. It is comparable, and a key of a map.
type Sum [sha256.Size]byte

// Of returns the fingerprint of values, one after the other. Pointers and interfaces count as what they lead to. It
// panics on what has no value to tell apart, such as a function or a map.
func Of(values ...any) Sum {
	p := &press{make([]byte, 0, usualBytes)}
	for _, v := range values {
		p.add(reflect.ValueOf(&v).Elem())
	}
	return sha256.Sum256(p.bytes)
}

// usualBytes is room for what most fingerprints are taken of, the section of a bar.
const usualBytes = 512

// press writes values down one after the other, each with what keeps it from running into the next: lists begin with
// their length, and what may be nil with whether it is.
type press struct{ bytes []byte }

func (p *press) number(bits uint64) { p.bytes = binary.LittleEndian.AppendUint64(p.bytes, bits) }

func (p *press) text(s string) {
	p.number(uint64(len(s)))
	p.bytes = append(p.bytes, s...)
}

func (p *press) add(v reflect.Value) {
	switch v.Kind() {
	case reflect.Bool:
		if v.Bool() {
			p.number(1)
		} else {
			p.number(0)
		}
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		p.number(uint64(v.Int()))
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		p.number(v.Uint())
	case reflect.Float32, reflect.Float64:
		p.number(math.Float64bits(v.Float()))
	case reflect.String:
		p.text(v.String())
	case reflect.Pointer, reflect.Interface:
		if v.IsNil() {
			p.number(0)
			return
		}
		p.number(1)
		if v.Kind() == reflect.Interface {
			p.text(v.Elem().Type().String())
		}
		p.add(v.Elem())
	case reflect.Slice, reflect.Array:
		p.number(uint64(v.Len()))
		for i := range v.Len() {
			p.add(v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			p.add(v.Field(i))
		}
	default:
		panic(fmt.Sprintf("fingerprint: a %s has none", v.Type()))
	}
}
