package frame_test

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/beam"
	"tiploop/frame"
)

// sheet is a rectangular plate in the plane of x and y as one strip: x from 0 to length along it, y across it from
// −width/2 to width/2.
type sheet struct {
	frame.Frame
	strip                *frame.Strip
	length, width, thick float64
	places               []float64
}

// sectionSpots are as many spots across a strip as a section has shapes of one kind, Chebyshev's, which keep them apart
// best: what holds there holds all across.
func sectionSpots(width float64) (y []float64) {
	const shapes = 9
	for i := range shapes {
		y = append(y, width/2*math.Cos(math.Pi*float64(i)/(shapes-1)))
	}
	return y
}

func newSheet(length, width, thick float64, m beam.Material, stretches int) *sheet {
	s := &sheet{length: length, width: width, thick: thick}
	for i := range stretches + 1 {
		s.places = append(s.places, length*float64(i)/float64(stretches))
	}
	s.strip = s.AddStrip(still, axisX, axisY, s.places, width, thick, m, "sheet")
	return s
}

// edge is one of the four.
type edge int

const (
	start edge = iota // x = 0
	end               // x = length
	left              // y = width/2
	right             // y = −width/2
)

// support is what an edge is held against: sinking alone, tilting along itself too, or all.
type support int

const (
	soft support = iota
	hard
	clamp
)

// support holds an edge, at the nodes or at as many spots as a section has shapes.
func (s *sheet) support(e edge, how support) {
	var spots []r3.Vec
	along, square := axisX, axisY // the edge's direction and the one square to it
	switch e {
	case start, end:
		along, square = axisY, axisX
		x := map[edge]float64{start: 0, end: s.length}[e]
		for _, y := range sectionSpots(s.width) {
			spots = append(spots, r3.Vec{X: x, Y: y})
		}
	case left, right:
		y := map[edge]float64{left: s.width / 2, right: -s.width / 2}[e]
		for _, x := range s.places {
			spots = append(spots, r3.Vec{X: x, Y: y})
		}
	}
	for _, at := range spots {
		s.Constrain(frame.Constraint{Form: s.strip.Move(at, axisZ), Name: "edge"})
		if how == hard || how == clamp {
			s.Constrain(frame.Constraint{Form: s.strip.Turn(at, square), Name: "edge"})
		}
		if how == clamp {
			s.Constrain(frame.Constraint{Form: s.strip.Turn(at, along), Name: "edge"})
		}
	}
}

// inPlane holds the sheet against moving in its plane.
func (s *sheet) inPlane() { hold(&s.Frame, s.strip.Nodes()[0], "015") }

// pressed is a pressure upward over the whole sheet: five Gauss points across take degree nine, two along take three.
func (s *sheet) pressed(pressure float64) (load frame.Load) {
	var y, wy [5]float64
	quad.Legendre{}.FixedLocations(y[:], wy[:], -s.width/2, s.width/2)
	for i, from := range s.places[:len(s.places)-1] {
		var x, wx [2]float64
		quad.Legendre{}.FixedLocations(x[:], wx[:], from, s.places[i+1])
		for p := range x {
			for q := range y {
				load.Pushes = append(load.Pushes, frame.Push{Form: s.rises(x[p], y[q]), Force: pressure * wx[p] * wy[q]})
			}
		}
	}
	return load
}

// rises is the deflection at a spot.
func (s *sheet) rises(x, y float64) frame.Form { return s.strip.Move(r3.Vec{X: x, Y: y}, axisZ) }

func (s *sheet) pushed(x, y, force float64) frame.Load {
	return frame.Load{Pushes: []frame.Push{{Form: s.rises(x, y), Force: force}}}
}
