// Package surface makes the surfaces of simple bodies: corners, triangles between them, and the edges that a drawing
// shows. They are coarse, and fine enough along a body for its bending to be seen.
//
//	Box      a block along the axes, cut into cells
//	Gusset   a triangular plate
//	Loft     sections one behind the other: a bar with its holes, a screw, a foot
//
// Triangles run anticlockwise seen from outside. Neighbours share their corners, so that a surface that moves stays
// closed. Lengths are mm. Nothing here knows what a body is made of or what it does.
package surface
