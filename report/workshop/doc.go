// Package workshop draws what is taken to the saw and the drill press: a sheet for each part with its outline at a stated
// scale, its holes numbered and a table of them, and each face that is drilled at full size.
//
// Draw makes all of it from a machine and its inventory; it solves nothing. A Part has pictures, one a page, for
// package paper, and the files of its faces, SVG in mm.
//
// A sheet says what must not be drilled yet: holes that run into each other, threads without metal.
//
// Conventions: a face is seen from outside the part, as it stands in the machine: on the sheet the machine's up is up for
// upright faces, and its away is up for the top and the bottom. So the bottom, the back and the left face show what the
// opposite one does, mirrored. Holes are measured along the machine's axes from one corner of the part, the same for both
// ends of a hole that goes through; the corner is marked, and the edges of each face are named.
//
// Names of parts may be anything: files are named by the part's number and what plain letters its name has.
package workshop
