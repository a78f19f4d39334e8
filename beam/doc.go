// Package beam describes one straight member: material, section, stiffness, mass and loads.
//
// Local axes: x runs along the member through the centroid of its section; y and z are the axes
// the section is drawn in, y along the width and z along the height, both measured from the
// centroid. They need not be principal axes: Iyz of an angle is not zero, and every member matrix
// carries it.
//
// Units are consistent: N, mm, MPa, tonne, s. Densities are tonne/mm³, temperatures K.
//
// Freedoms at an end are ux, uy, uz, rx, ry, rz, rotations right-handed, end 1 before end 2.
// Forces follow the same order and signs. The axial displacement of a point (y, z) of a section
// is ux + z·ry − y·rz.
//
// Shear deflection is Timoshenko's with Cowper's (1966) coefficients; torsion is Saint-Venant's
// about the line of shear centres. Left out: restrained warping of open sections, large
// deflection, buckling, plasticity.
//
// A section comes from a Shape, a member from a section, a material and a length:
//
//	alu, _ := beam.LookupMaterial("aluminium-5083")
//	section, err := beam.Rect{Width: 40, Height: 20}.Section(alu.Nu)
//	member := beam.Member{Section: section, Material: alu, Length: 300}
//	stiffness := member.Stiffness()
//
// Stiffness, LineLoad, PointLoad and ThermalLoad are what a frame is assembled from; ForcesInside
// and Section.Stress are read from the movements of the ends that it finds. Mass (the
// consistent mass matrix) and Inside (forces and movement of a place between the ends) are offered
// to users of the library: the tool itself asks for neither.
package beam
