// Package graph draws what charts of answers are made of: bars with their ranges, curves with their bands, levels over a
// plane, and the words that stand in the place of a curve that is flat. Of an answer it knows no more than a range: what is
// drawn, and why, is decided in report.
//
// Widths and places are in points, as in report/paper.
package graph
