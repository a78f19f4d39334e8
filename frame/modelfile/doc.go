// Package modelfile reads the file in which a builder describes a machine, and turns it into a [machine.Machine]. It
// knows nothing of YAML: frame/modelfile/source reads that into nodes.
//
//	doc, err := modelfile.Read("mill.yaml")           // the form of the file is right
//	m, err := doc.Machine("short bed")                // an option applied; "": the file's own values
//	m, err = doc.At("", map[string]float64{"x": 20}).Machine("") // with axes elsewhere
//	doc = doc.Over(0, []string{"x", "y"})             // machines of it are followed over a plane, too
//
// A model file is YAML 1.2. [Read] and [Parse] turn it into a [Document], which does not change; [Document.Machine]
// applies an option and gives the machine, complete and checked, every number in one consistent set of units: N, mm,
// MPa, tonne, s, K, rad. [Document.Range] and [Document.MachineAt] draw machines with one value over a range,
// [Document.Variables] lists what they are drawn with; frame/structure builds and solves them.
//
// # Numbers
//
// A plain number is in mm, N, N/mm² (MPa), kg, degrees or K, whichever its key asks for, and in what these
// make up: N mm for a moment, N/mm for a stiffness; a density is in kg/m³, an acceleration in mm/s².
// Where an acceleration of an axis belongs, g behind a single number is free fall: 0.2 g.
// A number may carry a unit, which then is converted: 0.5 in, 71 GPa, 12 N/um, 30 N m, 5e8 N*mm/rad,
// 2700 kg/m3, 24e-6/K. A unit belongs to the number before it: 1/2 in is one by two inches, not half an inch.
// A stiffness may carry the range that nine of ten lie in: 8 N/um +- 40 %, or 5..12 N/um (see [machine.Unsure]).
//
// Wherever a number may stand, so may an expression over the names in "values": bed_length/2 - 20 mm. There are
// + - * / and brackets, == != < <= > >=, "and", "or", "not", c ? a : b (in quotes, because of the colon), pi, and
// the functions min, max, abs, sqrt, sin, cos and tan. Every quantity has a dimension. A length
// cannot be added to a force, nor stand where a force belongs; a plain number takes the dimension of what it
// is added to, compared with, or stored in.
//
// # Options and conditions
//
// "if" on a part, joint or ground leaves it out when the condition is false. What depends on a part that is left out
// goes with it: its joints, grounds, points, and the actions on them; an axis takes its paths of travel. The tool and
// the work cannot stand on a part that is left out. An option sets values, and nothing else: applying it is the same
// as writing its settings into "values" by hand.
//
// # Faults
//
// Whatever is wrong in a file is a [machine.Fault] with line, column, the offending text and the nearest right word.
// All of them are found in one reading, and come as [machine.Faults] in the order of the file. Only trouble with
// reading the file itself is another kind of error. The file is data from a stranger: its size, line length and nesting
// are bounded, and anchors, aliases, merge keys and tags are refused, so that a small file stays small.
package modelfile
