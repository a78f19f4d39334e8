// Package verdict says which option to build: it counts every load, direction, point, path and cut of an answer, drops
// what is the same for all options, and picks one for each purpose. It solves nothing and draws nothing: what it claims
// is recomputed from the numbers of the answer alone.
//
//	found.Verdict = verdict.Of(found)
//	says, against := verdict.InWords(found, heads).Steadiest(2)
//
// What Repeats lists is left out of the count, since a number of the count says it already: the softest direction where it
// is one of the axes, the movement under a load along one axis. [Words] says the verdict in sentences.
//
// Stiffnesses are in N/µm, movements in µm, stretches and depths in mm, masses in kg, times at the drill press in
// hours. Chances are percentages of draws, as in answer.Duel. The rules are those of answer.Verdict; their bounds are
// common practice, no source.
package verdict
