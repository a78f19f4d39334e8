package frame_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame"
)

// doubtful is a chain of stubs and blocks on springs, of which every stiffness may be another one.
type doubtful struct {
	unknowns int
	sigma    float64 // of the logarithm of each
	laws     []frame.Law
	powers   [][]frame.Power // of each stub, then of the block
}

const stubs = 5

func newDoubtful(seed uint64, sigma float64) *doubtful {
	rng := rand.New(rand.NewPCG(seed, 1))
	d := &doubtful{unknowns: 12, sigma: sigma}
	some := func() []frame.Power {
		return []frame.Power{{Unknown: rng.IntN(d.unknowns), Exponent: 1}, {Unknown: rng.IntN(d.unknowns), Exponent: 0.3 + rng.Float64()}}
	}
	for range stubs * frame.NodeFreedoms {
		k := 1e4 * math.Exp(2*rng.NormFloat64())
		d.laws = append(d.laws, frame.Law{Beside: 0.1 * k, Row: []frame.Give{
			{Typical: 1 / k}, {Typical: 1 / k, Of: some()}, {Typical: 0.5 / k, Of: some()}}})
	}
	for range stubs + 1 {
		d.powers = append(d.powers, []frame.Power{{Unknown: rng.IntN(d.unknowns), Exponent: 0.2}})
	}
	return d
}

// build draws the chain with its numbers; what hangs on each tells it which number.
func (d *doubtful) build(logs []float64) (f *frame.Frame, tip int, doubts frame.Doubts) {
	f = &frame.Frame{}
	doubts = frame.Doubts{Unknowns: d.unknowns, Springs: map[int]frame.Law{}, Sources: map[string][]frame.Power{}}
	factor := func(powers []frame.Power) float64 {
		sum := 0.0
		for _, p := range powers {
			sum += p.Exponent * logs[p.Unknown]
		}
		return math.Exp(sum)
	}
	from := f.AddNode(r3.Vec{})
	hold(f, from, "012345")
	for s := range stubs {
		start := f.AddNode(f.Node(from))
		for c := range frame.NodeFreedoms {
			law := d.laws[s*frame.NodeFreedoms+c]
			scale := 1.0
			if c >= 3 {
				scale = 1e4
			}
			scaled := frame.Law{Beside: law.Beside * scale}
			for _, g := range law.Row {
				scaled.Row = append(scaled.Row, frame.Give{Typical: g.Typical / scale, Of: g.Of})
			}
			n := f.AddSpring(frame.Spring{Form: frame.Form{{Freedom: 6*start + c, Factor: 1}, {Freedom: 6*from + c, Factor: -1}},
				Stiffness: scaled.Stiffness(logs), Source: "spring"})
			doubts.Springs[n] = scaled
		}
		turn := 0.7 * float64(s)
		end := f.AddNode(r3.Add(f.Node(start), r3.Vec{X: 100 * math.Cos(turn), Y: 100 * math.Sin(turn), Z: 20}))
		source := fmt.Sprintf("stub %d", s)
		f.AddMember(frame.Member{Ends: [2]int{start, end}, Up: r3.Vec{Z: 1}, Section: slender(400, 13333),
			Made: material(70e3*factor(d.powers[s]), 26e3*factor(d.powers[s])), Source: source})
		doubts.Sources[source] = d.powers[s]
		from = end
	}
	k := mat.NewSymDense(3, []float64{5, 1, 0, 1, 4, -1, 0, -1, 3})
	k.ScaleSym(50*factor(d.powers[stubs]), k)
	f.AddBlock(frame.Block{Freedoms: []int{6 * from, 6*from + 1, 6*from + 2}, K: k, Source: "block"})
	doubts.Sources["block"] = d.powers[stubs]
	return f, from, doubts
}

func (d *doubtful) draws(n int, seed uint64) [][]float64 {
	rng := rand.New(rand.NewPCG(seed, 2))
	draws := make([][]float64, n)
	for i := range draws {
		for range d.unknowns {
			draws[i] = append(draws[i], d.sigma*rng.NormFloat64())
		}
	}
	return draws
}

// Every draw against its own frame, built with its numbers and solved whole: what a load does along itself lacks no more
// than the bound, is never too much, and what it does elsewhere is off by no more than the root of both bounds.
func TestBasisAgainstWholeSolutions(t *testing.T) {
	t.Parallel()
	for seed := range uint64(6) {
		d := newDoubtful(seed, []float64{0.1, 0.4, 0.8}[seed%3])
		typical := make([]float64, d.unknowns)
		f, tip, doubts := d.build(typical)
		system, err := f.Factor()
		require.NoError(t, err)
		loads := []frame.Load{push(tip, r3.Vec{X: 1}, 40), push(tip, r3.Vec{X: 0.6, Z: 0.8}, 20)}
		reads := []frame.Form{frame.Move(tip, r3.Vec{}, r3.Vec{Z: 1}), frame.Move(tip-3, r3.Vec{}, r3.Vec{Y: 1})}
		basis, err := system.NewBasis(doubts, loads, []frame.Aim{{Form: reads[0], Slack: 1}, {Form: reads[1], Slack: 1}})
		require.NoError(t, err)
		const tolerance = 1e-3
		draws := d.draws(200, seed)
		basis.Enrich(draws[:16], tolerance)
		enriched := basis.Bound(draws[:16], tolerance)
		require.LessOrEqual(t, enriched, 3*tolerance)
		bound := basis.Bound(draws, 0)
		require.Less(t, bound, 30*tolerance, "draws that it was not made for")

		worst := 0.0
		basis.Solve(draws, func(i int, got *frame.Drawn) {
			if i%4 != 0 {
				return
			}
			whole, _, _ := d.build(draws[i])
			solved, err := whole.Factor()
			require.NoError(t, err)
			other, err := f.With(doubts, draws[i]).Factor()
			require.NoError(t, err)
			requireAlike(t, other.Compliance(reads, reads)[0], solved.Compliance(reads, reads)[0], 1e-9, "the frame with a draw's numbers")
			for a := range reads {
				full := solve(t, whole, frame.Load{Pushes: []frame.Push{{Form: reads[a], Force: 1}}})
				want := full.Value(reads[a])
				half := got.Half(nil, basis.On(reads[a]))
				lacks := 1 - floats.Dot(half, half)/want
				require.InEpsilon(t, floats.Dot(half, half), floats.Dot(got.Whole(half), basis.On(reads[a])), 1e-9)
				worst = math.Max(worst, lacks)
				require.GreaterOrEqual(t, lacks, -1e-9, "a compliance too large")
				require.LessOrEqual(t, lacks, bound*(1+1e-6)+1e-9)
				own := solved.Compliance(reads, reads)
				for k := range loads {
					full := solve(t, whole, loads[k])
					of := math.Sqrt(own[a][a] * 2 * full.Work())
					require.InDelta(t, full.Value(reads[a]), got.Value(basis.On(reads[a]), k), bound*of+1e-12)
					require.InDelta(t, got.Value(basis.On(reads[a]), k), floats.Dot(got.Moved(k), basis.On(reads[a])), 1e-12)
				}
			}
		})
		t.Logf("seed %d: %d movements, bound %.1e at its own draws, %.1e at 200, worst error %.1e", seed, basis.Size(),
			enriched, bound, worst)
	}
}

// Loads that go with the stiffness, on a basis that holds all movements of the chain: each draw moves, and its springs
// carry, what the frame with its numbers does when solved whole.
func TestBasisOfStrainedLoads(t *testing.T) {
	t.Parallel()
	d := newDoubtful(7, 0.5)
	f, tip, doubts := d.build(make([]float64, d.unknowns))
	system, err := f.Factor()
	require.NoError(t, err)
	all := frame.Load{
		Warm:      []frame.Warm{{Member: 0, Mean: 40}, {Member: 2, Mean: -15, GradY: 0.3}},
		Swollen:   []frame.Swollen{{Block: 0, By: []float64{0.1, -0.05, 0.02}}},
		Stretched: []frame.Stretched{{Spring: 2, By: 0.05}, {Spring: 8, By: -0.03}, {Spring: 2, By: 0.01}},
		Moved:     []frame.Moved{{Constraint: 1, Value: 0.2}, {Constraint: 5, Value: 1e-3}},
	}
	loads := []frame.Load{{Warm: all.Warm}, {Swollen: all.Swollen}, {Stretched: all.Stretched}, {Moved: all.Moved}, all}
	loads[4].Pushes = push(tip, r3.Vec{Y: 1}, 70).Pushes
	basis, err := system.NewBasis(doubts, loads, nil)
	require.NoError(t, err)
	draws := d.draws(40, 3)
	basis.Enrich(draws, 1e-14)
	require.Less(t, basis.Bound(draws, 0), 1e-9)
	reads := frame.Move(tip, r3.Vec{}, r3.Vec{X: 0.6, Z: 0.8})
	held := func(load int) float64 { // at typical numbers the answer is told, and what is held stays so
		typical := 0.0
		basis.Solve([][]float64{make([]float64, d.unknowns)}, func(_ int, got *frame.Drawn) {
			typical = got.Value(basis.On(reads), load)
		})
		return solve(t, f, loads[load]).Value(reads) - typical
	}
	basis.Look(draws, func(i int, got *frame.Drawn) {
		require.Less(t, got.Lacks, 1e-9)
		whole := f.With(doubts, draws[i])
		for k := range loads {
			full := solve(t, whole, loads[k])
			require.InDelta(t, full.Value(reads), got.Value(basis.On(reads), k)+held(k), 1e-7)
			for spring := range d.laws {
				force := got.Stiffness(spring) * (got.Value(basis.OnSpring(spring), k) + basis.Gap(spring, k))
				require.InDelta(t, full.SpringForce(spring), force, 1e-5*got.Stiffness(spring)*0.05)
			}
		}
	})
}

// Loads under which nothing moves make a basis without movements, in which nothing moves either.
func TestBasisOfNothing(t *testing.T) {
	t.Parallel()
	d := newDoubtful(1, 0.4)
	f, tip, doubts := d.build(make([]float64, d.unknowns))
	system, err := f.Factor()
	require.NoError(t, err)
	basis, err := system.NewBasis(doubts, []frame.Load{{}, {}}, nil)
	require.NoError(t, err)
	require.Zero(t, basis.Size())
	require.Zero(t, basis.Bound(d.draws(2, 1), 0))
	basis.Solve(d.draws(2, 1), func(_ int, got *frame.Drawn) {
		require.Zero(t, got.Value(basis.On(frame.Move(tip, r3.Vec{}, r3.Vec{Z: 1})), 1))
		require.Empty(t, got.Moved(1))
	})
}
