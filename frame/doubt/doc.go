// Package doubt says what is not known of a machine: which numbers, how far each may be off, what it is called, what
// would settle it, and what stiffnesses go with it.
//
// What nature decides (the law of milled faces, the stiffness of a size of carriage) is one number for the whole
// machine and for all its options; what varies in making (a screw's preload, a joint's flatness) is one number for each
// piece, the same wherever that piece stands. Every number is told over its typical value, so that it is typically 1;
// its band holds nine of ten.
//
// Bands are those of the trade's tables in frame/joint, frame/guide, frame/drive, frame/spindle and frame/cutting where
// these have one; the house's own stand here, each with its reason.
package doubt
