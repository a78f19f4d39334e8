package report

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"tiploop/frame/answer"
	"tiploop/report/number"
)

// writeCSV writes rows after a head that names each column with its unit.
func writeCSV(w io.Writer, from any, rows [][]string) error {
	if err := number.CheckFinite(from); err != nil {
		return err
	}
	rows[0] = csvHeads(rows[0])
	for _, row := range rows[1:] {
		for i, cell := range row {
			row[i] = harmless(cell)
		}
	}
	if err := csv.NewWriter(w).WriteAll(rows); err != nil {
		return fmt.Errorf("writing CSV: %w", err)
	}
	return nil
}

// harmless keeps a name from being taken for a formula where a spreadsheet opens the file: an apostrophe before what
// begins like one makes it text.
func harmless(cell string) string {
	if cell == "" || !strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
		return cell
	}
	if _, err := strconv.ParseFloat(cell, 64); err == nil {
		return cell
	}
	return "'" + cell
}

// xyz gives three heads: what, an axis, a unit.
func xyz(what, unit string) []string {
	return []string{what + "x_" + unit, what + "y_" + unit, what + "z_" + unit}
}

// three writes a vector's components, with 0 for those below floor and for those that are noise beside its size, as the
// text does.
func three(v [3]float64, floor float64) []string {
	var cells []string
	for _, c := range number.BesideNoise(v) {
		cells = append(cells, number.Full(number.WithoutRounding(c, floor)))
	}
	return cells
}

// extents are three measures that are no vector: the least of them says something beside the largest.
func extents(mm [3]float64) []string { return []string{one(mm[0]), one(mm[1]), one(mm[2])} }

// one writes a number, with 0 for noise, as the text does.
func one(v float64) string { return number.Full(number.WithoutRounding(v, number.Noise)) }

// blanks are the cells of values that an option does not have.
func blanks(n int) []string { return make([]string, n) }

// WriteTipCSV writes a row for each option, detail and load: the tip's stiffness and movement, each point's movement
// and rotation, each source's share of the movement, each part's stress, each guide's worst carriage and each drive
// against their ratings, and behind all that the ranges of what was drawn, the chances of what may not hold, and what a
// dial should read.
func WriteTipCSV(w io.Writer, a answer.Answer) error {
	details := eachDetail(a.Options)
	columns := tipColumnsOf(details)
	rows := [][]string{columns.head()}
	for _, r := range details {
		for _, l := range r.Loads {
			rows = append(rows, columns.row(r, l))
		}
	}
	return writeCSV(w, a, rows)
}

// tipColumns are what any of the options has, in the order in which it is met: a row of another one leaves blanks.
type tipColumns struct {
	points, sources, stressed []string // names of points and of sources, parts with a stress
	cuts                      []string // the heads of cuts
	guides, drives            []string
	lost                      []string // the heads of lost motion
	ranges                    tipRanges
}

// tipColumnsOf gathers them.
func tipColumnsOf(details []answer.Result) (c tipColumns) {
	add := func(names *[]string, name string) {
		if !slices.Contains(*names, name) {
			*names = append(*names, name)
		}
	}
	for _, at := range pointLoads(details) {
		add(&c.points, at.point)
	}
	for _, r := range details {
		for _, s := range r.Shares {
			add(&c.sources, s.Source)
		}
		for _, s := range r.Stress {
			add(&c.stressed, s.Part)
		}
	}
	c.cuts = cutHeads(details)
	c.guides, c.drives = ratingHeads(details)
	c.lost = lostHead("lost_motion_", details)
	c.ranges = tipRangesOf(details, c.points)
	return c
}

// head names the columns.
func (c tipColumns) head() []string {
	head := []string{"option", "load"}
	head = append(head, xyz("stiffness_", "n_per_um")...)
	head = append(head, "stiffness_softest_n_per_um")
	head = append(head, xyz("softest_direction_", "unit_vector")...)
	head = append(head, xyz("tip_", "um")...)
	head = append(head, "tip_size_um")
	for _, point := range c.points {
		head = append(head, xyz("point "+point+" ", "um")...)
		head = append(head, xyz("point "+point+" turn_", "rad")...)
	}
	head = append(head, xyz("reaction_", "n")...)
	head = append(head, "residual_ratio")
	for _, s := range c.sources {
		head = append(head, "share "+s+" percent")
	}
	for _, part := range c.stressed {
		head = append(head, "stress "+part+" mpa", "stress "+part+" edge_mpa", "stress "+part+" margin_to_yield_ratio")
	}
	head = append(head, c.cuts...)
	head = append(head, ratingHead(c.guides, c.drives)...)
	head = append(head, c.lost...)
	return append(append(head, "detail"), c.ranges.head()...)
}

// row is that of a load on an option.
func (c tipColumns) row(r answer.Result, l answer.LoadResult) []string {
	row := append([]string{r.Name, l.Name}, stiffnessCells(r.Tip)...)
	if r.Tip == nil {
		row = append(row, blanks(3)...)
	} else {
		row = append(row, three(r.Tip.StiffnessNPerUm.SoftestDirection, number.NoiseInVector)...)
	}
	if l.TipUm == nil {
		row = append(row, blanks(4)...)
	} else {
		row = append(row, append(three(*l.TipUm, number.Noise), one(number.Norm(*l.TipUm)))...)
	}
	for _, point := range c.points {
		row = append(row, pointCells(l.PointsUm, point, number.Noise)...)
		row = append(row, pointCells(l.PointsRad, point, number.NoiseInTurn)...)
	}
	row = append(append(row, three(l.ReactionN, number.Noise)...), number.Full(l.Residual))
	for _, source := range c.sources {
		row = append(row, shareCell(r, l.Name, source))
	}
	for _, part := range c.stressed {
		row = append(row, stressCells(r, l.Name, part)...)
	}
	row = append(row, cutCells(r, l.Name, c.cuts)...)
	row = append(row, ratingCells(r, l.Name, c.guides, c.drives)...)
	row = append(row, lostCells(l.LostMotionUm, c.lost)...)
	return append(append(row, r.Detail), c.ranges.cells(r, l)...)
}

// stiffnessCells are x, y, z and the softest direction's stiffness.
func stiffnessCells(tip *answer.Tip) []string {
	if tip == nil {
		return blanks(4)
	}
	s := tip.StiffnessNPerUm
	return []string{one(s.X), one(s.Y), one(s.Z), one(s.Softest)}
}

// pointCells are a point's three values; blank when it has none.
func pointCells(values map[string][3]float64, point string, floor float64) []string {
	v, ok := values[point]
	if !ok {
		return blanks(3)
	}
	return three(v, floor)
}

// shareCell is a source's share of a load; blank when it has none.
func shareCell(r answer.Result, load, source string) string {
	i := slices.IndexFunc(r.Shares, func(s answer.Share) bool { return s.Load == load && s.Source == source })
	if i < 0 {
		return ""
	}
	return number.Full(number.WithoutRounding(r.Shares[i].Percent, number.LeastShare))
}

// stressCells are a part's stress under a load, the largest at an edge and the margin to yield; blank what it has not.
func stressCells(r answer.Result, load, part string) []string {
	i := slices.IndexFunc(r.Stress, func(s answer.Stress) bool { return s.Load == load && s.Part == part })
	if i < 0 {
		return blanks(3)
	}
	s := r.Stress[i]
	return []string{one(s.MPa), perhaps(s.EdgeMPa), perhaps(s.TimesYield)}
}

// perhaps writes a number; blank when there is none.
func perhaps(v *float64) string {
	if v == nil {
		return ""
	}
	return one(*v)
}

// WriteShowCSV writes a row for each part, joint and ground, for the rails, carriages and screws of axes whose mass is
// known, those of one rail together, for each hole, each line of the cut list ("cut", its length, width and thickness as
// x, y and z) and each section of bar ("bar stock"). A joint's size is that of its contact. The worst stress of each part
// stands in columns of its own, where any is known, and so do places and sizes of holes.
func WriteShowCSV(w io.Writer, inv answer.Inventory) error {
	head := append([]string{"option", "what", "name", "kind", "material", "section", "on_part"}, xyz("size_", "mm")...)
	head = append(head, "mass_kg", "screw", "places_number", "preload_n", "zone_mm2", "pressure_mpa",
		"normal_stiffness_n_per_um", "tangential_stiffness_n_per_um", "through_in", "tapped_in", "surface", "shim")
	worst := worstOfParts(inv.Stress)
	if len(worst) > 0 {
		head = append(append(head, "stress_load", "stress_mpa"), xyz("stress_at_", "mm")...)
		head = append(append(head, "edge_mpa"), xyz("edge_at_", "mm")...)
		head = append(head, "yield_mpa", "margin_to_yield_ratio")
	}
	first := len(head) // of the holes' columns
	for _, h := range holeHead {
		head = append(head, "hole_"+h)
	}
	rows := [][]string{head}
	for _, l := range inv.Parts {
		row := append([]string{inv.Option, "part", l.Name, l.Kind, l.Material, l.Section, ""}, extents(l.SizeMM)...)
		rows = append(rows, append(append(append(row, one(l.MassKg)), blanks(11)...), worstCells(worst, l.Name)...))
	}
	for _, j := range inv.Joints {
		row := append([]string{inv.Option, "joint", j.Name, j.Kind, "", "", ""}, extents(extentOf(j.FromMM, j.ToMM))...)
		row = append(row, "", j.Screw, strconv.Itoa(len(j.PlacesMM)))
		if j.Screw == "" {
			row = append(row, blanks(5)...)
		} else {
			row = append(row, number.Full(j.PreloadN), number.Full(j.ZoneMM2), number.Full(j.PressMPa),
				number.Full(j.NormalNPerUm), number.Full(j.TangentNPerUm))
		}
		row = append(row, j.ThroughIn, j.TappedIn, j.Surface, j.Shim)
		rows = append(rows, append(row, worstCells(worst, "")...))
	}
	for _, g := range inv.Grounds {
		row := append([]string{inv.Option, "ground", g.Name, g.Kind, "", "", g.Part}, extents(extentOf(g.FromMM, g.ToMM))...)
		row = append(row, "", "", strconv.Itoa(len(g.PlacesMM)))
		rows = append(rows, append(append(row, blanks(9)...), worstCells(worst, "")...))
	}
	masses, _ := masses(inv)
	for _, l := range masses {
		row := append([]string{inv.Option, l.sort, l.what, l.kind, "", "", l.on}, extents(l.sizeMM)...)
		row = append(row, one(float64(l.pieces)*l.eachKg), "", strconv.Itoa(l.pieces))
		rows = append(rows, append(append(row, blanks(9)...), worstCells(worst, "")...))
	}
	for _, h := range inv.HoleList {
		row := append([]string{inv.Option, "hole", h.For, h.Kind, "", "", h.Part}, blanks(first-7)...)
		row[11] = h.Screw
		rows = append(rows, append(row, holeCells(h)...))
	}
	for _, c := range inv.CutList {
		row := append([]string{inv.Option, "cut", strings.Join(c.Parts, ", "), c.Kind, c.Material, c.Section, ""},
			extents(c.SizeMM)...)
		rows = append(rows, append(row, one(c.MassKg), "", strconv.Itoa(len(c.Parts))))
	}
	for _, b := range inv.BarStock {
		row := append([]string{inv.Option, "bar stock", "", "", b.Material, b.Section, ""},
			extents([3]float64{b.LengthMM})...)
		rows = append(rows, append(row, one(b.MassKg), "", strconv.Itoa(b.Pieces)))
	}
	for i, row := range rows {
		rows[i] = append(row, blanks(len(head)-len(row))...)
	}
	return writeCSV(w, inv, rows)
}

// worstCells are the worst stress of a part, its place, the largest at an edge and its place, yield and margin; blank
// where there is none, and no cells at all where no part has a stress.
func worstCells(worst []answer.Stress, part string) []string {
	if len(worst) == 0 {
		return nil
	}
	i := slices.IndexFunc(worst, func(s answer.Stress) bool { return s.Part == part })
	if i < 0 {
		return blanks(11)
	}
	s := worst[i]
	cells := append([]string{s.Load, one(s.MPa)}, extents(s.AtMM)...)
	edge := blanks(3)
	if s.EdgeAtMM != nil {
		edge = extents(*s.EdgeAtMM)
	}
	cells = append(append(cells, perhaps(s.EdgeMPa)), edge...)
	return append(cells, perhaps(s.YieldMPa), perhaps(s.TimesYield))
}

// extentOf is the size of the box between two corners, whichever of them comes first.
func extentOf(from, to [3]float64) [3]float64 {
	return [3]float64{math.Abs(to[0] - from[0]), math.Abs(to[1] - from[1]), math.Abs(to[2] - from[2])}
}

// unitWords are the units of heads in letters that every program takes.
var unitWords = strings.NewReplacer("N/µm", "n_per_um", "N·mm", "n_mm", "µm", "um", "mm²", "mm2", "%", "percent",
	// marks between words
	"’", "", "'", "")

// csvHeads gives each head of a CSV as small ASCII letters, numbers and underscores, with its unit at the end:
// "tip_size_um". A letter with a mark loses it, one of another alphabet is told by its number; of heads that come out
// alike the later ones get one.
func csvHeads(heads []string) []string {
	list := make([]string, len(heads))
	taken := map[string]bool{}
	for i, h := range heads {
		name := csvHead(h)
		list[i] = name
		for n := 2; taken[list[i]]; n++ {
			list[i] = fmt.Sprintf("%s_%d", name, n)
		}
		taken[list[i]] = true
	}
	return list
}

// csvHead is one head.
func csvHead(head string) string {
	var b strings.Builder
	gap := false
	for _, r := range norm.NFKD.String(unitWords.Replace(head)) {
		switch {
		case unicode.Is(unicode.Mn, r):
			continue
		case r < unicode.MaxASCII && (unicode.IsLetter(r) || unicode.IsDigit(r)):
			if gap && b.Len() > 0 {
				b.WriteByte('_')
			}
			gap = false
			b.WriteRune(unicode.ToLower(r))
		case r > unicode.MaxASCII && unicode.IsLetter(r):
			if b.Len() > 0 {
				b.WriteByte('_')
			}
			fmt.Fprintf(&b, "u%x", r)
			gap = true
		default:
			gap = true
		}
	}
	return b.String()
}
