package screen

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/wrap"
)

// mostCulprits is how many groups are named of a load, and of each how many members.
const mostCulprits = 3

// why says of the loads that move the tip farthest what gives way: the three groups that give most, and in each the
// members that do.
func (s *sheet) why(r answer.Result) {
	var loads []answer.LoadResult
	for _, l := range r.Loads {
		if slices.ContainsFunc(r.Shares, func(o answer.Share) bool { return o.Load == l.Name }) {
			loads = append(loads, l)
		}
	}
	slices.SortStableFunc(loads, func(a, b answer.LoadResult) int {
		return cmp.Or(cmp.Compare(late(a), late(b)), cmp.Compare(number.AsWritten(reach(b)), number.AsWritten(reach(a))))
	})
	loads = loads[:min(len(loads), s.of(3, 1))]
	if len(loads) == 0 {
		return
	}
	s.Heading("Why: what gives way, in percent of the movement")
	wide := 0
	for _, l := range loads {
		wide = max(wide, wrap.Letters(wrap.OneLine(l.Name)))
	}
	wide = min(wide, widestName)
	for _, l := range loads {
		name := wrap.OneLine(l.Name)
		mark := "  " + name + strings.Repeat(" ", max(0, wide-wrap.Letters(name))) + "  "
		words := culprits(groupsOf(r.Shares, l.Name))
		if wrap.Letters(name) > widestName {
			mark, words = "  ", name+": "+words
		}
		s.Item(mark, words)
	}
}

// widestName is how long a name may be that begins a line others are lined up with.
const widestName = 24

// late puts loads that do not push the tip behind those that do.
func late(l answer.LoadResult) int {
	if l.TipUm == nil || l.OnTip {
		return 0
	}
	return 1
}

// group is a kind of thing that gives way, with its members.
type group struct {
	name    string
	percent float64
	members []answer.Share // Source is the member's name
}

// kinds are the groups, by the first word of their members' sources.
var kinds = []struct{ word, name string }{
	{"tool", "cutter and spindle"}, {"holder", "cutter and spindle"}, {"spindle", "cutter and spindle"}, {"part", "parts"},
	{"joint", "joints"}, {"guide", "guides"}, {"drive", "drives"}, {"ground", "ground"},
}

// ofChain are what the members of cutter and spindle are called.
var ofChain = map[string]string{"tool": "cutter", "holder": "holder", "spindle": "bearings"}

// groupsOf sums up the shares of a load by kind, largest first, and in each kind by member: all carriages of an axis are
// one, and so are all links of its drive.
func groupsOf(shares []answer.Share, load string) (list []group) {
	for _, o := range shares {
		if o.Load != load {
			continue
		}
		word, rest, _ := strings.Cut(o.Source, " ")
		name, member := "others", o.Source
		if i := slices.IndexFunc(kinds, func(k struct{ word, name string }) bool { return k.word == word }); i >= 0 {
			name, member = kinds[i].name, rest
		}
		switch name {
		case "cutter and spindle":
			member = ofChain[word]
		case "guides", "drives":
			member, _, _ = strings.Cut(member, ":")
		}
		i := slices.IndexFunc(list, func(g group) bool { return g.name == name })
		if i < 0 {
			i = len(list)
			list = append(list, group{name: name})
		}
		list[i].add(member, o.Percent)
	}
	for i := range list {
		slices.SortStableFunc(list[i].members, func(a, b answer.Share) int { return cmp.Compare(whole(b.Percent), whole(a.Percent)) })
	}
	slices.SortStableFunc(list, func(a, b group) int { return cmp.Compare(whole(b.percent), whole(a.percent)) })
	return list
}

// add counts a share to a member.
func (g *group) add(member string, percent float64) {
	g.percent += percent
	i := slices.IndexFunc(g.members, func(m answer.Share) bool { return m.Source == member })
	if i < 0 {
		g.members = append(g.members, answer.Share{Source: member, Percent: percent})
		return
	}
	g.members[i].Percent += percent
}

// whole is a percentage as it is written here.
func whole(percent float64) float64 { return math.Round(number.RoundedPercent(percent)) + 0 }

// culprits names the largest groups and their largest members: "parts 63: column 27, base 18, arm 10; joints 5".
func culprits(groups []group) string {
	var words []string
	for _, g := range groups[:min(len(groups), mostCulprits)] {
		if wholePercent(g.percent) == "0" {
			continue
		}
		var members []string
		for _, m := range g.members[:min(len(g.members), mostCulprits)] {
			if p := wholePercent(m.Percent); p != "0" {
				members = append(members, wrap.OneLine(m.Source)+" "+p)
			}
		}
		of := g.name + " " + wholePercent(g.percent)
		switch {
		case g.name == "ground" || len(members) == 0:
		case len(g.members) == 1:
			of += ": " + wrap.OneLine(g.members[0].Source)
		default:
			of += ": " + strings.Join(members, ", ")
		}
		words = append(words, of)
	}
	if words == nil {
		return "nothing gives way"
	}
	return strings.Join(words, "; ")
}

// wholePercent writes a share in whole percent.
func wholePercent(percent float64) string { return number.Given(whole(percent)) }
