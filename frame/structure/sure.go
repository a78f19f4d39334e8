package structure

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"tiploop/frame"
	"tiploop/frame/answer"
	"tiploop/frame/chance"
	"tiploop/frame/machine"
)

// Draws are made until the ends of every range stand within settled of themselves: fewestDraws, then twice as many, up
// to mostDraws.
const (
	fewestDraws = 256
	mostDraws   = 2048
	settled     = 0.03
)

// mostLacking is what the solution of a draw may lack, as a share of its energy: where it is most a third of what the
// draws leave open, and far less on average. The basis is made for the first draws and those with something at its
// softest, and looked at closely where most seems to be lacking.
//
// Draws are looked at again lookedAtOnce at a time.
const (
	mostLacking   = settled / 3
	trainingDraws = 12
	suspects      = 4
	lookedAtOnce  = 16
	mostRounds    = 4
	aim           = mostLacking / 1.5 // the rest is for draws that the probes do not find
)

// sampler draws what is not known of a model and reads what becomes of its answer.
type sampler struct {
	model    *Model
	result   *answer.Result // at typical numbers
	doubts   *doubts
	unknowns []chance.Unknown
	basis    *frame.Basis
	rests    []int  // of each load: the number in the basis of what is in it beside the tip's push; none
	grows    []bool // of each load: something in it goes with the stiffness
	misfits  int    // the number in the basis of all misfits; none: there are none, or no tip for them to move
	reads    readings
	drawn    []quantity
	courses  []course
	depths   []func(softer float64) float64 // of each cut, see yielding.Depths; nil: it has no tolerance
	watched  []*watched
	lacks    []float64   // of each draw, see frame.Drawn
	hidden   []float64   // the same over the least share of its stiffness that anything has in it
	lookedAt []int       // of each draw: with a basis of how many movements these were estimated
	unread   []bool      // of each draw: it has been looked at since it was read
	sums     [][]float64 // of each draw that is unread: what was added up when it was looked at
	size     int         // of the basis that draws were read by
}

// none says that there is nothing in a load beside the tip's push.
const none = -1

// Sure draws what is not known of the machine and returns how sure the numbers of its answer are. The columns deal the
// draws: options that share them share their luck.
func (m *Model) Sure(ctx context.Context, columns *chance.Columns, r *answer.Result) (*answer.Sure, error) {
	s, sure, logs, err := m.sample(ctx, columns, r)
	if err != nil {
		return nil, err
	}
	s.tell(sure, logs)
	return sure, nil
}

// sample draws until the ranges are settled.
func (m *Model) sample(ctx context.Context, columns *chance.Columns, r *answer.Result) (*sampler, *answer.Sure,
	[][]float64, error) {
	return m.sampleOf(ctx, columns, r, fewestDraws, mostDraws)
}

// sampleOf draws on a basis that is made for the first draws and then for those that it suits least, until the ranges are
// settled, between the least and the most of draws.
func (m *Model) sampleOf(ctx context.Context, columns *chance.Columns, r *answer.Result, least, most int) (s *sampler,
	sure *answer.Sure, logs [][]float64, err error) {
	s = &sampler{model: m, result: r}
	s.doubts = m.doubts()
	s.unknowns = s.doubts.chances()
	if err := s.begin(); err != nil {
		return nil, nil, nil, err
	}
	for n := fewestDraws; ; n *= 2 {
		if logs, err = columns.Logs(s.unknowns, n); err != nil {
			return nil, nil, nil, err
		}
		if n == fewestDraws {
			s.basis.Enrich(append(slices.Clone(logs[:trainingDraws]), s.softest(logs)...), aim)
		}
		bound, err := s.suit(ctx, logs)
		if err != nil {
			return nil, nil, nil, err
		}
		s.readDraws(logs)
		open := 0.0
		for _, q := range s.drawn {
			open = math.Max(open, chance.Settled(q.Values))
		}
		if open <= settled && n >= least || n == most {
			return s, &answer.Sure{Draws: n, Seed: chance.Seed, SettledPercent: 100 * open, Settled: open <= settled,
				ErrorPercent: 100 * max(bound, mostLacking)}, logs, nil
		}
	}
}

// begin makes a basis of what pushes the tip, what is read, and what else acts in the loads.
func (s *sampler) begin() error {
	m := s.model
	var loads []frame.Load
	for i := range m.machine.Loads {
		rest := withoutTip(&m.machine.Loads[i])
		s.grows = append(s.grows, slices.ContainsFunc(rest.Actions, goesWithStiffness))
		if rest.Actions == nil {
			s.rests = append(s.rests, none)
			continue
		}
		s.rests = append(s.rests, len(loads))
		loads = append(loads, m.frameLoad(&rest, m.tool.gauges()))
	}
	if s.misfits = none; s.result.Misfits != nil && m.tool != nil {
		s.misfits = len(loads)
		list := m.misfitLoads(0, m.named())
		loads = append(loads, m.frameLoad(list[len(list)-1], m.tool.gauges()))
	}
	if err := s.findPaths(); err != nil {
		return err
	}
	s.findAlong()
	if err := s.findDepths(); err != nil {
		return err
	}
	if err := s.findChecks(); err != nil {
		return err
	}
	var err error
	if s.basis, err = m.system.NewBasis(s.doubts.frame, loads, s.aims()); err != nil {
		return m.nameUneven(err)
	}
	return nil
}

// suit lets the basis grow until it suits the draws, and bounds what they lack where it looks worst.
func (s *sampler) suit(ctx context.Context, logs [][]float64) (bound float64, err error) {
	var fresh []int
	for i := len(s.lacks); i < len(logs); i++ {
		fresh = append(fresh, i)
	}
	s.lacks, s.hidden = append(s.lacks, make([]float64, len(fresh))...), append(s.hidden, make([]float64, len(fresh))...)
	s.lookedAt, s.unread = append(s.lookedAt, make([]int, len(fresh))...), append(s.unread, make([]bool, len(fresh))...)
	s.sums = append(s.sums, make([][]float64, len(fresh))...)
	s.look(logs, fresh)
	for round := 1; ; round++ {
		if err := ctx.Err(); err != nil {
			return 0, err
		}
		worst := s.worst(logs)
		if round == mostRounds {
			return s.basis.Bound(worst, aim), nil
		}
		size := s.basis.Size()
		if bound = s.basis.Enrich(worst, aim); s.basis.Size() == size {
			return bound, nil
		}
	}
}

// look estimates what some draws lack.
func (s *sampler) look(logs [][]float64, draws []int) {
	s.basis.Look(of(logs, draws), func(k int, d *frame.Drawn) {
		i := draws[k]
		s.lacks[i], s.hidden[i], s.lookedAt[i], s.unread[i] = d.Lacks, d.Lacks/d.Least, s.basis.Size(), true
		s.sums[i] = d.Sums()
	})
}

// worst are the draws in which most may be lacking by the looks of it. A basis that has grown leaves less, never more: only
// those that looked worst before are looked at again.
func (s *sampler) worst(logs [][]float64) [][]float64 {
	for {
		again := slices.DeleteFunc(append(largest(s.lacks, suspects), largest(s.hidden, suspects)...),
			func(i int) bool { return s.lookedAt[i] == s.basis.Size() })
		if len(again) == 0 {
			break
		}
		again = append(largest(s.lacks, lookedAtOnce), largest(s.hidden, lookedAtOnce)...)
		slices.Sort(again)
		again = slices.DeleteFunc(slices.Compact(again), func(i int) bool { return s.lookedAt[i] == s.basis.Size() })
		s.look(logs, again)
	}
	return append(of(logs, largest(s.lacks, suspects)), of(logs, largest(s.hidden, suspects))...)
}

// of is what a list has of some of the draws.
func of(all [][]float64, draws []int) [][]float64 {
	list := make([][]float64, len(draws))
	for k, i := range draws {
		list[k] = all[i]
	}
	return list
}

// readDraws reads everything in the draws that have not been read yet, and again in those that the basis has grown for.
func (s *sampler) readDraws(logs [][]float64) {
	if s.size != s.basis.Size() {
		s.read()
		s.size = s.basis.Size()
	}
	var draws []int
	for i, unread := range s.unread {
		if unread {
			draws = append(draws, i)
		}
	}
	clear(s.unread)
	s.room(len(logs))
	s.basis.SolveFrom(of(s.sums, draws), of(logs, draws), func(k int, d *frame.Drawn) {
		i := draws[k]
		moment := s.moment(d, logs[i])
		s.strain(moment, i)
		for k := range s.drawn {
			s.drawn[k].Values[i] = s.drawn[k].of(moment)
		}
		for _, c := range s.courses {
			for n, share := range c.share {
				c.values[n][i] = share(moment)
			}
		}
	})
	clear(s.sums)
}

// room makes room for what is read of so many draws.
func (s *sampler) room(draws int) {
	for k := range s.drawn {
		q := &s.drawn[k]
		q.Values = append(q.Values, make([]float64, draws-len(q.Values))...)
	}
	for _, c := range s.courses {
		for n, values := range c.values {
			c.values[n] = append(values, make([]float64, draws-len(values))...)
		}
	}
	for _, w := range s.watched {
		w.slips = append(w.slips, make([]bool, draws-len(w.slips))...)
		w.opens = append(w.opens, make([]bool, draws-len(w.opens))...)
	}
}

// softest are the draws in which something is softest.
func (s *sampler) softest(logs [][]float64) [][]float64 {
	soft := make([]float64, len(logs))
	for i := range logs {
		soft[i] = -s.basis.Softest(logs[i])
	}
	return of(logs, largest(soft, suspects))
}

// largest are the places of the largest numbers of a list, so many at most.
func largest(list []float64, most int) []int {
	order := make([]int, len(list))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, k int) int { return cmp.Compare(list[k], list[i]) })
	return order[:min(most, len(order))]
}

// tell reads ranges and shares from the columns.
func (s *sampler) tell(sure *answer.Sure, logs [][]float64) {
	of := map[string]answer.Range{}
	for _, q := range s.drawn {
		r := chance.RangeOf(q.Values)
		of[q.Quantity] = answer.Range{Low: r.Low, Median: r.Median, High: r.High}
		if q.alone {
			continue
		}
		sure.Columns = append(sure.Columns, q.Column)
		sure.Culprits = append(sure.Culprits, s.culprits(q, logs)...)
	}
	for k, u := range s.doubts.unknowns {
		drawn := answer.DrawnUnknown{Key: u.Key, What: u.Name, Settle: u.Settle, Logs: make([]float64, len(logs))}
		for i := range logs {
			drawn.Logs[i] = logs[i][k]
		}
		sure.Unknowns = append(sure.Unknowns, drawn)
	}
	sure.Risks = s.risks(sure.Draws)
	for k := range s.reads.checks {
		sure.Checks = append(sure.Checks, of[checkKey(k)])
	}
	if r, ok := of[misfitsKey]; ok {
		sure.MisfitsUm = &r
	}
	if _, ok := of[answer.StiffnessKey("x")]; ok {
		sure.Stiffness = &answer.StiffnessRanges{X: of[answer.StiffnessKey("x")], Y: of[answer.StiffnessKey("y")],
			Z: of[answer.StiffnessKey("z")], Softest: of[answer.StiffnessKey("softest")]}
	}
	for _, l := range s.result.Loads {
		if r, ok := of[answer.MovementKey(l.Name, "")]; ok {
			sure.Movements = append(sure.Movements, answer.MovementRange{Load: l.Name, SizeUm: r})
		}
		for _, p := range s.model.points {
			if r, ok := of[answer.MovementKey(l.Name, p.point.Name)]; ok && p.point.Name != "" {
				sure.Movements = append(sure.Movements, answer.MovementRange{Load: l.Name, Point: p.point.Name, SizeUm: r})
			}
		}
	}
	for _, t := range s.result.Travel {
		if r, ok := of[answer.StretchKey(t.Path, t.Load)]; ok {
			sure.Stretches = append(sure.Stretches, answer.StretchRange{Path: t.Path, Load: t.Load, StretchMM: r})
		}
	}
	for _, c := range s.courses {
		sure.Along = append(sure.Along, c.sizes())
	}
	sure.Over = over(s.result, sure)
	for _, c := range s.result.Cuts {
		if r, ok := of[answer.DepthKey(c.Name)]; ok {
			sure.Depths = append(sure.Depths, answer.DepthRange{Cut: c.Name, DepthMM: r})
		}
	}
}

// mostCulprits and leastCulprit bound the list of those that a range comes from.
const (
	mostCulprits = 5
	leastCulprit = 1 // percent
)

// culprits are the unknowns that a quantity's range comes from most.
func (s *sampler) culprits(q quantity, logs [][]float64) (list []answer.UnknownShare) {
	for k, share := range chance.Shares(logs, q.Values) {
		if percent := 100 * share; percent >= leastCulprit {
			list = append(list, answer.UnknownShare{Quantity: q.Quantity, What: s.doubts.unknowns[k].Name, Percent: percent,
				Settle: s.doubts.unknowns[k].Settle})
		}
	}
	slices.SortStableFunc(list, func(a, b answer.UnknownShare) int { return cmp.Compare(b.Percent, a.Percent) })
	return list[:min(mostCulprits, len(list))]
}

// The keys of what options are not compared in.
const misfitsKey = "misfits"

func checkKey(number int) string { return fmt.Sprintf("check %d", number) }

// goesWithStiffness tells whether an action presses harder on what is stiffer.
func goesWithStiffness(a machine.Action) bool {
	return a.Kind == machine.Warming || a.Kind == machine.Settling || a.Kind == machine.Misfitting
}

// tipPush is what a load does to the tip.
func tipPush(l *machine.Load) (push [6]float64) {
	for _, a := range l.Actions {
		if a.Kind == machine.OnTip {
			for k, v := range pushOf(a) {
				push[k] += v
			}
		}
	}
	return push
}
