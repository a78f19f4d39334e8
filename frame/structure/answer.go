package structure

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"sync"

	"gonum.org/v1/gonum/mat"

	"tiploop/frame"
	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/machine"
	"tiploop/frame/solid"
	"tiploop/frame/yielding"
)

// Solve is SolveContext where nothing can be cancelled.
func (m *Model) Solve(extent Extent) (*answer.Result, error) {
	return m.SolveContext(context.Background(), extent)
}

// SolveContext returns the whole answer: every load case and, when extent is FullTravel, every path, of the work spot
// and of axes that run. A cancelled context comes back as its error, and so does an extent that there is not.
func (m *Model) SolveContext(ctx context.Context, extent Extent) (*answer.Result, error) {
	if extent != TipOnly && extent != FullTravel {
		return nil, fmt.Errorf("Extent(%d): a model is solved to the extent TipOnly or FullTravel", int(extent))
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	r, err := m.solveStanding(extent)
	if err != nil {
		return nil, err
	}
	if r.Misfits, err = m.misfitAnswer(ctx, r.Carriages); err != nil {
		return r, err
	}
	r.Notes = append(r.Notes, misfitNotes(r.Misfits)...)
	if extent != FullTravel {
		return r, nil
	}
	if err := m.builder.follow(ctx, m.machine, r); err != nil {
		return nil, err
	}
	loseAlong(r)
	return r, nil
}

// solveStanding answers every load case and, when extent is FullTravel, every path on which all axes stand still.
func (m *Model) solveStanding(extent Extent) (*answer.Result, error) {
	inv := m.Inventory()
	r := &answer.Result{Name: m.name(), Detail: m.detail.String(), Shares: []answer.Share{},
		Screws: []answer.ScrewLoad{}, Grounds: []answer.Reaction{}, Hand: []answer.Hand{}, Stress: []answer.Stress{},
		Solid: m.solidSizes(), MassKg: inv.MassKg, Holes: inv.Holes, Notes: inv.Notes, Against: m.stands()}
	if m.tool != nil {
		tip, err := m.tipStiffness()
		if err != nil {
			return nil, err
		}
		r.Tip = tip
	}
	if err := m.answerLoads(r); err != nil {
		return nil, err
	}
	if err := m.lose(r); err != nil {
		return nil, err
	}
	r.AtMM = m.positions()
	r.Notes = slices.Concat(r.Notes, answer.LargeNotes(r.Loads), m.rigidNotes(r.Tip), alikeNotes(r.Loads),
		m.axisNotes(r.Drives))
	r.Notes = append(r.Notes, m.ratingNotes(r)...)
	if r.Loads == nil {
		r.Loads = []answer.LoadResult{}
	}
	if err := m.answerCuts(r); err != nil {
		return nil, err
	}
	if extent == FullTravel && m.tool != nil {
		travel, err := m.travel()
		if err != nil {
			return nil, err
		}
		r.Travel = travel
	}
	if err := finite(r); err != nil {
		return nil, err
	}
	return r, nil
}

// answerCuts works out what the cuts do: the tip's compliance serves all of them.
func (m *Model) answerCuts(r *answer.Result) error {
	r.Cuts = []answer.CutResult{}
	if len(m.machine.Cuts) == 0 {
		return nil
	}
	cuts, notes, err := yielding.Answer(m.machine, m.compliance(m.tool.gauge))
	r.Cuts, r.Notes = cuts, append(r.Notes, notes...)
	return err
}

// answerLoads answers every load case, and with them, for together they take less, the pushes by hand.
func (m *Model) answerLoads(r *answer.Result) error {
	loads := make([]*machine.Load, len(m.machine.Loads))
	for i := range loads {
		loads[i] = &m.machine.Loads[i]
	}
	pushes, err := m.handPushes()
	if err != nil {
		return err
	}
	pushed, trials := m.withPushes(pushes)
	all := slices.Concat(loads, trials)
	solutions, failed, err := pushed.solveAll(all, m.tool.gauges())
	if err != nil {
		return fmt.Errorf("load %s: %w", all[failed].Name, err)
	}
	for i, p := range pushes {
		if c := pushed.check(p, trials[i], solutions[len(loads)+i]); c != nil {
			r.Check = append(r.Check, *c)
		}
	}
	for i, l := range loads {
		solution := solutions[i]
		read := m.readLoad(l, solution)
		shares, held, err := m.shares(l, solution)
		if err != nil {
			return fmt.Errorf("load %s: %w", l.Name, err)
		}
		read.MeshErrorPercent = held
		r.Loads, r.Shares = append(r.Loads, read), append(r.Shares, shares...)
		r.Screws = append(r.Screws, m.screwLoads(l, solution.Solution)...)
		r.Grounds = append(r.Grounds, m.reactions(l, solution.Solution)...)
		r.Carriages = append(r.Carriages, m.carriageLoads(l, solution.Solution)...)
		r.Drives = append(r.Drives, m.driveLoads(l, solution.Solution)...)
		r.Hand = append(r.Hand, m.byHand(l, solution.Solution)...)
		r.Stress = append(r.Stress, m.stresses(l, solution)...)
	}
	return nil
}

// AsDrawn is the name of the one option of a model solved without one.
const AsDrawn = "as drawn"

// name is that of the option.
func (m *Model) name() string { return cmp.Or(m.machine.Option, AsDrawn) }

// Extent is how much [Model.Solve] works out.
type Extent int

// The extents.
const (
	TipOnly    Extent = iota // the load cases with the work where it is drawn
	FullTravel               // and every path of travel, of the work spot and of axes
)

// tipStiffness is the compliance of the tip against the work and what follows from it. Stiffness along an axis is force
// over movement along the force with the other directions free to give way.
func (m *Model) tipStiffness() (*answer.Tip, error) {
	c := m.compliance(m.tool.gauge)
	t := &answer.Tip{}
	sym := mat.NewSymDense(3, nil)
	for i := range 3 {
		for j := range 3 {
			mean := (c[i][j] + c[j][i]) / 2 // equal but for rounding (Maxwell, Betti)
			t.ComplianceUmPerN[i][j] = mean * constant.UmPerMM
			sym.SetSym(i, j, mean)
		}
	}
	var eig mat.EigenSym
	if !eig.Factorize(sym, true) {
		return nil, fmt.Errorf("the tip's compliance has no principal directions")
	}
	values := eig.Values(nil)
	var vectors mat.Dense
	eig.VectorsTo(&vectors)
	softest := [3]float64{vectors.At(0, 2), vectors.At(1, 2), vectors.At(2, 2)}
	t.StiffnessNPerUm = answer.Stiffness{
		X: nPerUm(sym.At(0, 0)), Y: nPerUm(sym.At(1, 1)), Z: nPerUm(sym.At(2, 2)),
		Softest: nPerUm(values[2]), SoftestDirection: pointed(softest),
	}
	return t, nil
}

// nPerUm turns a compliance in mm/N into a stiffness in N/µm.
func nPerUm(c float64) float64 { return 1 / (c * constant.UmPerMM) }

// noComponent is below which a component of a unit vector is what rounding left of none: the eigenvectors of a
// compliance are good to some 1e-12.
const noComponent = 1e-9

// pointed gives a direction a sign that does not depend on rounding: its largest component is positive, and components
// that are rounding noise are zero.
func pointed(v [3]float64) [3]float64 {
	k := 0
	for i := range v {
		if math.Abs(v[i]) > math.Abs(v[k])+stirring {
			k = i
		}
	}
	sign := math.Copysign(1, v[k])
	for i := range v {
		v[i] *= sign
	}
	for i := range v {
		if math.Abs(v[i]) < noComponent {
			v[i] = 0
		}
	}
	return v
}

func (m *Model) readLoad(l *machine.Load, s *state) answer.LoadResult {
	r := answer.LoadResult{Name: l.Name, PointsUm: map[string][3]float64{}, PointsRad: map[string][3]float64{},
		Residual: s.Residual, Bars: []answer.BarForces{}}
	for _, a := range l.Actions {
		r.OnTip = r.OnTip || a.Kind == machine.OnTip
	}
	if m.tool != nil {
		tool, work := m.tipAndWork(l, s, m.tool.gauge)
		r.Alike = muchAlike(tool, work)
		tip := less(tool, work)
		for k := range tip {
			tip[k] = plain(tip[k] * constant.UmPerMM)
		}
		size := norm(tip)
		r.TipUm, r.TipSizeUm = &tip, &size
	}
	for _, p := range m.points {
		if p.point.Name == "" {
			continue
		}
		var um, rad [3]float64
		moved := m.readPoint(l, s, p)
		for k := range um {
			um[k] = plain(moved[k] * constant.UmPerMM)
			rad[k] = plain(moved[3+k])
		}
		r.PointsUm[p.point.Name], r.PointsRad[p.point.Name] = um, rad
	}
	for _, g := range m.grounds {
		force, _ := m.reaction(g, s.Solution)
		for k, f := range array(force) {
			r.ReactionN[k] = plain(r.ReactionN[k] + f)
		}
	}
	for _, b := range m.bodies {
		if bar, ok := b.kind.(*barKind); ok {
			r.Bars = append(r.Bars, bar.endForces(s.Solution))
		}
	}
	return r
}

// plain replaces −0 by 0.
func plain(v float64) float64 { return v + 0 }

func norm(v [3]float64) float64 { return math.Sqrt(v[0]*v[0] + v[1]*v[1] + v[2]*v[2]) }

// balanced is how far the strain energy of all parts may be from the work of the load, as a share of it. The two are
// summed in different ways, and differ when a part's energy is lost or counted twice.
const balanced = 1e-6

// shares splits the work of a load among what bends, and tells how much of it the meshes may hold back, percent; nil
// without meshes. Loads with temperature, settlement or misfits do no such work.
func (m *Model) shares(l *machine.Load, s *state) (list []answer.Share, held *float64, err error) {
	for _, a := range l.Actions {
		if a.Kind == machine.Warming || a.Kind == machine.Settling || a.Kind == machine.Misfitting {
			return nil, nil, nil
		}
	}
	energy := map[string]float64{}
	for _, e := range s.Energy() {
		energy[e.Source] = e.Energy
	}
	more, doubt := m.split(energy, s.fields)
	work := s.Work() + more
	total := 0.0
	for _, source := range slices.Sorted(maps.Keys(energy)) {
		total += energy[source]
	}
	if !(math.Abs(total-work) <= balanced*math.Abs(work)) {
		found := fmt.Sprintf("the strain energy %.3g N·mm is not the work of the load, %.3g N·mm", total, work)
		for _, b := range m.bodies {
			if energy[b.source()] == slices.Max(slices.Collect(maps.Values(energy))) {
				return nil, nil, m.unevenAt(b, found)
			}
		}
		return nil, nil, errors.New(found + ": the structure is too unevenly stiff to be solved")
	}
	if total == 0 {
		return nil, nil, nil
	}
	if m.solids != nil {
		percent := 100 * doubt / total
		held = &percent
	}
	for _, source := range m.sources() {
		list = append(list, answer.Share{Load: l.Name, Source: source, Percent: 100 * energy[source] / total})
	}
	return list, held, nil
}

// split replaces the energy of every solid body by that of its field, and returns by how much their sum is more: what
// is pushed on a gauge or weighs inside a body strains it beyond what its nodes tell; and the sum of what their meshes
// may hold back.
func (m *Model) split(energy map[string]float64, fields []*solid.Field) (more, doubt float64) {
	own, doubts := make([]float64, len(fields)), make([]float64, len(fields))
	var wait sync.WaitGroup
	for i, f := range fields {
		wait.Go(func() { own[i], doubts[i] = f.Energy(), f.MeshDoubt() })
	}
	wait.Wait()
	for i, body := range m.solids {
		more += own[i] - energy[body.b.source()]
		doubt += doubts[i]
		energy[body.b.source()] = own[i]
	}
	return more, doubt
}

// sources are all that can bend, in the order of the model: parts, the tool, joints, grounds. Ideal supports store
// nothing and are left out.
func (m *Model) sources() (list []string) {
	for _, b := range m.bodies {
		list = append(list, b.source())
	}
	list = append(list, m.toolSources()...)
	sprung := map[string]bool{}
	for _, l := range m.links {
		sprung[l.source] = true
	}
	for _, j := range m.joints {
		if sprung[j.source()] {
			list = append(list, j.source())
		}
	}
	list = append(list, m.axisSources()...)
	for _, g := range m.grounds {
		if g.links != nil {
			list = append(list, g.source())
		}
	}
	return list
}

// screwLoads gives the worst screw of each joint.
func (m *Model) screwLoads(l *machine.Load, s *frame.Solution) (list []answer.ScrewLoad) {
	for _, j := range m.joints {
		var worst answer.ScrewLoad
		for _, screw := range j.screws {
			load := m.screwLoad(j, screw, s)
			if math.Max(load.SlipPercent, load.OpenPercent) >= math.Max(worst.SlipPercent, worst.OpenPercent) {
				worst = load
			}
		}
		if j.screws != nil {
			worst.Load, worst.Joint = l.Name, j.name
			list = append(list, worst)
		}
	}
	return list
}

func (m *Model) screwLoad(j *madeJoint, screw madeScrew, s *frame.Solution) answer.ScrewLoad {
	pull := s.SpringForce(m.links[screw.normal].spring)
	if j.touch.aBelow {
		pull = -pull // the link measures a against b along +normal: a below b pulls when it moves down
	}
	ring := m.ringLoad(j, screw, s.SpringForce)
	slip, open := screw.pinch.Use(screw.zone, ring)
	xx, xy, yy := screw.zone.Moments.Central()
	a := answer.ScrewLoad{
		PreloadN: screw.pinch.Preload, TensionN: plain(pull), ShearN: math.Hypot(ring.Shear[0], ring.Shear[1]),
		SlipPercent: 100 * slip, OpenPercent: 100 * open,
		LeastPreloadN: screw.pinch.LeastPreload, TwistNmm: math.Abs(ring.Twist),
		TiltNmm: math.Hypot(ring.Lift[0]*xx+ring.Lift[1]*xy, ring.Lift[0]*xy+ring.Lift[1]*yy),
	}
	if slip >= 1 {
		play := j.play()
		a.ShiftMM = &play.Shift
		if play.Turn > 0 {
			a.TurnRad = &play.Turn
		}
	}
	return a
}

// tooFarApart is why a solution has no numbers.
const tooFarApart = "the model's sizes and stiffnesses are too far apart"

// finite refuses an answer with a number that is none.
func finite(r *answer.Result) error {
	for _, l := range r.Loads {
		values := append([]float64{l.Residual}, l.ReactionN[:]...)
		if l.TipUm != nil {
			values = append(values, l.TipUm[:]...)
		}
		for _, p := range l.PointsUm {
			values = append(values, p[:]...)
		}
		for _, v := range values {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return fmt.Errorf("load %s: the solution is not a number; "+tooFarApart, l.Name)
			}
		}
	}
	for _, s := range r.Stress {
		if math.IsNaN(s.MPa) || math.IsInf(s.MPa, 0) {
			return fmt.Errorf("load %s: the stress in %s is not a number; "+tooFarApart, s.Load, s.Part)
		}
	}
	if r.Tip != nil {
		s := r.Tip.StiffnessNPerUm
		for _, v := range []float64{s.X, s.Y, s.Z, s.Softest} {
			if !(v > 0) || math.IsInf(v, 0) {
				return fmt.Errorf("the tip's stiffness came out as %g N/µm; "+tooFarApart, v)
			}
		}
	}
	return nil
}
