package modelfile

import (
	"fmt"
	"slices"
	"strings"

	"tiploop/frame/machine"
	"tiploop/frame/modelfile/source"
)

// fields is a mapping with known keys.
type fields struct {
	d    *decoder
	node *source.Node
	what string
	of   *Mapping
}

// fields checks that n is a mapping with no other keys than described; called is its name, if it has one.
func (d *decoder) fields(n *source.Node, of *Mapping, called ...string) (fields, bool) {
	what := of.Name
	for _, name := range called {
		what += " " + machine.Quote(name)
	}
	if n.Kind != source.Mapping {
		d.fault(n.Pos, fmt.Sprintf("%s must be %s, not %s", what, source.Mapping, n.Kind), "its keys: "+
			strings.Join(of.names(), ", "))
		return fields{}, false
	}
	f := fields{d, n, what, of}
	for _, p := range n.Pairs {
		if !slices.Contains(of.names(), p.Key.Text) {
			d.fault(p.Key.Pos, fmt.Sprintf("key %s is not known in %s", machine.Quote(p.Key.Text), what),
				of.suggest(p.Key.Text))
		}
	}
	return f, true
}

// suggest is the hint for a key that is none of the mapping's: the nearest ones and, where it is one alone, what that
// takes; or else all there are.
func (m *Mapping) suggest(key string) string {
	near := machine.Nearest(key, m.names())
	hint := machine.Suggest(key, m.names())
	switch {
	case len(near) == 1:
		between := "; "
		if strings.HasSuffix(hint, "?") {
			between = " "
		}
		return fmt.Sprintf("%s%s%s takes: %s", hint, between, near[0], m.key(near[0]).Takes)
	case hint == "":
		return "its keys: " + strings.Join(m.names(), ", ")
	}
	return hint
}

// get gives the value of a key, nil when it is not there.
func (f fields) get(key string) *source.Node {
	f.of.key(key)
	if p := f.node.Find(key); p != nil {
		return p.Value
	}
	return nil
}

// need gives the value of a key, and reports it when it is not there.
func (f fields) need(key string) *source.Node {
	n := f.get(key)
	if n == nil && !f.misspelt(key) {
		f.d.fault(f.node.Pos, fmt.Sprintf("%s has no %s", f.what, key), fmt.Sprintf("%s takes: %s", key, f.of.key(key).Takes))
	}
	return n
}

// words are those that a key takes.
func (f fields) words(key string) []string {
	takes := f.of.key(key).Takes
	if takes.Kind == EitherKind {
		for _, way := range takes.Items {
			if way.Kind == WordKind {
				return way.Words
			}
		}
	}
	return takes.Words
}

// word gives the word at a key, "" when it is not there or is none that the key takes; what it is called in messages.
func (f fields) word(key, what string) string {
	n := f.get(key)
	if n == nil {
		return ""
	}
	word, _ := f.d.word(n, what, f.words(key))
	return word
}

// choose gives the one that is there of the set of keys in which this one is, and reports when there is none, or more
// than one.
func (f fields) choose(among string) (string, *source.Node) { return f.oneOf(f.of.choice(among)...) }

// oneOf is choose among some keys.
func (f fields) oneOf(keys ...string) (string, *source.Node) {
	var found *source.Pair
	for i, p := range f.node.Pairs {
		switch {
		case !slices.Contains(keys, p.Key.Text):
		case found != nil:
			f.d.fault(p.Key.Pos, fmt.Sprintf("%s has both %s and %s", f.what, found.Key.Text, p.Key.Text), "keep one of them")
			return "", nil
		default:
			found = &f.node.Pairs[i]
		}
	}
	if found == nil {
		if !f.misspelt(keys...) {
			f.d.fault(f.node.Pos, fmt.Sprintf("%s needs one of: %s", f.what, strings.Join(keys, ", ")), "")
		}
		return "", nil
	}
	return found.Key.Text, found.Value
}

// misspelt tells whether an unknown key is probably one of these: then it has been reported, and none is missing.
func (f fields) misspelt(keys ...string) bool {
	known := f.of.names()
	return slices.ContainsFunc(f.node.Pairs, func(p source.Pair) bool {
		near := machine.Nearest(p.Key.Text, known)
		return len(near) == 1 && !slices.Contains(known, p.Key.Text) && slices.Contains(keys, near[0])
	})
}

// only reports every key there is that does not go with the key, or the word, that decides.
func (f fields) only(beside string) {
	for _, p := range f.node.Pairs {
		i := slices.IndexFunc(f.of.Keys, func(k Key) bool { return k.Name == p.Key.Text })
		if i < 0 {
			continue
		}
		if with := f.of.Keys[i].With; len(with) > 0 && !slices.Contains(with, beside) {
			f.d.fault(p.Key.Pos, fmt.Sprintf("%s has no place beside %s", p.Key.Text, beside), "")
		}
	}
}

// beside reports every key there is without any of those that it goes with.
func (f fields) beside() {
	for _, p := range f.node.Pairs {
		i := slices.IndexFunc(f.of.Keys, func(k Key) bool { return k.Name == p.Key.Text })
		if i < 0 || len(f.of.Keys[i].With) == 0 {
			continue
		}
		with := f.of.Keys[i].With
		if !slices.ContainsFunc(with, func(key string) bool { return f.get(key) != nil }) {
			f.d.fault(p.Key.Pos, fmt.Sprintf("%s needs %s beside it", p.Key.Text, strings.Join(with, " or ")), "")
		}
	}
}
