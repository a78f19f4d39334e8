// Package reference writes the numbers that the estimate rests on, each with its low, typical and high value: materials,
// screws, surfaces, joints, drilling, carriages, drives, spindles, cutting; and by which published methods it goes. Where
// they are from, with the names of authors, stands below each table where that is asked for.
//
// Units stand in the heads of the columns. Nothing is worked out here but units and sections of rails.
package reference
