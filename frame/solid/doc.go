// Package solid models a block or a gusset as a three-dimensional body of hexahedra and wedges, and reduces each to
// what its neighbours feel: a stiffness matrix between the zones where others touch it.
//
// A Body is a part and where the rest of the machine feels it:
//
//	body := solid.Body{Part: part, Zones: zones, Held: regions}
//	reduced, err := body.Reduce(ctx, solid.Settings{})  // meshed by the mesh rule, its inside eliminated
//	reduced.K                                           // over six freedoms of each zone, then of each held region
//	field := reduced.Recover(v, solid.Load{})           // what the inside does when the freedoms move by v
//	worst, away := field.Worst()                        // von Mises stress, and away from sharp edges
//
// Reduced.Weight and Reduced.Warmth are the forces on K's freedoms of own weight and of a temperature. Ports and
// ReadBeside are for what moves along a body or is read in many places: any number of them costs little more than one.
// AddBlock, AddGusset, Lines, ElementStiffness, Strain and Stress are the mesh by itself, for other uses of it.
//
// Small displacements, linear elastic and isotropic. A body has no contact, no plasticity and no vibration.
//
// Units are N, mm, MPa, tonne and K. Strain and stress are in the order xx, yy, zz, xy, yz, zx with engineering shear
// strains.
package solid
