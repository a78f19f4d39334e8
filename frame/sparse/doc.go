// Package sparse orders, factors and solves symmetric matrices whose unknowns come in groups.
//
// The unknowns of a structure belong to nodes, and nodes that share an element are coupled throughout. So a Pattern
// says how many unknowns each group has and which groups are coupled, and is ordered once, group by group (reverse
// Cuthill-McKee); any number of matrices of that pattern may then be filled and factored. A Matrix keeps the row
// profile of its lower triangle; Factorize computes P·K·Pᵀ = L·D·Lᵀ in the same profile (Jennings' envelope method;
// George & Liu, Computer Solution of Large Sparse Positive Definite Systems, 1981, ch. 4). A frame of parts is a chain
// or a small net of chains, for which a profile is close to the least fill.
//
// The factorisation expects a positive semi-definite matrix. A pivot that has lost its diagonal to rounding means that
// the structure can move without strain: the error then carries that motion.
//
// Programmer's mistakes (an index out of range, a wrong length, an entry outside the pattern) panic; a loose structure
// is an error.
package sparse
