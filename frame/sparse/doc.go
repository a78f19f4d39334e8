// Package sparse holds symmetric matrices by their entries, orders them for a small profile, and factors and solves
// them.
//
// A Builder collects entries, which add up where they meet; Matrix keeps the lower triangle by rows. Factorize
// renumbers the unknowns (reverse Cuthill-McKee) and computes P·K·Pᵀ = L·D·Lᵀ in the row profile of the lower
// triangle (Jennings' envelope method; George & Liu, Computer Solution of Large Sparse Positive Definite Systems,
// 1981, ch. 4). A frame of parts is a chain or a small net of chains, for which a profile is close to the least fill.
//
// The factorisation expects a positive semi-definite matrix. A pivot that has lost its diagonal to rounding means that
// the structure can move without strain: the error then carries that motion.
//
// Programmer's mistakes (an index out of range, a wrong length) panic; a loose structure is an error.
package sparse
