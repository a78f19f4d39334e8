// Package machine reads a model file, checks it, and builds and solves the frame it describes.
//
// A model file is YAML 1.2. [Read] and [Parse] turn it into a [Document]; [Document.Machine] applies an
// option and gives the checked [Machine], in which every number is in one consistent set of units:
//
//	N, mm, MPa, tonne, s, K, rad    (N/mm for a stiffness, N·mm for a moment)
//
// Axes are the trade's: x right, y away from the operator, z up. Rotations are right-handed about them.
// A face of a plate is named as the operator in front of the machine sees it: left and right look along x,
// front and back along y, bottom and top along z.
//
// # Numbers
//
// A plain number is in mm, N, N/mm² (MPa), kg, degrees or K, whichever its key asks for, and in what these
// make up: N mm for a moment, N/mm for a stiffness; a density is in kg/m³, an acceleration in mm/s².
// Where an acceleration of an axis belongs, g behind a single number is free fall: 0.2 g.
// A number may carry a unit, which then is converted: 0.5 in, 71 GPa, 12 N/um, 30 N m, 5e8 N*mm/rad,
// 2700 kg/m3, 24e-6/K. A unit belongs to the number before it: 1/2 in is one by two inches, not half an inch.
//
// Wherever a number may stand, so may an expression over the names in "values": bed_length/2 - 20 mm. There are
// + - * / and brackets, == != < <= > >=, "and", "or", "not", c ? a : b (in quotes, because of the colon), pi, and
// the functions min, max, abs, sqrt, sin, cos and tan. Every quantity has a dimension. A length
// cannot be added to a force, nor stand where a force belongs; a plain number takes the dimension of what it
// is added to, compared with, or stored in.
//
// # Options and conditions
//
// "if" on a part, joint or ground leaves it out when the condition is false. What depends on a part that
// is left out goes with it: its joints, grounds, points, and the actions on them; an axis takes its paths of travel. The
// tool and the work cannot stand on a part that is left out. An option sets values, and nothing else: applying it is the same as
// writing its settings into "values" by hand.
//
// # Cuts
//
// A cut is worked out by frame/cutting over a revolution of the cutter; the tip's compliance, solved once, turns the force at
// every angle into a movement. Its load case, "name, peak", is the moment at which the typical force is greatest: shares,
// screws, stresses and travel go by that. What the cut costs stands apart in [CutResult]: the largest movement, and for each
// surface the error of the moments in which a tooth makes it. Forces act at the tip of the tool, with the torque about it.
//
// # Axes that gain speed
//
// The action "accelerate" puts the opposite of an axis's acceleration on the mass of all it moves ([FeedAxis].Moves), by
// d'Alembert's principle. Loads on carriages and drives are held against typical ratings of their sizes, as an indication:
// static safety C0/P0 (ISO 14728-2, ISO 3408-5), life (C/P)³ (ISO 14728-1, ISO 3408-5) with the preload in P.
//
// # Faults
//
// Whatever is wrong in a file is a [Fault] with line, column, the offending text and the nearest right word.
// All of them are found in one reading, and come as [Faults] in the order of the file. Only trouble with
// reading the file itself is another kind of error. The file is data from a stranger: its size, line length and nesting
// are bounded, and anchors, aliases, merge keys and tags are refused, so that a small file stays small.
package modelfile
