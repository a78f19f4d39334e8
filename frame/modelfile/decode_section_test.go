package modelfile

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/beam"
)

func bar(section string) string {
	return part("{bar: {from: [0, 0, 0], to: [0, 0, 100]}, section: " + section + ", material: steel}")
}

func TestSectionFaults(t *testing.T) {
	testFaults(t, []faultCase{
		{"unknown shape", bar("{rectangle: [3, 4]}"), `
m.yaml:3:58: key "rectangle" is not known in section
	did you mean rect? rect takes: [width, height] in mm`},
		{"two shapes", bar("{rect: [3, 4], round: 3}"), `
m.yaml:3:72: section has both rect and round
	keep one of them`},
		{"no shape", bar("{}"), `
m.yaml:3:57: section needs one of: rect, round, pipe, tube, i, channel, angle, tee, polygon, outline, built_up`},
		{"shape without braces", bar("round"), `
m.yaml:3:57: section must be a mapping, not a single value
	its keys: rect, round, pipe, tube, i, channel, angle, tee, polygon, outline, built_up, A, Iy, Iz, J, Ay, Az`},
		{"rect of one number", bar("{rect: 3}"), `
m.yaml:3:64: rect must be a list [width, height]`},
		{"negative width", bar("{rect: [-3, 4]}"), `
m.yaml:3:65: width must be positive, not -3 mm`},
		{"round of nothing", bar("{round: 0}"), `
m.yaml:3:65: diameter must be positive, not 0 mm`},
		{"wall as thick as the pipe", bar("{pipe: [20, 10]}"), `
m.yaml:3:57: pipe: wall is 10, must be less than half the outer diameter, 10`},
		{"tube of two numbers", bar("{tube: [20, 20]}"), `
m.yaml:3:64: tube must be a list [width, height, wall]`},
		{"channel without web", bar("{channel: {depth: 40, width: 20, flange: 3}}"), `
m.yaml:3:67: channel has no web
	web takes: length in mm`},
		{"angle misspelt", bar("{angle: {leg_x: 30, leg_z: 30, thickness: 3}}"), `
m.yaml:3:65: angle has no leg_y
	leg_y takes: length in mm
m.yaml:3:66: key "leg_x" is not known in angle
	one of: leg_y, leg_z, thickness`},
		{"plain without J", bar("{A: 300, Iy: 1e4, Iz: 1e4}"), `
m.yaml:3:57: section has no J
	J takes: second moment in mm4`},
		{"plain by length", bar("{A: 300 mm, Iy: 1e4 mm4, Iz: 1e4 mm3, J: 0}"), `
m.yaml:3:61: a length (300 mm) where an area belongs
m.yaml:3:86: a volume (1e4 mm3) where a second moment belongs
m.yaml:3:98: J must be positive, not 0 mm4`},
		{"plain with negative shear area", bar("{A: 300, Iy: 1e4, Iz: 1e4, J: 1e4, Ay: -3}"), `
m.yaml:3:96: Ay must be positive, not -3 mm2`},
		{"polygon of two corners", bar("{polygon: {outer: [[0, 0], [3, 3]]}}"), `
m.yaml:3:75: outer must have from 3 to 200 corners, not 2`},
		{"polygon without outline", bar("{polygon: {holes: []}}"), `
m.yaml:3:67: polygon has no outer
	outer takes: list of: [y, z] in mm`},
		{"polygon with a spoilt corner", bar("{polygon: {outer: [[0, 0], [3, 3, 3], [0, 1 N]]}}"), `
m.yaml:3:84: a corner must be a list [y, z]
m.yaml:3:99: a force (1 N) where a length belongs`},
		{"polygon of a word", bar("{polygon: {outer: square, holes: round}}"), `
m.yaml:3:75: outer must be a list, not a single value
m.yaml:3:90: holes must be a list, not a single value`},
		{"shapes of words", bar("{polygon: square}"), `
m.yaml:3:67: polygon must be a mapping, not a single value
	its keys: outer, holes`},
		{"pieces of words", bar("{built_up: {pieces: [square], piece: 3}}"), `
m.yaml:3:78: piece must be a mapping, not a single value
	its keys: rect, at, material
m.yaml:3:87: key "piece" is not known in built_up
	did you mean pieces? one of: pieces; pieces takes: list of: mapping of rect, at, material`},
		{"no pieces", bar("{built_up: {}}"), `
m.yaml:3:68: built_up has no pieces
	pieces takes: list of: mapping of rect, at, material`},
		{"too many pieces", bar("{built_up: {pieces: [" + strings.Repeat("{rect: [1, 1], at: [0, 0]}, ", mostPieces+1) + "]}}"), `
m.yaml:3:77: too many pieces: 51, at most 50`},
		{"too many holes", bar("{polygon: {outer: [[0, 0], [3, 0], [0, 3]], holes: [" + strings.Repeat("[[0, 0], [1, 0], [0, 1]], ", mostHoles+1) + "]}}"), `
m.yaml:3:108: too many holes: 21, at most 20`},
		{"polygon that crosses itself", bar("{polygon: {outer: [[0, 0], [10, 10], [10, 0], [0, 10]]}}"), `
m.yaml:3:57: polygon: outline: it encloses no area`},
		{"piece of unknown material", bar("{built_up: {pieces: [{rect: [10, 10], at: [0, 0], material: wood}]}}"), `
m.yaml:3:117: material "wood" is not known
	one of: acrylic, aluminium-5083, aluminium-5083-h112, aluminium-5083-h116, aluminium-6060, aluminium-6061, aluminium-6082, aluminium-7075, aluminium-tooling-plate, birch-plywood, brass, carbide, card, cast-iron-gjl-200, cast-iron-gjl-250, cast-iron-gjl-300, concrete, epoxy-granite, granite, high-speed-steel, mdf, mineral-casting, paper, shim-brass, shim-stainless, shim-steel, softwood, stainless-1.4301, steel, steel-hardened, steel-s355`},
		{"piece without place", bar("{built_up: {pieces: [{rect: [10, 10]}]}}"), `
m.yaml:3:78: piece has no at
	at takes: [y, z] in mm`},
		{"pieces overlap", bar("{built_up: {pieces: [{rect: [10, 10], at: [0, 0]}, {rect: [10, 10], at: [5, 0]}]}}"), `
m.yaml:3:57: built-up section: pieces 1 and 2 overlap`},
	})
}

func TestSections(t *testing.T) {
	steel, _ := beam.LookupMaterial("steel")
	brass, _ := beam.LookupMaterial("brass")
	for _, c := range []struct {
		section string
		want    beam.Shape
	}{
		{"{rect: [10, 1 in]}", beam.Rect{Width: 10, Height: 25.4}},
		{"{round: 65}", beam.Round{Diameter: 65}},
		{"{pipe: [40, 3]}", beam.Pipe{Outer: 40, Wall: 3}},
		{"{tube: [60, 40, 3]}", beam.Tube{Width: 60, Height: 40, Wall: 3}},
		{"{i: {depth: 100, width: 50, flange: 6, web: 4}}", beam.I{Depth: 100, Width: 50, Flange: 6, Web: 4}},
		{"{channel: {depth: 100, width: 50, flange: 6, web: 4}}", beam.Channel{Depth: 100, Width: 50, Flange: 6, Web: 4}},
		{"{angle: {leg_y: 30, leg_z: 40, thickness: 4}}", beam.Angle{LegY: 30, LegZ: 40, Thickness: 4}},
		{"{tee: {width: 30, depth: 40, flange: 5, web: 4}}", beam.Tee{Width: 30, Depth: 40, Flange: 5, Web: 4}},
		{"{polygon: {outer: [[0, 0], [30, 0], [0, 30]], holes: [[[5, 5], [10, 5], [5, 10]]]}}", beam.Polygon{
			Outer: [][2]float64{{0, 0}, {30, 0}, {0, 30}}, Holes: [][][2]float64{{{5, 5}, {10, 5}, {5, 10}}}}},
		{"{built_up: {pieces: [{rect: [20, 10], at: [0, 0]}, {rect: [20, 5], at: [0, 7.5], material: brass}]}}", beam.BuiltUp{
			Base: steel, Pieces: []beam.Piece{{Width: 20, Height: 10, Material: steel}, {Width: 20, Height: 5, Z: 7.5,
				Material: brass}}}},
		{"{A: 3 cm2, Iy: 1e4, Iz: 2e4 mm^4, J: 3e4, Az: 200}", beam.Plain{A: 300, Iy: 1e4, Iz: 2e4, J: 3e4, Az: 200}},
	} {
		t.Run(c.section, func(t *testing.T) {
			require.Equal(t, c.want, readMachine(t, bar(c.section)).Parts[0].Bar.Shape)
		})
	}
}
