// Package yielding tells what cuts do on a machine that yields: how far the tip moves, how far off each surface is made,
// and how deep a cut may go within its tolerance.
//
//	cuts, notes, err := yielding.Answer(machine, compliance) // every cut, and what is unusual about it
//	depth, err := yielding.Depths(machine, 0, compliance)
//	mm := depth(1.5)                                         // of the first cut, on a machine half as soft again
//
// frame/cutting says what forces there are at every angle of the cutter, a compliance what the machine does with them:
// the movement of the tip against the work, along x, y and z, under forces along these and moments about them, mm/N and
// 1/N. It is the same at every angle, so it is solved once for all cuts. No frame is known here.
//
// # What it does not do
//
// Vibration, and forces that change as the tip moves: a note says where that matters.
package yielding
