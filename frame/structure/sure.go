package structure

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

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

// mostLacking is what the solution of a draw may lack, as a share of its energy: a tenth of what the draws leave open.
// The basis is made for the first of them and looked at again where its last movement added most.
const (
	mostLacking   = settled / 10
	trainingDraws = 6
	suspects      = 6
	mostRounds    = 4
)

// sampler draws what is not known of a model and reads what becomes of its answer.
type sampler struct {
	model    *Model
	result   *answer.Result // at typical numbers
	unknowns []chance.Unknown
	names    []doubtful
	doubts   frame.Doubts
	basis    *frame.Basis
	rests    []int // of each load: the number in the basis of what is in it beside the tip's push; none or unsteady
	reads    readings
	drawn    []quantity
	late     []float64 // of each draw, see frame.Drawn
}

// What a load is that is none of the basis.
const (
	none     = -1 // there is nothing beside the tip's push
	unsteady = -2 // its forces go with the stiffness: temperature, settlement, misfits
)

// Sure draws what is not known of the machine and returns how sure the numbers of its answer are. The columns deal the
// draws: options that share them share their luck.
func (m *Model) Sure(ctx context.Context, columns *chance.Columns, r *answer.Result) (*answer.Sure, error) {
	s, err := m.newSampler(r)
	if err != nil {
		return nil, err
	}
	training, err := columns.Logs(s.unknowns, trainingDraws)
	if err != nil {
		return nil, err
	}
	for round := 1; ; round++ {
		s.basis.Enrich(training, mostLacking)
		sure, logs, err := s.drawAll(ctx, columns)
		if err != nil {
			return nil, err
		}
		worst := s.worst(logs)
		bound := s.basis.Bound(worst)
		if bound <= mostLacking || round == mostRounds {
			if sureSize != nil {
				*sureSize = s.basis.Size()
			}
			sure.ErrorPercent = 100 * bound
			s.tell(sure, logs)
			return sure, nil
		}
		training = worst
	}
}

// newSampler begins a basis with what pushes the tip and the points, and what else acts in the loads.
func (m *Model) newSampler(r *answer.Result) (*sampler, error) {
	s := &sampler{model: m, result: r}
	s.unknowns, s.names, s.doubts = m.doubts()
	var loads []frame.Load
	for i := range m.machine.Loads {
		rest := withoutTip(&m.machine.Loads[i])
		load := m.frameLoad(&rest, m.tool.gauges())
		switch {
		case rest.Actions == nil:
			s.rests = append(s.rests, none)
		case !load.Steady():
			s.rests = append(s.rests, unsteady)
		default:
			s.rests = append(s.rests, len(loads))
			loads = append(loads, load)
		}
	}
	if err := s.findPaths(); err != nil {
		return nil, err
	}
	var err error
	pushed, read := s.forms()
	if s.basis, err = m.system.NewBasis(s.doubts, loads, pushed, read); err != nil {
		return nil, m.nameUneven(err)
	}
	return s, nil
}

// drawAll draws until every range has settled.
func (s *sampler) drawAll(ctx context.Context, columns *chance.Columns) (*answer.Sure, [][]float64, error) {
	s.read()
	s.late = nil
	for n := fewestDraws; ; n *= 2 {
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		logs, err := columns.Logs(s.unknowns, n)
		if err != nil {
			return nil, nil, err
		}
		at := len(s.late)
		s.basis.Solve(logs[at:], func(i int, d *frame.Drawn) {
			s.late = append(s.late, d.Late)
			moment := s.moment(d)
			for k := range s.drawn {
				q := &s.drawn[k]
				q.Values = append(q.Values, q.of(moment))
			}
		})
		open := 0.0
		for _, q := range s.drawn {
			open = math.Max(open, chance.Settled(q.Values))
		}
		if open <= settled || n == mostDraws {
			return &answer.Sure{Draws: n, Seed: chance.Seed, SettledPercent: 100 * open, Settled: open <= settled}, logs, nil
		}
	}
}

// worst are the draws in which most is lacking by the looks of it.
func (s *sampler) worst(logs [][]float64) (list [][]float64) {
	order := make([]int, len(logs))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, k int) int { return cmp.Compare(s.late[k], s.late[i]) })
	for _, i := range order[:min(suspects, len(order))] {
		list = append(list, logs[i])
	}
	return list
}

// tell reads ranges and shares from the columns.
func (s *sampler) tell(sure *answer.Sure, logs [][]float64) {
	of := map[string]answer.Range{}
	for _, q := range s.drawn {
		r := chance.RangeOf(q.Values)
		of[q.Quantity] = answer.Range{Low: r.Low, Median: r.Median, High: r.High}
		sure.Columns = append(sure.Columns, q.Column)
		sure.Culprits = append(sure.Culprits, s.culprits(q, logs)...)
	}
	if _, ok := of[stiffnessKey("x")]; ok {
		sure.Stiffness = &answer.StiffnessRanges{X: of[stiffnessKey("x")], Y: of[stiffnessKey("y")],
			Z: of[stiffnessKey("z")], Softest: of[stiffnessKey("softest")]}
	}
	for _, l := range s.result.Loads {
		if r, ok := of[movementKey(l.Name, "")]; ok {
			sure.Movements = append(sure.Movements, answer.MovementRange{Load: l.Name, SizeUm: r})
		}
		for _, p := range s.model.points {
			if r, ok := of[movementKey(l.Name, p.point.Name)]; ok && p.point.Name != "" {
				sure.Movements = append(sure.Movements, answer.MovementRange{Load: l.Name, Point: p.point.Name, SizeUm: r})
			}
		}
	}
	for _, t := range s.result.Travel {
		if r, ok := of[stretchKey(t.Path, t.Load)]; ok {
			sure.Stretches = append(sure.Stretches, answer.StretchRange{Path: t.Path, Load: t.Load, StretchMM: r})
		}
	}
	for _, c := range s.result.Cuts {
		if r, ok := of[depthKey(c.Name)]; ok {
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
			list = append(list, answer.UnknownShare{Quantity: q.Quantity, What: s.names[k].Name, Percent: percent,
				Settle: s.names[k].Settle})
		}
	}
	slices.SortStableFunc(list, func(a, b answer.UnknownShare) int { return cmp.Compare(b.Percent, a.Percent) })
	return list[:min(mostCulprits, len(list))]
}

// The keys of quantities.
func stiffnessKey(direction string) string { return "stiffness " + direction }

func movementKey(load, point string) string {
	return strings.TrimSpace(fmt.Sprintf("movement %s %s", load, point))
}

func stretchKey(path, load string) string { return fmt.Sprintf("stretch %s %s", path, load) }

func depthKey(cut string) string { return "depth " + cut }

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
