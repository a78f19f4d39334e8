package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
)

// cuts says what each cut costs and how deep it may go.
func (p *page) cuts(r answer.Result) {
	if len(r.Cuts) == 0 {
		return
	}
	p.Heading("What the cuts cost")
	var rows [][]string
	for _, c := range r.Cuts {
		p.Item("  - ", cutInWords(c)+" "+costInWords(c))
		rows = append(rows, cutRows(c)...)
	}
	p.Table([]column{named("cut"), named("what"), measured("typical"), measured("low"), measured("high")}, rows)
	p.Say("Of a surface: + metal left standing, - too much taken, in the moments in which a tooth makes it. Low and " +
		"high are with the work material's force at either end of its scatter. A light machine follows the force of every " +
		"tooth, a heavy one stands where their mean pushes it: the truth lies between. A machine that rings at the " +
		"rate of the teeth (chatter) moves more, and thin cutters break: neither is looked at.")
}

// cutInWords says what a cut is.
func cutInWords(c answer.CutResult) string {
	what := c.Mode
	switch {
	case c.RadialMM == nil || c.AxialMM == nil:
		what = fmt.Sprintf("%s %s mm", c.Mode, number.Length(c.DiameterMM))
	case c.Mode == "slot":
		what = fmt.Sprintf("slot %s mm wide and %s mm deep", number.Length(*c.RadialMM), number.Length(*c.AxialMM))
	default:
		if c.Mode != "centred" {
			what += " milling"
		}
		what += fmt.Sprintf(" %s mm wide and %s mm deep", number.Length(*c.RadialMM), number.Length(*c.AxialMM))
	}
	return fmt.Sprintf("%s: %s in %s, the tool going %s at %s mm/min and %s rpm (%s mm a tooth, %s m/min).",
		phrase.Quoted(c.Name), what, c.Material, phrase.Way(c.FeedDirection), short(c.FeedMMMin), short(c.SpeedRPM),
		short(c.PerToothMM), short(c.SpeedMMin))
}

// short writes a number with three significant digits, or all before the point, and no zeros behind it.
func short(v float64) string {
	if v >= 100 {
		return number.Given(math.Round(v))
	}
	s := number.Significant(v)
	if strings.Contains(s, ".") && !strings.Contains(s, "e") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// costInWords says how far a cut is off, and how deep it may be.
func costInWords(c answer.CutResult) string {
	worst := phrase.WorstSurface(c.Typical)
	says := fmt.Sprintf("The tip moves up to %s µm.", number.Significant(c.Typical.MovementUm))
	if worst != nil {
		says += fmt.Sprintf(" Worst is the %s: %s.", worst.Surface, phrase.Surface(*worst))
	}
	if !(c.ToleranceUm > 0) {
		return says
	}
	kept := "within"
	if math.Abs(c.Typical.NormalUm) > c.ToleranceUm {
		kept = "beyond"
	}
	says += fmt.Sprintf(" That is %s the tolerance of %s µm.", kept, number.Given(c.ToleranceUm))
	t := c.Typical
	if t.DeepestMM == nil || c.Low.DeepestMM == nil || c.High.DeepestMM == nil {
		return says
	}
	return says + fmt.Sprintf(" All else kept it may be %s deep (%s to %s); then %s.",
		depthInWords(*t.DeepestMM), number.Significant(min(*c.Low.DeepestMM, *c.High.DeepestMM)),
		depthInWords(max(*c.Low.DeepestMM, *c.High.DeepestMM)), phrase.DepthEnd(t.DeepestBy)+
			", unless chatter or a broken cutter does sooner")
}

func depthInWords(mm float64) string { return number.Significant(mm) + " mm" }

// cutRows are the lines of a cut in the table.
func cutRows(c answer.CutResult) (rows [][]string) {
	row := func(what string, of func(answer.CutLevel) string) {
		rows = append(rows, []string{c.Name, what, of(c.Typical), of(c.Low), of(c.High)})
	}
	row("peak force, N", func(l answer.CutLevel) string { return number.Significant(l.PeakSizeN) })
	row("mean torque, N·mm", func(l answer.CutLevel) string { return number.Significant(l.TorqueNmm) })
	row("power at the motor, W", func(l answer.CutLevel) string { return number.Significant(l.MotorPowerW) })
	row("tip moves at most, µm", func(l answer.CutLevel) string { return number.Significant(l.MovementUm) })
	row("tip along the feed, µm", func(l answer.CutLevel) string { return reach(l.FeedUm[0], l.FeedUm[1]) })
	for i, s := range c.Typical.Surfaces {
		row(s.Surface+", µm", func(l answer.CutLevel) string {
			return reach(l.Surfaces[i].LeastUm, l.Surfaces[i].MostUm)
		})
		if c.RadialMM == nil {
			continue // a drill pushes evenly
		}
		row(s.Surface+" under the mean force, µm", func(l answer.CutLevel) string {
			return number.Significant(l.Surfaces[i].MeanUm)
		})
	}
	if c.Typical.DeepestMM != nil {
		row(fmt.Sprintf("deepest within %s µm, mm", number.Given(c.ToleranceUm)), func(l answer.CutLevel) string {
			if l.DeepestMM == nil {
				return absent
			}
			return number.Significant(*l.DeepestMM)
		})
	}
	return rows
}

// reach writes the least and the most of something; one number where they are alike at the digits shown.
func reach(least, most float64) string {
	floor := number.NoiseInVector * max(math.Abs(least), math.Abs(most))
	a, b := number.Significant(number.WithoutRounding(least, floor)),
		number.Significant(number.WithoutRounding(most, floor))
	if a == b {
		return a
	}
	return a + " to " + b
}

// cutNames are the cuts of all options.
func cutNames(options []answer.Result) (names []string) {
	for _, r := range options {
		for _, c := range r.Cuts {
			if !slices.Contains(names, c.Name) {
				names = append(names, c.Name)
			}
		}
	}
	return names
}

// cutLine is something of a cut; nothing is drawn of it by itself.
func cutLine(name, what, unit string, value func(answer.CutResult) (float64, bool)) comparedLine {
	return comparedLine{what: what, unit: unit, value: func(r answer.Result) (float64, bool) {
		i := slices.IndexFunc(r.Cuts, func(c answer.CutResult) bool { return c.Name == name })
		if i < 0 {
			return 0, false
		}
		return value(r.Cuts[i])
	}, write: number.Significant}
}

// depthLine is how deep a cut may be.
func depthLine(name string) comparedLine {
	l := cutLine(name, "deepest "+phrase.Quoted(name)+" within its tolerance", "mm",
		func(c answer.CutResult) (float64, bool) {
			if c.Typical.DeepestMM == nil {
				return 0, false
			}
			return *c.Typical.DeepestMM, true
		})
	l.known = func(r answer.Result) *answer.Range { return r.DepthRange(name) }
	return l
}

// cutLines are how far each cut's surfaces are off, and how deep it may be.
func cutLines(options []answer.Result) (lines []comparedLine) {
	for _, name := range cutNames(options) {
		lines = append(lines, cutLine(name, "surfaces of "+phrase.Quoted(name)+" off by", "µm",
			func(c answer.CutResult) (float64, bool) { return math.Abs(c.Typical.NormalUm), true }), depthLine(name))
	}
	return lines
}

// compareCuts files how far the surfaces of each cut are off.
func (c *changes) compareCuts(first, r answer.Result) {
	for _, a := range first.Cuts {
		for _, b := range r.Cuts {
			if a.Name != b.Name {
				continue
			}
			was, is := math.Abs(a.Typical.NormalUm), math.Abs(b.Typical.NormalUm)
			if differs(was, is) {
				c.file(was-is, fmt.Sprintf("surfaces of %s off by %s µm %s", phrase.Quoted(a.Name),
					number.Significant(math.Abs(is-was)), phrase.MoreOrLess(is-was)), "")
			}
		}
	}
}

// cutHeads are the heads of a cut's columns in a CSV; none in an answer without cuts.
func cutHeads(options []answer.Result) []string {
	if !slices.ContainsFunc(options, func(r answer.Result) bool { return len(r.Cuts) > 0 }) {
		return nil
	}
	var heads []string
	for _, level := range []string{"typical", "low", "high"} {
		for _, what := range []string{"peak_n", "torque_n_mm", "motor_power_w", "movement_um", "feed_least_um",
			"feed_most_um", "normal_um", "deepest_mm"} {
			heads = append(heads, "cut_"+level+"_"+what)
		}
	}
	return heads
}

// cutCells are a cut's values in the row of its load; as many blanks in the row of any other.
func cutCells(r answer.Result, load string, heads []string) []string {
	i := slices.IndexFunc(r.Cuts, func(c answer.CutResult) bool { return c.Load == load })
	if i < 0 {
		return blanks(len(heads))
	}
	var cells []string
	for _, l := range []answer.CutLevel{r.Cuts[i].Typical, r.Cuts[i].Low, r.Cuts[i].High} {
		cells = append(cells, one(l.PeakSizeN), one(l.TorqueNmm), one(l.MotorPowerW), one(l.MovementUm),
			one(l.FeedUm[0]), one(l.FeedUm[1]), one(l.NormalUm), perhaps(l.DeepestMM))
	}
	return cells
}
