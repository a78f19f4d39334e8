package modelfile

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/rogpeppe/go-internal/txtar"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/require"

	"tiploop/testdata/nasty"
)

// compiled is the schema as a validator of others reads it, which holds it against the metaschema of 2020-12 first.
func compiled(t *testing.T) *jsonschema.Schema {
	t.Helper()
	text, err := jsonschema.UnmarshalJSON(strings.NewReader(string(Schema())))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("model.json", text))
	s, err := c.Compile("model.json")
	require.NoError(t, err)
	return s
}

// valid is what the schema says of a model file, read as an editor does: YAML by another's rules, with what is not
// finite as null, which is how JSON has it.
func valid(s *jsonschema.Schema, text string) (err error, read bool) {
	var tree any
	if strings.Contains(text, ": &a") { // a bomb of anchors, which takes this reader hours
		return nil, false
	}
	if yaml.Unmarshal([]byte(text), &tree) != nil {
		return nil, false
	}
	data, err := json.Marshal(finiteOnly(tree))
	if err != nil {
		return err, true
	}
	back, err := jsonschema.UnmarshalJSON(strings.NewReader(string(data)))
	if err != nil {
		return err, true
	}
	return s.Validate(back), true
}

func finiteOnly(tree any) any {
	switch x := tree.(type) {
	case float64:
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return nil
		}
	case []any:
		for i := range x {
			x[i] = finiteOnly(x[i])
		}
	case map[string]any:
		for key := range x {
			x[key] = finiteOnly(x[key])
		}
	}
	return tree
}

// accepted tells whether the decoder takes a file as drawn.
func accepted(text string) bool { return faultsOf(text) == "" }

// scripted are the models of the scripts, sound and broken, by script and file.
func scripted(t *testing.T) map[string]string {
	t.Helper()
	all := map[string]string{}
	scripts, err := filepath.Glob(filepath.Join("..", "..", "cmd", "tiploop", "testdata", "script", "*.txtar"))
	require.NoError(t, err)
	require.NotEmpty(t, scripts)
	for _, script := range scripts {
		archive, err := txtar.ParseFile(script)
		require.NoError(t, err)
		for _, f := range archive.Files {
			if filepath.Ext(f.Name) == ".yaml" {
				all[filepath.Base(script)+" "+f.Name] = string(f.Data)
			}
		}
	}
	return all
}

// checked are the models by which closed forms are held.
func checked(t *testing.T) map[string]string {
	t.Helper()
	all := map[string]string{}
	names, err := filepath.Glob(filepath.Join("..", "..", "cmd", "tiploop", "testdata", "checks", "*.yaml"))
	require.NoError(t, err)
	require.NotEmpty(t, names)
	for _, name := range names {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		all[filepath.Base(name)] = string(text)
	}
	return all
}

// slipped are sound files broken on purpose, one of each slip.
func slipped(t *testing.T) []nasty.File {
	t.Helper()
	var bases []nasty.Base
	all := corpus(t)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		bases = append(bases, nasty.Base{Name: name, Text: all[name]})
	}
	return nasty.Files(bases, 12, 1)
}

// The schema accepts every file that the decoder takes, broken on purpose or not.
func TestSchemaAccepts(t *testing.T) {
	s := compiled(t)
	tried := 0
	hold := func(name, text string) {
		text = strings.TrimPrefix(text, "\ufeff") // which this reader of YAML takes for a letter
		if err, read := valid(s, text); read && err != nil {
			require.False(t, accepted(text), "%s: %s", name, err)
		}
		tried++
	}
	for name, text := range corpus(t) {
		err, read := valid(s, text)
		require.True(t, read, name)
		require.NoError(t, err, name)
	}
	for name, text := range checked(t) {
		err, read := valid(s, text)
		require.True(t, read, name)
		require.NoError(t, err, name)
	}
	for name, text := range scripted(t) {
		hold(name, text)
	}
	for _, f := range slipped(t) {
		hold(f.Slip+", "+f.Base, f.Text)
	}
	require.Greater(t, tried, 250)
}

// What the schema must refuse: of the files that scripts and slips break, those with an unknown key or word, a key that
// is missing, another kind of value, or a unit of another dimension. Slips in what values are called or come to are
// for the decoder.
var (
	refusedScripts = []string{
		"tip_unknown_key.txtar post.yaml", "tip_unknown_part_key.txtar post.yaml", "tip_unknown_surface.txtar post.yaml",
		"tip_unknown_face.txtar post.yaml", "tip_unknown_screw.txtar post.yaml", "tip_screw_head_unknown.txtar post.yaml",
		"tip_screw_class_unknown.txtar post.yaml", "tip_not_finite_nan.txtar post.yaml",
		"tip_not_finite_inf.txtar post.yaml", "tip_cut_faults.txtar stand.yaml", "tip_empty.txtar post.yaml",
	}
	refusedSlips = []string{
		"key mangled", "key machine dropped", "key parts dropped", "key part dropped", "key between dropped", "key from dropped",
		"key to dropped", "key size dropped", "key at dropped", "a number for a mapping", "a list for a word", "a mapping for a number",
		"a word for a section of the file", "two coordinates", "four coordinates", "a force in two directions",
		"kilograms for newtons", "a length for a force", "a force for a length", "a length for a stiffness", "a force for a torque",
		"a condition that is none", "nan", "inf", "code", "a loop", "half a flute", "no flutes", "a grid of half screws",
		"a grid without screws", "a screw of no size", "feet on a side that is none", "an axis without guides",
		"an axis without a drive", "a guide without a rail", "a drive of the wrong screw", "a cut of unknown stuff",
		"an empty name", "a name as long as a book", "nothing", "a list",
	}
)

// The schema refuses what can be told of one place alone.
func TestSchemaRefuses(t *testing.T) {
	s := compiled(t)
	texts := scripted(t)
	for _, name := range refusedScripts {
		require.Contains(t, texts, name)
		err, read := valid(s, texts[name])
		require.True(t, read && err != nil, name)
	}
	found := map[string]bool{}
	for _, f := range slipped(t) {
		if slices.Contains(refusedSlips, f.Slip) {
			err, read := valid(s, f.Text)
			require.True(t, read && err != nil, "%s, %s", f.Slip, f.Base)
			found[f.Slip] = true
		}
	}
	require.Len(t, found, len(refusedSlips))
}

// A word may be a value's name where a value may be a word, and only there.
func TestSchemaWordsByValues(t *testing.T) {
	s := compiled(t)
	const text = "machine: m\nvalues: {%s}\nparts:\n  a: {plate: {from: [0, 0, 0], to: [1, 1, 1]}, material: steel}\n" +
		"joints:\n  - {between: [a, a], screws: {size: M5, grid: [1, 1]}, surface: finish}\n"
	err, _ := valid(s, fmt.Sprintf(text, "finish: milled"))
	require.NoError(t, err)
	err, _ = valid(s, fmt.Sprintf(text, "finish: 3 mm"))
	require.ErrorContains(t, err, "surface")
}
