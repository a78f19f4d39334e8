package answer

import (
	"reflect"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestEveryFieldHasItsKey: the JSON is a contract, so that no field may come into it under the name that Go gives it.
func TestEveryFieldHasItsKey(t *testing.T) {
	key := regexp.MustCompile(`^([a-z][a-z0-9_]*(,omitempty)?|-)$`)
	seen := map[reflect.Type]bool{}
	var walk func(of reflect.Type)
	walk = func(of reflect.Type) {
		switch of.Kind() {
		case reflect.Pointer, reflect.Slice, reflect.Array, reflect.Map:
			walk(of.Elem())
		case reflect.Struct:
			if seen[of] {
				return
			}
			seen[of] = true
			for i := range of.NumField() {
				f := of.Field(i)
				require.True(t, f.IsExported() && key.MatchString(f.Tag.Get("json")), "%s.%s has the key %q", of, f.Name, f.Tag.Get("json"))
				if f.Tag.Get("json") != "-" {
					walk(f.Type)
				}
			}
		}
	}
	for _, of := range []any{Answer{}, Inventory{}, Sweep{}} {
		walk(reflect.TypeOf(of))
	}
	require.Greater(t, len(seen), 30)
}
