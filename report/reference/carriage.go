package reference

import (
	"fmt"
	"io"

	"tiploop/frame/constant"
	"tiploop/frame/guide"
	"tiploop/report/number"
	"tiploop/report/table"
)

// carriageTables are the rows of the tables of carriages.
type carriageTables struct{ shapes, rails, forces, moments, ratings [][]string }

func carriageRows() (t carriageTables, err error) {
	for _, c := range guide.Carriages() {
		k, err := c.Stiffness(guide.Light)
		if err != nil {
			return t, err
		}
		of := func(part func(guide.Stiffness) float64) constant.Band {
			return constant.Between(part(k.Low), part(k.Typical), part(k.High))
		}
		t.shapes = append(t.shapes, []string{c.Key, c.Kind.String(), number.Sizes([3]float64{c.Length, c.Width, c.Height}),
			pair(c.Rail.Width, c.Rail.Height), pair(c.HolesAlong, c.HolesAcross) + " " + c.Screw,
			number.Given(c.MassKg), number.Given(c.Rail.KgPerM), c.Shape})
		section, err := c.RailSection(steelNu)
		if err != nil {
			return t, err
		}
		t.rails = append(t.rails, []string{c.Key, number.Length(c.Rail.HolePitch), fmt.Sprintf("%d × %s", c.Rail.ScrewRows,
			c.Rail.Screw), number.Given(c.Rail.KgPerM), number.Significant(section.A), number.Significant(section.Iy),
			number.Significant(section.Iz), number.Significant(section.J)})
		t.forces = append(t.forces, []string{c.Key,
			over(of(func(s guide.Stiffness) float64 { return s.Press }), constant.UmPerMM),
			over(of(func(s guide.Stiffness) float64 { return s.Pull }), constant.UmPerMM),
			over(of(func(s guide.Stiffness) float64 { return s.Side }), constant.UmPerMM), c.Source})
		t.moments = append(t.moments, []string{c.Key,
			over(of(func(s guide.Stiffness) float64 { return s.Roll }), nmmPerKNm),
			over(of(func(s guide.Stiffness) float64 { return s.Pitch }), nmmPerKNm),
			over(of(func(s guide.Stiffness) float64 { return s.Yaw }), nmmPerKNm)})
		t.ratings = append(t.ratings, []string{c.Key, over(c.Dynamic, constant.NewtonPerKN), over(c.Static, constant.NewtonPerKN),
			c.RatingSource})
	}
	return t, nil
}

// WriteCarriages writes the tables of carriages and their rails: sizes, stiffness, ratings, and the numbers common to
// all.
func WriteCarriages(w io.Writer, sources bool) error {
	t, err := carriageRows()
	if err != nil {
		return err
	}
	p := newPage(w, sources)
	p.Line("Sizes of carriages and their rails")
	p.Table([]table.Column{named("carriage"), named("kind"), measured("long × wide × high, mm"),
		measured("rail wide × high, mm"), measured("holes along × across, mm"), measured("mass, kg"),
		measured("rail, kg/m"), named("source")}, t.shapes)
	p.Heading("Rails as they stiffen what they are screwed to")
	p.Table([]table.Column{named("carriage"), measured("screws every, mm"), named("screws"), measured("rail, kg/m"),
		measured("section, mm²"), measured("I out of the seat, mm⁴"), measured("I along it, mm⁴"),
		measured("J, mm⁴")}, t.rails)
	p.Line("")
	p.Say("Pitch and screws as the sizes; sections are worked out from a generic profile, a foot, a waist (rail_waist) " +
		"and a head in shares of the rail's height, common practice. Of a round rail the shaft counts, not its support; " +
		"mass is that of both.")
	p.Heading("Stiffness of one carriage at light preload against forces, low/typical/high")
	p.Table([]table.Column{named("carriage"), measured("press, N/µm"), measured("pull, N/µm"), measured("side, N/µm"),
		named("source of press")}, t.forces)
	p.Line("")
	p.Say("Press is onto the rail, pull off it, side across it. Pull and side are shares of press (pull_ratio, " +
		"side_ratio).")
	p.Heading("The same against moments, low/typical/high")
	p.Table([]table.Column{named("carriage"), measured("roll, kN·m/rad"), measured("pitch, kN·m/rad"),
		measured("yaw, kN·m/rad")}, t.moments)
	p.Line("")
	p.Say("Those of profile rails come from rows of balls that give evenly (loaded_share, row_lever). A bush turns " +
		"freely about its rail; its pitch and yaw have the source of its press.")
	p.Heading("Load ratings, low/typical/high")
	p.Table([]table.Column{named("carriage"), measured("dynamic C for 50 km, kN"), measured("static C0, kN"),
		named("source")}, t.ratings)
	p.moreConstants(guide.CommonConstants())
	return p.Close()
}

// steelNu is Poisson's ratio of steel; what is shown of a section does not depend on it.
const steelNu = 0.3

// pair writes two measures of one thing, mm.
func pair(a, b float64) string { return number.Length(a) + " × " + number.Length(b) }
