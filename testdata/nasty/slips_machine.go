package nasty

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// axisSlips are of guides and drives.
func axisSlips() []slip {
	const guide = `^      - \{rail: (.*?), on: (\w+), part: (\w+), +from: (\[[^\]]+\]), to: (\[[^\]]+\]), ` +
		`+carriages: (\[[^\]]+\])\}\n`
	return []slip{
		{"a guide twice", Fault, func(d *draw) bool {
			return d.put(guide, "$0$0") && d.say("guide|rail")
		}},
		{"two rails on one line", Told, func(d *draw) bool {
			return d.put(`from: \[-75, -165, 25\], to: \[-75, 165, 25\], +carriages: \[[^\]]+\]\}\n.*\n`,
				"from: [-75, -165, 25], to: [-75, -5, 25], carriages: [-85]}\n"+
					"      - {rail: profile-15, on: base, part: table, from: [-75, 5, 25], to: [-75, 165, 25], carriages: [85]}\n") &&
				d.put(`travel: \[-70, 70\]`, "travel: [-20, 20]") && d.put(`y: -?70`, "y: 0") && d.put(`y: -?70`, "y: 0") &&
				d.say("axis y", "line")
		}},
		{"rails in each other", Fault, func(d *draw) bool {
			return d.put(guide, "$0      - {rail: $1, on: $2, part: $3, from: '$4', to: '$5', carriages: $6}\n") && d.nudged() &&
				d.say("guide|rail")
		}},
		putting("carriages in each other", Fault, `carriages: \[([-\d.]+), [-\d.]+\]`, "carriages: [$1, $1]", "carriage"),
		putting("carriages beyond the rail", Fault, `carriages: \[([-\d.]+), [-\d.]+\]`, "carriages: [$1, 9000]", "9000"),
		putting("no carriages", Fault, `carriages: \[[^\]]+\]`, "carriages: []", "carriages"),
		putting("a rail across its axis", Fault, `(carries: .*\n(.*\n)*?.*from: \[[^\]]+\], to: )\[[^\]]+\]`, "$1[1, 2, 3]",
			"rail"),
		putting("a guide without a rail", Fault, `^(      - )\{rail: [\w-]+, `, "$1{", "rail"),
		putting("carries nothing", Fault, `carries: \[\w+\]`, "carries: []", "carries"),
		putting("carries what is not there", Fault, `carries: \[\w+\]`, "carries: [ghost]", "ghost"),
		putting("a drive of the wrong screw", Fault, `screw: 1[26]0[45]`, "screw: 9999", "9999"),
		{"a drive twice", Fault, func(d *draw) bool {
			return d.put(`^    drive: +# .*\n(.*)\n`, "    drive:\n$1\n$1\n") && d.say("drive")
		}},
		putting("a nut beyond its screw", Fault, `nut: \{part: (\w+), at: \d+`, "nut: {part: $1, at: 9000", "nut|9000"),
		{"an axis without a drive", Told, func(d *draw) bool {
			return d.put(`(?s)^    drive:.*?\n(  ?\w)`, "$1") && d.say("axis|loose|drive")
		}},
		{"an axis without guides", Told, func(d *draw) bool {
			return d.put(`(?s)^    guides:.*?\n(    \w)`, "$1") && d.say("axis|loose|guide")
		}},
		putting("a position of no axis", Fault, `^positions:\n`, "positions:\n  odd: {q: 3}\n", "q"),
		putting("a position beyond the travel", Fault, `^positions:\n`, "positions:\n  odd: {x: 9000}\n", "9000|x"),
		putting("screws of a nut in each other", Fault, `nut: \{part: (\w+), at: (\d+)`,
			"nut: {part: $1, at: $2, screws: {size: M6, circle: 9 mm}", "run into each other", "M6"),
		putting("a motor on no face", Fault, `motor: (frame-\d+)`, "motor: {size: $1, face: outside}", "outside"),
	}
}

// nudged turns the last guide that was put in by a few millimetres aside: along the axis that both its ends share.
func (d *draw) nudged() bool {
	m := regexp.MustCompile(`from: '\[([-\d.]+), ([-\d.]+), ([-\d.]+)\]', to: '\[([-\d.]+), ([-\d.]+), ([-\d.]+)\]'`)
	at := m.FindStringSubmatchIndex(d.text)
	if at == nil {
		return false
	}
	g := m.FindStringSubmatch(d.text)
	across := 0 // of the rails in these files, x is across those along y and z
	if g[1] != g[4] {
		across = 2
	}
	g[1+across] += " + 5"
	g[4+across] += " + 5"
	d.text = d.text[:at[0]] + fmt.Sprintf("from: [%s, %s, %s], to: [%s, %s, %s]", g[1], g[2], g[3], g[4], g[5], g[6]) +
		d.text[at[1]:]
	return true
}

// toolSlips are of tool, spindle and work.
func toolSlips() []slip {
	tool := `^(tool: \{part: \w+, at: \[[^,]+, .*?), (\d+)\]`
	return []slip{
		{"the tip inside the work", Told, func(d *draw) bool {
			m := regexp.MustCompile(`(?m)^work: \{part: (\w+)`).FindStringSubmatch(d.text)
			if m == nil {
				return false
			}
			i := slices.IndexFunc(d.plates(), func(p plate) bool { return p.name == m[1] })
			if i < 0 {
				return false
			}
			p := d.plates()[i]
			var low float64
			if !d.swap(tool+`, stickout: (\d+) mm`, func(g []string) string {
				var z, out float64
				fmt.Sscan(g[2], &z)
				fmt.Sscan(g[3], &out)
				low = (p.at[2] + p.at[5]) / 2
				return fmt.Sprintf("%s, %g], stickout: %g mm", g[1], low, out+z-low)
			}) {
				return false
			}
			return d.say(m[1], "inside")
		}},
		{"the work's spot aside of the tool", Told, func(d *draw) bool {
			m := regexp.MustCompile(`(?m)^work: \{part: (\w+)`).FindStringSubmatch(d.text)
			if m == nil {
				return false
			}
			i := slices.IndexFunc(d.plates(), func(p plate) bool { return p.name == m[1] })
			if i < 0 {
				return false
			}
			p := d.plates()[i]
			return d.put(`^work: \{part: (\w+).*\}`, fmt.Sprintf("work: {part: $1, at: [%g, %g, %g], height: 50 mm}", p.at[0]+1,
				p.at[1]+1, p.at[5])) && d.say("work", "aside")
		}},
		{"the tip far over the work", Told, func(d *draw) bool {
			return d.put(`^work: \{part: (\w+).*\}`, "work: {part: $1}") && d.put(tool, "$1, $2 + 200]") &&
				d.say("work|tool|tip")
		}},
		putting("tool and work on one part", Told, `^tool: \{part: (\w+)((.*\n)*)work: \{part: \w+`,
			"tool: {part: $1$2work: {part: $1", "work|tool"),
		putting("tool on a part that is not there", Fault, `^tool: \{part: \w+`, "tool: {part: ghost", "ghost"),
		putting("work on a part that is not there", Fault, `^work: \{part: \w+`, "work: {part: ghost", "ghost"),
		putting("work off its part", Fault, `^work: \{part: (\w+).*\}`, "work: {part: $1, at: [9000, 0, 0]}", "9000|work"),
		putting("work without a tool", Fault, `^tool: .*\n`, "", "tool|tip"),
		putting("a tool without work", Fault, `^work: .*\n`, "", "work"),
		putting("a shank longer than the tool", Fault, `stickout: (\d+) mm`,
			"stickout: $1 mm, shank: {diameter: 6, length: 500}",
			"shank"),
		putting("a tool far from its part", Fault, `^(tool: \{part: \w+, at: \[)[^,]+,`, "$1 9000,", "tool|tip|work"),
	}
}

// loadSlips are of loads, masses, points, paths and cuts.
func loadSlips() []slip {
	cut := func(name string, want Want, pattern, by string, words ...string) slip {
		return slip{name, want, func(d *draw) bool {
			return strings.Contains(d.text, "\ncuts:") && d.put(pattern, by) && d.say(words...)
		}}
	}
	return []slip{
		putting("a load of 1e9 N", Told, `^(  [\w ]+: +)\{tip: \[.*\]\}`, "$1{tip: [0, 1e9 N, 0]}", "load"),
		putting("a load of 1e9 N on a point", Told, `^(  [\w ]+: +\{at: [\w ]+, force: )\[.*\]\}`, "$1[0, 0, -1e9 N]}",
			"load"),
		putting("a load on nothing", Fault, `^loads:\n`, "loads:\n  odd: {at: ghost, force: [1, 0, 0]}\n", "ghost"),
		putting("a load that does nothing", Fault, `^loads:\n`, "loads:\n  odd: {}\n", "odd"),
		putting("a force in two directions", Fault, `\{tip: \[([-\d]+ N|0), `, "{tip: [", "tip"),
		putting("a load twice", Fault, `^loads:\n(  [\w ]+:.*)\n`, "loads:\n$1\n$1\n", "load|twice|second"),
		{"a point off its part", Fault, func(d *draw) bool {
			p, ok := d.plate()
			line := "  odd: {part: " + p.name + ", at: [9000, 0, 0]}"
			return ok && (d.section("points", line) || d.under("points", line)) && d.say("odd|9000")
		}},
		{"a mass below nothing", Fault, func(d *draw) bool {
			p, ok := d.plate()
			return ok && d.section("masses", fmt.Sprintf("  odd: {mass: -3 kg, part: %s, at: [%g, %g, %g]}", p.name, p.at[0],
				p.at[1],
				p.at[5])) && d.say("odd|mass")
		}},
		{"a mass far away", Told, func(d *draw) bool {
			p, ok := d.plate()
			return ok && d.section("masses", fmt.Sprintf("  odd: {mass: 3 kg, part: %s, at: [%g, %g, %g]}", p.name, p.at[0]+9000,
				p.at[1], p.at[5])) && d.say("odd")
		}},
		{"a mass in grams", Told, func(d *draw) bool {
			p, ok := d.plate()
			return ok && d.section("masses", fmt.Sprintf("  odd: {mass: 1200000 kg, part: %s, at: [%g, %g, %g]}", p.name,
				p.at[0],
				p.at[1], p.at[5])) && d.say("odd")
		}},
		putting("a path backwards", Fault, `\{along: (\w), from: ([^,]+), to: ([^,]+),`, "{along: $1, from: $3, to: $2,",
			"from|goes"),
		putting("a path off the bed", Fault, `\{along: (\w), from: ([^,]+), to: [^,]+,`, "{along: $1, from: $2, to: 9000,",
			"9000|path"),
		putting("a path without tolerance", Fault, `tolerance: \d+ um`, "tolerance: -5 um", "tolerance"),
		cut("a cut that does not feed", Fault, `feed(_per_tooth)?: [^,}]+`, "feed$1: 0", "feed"),
		cut("a cut of unknown stuff", Fault, `material: brass[\w-]*`, "material: unobtainium", "unobtainium"),
		cut("a cut wider than its tool", Told, `radial: [^,}]+`, "radial: 500 mm", "radial|wide"),
		cut("a cut deeper than its tool", Told, `axial: [^,}]+`, "axial: 500 mm", "axial|deep"),
	}
}
