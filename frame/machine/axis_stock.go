package machine

// AxisLine is one axis in the inventory.
type AxisLine struct {
	Name     string      `json:"name"`
	Along    string      `json:"along"`
	TravelMM [2]float64  `json:"travel_mm"`
	AtMM     float64     `json:"at_mm"`
	Moves    []string    `json:"moves"` // parts that go along
	Guides   []GuideLine `json:"guides"`
	Drives   []DriveLine `json:"drives"`
}

// GuideLine is one guide: a rail with its carriages, or a pair of sliding faces. Stiffnesses are of one carriage, as its
// size states them or as the builder gave them.
type GuideLine struct {
	Name          string       `json:"name"`
	Kind          string       `json:"kind"` // "profile-15", "own numbers", "slide"
	On            string       `json:"on"`
	Part          string       `json:"part"`
	PlacesMM      [][3]float64 `json:"places_mm"`
	PressNPerUm   *[3]float64  `json:"press_n_per_um"`   // low, typical, high
	MountedNPerUm *float64     `json:"mounted_n_per_um"` // up and down, with the screws of rail and carriage or the parts' seats; the least of them
}

// DriveLine is one drive.
type DriveLine struct {
	Kind        string     `json:"kind"` // "screw 1605", "belt", "rack", "stiffness"
	Part        string     `json:"part"`
	On          string     `json:"on"`
	StiffNPerUm float64    `json:"stiffness_n_per_um"` // where the axis stands
	EndsNPerUm  [2]float64 `json:"ends_n_per_um"`      // at the two ends of travel
	WhirlRPM    *float64   `json:"whirl_rpm"`
	BucklingN   *float64   `json:"buckling_n"`
}

// axisLines lists the axes.
func (m *Model) axisLines() (list []AxisLine) {
	for _, a := range m.axes {
		line := AxisLine{Name: a.axis.Name, Along: a.axis.Along.String(), TravelMM: a.axis.Travel, AtMM: a.axis.At, Guides: []GuideLine{}, Drives: []DriveLine{}}
		for _, p := range a.axis.Moves {
			line.Moves = append(line.Moves, m.bodies[p].part.Name)
		}
		for _, g := range a.guides {
			line.Guides = append(line.Guides, m.guideLine(g))
		}
		for _, d := range a.drives {
			line.Drives = append(line.Drives, d.line(m, a.axis))
		}
		list = append(list, line)
	}
	return list
}

func (m *Model) guideLine(g *madeGuide) GuideLine {
	w := g.guide
	line := GuideLine{Name: w.Name, Kind: "slide", On: g.on.part.Name, Part: g.part.part.Name, PlacesMM: [][3]float64{}}
	if w.Slide != nil {
		return line
	}
	line.Kind = "own numbers"
	press := [3]float64{}
	if w.Own != nil {
		press = [3]float64{w.Own.Press, w.Own.Press, w.Own.Press}
	} else if r, err := w.Rail.Stiffness(w.Preload); err == nil {
		line.Kind = w.Rail.Key + ", " + w.Preload.String()
		press = [3]float64{r.Low.Press, r.Typical.Press, r.High.Press}
	}
	for k := range press {
		press[k] /= micro
	}
	line.PressNPerUm = &press
	for _, c := range g.carriages {
		line.PlacesMM = append(line.PlacesMM, array(c.at))
		if k := m.links[c.links[2]].stiffness / micro; line.MountedNPerUm == nil || k < *line.MountedNPerUm {
			line.MountedNPerUm = &k
		}
	}
	return line
}

func (d *madeDrive) line(m *Model, a *FeedAxis) DriveLine {
	v := d.drive
	line := DriveLine{Kind: v.Kind.String(), Part: m.bodies[v.Part].part.Name, On: m.bodies[v.On].part.Name, StiffNPerUm: d.stiffness() / micro}
	for i, end := range a.Travel {
		k := d.stiffness()
		at := v.nutAt() + v.runs(a)*(end-a.At)
		switch v.Kind {
		case ByScrew:
			k, _ = v.Screw.Stiffness(at) // the nut stays on its screw: checkDriveEnds
		case ByBelt:
			if band, err := v.Belt.Stiffness(at); err == nil {
				k = band.Typical
			}
		}
		line.EndsNPerUm[i] = k / micro
	}
	if v.Kind == ByScrew {
		if v.Ball != nil {
			line.Kind += " " + v.Ball.Key
		}
		rpm, _ := v.whirl(a)
		buckling := v.buckling(a)
		line.WhirlRPM, line.BucklingN = &rpm, &buckling
	}
	return line
}
