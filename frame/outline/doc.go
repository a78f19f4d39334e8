// Package outline is the geometry of flat pieces of any outline, with windows: what area they have, what lies on them,
// how far from an edge, and what of them lies in a rectangle.
//
//	Shape       loops of corners: the outer one anticlockwise, windows clockwise
//	Strips      a shape cut into trapezoids along lines, for a mesh or for areas
//	In          what of a shape lies in a rectangle, as convex pieces
//	Clip        what two convex polygons share
//
// Shapes are taken to be in order, as beam.CleanOutline leaves them: loops neither cross nor touch. Lengths are mm.
package outline
