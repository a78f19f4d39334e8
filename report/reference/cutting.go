package reference

import (
	"io"

	"tiploop/frame/cutting"
	"tiploop/report/number"
	"tiploop/report/table"
)

// WriteCutting writes the tables of what materials take to cut: Kienzle's numbers, coefficients for milling, usual
// speeds and feeds, and the numbers common to all.
func WriteCutting(w io.Writer, sources bool) error {
	p := newPage(w, sources)
	var specific, chips, edges, usual [][]string
	for _, m := range cutting.Materials() {
		k := m.Kienzle
		specific = append(specific, []string{m.Key, m.Name, band(k.Kc11), band(k.M), span(k.ChipMM), k.Source})
		if e := m.Edge; e != nil {
			chips = append(chips, []string{m.Key, band(e.Ktc), band(e.Krc), band(e.Kac), span(e.ChipMM), e.Source})
			edges = append(edges, []string{m.Key, band(e.Kte), band(e.Kre), band(e.Kae)})
		}
		usual = append(usual, []string{m.Key, span(m.SpeedMMin), span(m.FeedShare), m.UsualSource})
	}
	p.Line("Specific cutting force, low/typical/high")
	p.Table([]table.Column{named("material"), named("what it is"), measured("k_c1.1, MPa"), measured("m"),
		measured("chips, mm"), named("source")}, specific)
	p.Line("")
	p.Say("The force along the cut, over the chip's section, is k_c1.1·h^−m with the chip's thickness h in mm. Chips " +
		"are those the numbers hold for.")
	p.Heading("Coefficients for milling: of the chip, low/typical/high")
	p.Table([]table.Column{named("material"), measured("K_tc, MPa"), measured("K_rc, MPa"), measured("K_ac, MPa"),
		measured("chips, mm"), named("source")}, chips)
	p.Heading("Coefficients for milling: of the edge, low/typical/high")
	p.Table([]table.Column{named("material"), measured("K_te, N/mm"), measured("K_re, N/mm"), measured("K_ae, N/mm")}, edges)
	p.Line("")
	p.Say("Forces per mm of edge are K_c·h + K_e: tangential t, radial r and along the edge a; both parts have " +
		"one source. Where they are known, low and typical forces come from them, high ones from whichever law " +
		"takes more.")
	p.Heading("Usual speeds and feeds")
	p.Table([]table.Column{named("material"), measured("speed, m/min"), measured("feed per tooth over diameter"),
		named("source")}, usual)
	p.Heading("Numbers that belong to no material")
	p.constants(cutting.Constants())
	return p.Close()
}

// span writes a range from its least to its greatest value.
func span(s cutting.Span) string { return number.Given(s.Least) + " to " + number.Given(s.Most) }
