package scene

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
)

// glb is a file taken apart again, by the layout of the standard (glTF 2.0 Specification, 4.4, "Binary glTF Layout").
func glb(t *testing.T, file []byte) (top map[string]any, bin []byte) {
	t.Helper()
	word := func(at int) int { return int(binary.LittleEndian.Uint32(file[at:])) }
	require.Equal(t, "glTF", string(file[:4]))
	require.Equal(t, 2, word(4))
	require.Equal(t, len(file), word(8))
	length := word(12)
	require.Equal(t, "JSON", string(file[16:20]))
	require.Zero(t, length%4)
	require.NoError(t, json.Unmarshal(file[20:20+length], &top))
	rest := 20 + length
	require.Equal(t, "BIN\x00", string(file[rest+4:rest+8]))
	require.Zero(t, word(rest)%4)
	require.Equal(t, len(file), rest+8+word(rest))
	return top, file[rest+8:]
}

func list(t *testing.T, v any) []any {
	t.Helper()
	out, ok := v.([]any)
	require.True(t, ok, "%v is no list", v)
	require.NotEmpty(t, out, "the schema wants one item at least in every list")
	return out
}

// within holds that a number is a whole one and the index of an item.
func index(t *testing.T, v any, of int) int {
	t.Helper()
	f, ok := v.(float64)
	require.True(t, ok && f == math.Trunc(f) && f >= 0 && int(f) < of, "%v is no index below %d", v, of)
	return int(f)
}

// What the published schema (glTF.schema.json and those it names) and the text of the standard say of the parts that a
// file here has: which keys there are, what they must hold, and what must agree.
func conforms(t *testing.T, file []byte) map[string]any {
	t.Helper()
	top, bin := glb(t, file)
	keys := func(what string, v any, may ...string) map[string]any {
		t.Helper()
		m, ok := v.(map[string]any)
		require.True(t, ok, what)
		for k := range m {
			require.Contains(t, may, k, what)
		}
		return m
	}
	keys("glTF", top, "asset", "scene", "scenes", "nodes", "meshes", "materials", "accessors", "bufferViews", "buffers")
	asset := keys("asset", top["asset"], "version", "generator", "extras")
	require.Equal(t, "2.0", asset["version"])
	scenes, nodes, meshes := list(t, top["scenes"]), list(t, top["nodes"]), list(t, top["meshes"])
	materials, accessors, views := list(t, top["materials"]), list(t, top["accessors"]), list(t, top["bufferViews"])
	buffers := list(t, top["buffers"])
	require.Len(t, buffers, 1)
	size := keys("buffer", buffers[0], "byteLength")["byteLength"].(float64) // no uri: the binary chunk
	require.True(t, int(size) <= len(bin) && len(bin)-int(size) < 4)
	index(t, top["scene"], len(scenes))
	parents := map[int]int{}
	for _, s := range scenes {
		for _, n := range list(t, keys("scene", s, "name", "nodes")["nodes"]) {
			parents[index(t, n, len(nodes))]++
		}
	}
	for _, n := range nodes {
		node := keys("node", n, "name", "mesh", "children")
		if m, ok := node["mesh"]; ok {
			index(t, m, len(meshes))
		}
		if c, ok := node["children"]; ok {
			for _, child := range list(t, c) {
				parents[index(t, child, len(nodes))]++
			}
		}
	}
	for n := range nodes {
		require.Equal(t, 1, parents[n], "every node hangs in one place: nodes are a tree")
	}
	used := map[int]int{}
	for i, v := range views {
		view := keys("bufferView", v, "buffer", "byteOffset", "byteLength", "target")
		index(t, view["buffer"], 1)
		from, length := view["byteOffset"].(float64), view["byteLength"].(float64)
		require.True(t, from >= 0 && length >= 1 && from+length <= size, "view %d", i)
		require.Zero(t, int(from)%4, "view %d: its start is a multiple of the component's size", i)
		require.Contains(t, []float64{34962, 34963}, view["target"])
	}
	read := func(n int) (count int, kind string, values []float64) {
		a := keys("accessor", accessors[n], "bufferView", "componentType", "count", "type", "min", "max")
		v := views[index(t, a["bufferView"], len(views))].(map[string]any)
		used[n]++
		count, kind = int(a["count"].(float64)), a["type"].(string)
		require.GreaterOrEqual(t, count, 1)
		each := map[string]int{"SCALAR": 1, "VEC3": 3}[kind]
		require.NotZero(t, each)
		data := bin[int(v["byteOffset"].(float64)):][:int(v["byteLength"].(float64))]
		switch a["componentType"].(float64) {
		case 5126:
			require.Equal(t, 4*each*count, len(data))
			require.Equal(t, 34962.0, v["target"])
			least, most := a["min"].([]any), a["max"].([]any) // required of POSITION
			require.Len(t, least, each)
			for i := range each * count {
				x := math.Float32frombits(binary.LittleEndian.Uint32(data[4*i:]))
				require.False(t, math.IsNaN(float64(x)) || math.IsInf(float64(x), 0))
				values = append(values, float64(x))
			}
			for k := range each {
				lo, hi := math.Inf(1), math.Inf(-1)
				for i := k; i < len(values); i += each {
					lo, hi = min(lo, values[i]), max(hi, values[i])
				}
				require.Equal(t, float32(lo), float32(least[k].(float64)))
				require.Equal(t, float32(hi), float32(most[k].(float64)))
			}
		case 5123:
			require.Equal(t, 2*each*count, len(data))
			require.Equal(t, 34963.0, v["target"])
			for i := range each * count {
				values = append(values, float64(binary.LittleEndian.Uint16(data[2*i:])))
			}
		default:
			t.Fatalf("componentType %v", a["componentType"])
		}
		return count, kind, values
	}
	for _, m := range materials {
		pbr := keys("pbr", keys("material", m, "name", "pbrMetallicRoughness")["pbrMetallicRoughness"], "baseColorFactor",
			"metallicFactor", "roughnessFactor")
		for _, f := range append(list(t, pbr["baseColorFactor"]), pbr["metallicFactor"], pbr["roughnessFactor"]) {
			require.True(t, f.(float64) >= 0 && f.(float64) <= 1)
		}
		require.Len(t, pbr["baseColorFactor"], 4)
	}
	for _, m := range meshes {
		mesh := keys("mesh", m, "name", "primitives", "weights", "extras")
		for _, p := range list(t, mesh["primitives"]) {
			primitive := keys("primitive", p, "attributes", "indices", "material", "targets")
			index(t, primitive["material"], len(materials))
			attributes := keys("attributes", primitive["attributes"], "POSITION")
			count, kind, _ := read(index(t, attributes["POSITION"], len(accessors)))
			require.Equal(t, "VEC3", kind)
			n, kind, indices := read(index(t, primitive["indices"], len(accessors)))
			require.Equal(t, "SCALAR", kind)
			require.Zero(t, n%3, "triangles")
			for _, i := range indices {
				require.Less(t, int(i), count)
				require.NotEqual(t, 65535.0, i, "kept by the standard to restart a primitive")
			}
			if targets, ok := primitive["targets"]; ok {
				require.Len(t, mesh["weights"], len(list(t, targets)))
				require.Len(t, mesh["extras"].(map[string]any)["targetNames"], len(list(t, targets)))
				for _, target := range list(t, targets) {
					many, kind, _ := read(index(t, keys("target", target, "POSITION")["POSITION"], len(accessors)))
					require.Equal(t, count, many)
					require.Equal(t, "VEC3", kind)
				}
			}
		}
	}
	require.Len(t, used, len(accessors), "no accessor lies about unused")
	return top
}

// The file conforms, has a node for every body by name, and the corner that moves most lies where the shape has it:
// metres, y up, as many times as far as the target says. TIPLOOP_SHOTS keeps it, for other programs to open.
func TestGLB(t *testing.T) {
	shape := optionsOf(t, gantry)[0].Shapes[0]
	file, err := GLB("Fixed-gantry mill", shape)
	require.NoError(t, err)
	again, err := GLB("Fixed-gantry mill", shape)
	require.NoError(t, err)
	require.True(t, bytes.Equal(file, again), "the same bytes")
	if folder := os.Getenv("TIPLOOP_SHOTS"); folder != "" {
		require.NoError(t, os.WriteFile(filepath.Join(folder, "machine.glb"), file, 0o600))
	}
	top := conforms(t, file)
	_, bin := glb(t, file)
	nodes, meshes := top["nodes"].([]any), top["meshes"].([]any)
	accessor := func(n any, i int) (v [3]float64) {
		view := top["bufferViews"].([]any)[int(top["accessors"].([]any)[int(n.(float64))].(map[string]any)["bufferView"].(float64))]
		from := int(view.(map[string]any)["byteOffset"].(float64))
		for k := range v {
			v[k] = float64(math.Float32frombits(binary.LittleEndian.Uint32(bin[from+12*i+4*k:])))
		}
		return v
	}
	for i, b := range shape.Bodies {
		node := nodes[i+1].(map[string]any)
		require.Equal(t, shortened(b.Name), node["name"])
		p := meshes[int(node["mesh"].(float64))].(map[string]any)["primitives"].([]any)[0].(map[string]any)
		for corner := 0; corner < len(b.AtMM); corner += 7 {
			at, want := accessor(p["attributes"].(map[string]any)["POSITION"], corner), b.AtMM[corner]
			require.InDelta(t, want[0]/1000, at[0], 1e-6)
			require.InDelta(t, want[2]/1000, at[1], 1e-6)
			require.InDelta(t, -want[1]/1000, at[2], 1e-6)
			for l := range shape.Loads {
				moved := accessor(p["targets"].([]any)[l].(map[string]any)["POSITION"], corner)
				times, want := shape.Magnification(l), b.MovedMM[l][corner]
				require.InDelta(t, times*want[0]/1000, moved[0], 1e-6)
				require.InDelta(t, times*want[2]/1000, moved[1], 1e-6)
				require.InDelta(t, -times*want[1]/1000, moved[2], 1e-6)
			}
		}
	}
	names := meshes[0].(map[string]any)["extras"].(map[string]any)["targetNames"].([]any)
	for l, name := range shape.Loads {
		require.True(t, strings.HasPrefix(names[l].(string), name+" ×"), names[l])
	}
}

// Hostile names stay text, a shape without loads has no targets, and what cannot be written is an error.
func TestGLBOfOddShapes(t *testing.T) {
	body := answer.ShapeBody{Name: strings.Repeat("long\u202E", 5000), Kind: "</script>",
		AtMM: [][3]float64{{}, {1}, {0, 1}, {0, 0, 1}}, Triangles: [][3]int{{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {0, 3, 2}}}
	file, err := GLB("\xff\x00 <b>😀", &answer.Shape{Bodies: []answer.ShapeBody{body}})
	require.NoError(t, err)
	conforms(t, file)
	_, err = GLB("m", &answer.Shape{})
	require.Error(t, err)
	body.AtMM[0][0] = math.NaN()
	_, err = GLB("m", &answer.Shape{Bodies: []answer.ShapeBody{body}})
	require.ErrorContains(t, err, "glTF")
	require.NotContains(t, fmt.Sprint(err), "%!")
}
