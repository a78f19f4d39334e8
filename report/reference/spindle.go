package reference

import (
	"io"

	"tiploop/frame/constant"
	"tiploop/frame/spindle"
	"tiploop/report/table"
)

// WriteSpindles writes the tables of spindles and tool holders' seats, and the numbers of bearings, collets and
// cutters.
func WriteSpindles(w io.Writer, sources bool) error {
	p := newPage(w, sources)
	p.Line("Spindles, low/typical/high")
	var rows [][]string
	for _, c := range spindle.Classes() {
		k := c.Springs()
		rows = append(rows, []string{c.Key, c.Name, over(c.Radial, constant.UmPerMM), over(c.Axial, constant.UmPerMM),
			over(constant.Between(k.Low.Tilt, k.Typical.Tilt, k.High.Tilt), nmmPerKNm), band(c.Span), c.Source})
	}
	p.Table([]table.Column{named("spindle"), named("what it is"), measured("radial, N/µm"), measured("axial, N/µm"),
		measured("tilt, kN·m/rad"), measured("bearing span, mm"), named("source")}, rows)
	p.Line("")
	p.Say("At the nose, collet or taper in place. The tilt is that of a shaft on front and rear bearings a typical " +
		"span apart (rear_bearing).")

	p.Heading("Seats of tool holders, low/typical/high")
	rows = nil
	for _, t := range spindle.Tapers() {
		rows = append(rows, []string{t.Key, t.Name, over(t.Tilt, nmmPerKNm), t.Source})
	}
	p.Table([]table.Column{named("seat"), named("what it is"), measured("tilt, kN·m/rad"), named("source")}, rows)
	p.Heading("Bearings, collets and cutters")
	p.constants(spindle.CommonConstants())
	return p.Close()
}
