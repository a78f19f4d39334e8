package reference

import (
	"fmt"
	"io"
	"math"
	"slices"

	"tiploop/frame/constant"
	"tiploop/frame/drive"
	"tiploop/report/number"
	"tiploop/report/table"
)

// WriteDrives writes the tables of ball screws, lead screws, their support units and motors, of the flanges of these, and
// the numbers common to all.
func WriteDrives(w io.Writer, sources bool) error {
	p := newPage(w, sources)
	p.ballScrews()
	p.leadScrews()
	p.supportUnits()
	p.steppers()
	p.flanges()
	p.moreConstants(drive.CommonConstants())
	return p.Close()
}

// ballScrews lists their cores, nuts and ratings.
func (p *page) ballScrews() {
	p.Line("Ball screws, rolled")
	var cores, ratings [][]string
	for _, s := range drive.BallScrews() {
		cores = append(cores, []string{s.Key, number.Length(s.Diameter), number.Length(s.Lead), band(s.Root),
			s.RootSource, number.Significant(s.CatalogueNut / constant.UmPerMM), s.NutSource})
		ratings = append(ratings, []string{s.Key, over(s.Dynamic, constant.NewtonPerKN), over(s.Static, constant.NewtonPerKN),
			s.RatingSource})
	}
	p.Table([]table.Column{named("screw"), measured("diameter, mm"), measured("lead, mm"),
		measured("core low/typical/high, mm"), named("source of the core"), measured("K of the nut, N/µm"),
		named("source of K")}, cores)
	p.Line("")
	p.Say("K is the catalogue's for a single nut at a load of 0.3 C_a. In its seat at a light preload a nut has a " +
		"share of it (nut_in_service).")
	p.Heading("Load ratings of ball screws, low/typical/high")
	p.Table([]table.Column{named("screw"), measured("dynamic C_a, kN"), measured("static C_0a, kN"), named("source")},
		ratings)
}

// leadScrews lists them with their nuts.
func (p *page) leadScrews() {
	p.Heading("Lead screws, trapezoidal thread")
	var rows [][]string
	for _, s := range drive.LeadScrews() {
		rows = append(rows, []string{s.Key, number.Length(s.Diameter), number.Length(s.Pitch), number.Length(s.Lead),
			band(s.Root), over(s.Nut(drive.BronzeNut), constant.UmPerMM), over(s.Nut(drive.PlasticNut), constant.UmPerMM),
			s.Source})
	}
	p.Table([]table.Column{named("screw"), measured("diameter, mm"), measured("pitch, mm"), measured("lead, mm"),
		measured("core low/typical/high, mm"), measured("bronze nut, N/µm"), measured("plastic nut, N/µm"),
		named("source of the core")}, rows)
	p.Line("")
	p.Say("Nuts low/typical/high, with their play taken up, in proportion to the screw's diameter " +
		"(lead_nut_per_diameter, plastic_nut).")
}

// supportUnits lists the bearings of screws.
func (p *page) supportUnits() {
	p.Heading("Support units")
	var rows [][]string
	for _, u := range drive.SupportUnits() {
		play := number.Absent
		if u.Play.High > 0 {
			play = band(u.Play)
		}
		rows = append(rows, []string{u.Key, u.Name, number.Length(u.Screw), over(u.Axial, constant.UmPerMM), play,
			over(u.Load, constant.NewtonPerKN), u.Source})
	}
	p.Table([]table.Column{named("unit"), named("what it is"), measured("usual screw, mm"), measured("along the screw, N/µm"),
		measured("play, mm"), measured("permitted load, kN"), named("source")}, rows)
}

// steppers lists motors.
func (p *page) steppers() {
	p.Heading("Motors")
	var rows [][]string
	for _, m := range drive.Steppers() {
		stiffness := m.Hold.Scaled(drive.HoldingStiffness(1)) // in proportion to the torque
		rows = append(rows, []string{m.Key, m.Name, over(m.Hold, constant.NmmPerNm), over(stiffness, constant.NmmPerNm),
			over(m.Rotor, tonneMM2PerGramCM2), m.Source})
	}
	p.Table([]table.Column{named("motor"), named("what it is"), measured("holding torque, N·m"),
		measured("stiffness at full current, N·m/rad"), measured("rotor's inertia, g·cm²"), named("source")}, rows)
}

// flanges lists how nuts, support units and motors are screwed on: sizes alike in a line.
func (p *page) flanges() {
	p.Heading("Flanges of nuts, support units and motors, for their holes")
	var rows [][]string
	add := func(of, size string, f drive.Flange, ok bool) {
		if !ok {
			return
		}
		in := "the part"
		if f.Through {
			in = "the motor"
		}
		cells := []string{number.Length(f.Bore), fmt.Sprintf("%d × %s", len(f.At), f.Screw),
			number.Length(2 * math.Hypot(f.At[0][0], f.At[0][1])), in, f.Source}
		if n := len(rows); n > 0 && rows[n-1][0] == of && slices.Equal(rows[n-1][2:], cells) {
			rows[n-1][1] += ", " + size
			return
		}
		rows = append(rows, append([]string{of, size}, cells...))
	}
	for _, s := range drive.BallScrews() {
		f, ok := s.NutFlange()
		add("ball nut", s.Key, f, ok)
	}
	for _, s := range drive.LeadScrews() {
		f, ok := s.NutFlange()
		add("lead nut", s.Key, f, ok)
	}
	for _, u := range drive.SupportUnits() {
		f, ok := u.Flange()
		add("unit", u.Key, f, ok)
	}
	for _, s := range drive.Steppers() {
		f, ok := s.Flange()
		add("motor", s.Key, f, ok)
	}
	p.Table([]table.Column{named("what"), named("sizes"), measured("bore, mm"), named("screws"), measured("on a circle of, mm"),
		named("thread in"), named("source")}, rows)
	p.Line("")
	p.Say("Two or three screws stand on each side of a nut along the first of the face's two axes, those of a unit on the " +
		"two axes, those of a motor at the corners of a square. A motor in line with its screw stands on posts behind the bearing, " +
		"and its plate gets no bore for its pilot.")
}
