package modelfile

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/testdata/models"
)

// mappings are all mappings of a model file.
func mappings() []*Mapping { return Type{Kind: MappingKind, Mapping: Model()}.Within() }

// Every key says what it takes, when it is given and what it is for, and goes with what there is.
func TestKeysDescribed(t *testing.T) {
	for _, m := range mappings() {
		require.NotEmpty(t, m.About, m.Name)
		for i, k := range m.Keys {
			what := m.Name + ": " + k.Name
			require.NotEmpty(t, k.Takes.String(), what)
			require.NotEmpty(t, k.About, what)
			require.NotContains(t, m.names()[:i], k.Name, what)
			require.Truef(t, m.Needed(k) || k.Default != "" || len(k.With) > 0 || m.choice(k.Name) != nil,
				"%s: nothing says when it is given", what)
			for _, with := range k.With {
				require.Contains(t, slices.Concat(m.names(), words(m)), with, what)
			}
		}
		for _, c := range m.Choices {
			require.Subset(t, m.names(), c, m.Name)
		}
	}
}

// words are those that choose among a mapping's keys.
func words(m *Mapping) (all []string) {
	for _, k := range m.Keys {
		all = append(all, k.Takes.Words...)
	}
	return all
}

// leaf is one value of a file with what is described of it.
type leaf struct {
	node  *node
	of    *Mapping
	key   string // of the mapping
	takes Type
}

// told finds what is described of each value below n, which takes such a type; wrong is what is not.
func told(n *node, takes Type, of *Mapping, key string, found func(leaf)) (wrong string) {
	at := fmt.Sprintf("%d:%d %s", n.pos.Line, n.pos.Col, key)
	each := func(nodes []*node, item Type) string {
		for _, n := range nodes {
			if wrong := told(n, item, of, key, found); wrong != "" {
				return wrong
			}
		}
		return ""
	}
	switch takes.Kind {
	case EitherKind:
		var all []string
		for _, way := range takes.Items {
			var leaves []leaf
			if wrong = told(n, way, of, key, func(l leaf) { leaves = append(leaves, l) }); wrong == "" {
				for _, l := range leaves {
					if l.of == of && l.key == key {
						l.takes = takes // what is wrong in it may be told of any way
					}
					found(l)
				}
				return ""
			}
			all = append(all, wrong)
		}
		return strings.Join(all, " and ")
	case MappingKind:
		if n.kind != mapping {
			return at + ": no mapping"
		}
		for _, p := range n.pairs {
			if !slices.Contains(takes.Mapping.names(), p.key.text) {
				return fmt.Sprintf("%s: key %s is not described of %s", at, p.key.text, takes.Mapping.Name)
			}
			k := takes.Mapping.key(p.key.text)
			found(leaf{p.value, takes.Mapping, k.Name, Type{Kind: MappingKind, Mapping: takes.Mapping}})
			if wrong := told(p.value, k.Takes, takes.Mapping, k.Name, found); wrong != "" {
				return wrong
			}
		}
		return ""
	case NamedKind:
		if n.kind != mapping {
			return at + ": no mapping of names"
		}
		var values []*node
		for _, p := range n.pairs {
			values = append(values, p.value)
		}
		return each(values, takes.Items[0])
	case RowKind, ListKind:
		if n.kind != list || takes.Kind == RowKind && len(n.items) != len(takes.Labels) {
			return at + ": no list, or one of another length"
		}
		return each(n.items, takes.Items[0])
	}
	if n.kind != scalar {
		return at + ": not a single value"
	}
	found(leaf{n, of, key, takes})
	return ""
}

// corpus is all kinds of models: the examples, the models of other tests and, in testdata, such as have the rest of the
// keys.
func corpus(t *testing.T) map[string]string {
	t.Helper()
	all := map[string]string{"sledge": models.Sledge}
	for _, pattern := range []string{filepath.Join("..", "..", "examples", "*.yaml"), filepath.Join("testdata", "keys",
		"*.yaml"), filepath.Join("..", "..", "cmd", "tiploop", "*.yaml")} {
		names, err := filepath.Glob(pattern)
		require.NoError(t, err)
		require.NotEmpty(t, names)
		for _, name := range names {
			text, err := os.ReadFile(name)
			require.NoError(t, err)
			all[filepath.Base(name)] = string(text)
		}
	}
	return all
}

// leavesOf is what is described of all values of a model.
func leavesOf(t *testing.T, name, text string) (root *node, all []leaf) {
	t.Helper()
	root, faults := parseSource(name, []byte(text))
	require.Empty(t, faults, name)
	require.Empty(t, told(root, keysOf(Model()), nil, "", func(l leaf) { all = append(all, l) }), name)
	return root, all
}

// The models of the corpus are right, what stands in them is described, and every key that is described stands in one.
func TestKeysInUse(t *testing.T) {
	used := map[string]bool{}
	for name, text := range corpus(t) {
		_, leaves := leavesOf(t, name, text)
		for _, l := range leaves {
			used[fmt.Sprintf("%p %s", l.of, l.key)] = true
		}
		require.Empty(t, faultsOf(text), name)
	}
	for _, m := range mappings() {
		for _, k := range m.Keys {
			if !used[fmt.Sprintf("%p %s", m, k.Name)] {
				t.Errorf("no model of the corpus has %s of %s", k.Name, m.Name)
			}
		}
	}
}
