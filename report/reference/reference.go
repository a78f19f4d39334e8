package reference

import (
	"fmt"
	"io"
	"strings"

	"tiploop/beam"
	"tiploop/frame/constant"
	"tiploop/frame/joint"
	"tiploop/report/number"
	"tiploop/report/table"
)

// A reference table is what the estimate takes for granted: each number with where it comes from.

// WriteMaterials writes the table of materials.
func WriteMaterials(w io.Writer, sources bool) error {
	p := newPage(w, sources)
	var rows [][]string
	for _, m := range beam.Materials() {
		yield := number.Absent
		if m.Yield > 0 {
			yield = number.Given(m.Yield)
		}
		rows = append(rows, []string{m.Key, over(constant.Between(m.ELow, m.E, m.EHigh), mpaPerGPa),
			number.Given(m.Nu), number.Significant(m.Density * kgM3PerTonneMM3),
			number.Significant(m.Expansion * umPerM), yield, m.Source})
	}
	p.Table([]table.Column{named("material"), measured("E low/typical/high, GPa"), measured("Poisson's ratio"),
		measured("density, kg/m³"), measured("growth, µm/(m·K)"), measured("yield, MPa"), named("source")}, rows)
	return p.Close()
}

// WriteScrews writes the table of screws.
func WriteScrews(w io.Writer, sources bool) error {
	p := newPage(w, sources)
	var rows [][]string
	for _, s := range joint.Screws() {
		_, breaking := joint.Clamping{Screw: s}.TorqueLimits()
		rows = append(rows, []string{s.Size, number.Given(s.Pitch), number.Significant(s.StressArea),
			number.Given(s.TapDrill), holes(s), number.Given(s.HeadDiameter),
			number.Given(s.HeadHeight), number.Given(s.Counterbore),
			number.Given(s.WasherDiameter) + " x " + number.Given(s.WasherThickness),
			number.Significant(s.ProofLoad() / constant.NewtonPerKN), number.Significant(breaking / constant.NmmPerNm)})
	}
	p.Table([]table.Column{named("screw"), measured("pitch, mm"), measured("stress area, mm²"), measured("tapping drill, mm"),
		measured("clearance hole fine/medium/coarse, mm"), measured("head, mm"), measured("head height, mm"),
		measured("counterbore, mm"),
		measured("washer, mm"), measured("proof load, kN"), measured("breaks at, N·m")}, rows)
	p.Line("")
	p.Say("Metric coarse thread, socket head, property class 8.8. Pitches after ISO 261, areas after ISO 898-1, " +
		"heads after ISO 4762, washers after ISO 7089, clearance holes after ISO 273 (medium unless you say otherwise). " +
		"Torques that break a screw are for friction 0.12; class 10.9 bears 1.3 and 12.9 1.5 times as much.")
	return p.Close()
}

// holes are the diameters of a screw's through holes.
func holes(s joint.Screw) string {
	var list []string
	for _, series := range joint.ClearanceSeries {
		mm, _ := s.ThroughHoleOf(series)
		list = append(list, number.Given(mm))
	}
	return strings.Join(list, " / ")
}

// WriteSurfaces writes the table of surface finishes.
func WriteSurfaces(w io.Writer, sources bool) error {
	p := newPage(w, sources)
	var rows [][]string
	for _, s := range joint.Surfaces() {
		mark := ""
		if s.Key == joint.DefaultSurface {
			mark = " (unless you say otherwise)"
		}
		rows = append(rows, []string{s.Key, s.Name + mark, s.RoughnessUm(), band(s.C), s.Source})
	}
	p.Table([]table.Column{named("surface"), named("what it is"), measured("Ra, µm"), measured("C stiff/typical/soft, µm"),
		named("source")}, rows)
	p.Line("")
	p.Say("Wide or wavy faces pressed together approach each other by C·p^0.5, p in MPa: the stiffness per area is " +
		"p^0.5/(0.5·C). That was measured to 2.5 MPa. Small flat faces are p/u0 stiff, u0 being 0.45·√2·1.25·Ra. " +
		"Under a screw the program takes the log mean of both, between the first law with its soft C and the " +
		"second with the roughest Ra of that finish; as-rolled and sawn faces are wavy and keep to the first. The " +
		"range is meant to hold nine of ten joints that people make. Ultrasound on small dry pieces in " +
		"laboratories reads up to four times beyond its stiff end, ground steel rings ten times.")
	return p.Close()
}

// WriteConstants writes every number of the joint model.
func WriteConstants(w io.Writer, sources bool) error {
	p := newPage(w, sources)
	p.constants(joint.Constants())
	return p.Close()
}

// constants writes numbers of a model, each with what it is.
func (p *page) constants(list []constant.Entry) {
	var rows [][]string
	for _, c := range list {
		rows = append(rows, []string{c.Key, c.Meaning, c.Unit, band(c.Band), c.Source})
	}
	p.Table([]table.Column{named("number"), named("what it is"), named("unit"), measured("low/typical/high"),
		named("source")}, rows)
}

// WriteDrilling writes the work that holes take.
func WriteDrilling(w io.Writer, sources bool) error {
	p := newPage(w, sources)
	var rows [][]string
	for _, kind := range []joint.HoleKind{joint.Counterbored, joint.Clearance, joint.Tapped, joint.Bored} {
		for _, d := range joint.Drillings(kind) {
			rows = append(rows, []string{kind.String(), d.Operation, fmt.Sprint(d.Count), band(d.Minutes), d.Source})
		}
		operations, minutes := joint.HoleWork(kind)
		rows = append(rows, []string{kind.String(), "in all", fmt.Sprint(operations), band(minutes), ""})
	}
	p.Table([]table.Column{named("hole"), named("work"), measured("operations"), measured("low/typical/high, min"),
		named("source")}, rows)
	return p.Close()
}

// band writes three numbers that belong together.
func band(b constant.Band) string {
	return number.Significant(b.Low) + " / " + number.Significant(b.Typical) + " / " + number.Significant(b.High)
}

// over writes a band in a larger unit, so many of the band's own.
func over(b constant.Band, unit float64) string {
	return band(constant.Between(b.Low/unit, b.Typical/unit, b.High/unit))
}

// moreConstants writes, below the tables of sizes, the numbers that belong to none of them.
func (p *page) moreConstants(list []constant.Entry) {
	p.Heading("Numbers that belong to no size")
	p.constants(list)
}
