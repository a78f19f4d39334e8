// Package chance says how sure an answer is: it draws what is known only as a range, and reads ranges, comparisons and
// culprits from what comes of the draws.
//
//	unknowns := []chance.Unknown{{Key: "milled faces", Band: constant.Between(1.3, 2.4, 4.8)}}
//	draws := chance.Draw(len(unknowns), 1024)
//	for i := range draws.Len() {
//		stiffness[i] = solve(unknowns[0].At(draws.Normal(i, 0)))
//	}
//	r := chance.RangeOf(stiffness) // the middle, and nine in ten between Low and High
//
// An [Unknown] is log-normal: its low and high numbers are the 5 and 95 % points, its typical number the median, with a
// half-width of its own on either side where these do not lie alike. [Draws] are points of a Halton sequence, scrambled
// as Owen does with a fixed seed (A randomized Halton algorithm, arXiv:1706.02808), so that a thousand of them lie as
// evenly as ten thousand thrown dice, and two runs draw the same. The first unknowns get the best spread of them: put
// first what matters most.
//
// [Beats] holds two columns of answers against each other draw by draw, [Culprits] tells which unknown an answer's
// range comes from. Nothing here knows of machines.
package chance
