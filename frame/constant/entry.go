package constant

import (
	"errors"
	"fmt"
)

// Entry is one number of a model, as tables list it.
type Entry struct {
	Key     string // name in tables
	Meaning string // what it is
	Unit    string // "-" for a ratio
	Band    Band   // its scatter
	Source  string // where it comes from, and whether the source was read
}

// Lookup returns the entry of that key.
func Lookup(list []Entry, key string) (Entry, bool) {
	return Find(list, key, func(e Entry) string { return e.Key })
}

// Check returns an error that names every entry with a band out of order, without a key, meaning, unit or source, or
// with the key of an earlier one. Tables are checked by the tests of the package that holds them.
func Check(list []Entry) error {
	var faults []error
	seen := map[string]bool{}
	for i, e := range list {
		name := e.Key
		if name == "" {
			name = fmt.Sprintf("entry %d", i)
			faults = append(faults, fmt.Errorf("%s: no key", name))
		}
		if err := e.Band.Check(); err != nil {
			faults = append(faults, fmt.Errorf("%s: %w", name, err))
		}
		for _, q := range []struct{ what, text string }{{"meaning", e.Meaning}, {"unit", e.Unit},
			{"source", e.Source}} {
			if q.text == "" {
				faults = append(faults, fmt.Errorf("%s: no %s", name, q.what))
			}
		}
		if seen[e.Key] {
			faults = append(faults, fmt.Errorf("%s: two entries of one key", name))
		}
		seen[e.Key] = true
	}
	return errors.Join(faults...)
}
