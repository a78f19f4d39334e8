package structure

import (
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame"
	"tiploop/frame/answer"
	"tiploop/frame/constant"
	"tiploop/frame/machine"
)

// moment is one draw of a machine.
type moment struct {
	drawn  *frame.Drawn
	logs   []float64
	pushes [][]float64  // half solutions of what each load does to the tip
	c      [][]float64  // how far the tip moves against the work under unit forces, mm/N
	tip    [][3]float64 // the tip under each load, mm
	points [][][3]float64
	paths  [][][][3]float64 // of each path, under each of its loads: the tip at each place
	checks []float64        // what the dial reads in each check, mm
	// the tip put out of place by all misfits, mm
	misfits [3]float64
}

// offset is what the answer adds to a reading of the frame at typical numbers: what the metal round a gauge gives. It
// goes with the gauge's body.
type offset struct {
	source string // "": of no meshed body
	by     [3]float64
}

// offsetOf is what makes the typical reading of a gauge that of the answer, both mm.
func (s *sampler) offsetOf(g *gauge, answered, read [3]float64) offset {
	o := offset{by: less(answered, read)}
	if g.body >= 0 {
		o.source = s.model.solids[g.body].b.source()
	}
	return o
}

// offsetUnder is offsetOf under a load. Where something in it grows or is held elsewhere, most of what the answer adds is
// that, and stays.
func (s *sampler) offsetUnder(load int, g *gauge, answered, read [3]float64) offset {
	o := s.offsetOf(g, answered, read)
	if s.grows[load] {
		o.source = ""
	}
	return o
}

// plus adds an offset to what is read in a draw.
func (o offset) plus(v [3]float64, d *frame.Drawn) [3]float64 {
	times := 1.0
	if o.source != "" {
		times = d.Times(o.source)
	}
	for k := range v {
		v[k] += o.by[k] / times
	}
	return v
}

// readings are forms on the movements of the basis, and what the answer adds to them.
type readings struct {
	tip    [6][]float64
	local  [3]offset // by row
	tips   []offset  // of each load
	points []pointReading
	paths  []*pathReading
	checks []*checkReading
	// what the answer adds to the tip put out of place by all misfits
	misfits offset
}

// checkReading is a push by hand and what the dial reads.
type checkReading struct {
	told         *answer.Check
	push         handPush
	onPush, onTo []float64
	add          offset
}

// pointReading is a point of the machine that has a name.
type pointReading struct {
	name  string
	gauge *gauge
	on    [3][]float64
	loads []offset
}

// pathReading is the tip along a path, read at some of its places.
type pathReading struct {
	places []int // numbers of the travel's places
	stands []*gauge
	on     [][6][]float64
	loads  []pathLoad
}

// pathLoad is the tip along a path under one load.
type pathLoad struct {
	travel *answer.Travel
	load   int
	adds   []offset // of each place
}

// spotsRead is at how many places of a path the tip is read in every draw; between them its movement over the typical
// one is interpolated.
const spotsRead = 3

// findPaths finds the gauges of the paths on which the axes stand still.
func (s *sampler) findPaths() error {
	m := s.model
	of := map[[2]string]*answer.Travel{}
	for i := range s.result.Travel {
		t := &s.result.Travel[i]
		of[[2]string{t.Path, t.Load}] = t
	}
	for i := range m.machine.Travel {
		p := &m.machine.Travel[i]
		if len(p.Axes) > 0 {
			continue
		}
		path := &pathReading{}
		for _, n := range p.Loads {
			if t := of[[2]string{p.Name, m.machine.Loads[n].Name}]; t != nil {
				path.loads = append(path.loads, pathLoad{travel: t, load: n})
			}
		}
		if path.loads == nil {
			continue
		}
		var spots []*spot
		at := path.loads[0].travel.AtMM
		for k := range spotsRead {
			place := k * (len(at) - 1) / (spotsRead - 1)
			path.places = append(path.places, place)
			spots = append(spots, m.tool.work.workSpot(m.workAt(p, at[place])))
		}
		feet, err := m.gauges(m.tool.work, spots...)
		if err != nil {
			return err
		}
		for _, foot := range feet {
			path.stands = append(path.stands, foot.raised(m.tool.gauge.arm))
		}
		s.reads.paths = append(s.reads.paths, path)
	}
	return nil
}

// findChecks finds the pushes that the answer tells.
func (s *sampler) findChecks() error {
	pushes, err := s.model.allPushes()
	if err != nil {
		return err
	}
	for i := range s.result.Check {
		told := &s.result.Check[i]
		k := slices.IndexFunc(pushes, func(p handPush) bool {
			return p.place == told.Place && array(r3.Scale(-1, p.axis.Direction())) == told.Direction
		})
		s.reads.checks = append(s.reads.checks, &checkReading{told: told, push: pushes[k]})
	}
	return nil
}

// By how much more than of the tip may lack of a point, which is only read, and of the tip at the places of paths and what
// a dial reads.
const (
	pointSlack = 100
	placeSlack = 4
)

// aims are the forms that the basis has to know: the tip's, the points', and what the loads push at the places of paths.
func (s *sampler) aims() (list []frame.Aim) {
	m := s.model
	add := func(slack float64, forms ...frame.Form) {
		for _, f := range forms {
			list = append(list, frame.Aim{Form: f, Slack: slack})
		}
	}
	if m.tool != nil {
		tip := m.against(m.tool.gauge)
		add(1, tip[:3]...)
		if s.twisted() {
			add(1, tip[3:]...)
		}
	}
	for _, p := range m.points {
		if p.point.Name != "" {
			at := p.reads()
			add(pointSlack, at[:3]...)
		}
	}
	for _, p := range s.reads.paths {
		for _, g := range p.stands {
			at := m.against(g)
			for _, l := range p.loads {
				var pushed frame.Form
				for k, f := range tipPush(&m.machine.Loads[l.load]) {
					pushed = pushed.Plus(f, at[k])
				}
				add(placeSlack, pushed)
			}
		}
	}
	for _, c := range s.reads.checks {
		read := c.push.on.reads()
		add(placeSlack, c.push.on.gauge.forms[c.push.axis])
		add(placeSlack, read[c.push.axis])
	}
	return list
}

// read finds everything anew on the movements of the basis, and what is to be drawn.
func (s *sampler) read() {
	m, r := s.model, &s.reads
	paths := r.paths
	*r = readings{paths: paths, checks: r.checks, tips: make([]offset, len(m.machine.Loads))}
	if m.tool != nil {
		r.tip = s.onTip(m.tool.gauge)
	}
	for _, p := range m.points {
		if p.point.Name == "" {
			continue
		}
		read := pointReading{name: p.point.Name, gauge: p.gauge, loads: make([]offset, len(m.machine.Loads))}
		forms := p.reads()
		for k := range read.on {
			read.on[k] = s.basis.On(forms[k])
		}
		r.points = append(r.points, read)
	}
	for _, p := range paths {
		p.on = nil
		for i := range p.loads { // read at typical numbers anew
			p.loads[i].adds = nil
		}
		for _, g := range p.stands {
			p.on = append(p.on, s.onTip(g))
		}
	}
	for _, c := range r.checks {
		read := c.push.on.reads()
		c.onPush, c.onTo = s.basis.On(c.push.on.gauge.forms[c.push.axis]), s.basis.On(read[c.push.axis])
		c.add = offset{}
	}
	typical := make([]float64, len(s.unknowns))
	s.basis.Solve([][]float64{typical}, func(_ int, d *frame.Drawn) { s.compare(s.moment(d, typical)) })
	s.watch()
	s.list()
}

// onTip are the tip's movements against the work at a gauge on those of the basis, and its turns where a load twists.
func (s *sampler) onTip(work *gauge) (on [6][]float64) {
	for k, form := range s.model.against(work) {
		if k < 3 || s.twisted() {
			on[k] = s.basis.On(form)
		}
	}
	return on
}

// twisted tells whether any load twists the tip.
func (s *sampler) twisted() bool {
	return slices.ContainsFunc(s.model.machine.Loads, func(l machine.Load) bool { return twists(&l) })
}

// compare finds what the answer adds to the readings at typical numbers.
func (s *sampler) compare(typical *moment) {
	m, r := s.model, &s.reads
	if m.tool != nil {
		g := m.tool.gauge
		for d := range 3 {
			r.local[d] = s.offsetOf(g, array3(s.result.Tip.ComplianceUmPerN[d], 1/constant.UmPerMM),
				[3]float64{typical.c[d][0], typical.c[d][1], typical.c[d][2]})
		}
	}
	for i := range m.machine.Loads {
		l := &s.result.Loads[i]
		if l.TipUm != nil {
			r.tips[i] = s.offsetUnder(i, m.tool.gauge, array3(*l.TipUm, 1/constant.UmPerMM), typical.tip[i])
		}
		for k := range r.points {
			p := &r.points[k]
			p.loads[i] = s.offsetUnder(i, p.gauge, array3(l.PointsUm[p.name], 1/constant.UmPerMM), typical.points[k][i])
		}
	}
	for k, p := range r.paths {
		for i := range p.loads {
			l := &p.loads[i]
			l.adds = nil
			for n, place := range p.places {
				l.adds = append(l.adds, s.offsetUnder(l.load, p.stands[n],
					array3(l.travel.TipUm[place], 1/constant.UmPerMM), typical.paths[k][i][n]))
			}
		}
	}
	if s.misfits != none {
		r.misfits = offset{by: less(array3(*s.result.Misfits.Together.Moved.TipUm, 1/constant.UmPerMM), typical.misfits)}
	}
	for k, c := range r.checks {
		c.add = s.offsetOf(c.push.on.gauge, [3]float64{c.told.ReadingUm / constant.UmPerMM}, [3]float64{typical.checks[k]})
	}
}

// array3 is a triple times a factor.
func array3(v [3]float64, by float64) [3]float64 {
	for k := range v {
		v[k] *= by
	}
	return v
}

// moment reads one draw.
func (s *sampler) moment(d *frame.Drawn, logs []float64) *moment {
	m, r := s.model, &s.reads
	pushes := make([][]float64, len(m.machine.Loads))
	at := &moment{drawn: d, logs: logs, pushes: pushes, tip: make([][3]float64, len(m.machine.Loads))}
	if m.tool != nil {
		halves := s.halves(d, r.tip)
		at.c = make([][]float64, 3)
		for i := range at.c {
			at.c[i] = make([]float64, 3)
			for k := range at.c[i] {
				at.c[i][k] = floats.Dot(halves[i], halves[k])
			}
			local := r.local[i].plus([3]float64(at.c[i]), d)
			copy(at.c[i], local[:])
		}
		for i := range pushes {
			pushes[i] = pushed(halves, tipPush(&m.machine.Loads[i]))
			at.tip[i] = array3(r.tips[i].plus(s.moved(d, r.tip[:3], halves[:3], pushes[i], i), d), s.force(i, logs))
		}
	}
	for k := range r.points {
		p := &r.points[k]
		halves := s.halves(d, [6][]float64{p.on[0], p.on[1], p.on[2]})
		list := make([][3]float64, len(pushes))
		for i := range list {
			list[i] = array3(p.loads[i].plus(s.moved(d, p.on[:], halves[:3], pushes[i], i), d), s.force(i, logs))
		}
		at.points = append(at.points, list)
	}
	for _, p := range r.paths {
		list := make([][][3]float64, len(p.loads))
		for n := range p.stands {
			halves := s.halves(d, p.on[n])
			for i, l := range p.loads {
				at := s.moved(d, p.on[n][:3], halves[:3], pushed(halves, tipPush(&m.machine.Loads[l.load])), l.load)
				if l.adds != nil {
					at = l.adds[n].plus(at, d)
				}
				list[i] = append(list[i], array3(at, s.force(l.load, logs)))
			}
		}
		at.paths = append(at.paths, list)
	}
	if s.misfits != none {
		for k := range at.misfits {
			at.misfits[k] = d.Value(r.tip[k], s.misfits) + r.misfits.by[k]
		}
	}
	for _, c := range r.checks {
		reads := floats.Dot(d.Half(nil, c.onPush), d.Half(nil, c.onTo)) * c.told.ForceN
		at.checks = append(at.checks, c.add.plus([3]float64{reads}, d)[0])
	}
	return at
}

// force is by how much harder a load is than at typical numbers: that of a cut goes with its work's material.
func (s *sampler) force(load int, logs []float64) float64 {
	for i, c := range s.model.machine.Cuts {
		if *c.Load == load {
			return frame.Product(s.doubts.cuts[i], logs)
		}
	}
	return 1
}

// halves are half solutions of forms.
func (s *sampler) halves(d *frame.Drawn, on [6][]float64) (halves [6][]float64) {
	for k := range on {
		if on[k] != nil {
			halves[k] = d.Half(nil, on[k])
		}
	}
	return halves
}

// pushed is the half solution of a push on forms of which there are half solutions.
func pushed(halves [6][]float64, push [6]float64) []float64 {
	sum := make([]float64, len(halves[0]))
	for k, f := range push {
		if f != 0 {
			floats.AddScaled(sum, f, halves[k])
		}
	}
	return sum
}

// moved is how far forms move under a load: under its push on the tip and under the rest of it, mm.
func (s *sampler) moved(d *frame.Drawn, on, halves [][]float64, push []float64, load int) (v [3]float64) {
	for k := range v {
		if push != nil {
			v[k] = floats.Dot(halves[k], push)
		}
		if rest := s.rests[load]; rest >= 0 {
			v[k] += d.Value(on[k], rest)
		}
	}
	return v
}
