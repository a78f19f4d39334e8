// Package answer holds what is worked out for a machine, as plain numbers that print, draw and go into JSON without
// the machine being solved again. It knows no machine and solves nothing: frame/structure fills these in, report
// writes them.
//
//	Result     what one machine does: its tip, loads, joints, axes, cuts, paths
//	Answer     the results of several options of one machine
//	Inventory  what is in a machine
//	Sweep      what a machine does while one or two of its values run over a range
//	Next       what to stiffen next
//
// # Conventions
//
// A unit stands in the name of a field: TipUm, ForceN, MassKg. Arrays of three are x, y, z. A movement of the tip is
// that of the tool against the work. A pointer is nil, and a list empty, where the machine has no such thing: a
// [Result] without a Tip is of one without a tool.
//
// The JSON keys are a contract: readers of other programs go by them. A key may be added; what one means does not
// change while the number under "tiploop" is the same.
package answer
