package modelfile

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/modelfile/source"
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

// leaf is one value of a file with what is described of it, or a mapping with known keys.
type leaf struct {
	node  *source.Node
	of    *Mapping
	key   string // of the mapping; "": it is the mapping
	takes Type
}

// told finds what is described of each value below n, which takes such a type; wrong is what is not.
func told(n *source.Node, takes Type, of *Mapping, key string, found func(leaf)) (wrong string) {
	at := fmt.Sprintf("%d:%d %s", n.Pos.Line, n.Pos.Col, key)
	each := func(nodes []*source.Node, item Type) string {
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
					if l.of == of && l.key == key && l.key != "" {
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
		if n.Kind != source.Mapping {
			return at + ": no mapping"
		}
		found(leaf{n, takes.Mapping, "", takes})
		for _, p := range n.Pairs {
			if !slices.Contains(takes.Mapping.names(), p.Key.Text) {
				return fmt.Sprintf("%s: key %s is not described of %s", at, p.Key.Text, takes.Mapping.Name)
			}
			k := takes.Mapping.key(p.Key.Text)
			if wrong := told(p.Value, k.Takes, takes.Mapping, k.Name, found); wrong != "" {
				return wrong
			}
		}
		return ""
	case NamedKind:
		if n.Kind != source.Mapping {
			return at + ": no mapping of names"
		}
		var values []*source.Node
		for _, p := range n.Pairs {
			values = append(values, p.Value)
		}
		return each(values, takes.Items[0])
	case RowKind, ListKind:
		if n.Kind != source.List || takes.Kind == RowKind && len(n.Items) != len(takes.Labels) {
			return at + ": no list, or one of another length"
		}
		return each(n.Items, takes.Items[0])
	}
	if n.Kind != source.Scalar {
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
func leavesOf(t *testing.T, name, text string) (root *source.Node, all []leaf) {
	t.Helper()
	root, faults := source.Parse(name, []byte(text))
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
			for _, p := range l.node.Pairs {
				if l.key == "" {
					used[fmt.Sprintf("%p %s", l.of, p.Key.Text)] = true
				}
			}
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

// documentOf is the document of a tree that has been changed.
func documentOf(root *source.Node) *Document {
	return &Document{file: "m.yaml", name: "m", root: root, sections: keysSections}
}

// keysSections keeps the sections of the corpus.
var keysSections = newSectionCache()

// faultsWith is what is said of a tree that has been changed.
func faultsWith(root *source.Node) string {
	doc := documentOf(root)
	if _, err := doc.Machine(""); err != nil {
		return err.Error()
	}
	return ""
}

// complaints are what the decoder says where something else belongs than a type takes.
func complaints(takes Type) (all []string) {
	switch takes.Kind {
	case NumberKind:
		if takes.Measure == aNumber.name {
			return []string{"a plain number belongs"}
		}
		return []string{withArticle(takes.Measure) + " belongs"}
	case WholeKind:
		return []string{"a plain number belongs"}
	case TruthKind, TrueKind:
		return []string{"true or false belongs"}
	case WordKind:
		return append(all, `"1 kg s" is not known`)
	case ReferenceKind:
		return append(all, `"1 kg s" is not known`)
	case EitherKind:
		for _, way := range takes.Items {
			all = append(all, complaints(way)...)
		}
	}
	return all
}

// The decoder takes what is described: where a quantity of kilogram-seconds stands, which nothing takes, it complains
// of the kind that the description names. Values, which are of any kind, and texts are left out.
func TestKeysTakeWhatIsDescribed(t *testing.T) {
	tried := map[string]bool{}
	for name, text := range corpus(t) {
		root, leaves := leavesOf(t, name, text)
		for _, l := range leaves {
			want := complaints(l.takes)
			id := fmt.Sprintf("%p %s %s", l.of, l.key, l.takes)
			if want == nil || tried[id] || l.of == Model() || l.node.Kind != source.Scalar {
				continue
			}
			old := *l.node
			l.node.Text, l.node.Verbatim = "1 kg s", true
			said := faultsWith(root)
			*l.node = old
			at := fmt.Sprintf("m.yaml:%d:%d: ", old.Pos.Line, old.Pos.Col)
			if said == "" {
				continue // in what is left out; another model has it
			}
			tried[id] = true
			require.Truef(t, strings.Contains(said, at) && slices.ContainsFunc(want, func(w string) bool {
				return strings.Contains(said, w)
			}), "%s: %s of %s takes %s, and the decoder says\n%s", name, l.key, l.of.Name, l.takes, said)
		}
	}
	require.Greater(t, len(tried), 200)
}

// What is described as needed is missed where it is left out.
func TestKeysNeeded(t *testing.T) {
	missed := map[string]bool{}
	for name, text := range corpus(t) {
		root, leaves := leavesOf(t, name, text)
		for _, l := range leaves {
			for i, p := range l.node.Pairs {
				if l.key != "" || l.of == Model() {
					break
				}
				id := fmt.Sprintf("%p %s", l.of, p.Key.Text)
				if !l.of.Needed(*l.of.key(p.Key.Text)) || missed[id] {
					continue
				}
				old := l.node.Pairs
				l.node.Pairs = slices.Delete(slices.Clone(old), i, i+1)
				missed[id] = faultsWith(root) != ""
				l.node.Pairs = old
			}
		}
	}
	for _, m := range mappings() {
		for _, k := range m.Keys {
			if m.Needed(k) && m != Model() {
				require.Truef(t, missed[fmt.Sprintf("%p %s", m, k.Name)], "nothing is said without %s of %s, which is described "+
					"as needed", k.Name, m.Name)
			}
		}
	}
}

// keptUnsaid are keys for which a machine keeps that nothing was said, and whoever asks takes what is described; the
// tests of those who ask hold what that is.
var keptUnsaid = []string{"entering of tool", "efficiency of spindle", "point of cut"}

// What is described to hold where a key is not given does: written there, it makes the same machine. What is told in
// words ("the thinner one") is not tried.
func TestKeysDefaults(t *testing.T) {
	tried := map[string]bool{}
	for name, text := range corpus(t) {
		root, leaves := leavesOf(t, name, text)
		for _, l := range leaves {
			for _, k := range l.of.Keys {
				what := k.Name + " of " + l.of.Name
				if l.key != "" || tried[what] || !written(l.node, k) || slices.Contains(keptUnsaid, what) {
					continue
				}
				old := l.node.Pairs
				l.node.Pairs = slices.DeleteFunc(slices.Clone(old), func(p source.Pair) bool { return p.Key.Text == k.Name })
				unsaid, err := documentOf(root).Machine("")
				l.node.Pairs = append(l.node.Pairs, source.Pair{
					Key:   &source.Node{Kind: source.Scalar, Text: k.Name},
					Value: &source.Node{Kind: source.Scalar, Text: k.Default},
				})
				said, wrong := documentOf(root).Machine("")
				l.node.Pairs = old
				if err != nil || wrong != nil {
					continue // it is not for this one, as the kind of a lead screw's nut is not for a ball nut
				}
				require.Equalf(t, unsaid, said, "%s: %s: %s", name, what, k.Default)
				tried[what] = true
			}
		}
	}
	for _, m := range mappings() {
		for _, k := range m.Keys {
			what := k.Name + " of " + m.Name
			if isWritten(k) && !tried[what] && !slices.Contains(keptUnsaid, what) {
				t.Errorf("no model tries %s: %s", what, k.Default)
			}
		}
	}
}

// written tells whether a default is a value as a file has it and its key goes with what stands in a mapping.
func written(n *source.Node, k Key) bool {
	return isWritten(k) && (len(k.With) == 0 || slices.ContainsFunc(k.With, func(with string) bool {
		return n.Find(with) != nil || slices.ContainsFunc(n.Pairs, func(p source.Pair) bool { return p.Value.Text == with })
	}))
}

// isWritten tells whether a default is a value as a file has it.
func isWritten(k Key) bool {
	ways := []Type{k.Takes}
	if k.Takes.Kind == EitherKind && k.Takes.Items[0].Kind == WordKind {
		ways = k.Takes.Items
	}
	for _, way := range ways {
		switch way.Kind {
		case WordKind:
			return slices.Contains(way.Words, k.Default)
		case TruthKind:
			return k.Default == "true"
		case NumberKind:
			_, err := strconv.ParseFloat(k.Default, 64)
			return err == nil
		}
	}
	return false
}
