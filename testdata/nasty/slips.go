package nasty

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// slips are all ways to break a file.
func slips() []slip {
	return slices.Concat(keySlips(), wordSlips(), numberSlips(), partSlips(), barSlips(), materialSlips(), jointSlips(),
		groundSlips(), axisSlips(), toolSlips(), loadSlips(), valueSlips(), textSlips(), lineSlips())
}

// putting is a slip that replaces one match of a pattern; words must be said.
func putting(name string, want Want, pattern, by string, words ...string) slip {
	return slip{name, want, func(d *draw) bool { return d.put(pattern, by) && d.say(words...) }}
}

// keySlips are of keys that must be there.
func keySlips() []slip {
	var list []slip
	for _, k := range []struct{ key, pattern, by string }{
		{"material", `, material: [\w-]+`, ""},
		{"between", `between: (\[[^\]]+\])`, "around: $1"},
		{"size", `size: M\d+, `, ""},
		{"section", `, section: \{[^}]+\}`, ""},
		{"from", `plate: \{from: \[[^\]]+\], `, "plate: {"},
		{"to", `, to: \[[^\]]+\]\}, material`, "}, material"},
		{"part", `\{part: \w+, face`, "{face"},
		{"parts", `^parts:`, "pieces:"},
		{"machine", `^machine: .*\n`, ""},
		{"at", `^(tool: \{part: \w+), at: \[[^\]]+\]`, "$1"},
	} {
		list = append(list, putting("key "+k.key+" dropped", Fault, k.pattern, k.by, k.key))
	}
	return list
}

// wordSlips are of keys and names.
func wordSlips() []slip {
	return []slip{
		slip{"key mangled", Fault, func(d *draw) bool {
			var key, typed string
			return d.swap(`\b(material|between|screws|grounds|joints|parts|plate|section|bonded|surface|feet|stickout|diameter|`+
				`holder|flutes|carries|travel|guides|carriages|bearing|stiffness|machine|loads|work):`, func(g []string) string {
				key, typed = g[1], d.mangled(g[1])
				return typed + ":"
			}) && d.say(typed, key)
		}},
		slip{"key doubled", Fault, func(d *draw) bool {
			var key string
			return d.swap(`[{,] ((material|bonded|size|stickout|face|part): [\w-]+)[,}]`, func(g []string) string {
				key = g[2]
				return strings.Replace(g[0], g[1], g[1]+", "+g[1], 1)
			}) && d.say(key)
		}},
		slip{"section doubled", Fault, func(d *draw) bool {
			key := d.oneOf("joints", "parts", "grounds", "loads")
			d.text += "\n" + key + ":\n"
			return d.say(key)
		}},
		slip{"name mangled", Fault, func(d *draw) bool {
			var typed string
			return d.swap(`\b(aluminium-5083|steel|router-motor|collet|carbide|profile-15|milled|frame-23)\b([,}]|$)`,
				func(g []string) string {
					typed = d.mangled(g[1])
					return typed + g[2]
				}) && d.say(typed)
		}},
		slip{"joint of an unknown part", Fault, func(d *draw) bool {
			var typed string
			return d.swap(`between: \[(\w+), (\w+)\]`, func(g []string) string {
				typed = d.mangled(g[1])
				return "between: [" + typed + ", " + g[2] + "]"
			}) && d.say(typed)
		}},
		putting("aluminum", Fault, `material: aluminium-5083`, "material: aluminum", "aluminum", "aluminium"),
		putting("a word for a number", Fault, `from: \[[-\d.]+, `, "from: [left, ", "left"),
		putting("two coordinates", Fault, `from: \[([-\d.]+), [-\d.]+, `, "from: [$1, ", "from"),
		putting("four coordinates", Fault, `to: \[`, "to: [0, ", "to"),
		putting("a number for a mapping", Fault, `screws: \{[^}]+\}`, "screws: 5", "screws"),
		putting("a mapping for a number", Fault, `diameter: [\d.]+ mm`, "diameter: {mm: 4}", "mapping"),
		putting("a list for a word", Fault, `material: steel`, "material: [steel, brass]", "material"),
		putting("a word for a section of the file", Fault, `(?s)^grounds:.*?\n(\w)`, "grounds: none\n$1", "grounds"),
		putting("a number for a name", Fault, `between: \[\w+, `, "between: [7, ", "between|part|7"),
	}
}

// numberSlips are of units and of numbers that are none.
func numberSlips() []slip {
	list := []slip{
		putting("a length for a stiffness", Fault, `\d+ N/um`, "40 mm", "stiffness|spring"),
		putting("a force for a length", Fault, `(diameter|stickout): [\d.]+ mm`, "$1: 4 N", "4 N"),
		putting("a length for a force", Fault, `tip: \[-?\d+ N`, "tip: [15 mm", "15 mm"),
		putting("a force for a torque", Fault, `size: (M\d)`, "size: $1, torque: 8 N", "torque"),
		putting("an unknown unit", Fault, `(\d+) mm([,} ])`, "$1 furlong$2", "furlong"),
		putting("kilograms for newtons", Fault, `tip: \[-?\d+ N`, "tip: [15 kg", "15 kg"),
		putting("a range backwards", Fault, `\d+ N/um`, "12..5 N/um", "backwards|range"),
		putting("a range of no width", Fault, `\d+ N/um`, "40 N/um +- 0 %", "nothing|range"),
		putting("a range of a length", Fault, `stickout: \d+ mm`, "stickout: 20..30 mm", "range"),
		putting("a stiffness without a unit", Told, `(\d+) N/um`, "$1", "N/um|N/µm"),
	}
	for _, bad := range []struct{ name, number string }{{"nan", ".nan"}, {"inf", ".inf"}, {"overflow", "1e999"},
		{"division by zero", "1/0"}, {"root of a negative", "sqrt(-1)"}, {"too large for any machine", "1e300"},
		{"digits without end", strings.Repeat("9", 5000)}, {"endless brackets", strings.Repeat("(", 3000)},
		{"a power of powers", "9^9^9^9"}, {"code", "os.Exit(1)"}, {"a loop", "map(1..1e9, # * 2)"}} {
		list = append(list, putting(bad.name, Fault, `from: \[[-\d.]+, `, "from: ['"+bad.number+"', "))
	}
	for _, zero := range []struct{ what, pattern, by string }{
		{"zero section", `section: \{round: [\d.]+\}`, "section: {round: 0}"},
		{"negative section", `section: \{round: [\d.]+\}`, "section: {round: -40}"},
		{"zero diameter", `diameter: [\d.]+ mm`, "diameter: 0"},
		{"negative diameter", `diameter: [\d.]+ mm`, "diameter: -4 mm"},
		{"negative stickout", `stickout: [\d.]+ mm`, "stickout: -25 mm"},
		{"huge diameter", `diameter: [\d.]+ mm`, "diameter: 8000 mm"},
		{"huge section", `section: \{round: [\d.]+\}`, "section: {round: 1e6}"},
		{"tiny section", `section: \{round: [\d.]+\}`, "section: {round: 1e-9}"},
		{"huge stickout", `stickout: [\d.]+ mm`, "stickout: 1e6 mm"},
		{"half a flute", `flutes: \d`, "flutes: 2.5"},
		{"no flutes", `flutes: \d`, "flutes: -2"},
		{"flutes without number", `flutes: \d`, "flutes: 100000"},
		{"wall thicker than its tube", `tube: \[40, 40, wall\]`, "tube: [40, 40, 25]"},
		{"negative stiffness", `\d+ N/um`, "-40 N/um"},
		{"zero stiffness", `(stiffness|x): \d+ N/um`, "$1: 0"},
		{"no travel", `travel: \[[-\d., ]+\]`, "travel: [10, 10]"},
		{"travel backwards", `travel: \[([-\d.]+), ([\d.]+)\]`, "travel: [$2, $1]"},
		{"travel without end", `travel: \[[-\d., ]+\]`, "travel: [-1e9, 1e9]"},
	} {
		list = append(list, putting(zero.what, Fault, zero.pattern, zero.by))
	}
	return list
}

// partSlips are of parts: too thin, too large, in one another, beside one another.
func partSlips() []slip {
	resized := func(name string, want Want, word string, by func(p *plate, k int)) slip {
		return slip{name, want, func(d *draw) bool {
			p, ok := d.plate()
			if !ok {
				return false
			}
			k := d.IntN(3)
			by(&p, k)
			d.text = regexp.MustCompile(`(?m)^  `+p.name+`: +\{plate: .*$`).ReplaceAllString(d.text, p.line(p.name))
			return d.say(word)
		}}
	}
	added := func(name string, want Want, by func(d *draw, p *plate)) slip {
		return slip{name, want, func(d *draw) bool {
			p, ok := d.plate()
			if !ok {
				return false
			}
			by(d, &p)
			return d.under("parts", p.line("slipped")) && d.say("slipped")
		}}
	}
	return []slip{
		resized("a plate without thickness", Fault, "no thickness", func(p *plate, k int) { p.at[3+k] = p.at[k] }),
		resized("a plate as thin as light", Fault, "thick", func(p *plate, k int) { p.at[3+k] = p.at[k] + 1e-9 }),
		resized("a plate as large as a town", Fault, "", func(p *plate, k int) { p.at[3+k] = 1e9 }),
		added("a part inside another", Fault, func(_ *draw, p *plate) {
			for k := range 3 {
				q := (p.at[3+k] - p.at[k]) / 4
				p.at[k], p.at[3+k] = p.at[k]+q, p.at[3+k]-q
			}
		}),
		added("a part twice", Fault, func(*draw, *plate) {}),
		added("a part beside another", Told, func(d *draw, p *plate) {
			k := d.IntN(3)
			size := p.at[3+k] - p.at[k]
			p.at[k], p.at[3+k] = p.at[3+k], p.at[3+k]+size
		}),
		slip{"a part in the air", Fault, func(d *draw) bool {
			return d.under("parts", "  slipped: {plate: {from: [5000, 0, 0], to: [5050, 50, 10]}, material: steel}") &&
				d.say("slipped", "loose")
		}},
	}
}

// barSlips are of bars through other parts.
func barSlips() []slip {
	return []slip{
		slip{"a bar through a plate", Told, func(d *draw) bool {
			p, ok := d.plate()
			if !ok {
				return false
			}
			x, y := p.at[0]+(p.at[3]-p.at[0])*0.37, p.at[1]+(p.at[4]-p.at[1])*0.41
			return d.under("parts", fmt.Sprintf("  slipped: {bar: {from: [%g, %g, %g], to: [%g, %g, %g]}, section: {round: 6}, "+
				"material: steel}", x, y, p.at[2]-10, x, y, p.at[5]+10)) &&
				d.under("grounds", fmt.Sprintf("  - {part: slipped, at: [%g, %g, %g], hold: [x, y, z, rx, ry, rz]}", x, y,
					p.at[5]+10)) && d.say("slipped", p.name)
		}},
		slip{"a bar through a bar", Told, func(d *draw) bool {
			bar := regexp.MustCompile(`(?m)^  (\w+): +\{bar: \{from: \[([-\d.]+), ([-\d.]+), ([-\d.]+)\]`)
			m := bar.FindStringSubmatch(d.text)
			if m == nil {
				return false
			}
			return d.under("parts", fmt.Sprintf("  slipped: {bar: {from: [%[1]s + 50, %[2]s + 7, %[3]s], to: [%[1]s - 50, "+
				"%[2]s - 7, %[3]s]}, section: {round: 6}, material: steel}", m[2], m[3], m[4])) &&
				d.under("grounds", fmt.Sprintf("  - {part: slipped, at: [%s + 50, %s + 7, %s], hold: [x, y, z, rx, ry, rz]}",
					m[2], m[3], m[4])) && d.say("slipped", m[1])
		}},
	}
}

// materialSlips are of numbers for a material.
func materialSlips() []slip {
	material := func(name, numbers string, want Want) slip {
		return slip{name, want, func(d *draw) bool {
			return d.put(`material: (aluminium-5083|steel)`, "material: own") && d.section("materials",
				"  own: {"+numbers+"}") &&
				d.say("own|E of|density|expansion|nu")
		}}
	}
	return []slip{
		material("gigapascals forgotten", "E: 71, nu: 0.33, density: 2700 kg/m3", Told),
		material("megapascals for gigapascals", "E: 71 MPa, nu: 0.33, density: 2700 kg/m3", Told),
		material("gigapascals for megapascals", "E: 71000 GPa, nu: 0.33, density: 2700 kg/m3", Told),
		material("grams for kilograms", "E: 71 GPa, nu: 0.33, density: 2.7e6 kg/m3", Told),
		material("Poisson's ratio in percent", "E: 71 GPa, nu: 33, density: 2700 kg/m3", Fault),
		material("a negative density", "E: 71 GPa, nu: 0.33, density: -1", Fault),
		material("expansion in percent", "E: 71 GPa, nu: 0.33, density: 2700 kg/m3, expansion: 0.024", Told),
	}
}

// jointSlips are of joints and their screws.
func jointSlips() []slip {
	return []slip{
		{"a joint deleted", Told, func(d *draw) bool {
			var a, b string
			return d.swap(`^  - \{between: \[(\w+), (\w+)\].*\n`, func(g []string) string {
				a, b = g[1], g[2]
				return ""
			}) && d.say(a, b)
		}},
		{"all joints deleted", Fault, func(d *draw) bool {
			return d.put(`(?s)^joints:.*?\n(\w)`, "$1") && d.say("loose|apart|not joined")
		}},
		{"a joint twice", Told, func(d *draw) bool {
			var a, b string
			return d.swap(`^  - \{between: \[(\w+), (\w+)\].*\n`, func(g []string) string {
				a, b = g[1], g[2]
				return g[0] + g[0]
			}) && d.say(a, b)
		}},
		{"a joint of parts apart", Fault, func(d *draw) bool {
			list := d.plates()
			for _, p := range list {
				for _, q := range list {
					for k := range 3 {
						if q.at[k] > p.at[3+k]+1 {
							return d.under("joints", "  - {between: ["+p.name+", "+q.name+"], bonded: true}") && d.say(p.name, q.name,
								"do not touch|cannot move")
						}
					}
				}
			}
			return false
		}},
		putting("a joint of a part with itself", Fault, `between: \[(\w+), \w+\]`, "between: [$1, $1]"),
		putting("screws beyond the face", Fault, `grid: \[\d, \d\]`, "at: [[9000, 9000]]", "screw"),
		putting("a grid without screws", Fault, `grid: \[\d, \d\]`, "grid: [0, 2]", "grid"),
		putting("a grid of half screws", Fault, `grid: \[\d, \d\]`, "grid: [1.5, 2]", "grid"),
		putting("too many screws", Fault, `grid: \[\d, \d\]`, "grid: [200, 200]", "screw|M"),
		putting("screws without number", Fault, `grid: \[\d, \d\]`, "grid: [1e9, 1e9]", "grid|screw"),
		putting("torqued to breaking", Told, `size: (M\d), grid: (\[\d, \d\])\}`, "size: $1, grid: $2, torque: 60 N m}",
			"torque|tightened"),
		putting("torqued the other way", Fault, `size: (M\d)`, "size: $1, torque: -8 N m", "torque"),
		putting("a screw of no size", Fault, `size: M\d`, "size: M99", "M99"),
		putting("two screws in one place", Fault, `grid: \[\d, \d\]`, "at: [[0, 0], [0, 0]]", "screw"),
		{"a shim thicker than its part", Told, func(d *draw) bool {
			var a, b string
			if !d.swap(`between: \[(\w+), (\w+)\]`, func(g []string) string {
				a, b = g[1], g[2]
				return g[0]
			}) {
				return false
			}
			return d.section("shims", "  thick: {joint: ["+a+", "+b+"], material: shim-brass, thickness: 100 mm}") &&
				d.say("shim|thick")
		}},
	}
}

// groundSlips are of what stands on the floor.
func groundSlips() []slip {
	return []slip{
		{"no grounds", Fault, func(d *draw) bool { return d.put(`(?s)^grounds:.*?\n(\w)`, "$1") && d.say("grounds") }},
		putting("the same ground twice", Fault, `^  - (\{part: .*(fixed|feet).*)$`, "  - $1\n  - $1", "ground|foot|feet"),
		putting("feet beside the part", Fault, `feet: \[\[[-\d.]+, `, "feet: [[9000, ", "9000"),
		putting("a foot on a foot", Fault, `feet: \[(\[[^\]]+\]), `, "feet: [$1, $1, ", "foot|feet"),
		putting("one foot only", Fault, `feet: \[(\[[^\]]+\]), .*?\]\]`, "feet: [$1]", "base|loose"),
		putting("feet on a side that is none", Fault, `face: bottom`, "face: underneath", "underneath"),
	}
}

// valueSlips are of values and options.
func valueSlips() []slip {
	values := func(name string, want Want, lines string, words ...string) slip {
		return slip{name, want, func(d *draw) bool {
			return (d.under("values", lines) || d.section("values", lines)) && d.say(words...)
		}}
	}
	many := func(n int, of func(i int) string) string {
		lines := make([]string, n)
		for i := range lines {
			lines[i] = "  " + of(i)
		}
		return strings.Join(lines, "\n")
	}
	return []slip{
		values("a ring of values", Fault, "  ring_a: ring_b + 1\n  ring_b: ring_c\n  ring_c: ring_a", "ring_"),
		values("a value of itself", Fault, "  ring: ring", "ring"),
		values("a ring of 200 values", Fault, many(200, func(i int) string {
			return fmt.Sprintf("v%d: v%d", i,
				(i+1)%200)
		}), "v0|v1"),
		values("a value of what is not there", Fault, "  odd: ghost * 2", "ghost"),
		values("lengths and forces added", Fault, "  odd: 3 mm + 2 N", "odd|3 mm"),
		values("pi in a sine of degrees", Told, "  odd: sin(pi/6)", "degrees"),
		values("400 values", Answer, many(400, func(i int) string { return fmt.Sprintf("v%d: %d mm", i, i+1) })),
		values("a chain of 400 values", Answer, "  v0: 1 mm\n"+many(399, func(i int) string {
			return fmt.Sprintf("v%d: v%d + 1 mm", i+1, i)
		})),
		values("a value that doubles", Harmless, "  v0: 1\n"+many(60, func(i int) string {
			return fmt.Sprintf("v%d: v%d + v%d", i+1, i, i)
		})),
		{"an option of no value", Fault, func(d *draw) bool {
			return d.section("options", "  odd: {ghost: 3}") && d.say("ghost")
		}},
		{"an option that breaks the machine", Fault, func(d *draw) bool {
			return d.put(`^(  \w+: +\{plate: \{from: \[[^\]]+\], to: \[[-\d.]+, [-\d.]+, )([-\d.]+)\]`, "$1$2 + lift]") &&
				(d.under("values", "  lift: 0") || d.section("values", "  lift: 0")) &&
				d.section("options", "  odd: {lift: -9000}") && d.say("odd")
		}},
		putting("a condition that is none", Fault, `^  (\w+): +\{plate:`, "  $1: {if: 7, plate:", "if|true or false"),
	}
}
