package scene

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"image/color"
	"math"

	"tiploop/frame/answer"
	"tiploop/report/drawing"
	"tiploop/report/number"
	"tiploop/report/paper"
)

// The glTF 2.0 file (Khronos Group, glTF 2.0 Specification, 2021; ISO/IEC 12113:2022): lengths in metres, y up, so that
// what is x, y, z here is x, z, −y there. Each body is a mesh of its own name with a morph target for each load, which
// at the weight 1 bends the body as many times as far as the target's name says. The first load's weight is 1. Without
// normals a reader shades flat, as the standard has it.

type (
	gltf struct {
		Asset       gltfAsset      `json:"asset"`
		Scene       int            `json:"scene"`
		Scenes      []gltfScene    `json:"scenes"`
		Nodes       []gltfNode     `json:"nodes"`
		Meshes      []gltfMesh     `json:"meshes"`
		Materials   []gltfMaterial `json:"materials"`
		Accessors   []gltfAccessor `json:"accessors"`
		BufferViews []gltfView     `json:"bufferViews"`
		Buffers     []gltfBuffer   `json:"buffers"`
	}
	gltfAsset struct {
		Version   string         `json:"version"`
		Generator string         `json:"generator"`
		Extras    map[string]any `json:"extras"`
	}
	gltfScene struct {
		Name  string `json:"name"`
		Nodes []int  `json:"nodes"`
	}
	gltfNode struct {
		Name     string `json:"name"`
		Mesh     *int   `json:"mesh,omitempty"`
		Children []int  `json:"children,omitempty"`
	}
	gltfMesh struct {
		Name       string          `json:"name"`
		Primitives []gltfPrimitive `json:"primitives"`
		Weights    []float64       `json:"weights,omitempty"`
		Extras     map[string]any  `json:"extras,omitempty"`
	}
	gltfPrimitive struct {
		Attributes map[string]int   `json:"attributes"`
		Indices    int              `json:"indices"`
		Material   int              `json:"material"`
		Targets    []map[string]int `json:"targets,omitempty"`
	}
	gltfMaterial struct {
		Name string  `json:"name"`
		PBR  gltfPBR `json:"pbrMetallicRoughness"`
	}
	gltfPBR struct {
		Colour    [4]float64 `json:"baseColorFactor"`
		Metallic  float64    `json:"metallicFactor"`
		Roughness float64    `json:"roughnessFactor"`
	}
	gltfAccessor struct {
		View      int       `json:"bufferView"`
		Component int       `json:"componentType"`
		Count     int       `json:"count"`
		Type      string    `json:"type"`
		Min       []float32 `json:"min,omitempty"`
		Max       []float32 `json:"max,omitempty"`
	}
	gltfView struct {
		Buffer int `json:"buffer"`
		Offset int `json:"byteOffset"`
		Length int `json:"byteLength"`
		Target int `json:"target"`
	}
	gltfBuffer struct {
		Length int `json:"byteLength"`
	}
)

// Numbers of the standard.
const (
	gltfFloat       = 5126
	gltfUnsigned    = 5123 // of 16 bits
	gltfArrayBuffer = 34962
	gltfIndexBuffer = 34963
	glbMagic        = 0x46546C67 // "glTF"
	glbJSON         = 0x4E4F534A // "JSON"
	glbBinary       = 0x004E4942 // "BIN"
	metresPerMM     = 1e-3
	mostGLBCorners  = math.MaxUint16 // of a body; the last number of 16 bits is kept for other uses
	roughAluminium  = 0.7
)

// GLB returns a shape as a binary glTF 2.0 file: the same bytes on each run. A shape without bodies is an error, as is a
// number that is none.
func GLB(machine string, shape *answer.Shape) ([]byte, error) {
	if len(shape.Bodies) == 0 {
		return nil, errors.New("glTF: nothing to show")
	}
	if err := number.CheckFinite(shape); err != nil {
		return nil, fmt.Errorf("glTF: %w", err)
	}
	f := gltfFile{materials: map[answer.ShapeKind]int{}}
	f.Asset = gltfAsset{Version: "2.0", Generator: "tiploop", Extras: map[string]any{"option": shortened(shape.Option),
		"axes_at_mm": shape.AtMM, "caution": paper.Footnote}}
	var targets []string
	var times []float64
	for l, name := range shape.Loads {
		times = append(times, shape.Magnification(l))
		targets = append(targets, fmt.Sprintf("%s ×%s", shortened(name), number.Full(times[l])))
	}
	f.Nodes = []gltfNode{{Name: shortened(machine)}}
	for i := range shape.Bodies {
		if err := f.body(&shape.Bodies[i], targets, times); err != nil {
			return nil, err
		}
	}
	f.Scenes = []gltfScene{{Name: shortened(machine), Nodes: []int{0}}}
	f.Buffers = []gltfBuffer{{f.bin.Len()}}
	return f.packed()
}

// gltfFile is a file that is being written.
type gltfFile struct {
	gltf
	bin       bytes.Buffer
	materials map[answer.ShapeKind]int
}

func (f *gltfFile) body(b *answer.ShapeBody, targets []string, times []float64) error {
	if len(b.AtMM) > mostGLBCorners || len(b.Triangles) == 0 {
		return fmt.Errorf("glTF: %s has no surface that can be written", b.Name)
	}
	p := gltfPrimitive{Attributes: map[string]int{"POSITION": f.vectors(b.AtMM, metresPerMM)}, Material: f.material(b.Kind)}
	var indices []uint16
	for _, t := range b.Triangles {
		indices = append(indices, uint16(t[0]), uint16(t[1]), uint16(t[2]))
	}
	p.Indices = f.accessor(gltfAccessor{Component: gltfUnsigned, Count: len(indices), Type: "SCALAR"}, gltfIndexBuffer, indices)
	mesh := gltfMesh{Name: shortened(b.Name)}
	for l := range targets {
		p.Targets = append(p.Targets, map[string]int{"POSITION": f.vectors(b.MovedMM[l], metresPerMM*times[l])})
		mesh.Weights = append(mesh.Weights, 0)
	}
	if len(targets) > 0 {
		mesh.Weights[0] = 1                                  // so that a reader sees something bent
		mesh.Extras = map[string]any{"targetNames": targets} // as programs look for them, by common practice
	}
	mesh.Primitives = []gltfPrimitive{p}
	at := len(f.Meshes)
	f.Meshes = append(f.Meshes, mesh)
	f.Nodes[0].Children = append(f.Nodes[0].Children, len(f.Nodes))
	f.Nodes = append(f.Nodes, gltfNode{Name: mesh.Name, Mesh: &at})
	return nil
}

// vectors writes vectors times a factor, y up, with their least and largest coordinates.
func (f *gltfFile) vectors(list [][3]float64, factor float64) int {
	a := gltfAccessor{Component: gltfFloat, Count: len(list), Type: "VEC3"}
	var values []float32
	for i, v := range list {
		for k, c := range [3]float64{v[0], v[2], -v[1]} {
			x := float32(c*factor) + 0
			if values = append(values, x); i == 0 {
				a.Min, a.Max = append(a.Min, x), append(a.Max, x)
			}
			a.Min[k], a.Max[k] = min(a.Min[k], x), max(a.Max[k], x)
		}
	}
	return f.accessor(a, gltfArrayBuffer, values)
}

// accessor writes values, on a whole number of four bytes.
func (f *gltfFile) accessor(a gltfAccessor, target int, values any) int {
	from := f.bin.Len()
	if err := binary.Write(&f.bin, binary.LittleEndian, values); err != nil {
		panic("scene: " + err.Error()) // a buffer takes everything
	}
	a.View = len(f.BufferViews)
	f.BufferViews = append(f.BufferViews, gltfView{Offset: from, Length: f.bin.Len() - from, Target: target})
	pad(&f.bin, 0)
	f.Accessors = append(f.Accessors, a)
	return len(f.Accessors) - 1
}

// pad fills up to a whole number of four bytes.
func pad(b *bytes.Buffer, with byte) {
	for b.Len()%4 != 0 {
		b.WriteByte(with)
	}
}

// material is the number of the ink of a kind of body.
func (f *gltfFile) material(kind answer.ShapeKind) int {
	if at, ok := f.materials[kind]; ok {
		return at
	}
	c := drawing.Fill(kind)
	f.materials[kind] = len(f.Materials)
	f.Materials = append(f.Materials, gltfMaterial{Name: string(kind), PBR: gltfPBR{Colour: linear(c),
		Roughness: roughAluminium}})
	return f.materials[kind]
}

// linear is a colour as the standard wants it, without the curve of sRGB (IEC 61966-2-1).
func linear(c color.NRGBA) (out [4]float64) {
	for k, v := range []uint8{c.R, c.G, c.B} {
		s := float64(v) / math.MaxUint8
		if s <= 0.04045 {
			out[k] = rounded(s/12.92, 4)
		} else {
			out[k] = rounded(math.Pow((s+0.055)/1.055, 2.4), 4)
		}
	}
	out[3] = 1
	return out
}

// packed is the file: a head, the JSON and the numbers, each on a whole number of four bytes.
func (f *gltfFile) packed() ([]byte, error) {
	text, err := json.Marshal(f.gltf)
	if err != nil {
		return nil, fmt.Errorf("glTF: %w", err)
	}
	chunk := bytes.NewBuffer(text)
	pad(chunk, ' ')
	const head, chunkHead = 12, 8
	var out bytes.Buffer
	words := func(list ...uint32) {
		for _, w := range list {
			out.Write(binary.LittleEndian.AppendUint32(nil, w))
		}
	}
	words(glbMagic, 2, uint32(head+2*chunkHead+chunk.Len()+f.bin.Len()), uint32(chunk.Len()), glbJSON)
	out.Write(chunk.Bytes())
	words(uint32(f.bin.Len()), glbBinary)
	out.Write(f.bin.Bytes())
	return out.Bytes(), nil
}
