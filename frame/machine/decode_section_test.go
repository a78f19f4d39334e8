package machine

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/beam"
)

func bar(section string) string {
	return part("{bar: {from: [0, 0, 0], to: [0, 0, 100]}, section: " + section + ", material: steel}")
}

func TestSectionFaults(t *testing.T) {
	testFaults(t, []faultCase{
		{"unknown shape", bar("{rectangle: [3, 4]}"), ""},
		{"two shapes", bar("{rect: [3, 4], round: 3}"), ""},
		{"no shape", bar("{}"), ""},
		{"shape without braces", bar("round"), ""},
		{"rect of one number", bar("{rect: 3}"), ""},
		{"negative width", bar("{rect: [-3, 4]}"), ""},
		{"round of nothing", bar("{round: 0}"), ""},
		{"wall as thick as the pipe", bar("{pipe: [20, 10]}"), ""},
		{"tube of two numbers", bar("{tube: [20, 20]}"), ""},
		{"channel without web", bar("{channel: {depth: 40, width: 20, flange: 3}}"), ""},
		{"angle misspelt", bar("{angle: {leg_x: 30, leg_z: 30, thickness: 3}}"), ""},
		{"plain without J", bar("{A: 300, Iy: 1e4, Iz: 1e4}"), ""},
		{"plain by length", bar("{A: 300 mm, Iy: 1e4 mm4, Iz: 1e4 mm3, J: 0}"), ""},
		{"plain with negative shear area", bar("{A: 300, Iy: 1e4, Iz: 1e4, J: 1e4, Ay: -3}"), ""},
		{"polygon of two corners", bar("{polygon: {outer: [[0, 0], [3, 3]]}}"), ""},
		{"polygon that crosses itself", bar("{polygon: {outer: [[0, 0], [10, 10], [10, 0], [0, 10]]}}"), ""},
		{"piece of unknown material", bar("{built_up: {pieces: [{rect: [10, 10], at: [0, 0], material: wood}]}}"), ""},
		{"piece without place", bar("{built_up: {pieces: [{rect: [10, 10]}]}}"), ""},
		{"pieces overlap", bar("{built_up: {pieces: [{rect: [10, 10], at: [0, 0]}, {rect: [10, 10], at: [5, 0]}]}}"), ""},
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
			Base: steel, Pieces: []beam.Piece{{Width: 20, Height: 10, Material: steel}, {Width: 20, Height: 5, Z: 7.5, Material: brass}}}},
		{"{A: 3 cm2, Iy: 1e4, Iz: 2e4 mm^4, J: 3e4, Az: 200}", beam.Plain{A: 300, Iy: 1e4, Iz: 2e4, J: 3e4, Az: 200}},
	} {
		t.Run(c.section, func(t *testing.T) {
			require.Equal(t, c.want, readMachine(t, bar(c.section)).Parts[0].Bar.Shape)
		})
	}
}
