// Package solid models blocks and gussets as three-dimensional bodies of hexahedra and wedges, and reduces each to what
// its neighbours feel: a stiffness matrix between the zones where others touch it.
//
// Units are N, mm, MPa, tonne and K. Strain and stress are in the order xx, yy, zz, xy, yz, zx with engineering shear
// strains.
package solid
