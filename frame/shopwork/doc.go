// Package shopwork sorts what there is to saw and drill: which pieces are of one stock and size, which number each hole of
// a part has, which holes run into each other, which screws stand in the way, and what work all of them are.
//
// It works on plain lines of package answer. Where a machine's holes and pieces are, package structure finds. Lengths are
// mm, masses kg.
package shopwork
