package main

import (
	"encoding/json"
	"math"
	"strconv"

	"github.com/rogpeppe/go-internal/testscript"

	"tiploop/frame/answer"
)

// sameWithin is how near two answers must be that differ by rounding alone, see agreement.
const sameWithin = agreement

// within FACTOR FILE checks that an answer at detail "both" moves tip and points as much at one detail as at the other,
// within the factor; that the reactions of both are the same; and that the two weigh the same.
func within(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: within factor file")
	}
	factor, err := strconv.ParseFloat(args[0], 64)
	ts.Check(err)
	factor = max(factor, 1+sameWithin)
	a := readAnswer(ts, args[1])
	worst := 1.0
	for _, solid := range a.Options {
		section := solid.Section
		if section == nil || len(solid.Loads) == 0 || len(section.Loads) != len(solid.Loads) {
			ts.Fatalf("%s has not the same loads at both details", solid.Name)
		}
		if !(math.Abs(section.MassKg-solid.MassKg) <= sameWithin*section.MassKg) || section.Holes != solid.Holes {
			ts.Fatalf("%s: mass and holes are %g kg and %v, and %g kg and %v in solid bodies", solid.Name, section.MassKg,
				section.Holes, solid.MassKg, solid.Holes)
		}
		for i, l := range solid.Loads {
			beside := section.Loads[i]
			moved, movedBeside := movements(l), movements(beside)
			if len(moved) == 0 {
				ts.Fatalf("load %s moves nothing that is told", l.Name)
			}
			most := 0.0
			for _, size := range movedBeside {
				most = max(most, size)
			}
			for what, size := range moved {
				if max(size, movedBeside[what]) < slight*most {
					continue
				}
				ratio := size / movedBeside[what]
				if !(ratio <= factor && ratio >= 1/factor) {
					ts.Fatalf("load %s moves %s by %g µm, and by %g µm in solid bodies", l.Name, what, movedBeside[what], size)
				}
				worst = max(worst, ratio, 1/ratio)
			}
			for k := range l.ReactionN {
				if !(math.Abs(l.ReactionN[k]-beside.ReactionN[k]) <= balance*max(1, math.Abs(beside.ReactionN[k]))) {
					ts.Fatalf("load %s: the grounds bear %v N, and %v N in solid bodies", l.Name, beside.ReactionN, l.ReactionN)
				}
			}
		}
	}
	ts.Logf("apart by a factor of %.3f at most", worst)
}

// slight is the share of the largest movement under a load below which a movement is a by-product that no one asks for.
const slight = 0.05

// balance is how far the sum of what the grounds bear may be from that of the loads, in N and as a share: a settlement
// moves forces of some hundred newtons that cancel.
const balance = 1e-6

// movements are the sizes of all movements under a load, µm.
func movements(l answer.LoadResult) map[string]float64 {
	list := map[string]float64{}
	if l.TipUm != nil {
		list["the tip"] = length(*l.TipUm)
	}
	for name, um := range l.PointsUm {
		list["point "+name] = length(um)
	}
	return list
}

func length(v [3]float64) float64 { return math.Sqrt(v[0]*v[0] + v[1]*v[1] + v[2]*v[2]) }

// same FILE LOAD POINT FILE LOAD POINT checks that two points move alike but for rounding, in the first option.
func same(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 6 {
		ts.Fatalf("usage: same file load point file load point")
	}
	var um [2][3]float64
	for i := range um {
		file, load, point := args[3*i], args[3*i+1], args[3*i+2]
		found := false
		for _, l := range readAnswer(ts, file).Options[0].Loads {
			if l.Name == load {
				um[i], found = l.PointsUm[point]
			}
		}
		if !found {
			ts.Fatalf("%s has no point %s under load %s", file, point, load)
		}
	}
	apart := length([3]float64{um[0][0] - um[1][0], um[0][1] - um[1][1], um[0][2] - um[1][2]})
	if !(apart <= sameWithin*length(um[0])) {
		ts.Fatalf("%s moves by %v µm, %s by %v µm", args[2], um[0], args[5], um[1])
	}
}

func readAnswer(ts *testscript.TestScript, file string) (a answer.Answer) {
	ts.Check(json.Unmarshal([]byte(ts.ReadFile(file)), &a))
	return a
}
