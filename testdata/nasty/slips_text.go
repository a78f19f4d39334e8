package nasty

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// textSlips are of the text itself.
func textSlips() []slip {
	named := func(what, name string) slip {
		return slip{what, Harmless, func(d *draw) bool {
			return d.put(`^machine: .*$`, "machine: "+name) && d.put(`^loads:\n`, "loads:\n  "+name+": {tip: [1 N, 0, 0]}\n")
		}}
	}
	whole := func(name string, want Want, by func(*draw) string) slip {
		return slip{name, want, func(d *draw) bool {
			d.text = by(d)
			return true
		}}
	}
	return []slip{
		named("control codes in names", `"\e[31;1mred\a\b\x7f"`),
		named("a name of many lines", `"one\ntwo\r\nthree"`),
		named("markup in names", `"<script>alert(1)</script>&amp;"`),
		named("names from right to left", "\"\u202e\u2066mill\u202c\u200b\""),
		named("a name as long as a book", strings.Repeat("mill ", 2000)),
		named("a formula for a name", `"=cmd|'/C calc'!A0"`),
		named("an empty name", `""`),
		whole("nothing", Fault, func(*draw) string { return "" }),
		whole("comments only", Fault, func(*draw) string { return "# a mill\n" }),
		whole("no text", Fault, func(d *draw) string { return d.text[:40] + "\x00\x01\x02" + d.text[40:] }),
		whole("no UTF-8", Fault, func(d *draw) string { return d.text + "\xff\xfe" }),
		whole("a tab", Fault, func(d *draw) string { return strings.Replace(d.text, "\n  ", "\n\t", 1) }),
		whole("cut off inside brackets", Fault, func(d *draw) string {
			at := regexp.MustCompile(`[{\[]\w`).FindAllStringIndex(d.text, -1)
			return d.text[:at[d.IntN(len(at))][1]]
		}),
		whole("two documents", Fault, func(d *draw) string { return d.text + "\n---\n" + d.text }),
		whole("a list", Fault, func(*draw) string { return "- machine: m\n" }),
		whole("a ring of anchors", Fault, func(d *draw) string { return d.text + "\nvalues2: &a [*a]\n" }),
		whole("a bomb of anchors", Fault, func(d *draw) string {
			text := "a0: &a0 [1, 1]\n"
			for i := range 30 {
				text += fmt.Sprintf("a%d: &a%d [*a%d, *a%d]\n", i+1, i+1, i, i)
			}
			return text + d.text
		}),
		whole("deep brackets", Fault, func(d *draw) string { return d.text + "\nx: " + strings.Repeat("[", 20000) }),
		whole("carriage returns", Answer, func(d *draw) string { return strings.ReplaceAll(d.text, "\n", "\r\n") }),
		whole("a mark of byte order", Harmless, func(d *draw) string { return "\ufeff" + d.text }),
	}
}

// lineSlips are of lines and letters, which may do no harm.
func lineSlips() []slip {
	return []slip{
		{"a line turned inside out", Harmless, func(d *draw) bool {
			lines := strings.Split(d.text, "\n")
			i := d.IntN(len(lines))
			if len(strings.TrimSpace(lines[i])) < 10 || strings.HasPrefix(strings.TrimSpace(lines[i]), "#") {
				return false
			}
			b := []byte(lines[i])
			slices.Reverse(b)
			lines[i] = string(b)
			d.text = strings.Join(lines, "\n")
			return true
		}},
		{"lines out of order", Harmless, func(d *draw) bool {
			lines := strings.Split(d.text, "\n")
			d.Shuffle(len(lines), func(i, j int) { lines[i], lines[j] = lines[j], lines[i] })
			d.text = strings.Join(lines, "\n")
			return true
		}},
		{"a letter changed", Harmless, func(d *draw) bool {
			b := []byte(d.text)
			b[d.IntN(len(b))] = "{}[]:,-&*#'\"0 aZ.\n"[d.IntN(18)]
			d.text = string(b)
			return true
		}},
		{"a line lost", Harmless, func(d *draw) bool {
			lines := strings.Split(d.text, "\n")
			i := d.IntN(len(lines))
			d.text = strings.Join(slices.Delete(lines, i, i+1), "\n")
			return true
		}},
	}
}
