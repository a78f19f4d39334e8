// Package drawing draws a machine: views from the front, from the right and from above to one scale, in third-angle
// projection, with its parts numbered and listed.
//
// Picture is all that others call. Inside, the machine becomes bodies (body.go), each a hull of corners in the world's
// axes; a view flattens them (view.go), and a paperView puts the view on the paper (paperview.go). There it draws the
// parts from far to near with the edges that are hidden, then the signs of joints, screws, grounds and tool (signs.go),
// those of axes (axes.go), and at last the numbers of parts where there is room (balloon.go).
//
// Conventions: x is right, y away from the builder, z up; lengths in the machine are in mm, on paper in points. Signs
// keep their size whatever the scale.
//
//	picture, err := drawing.Picture(m, inventory)
//	if err != nil {
//		return err
//	}
//	return picture.Save("machine.pdf")
//
// A drawing shows how a machine is put together, not how it is to be made: it has over-all dimensions only, no
// sections, no round edges and no threads.
package drawing
