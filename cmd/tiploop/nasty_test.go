package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"runtime/metrics"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
	"tiploop/frame/modelfile"
	"tiploop/frame/structure"
	"tiploop/report"
	"tiploop/testdata/models"
	"tiploop/testdata/nasty"
)

// Files broken on purpose: two of each slip when tests are thorough, one of every fifth otherwise.
const (
	nastySeed  = 12
	nastyTimes = 2
	nastyFew   = 5
	nastyDrawn = 2                // of so many files one is drawn when tests are thorough, of twice as many otherwise
	nastyBytes = 2 << 30          // what all runs together may have taken of memory at once
	nastyTime  = 20 * time.Second // of the processors, for one answer
)

// nastyBases are the sound files that are broken, without their options, which would each be answered.
func nastyBases(t testing.TB) (list []nasty.Base) {
	list = append(list, nasty.Base{Name: "starter", Text: string(starter)})
	paths, err := filepath.Glob(filepath.Join("..", "..", "examples", "*.yaml"))
	require.NoError(t, err)
	require.NotEmpty(t, paths)
	for _, path := range paths {
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		list = append(list, nasty.Base{Name: filepath.Base(path), Text: string(text)})
	}
	for i := range list {
		list[i].Text, _, _ = strings.Cut(list[i].Text, "\noptions:")
		list[i].Text += "\n"
	}
	return list
}

// said is what a command made of a file.
type said struct {
	code     int
	err, out string
	notes    [][]string // of each option, of what is answered
}

func say(t *testing.T, command, path, form string) (s said) {
	var out, errs bytes.Buffer
	before := worked(t)
	s.code = runWith(context.Background(), []string{command, path, "--detail", "section", form},
		streams{out: &out, err: &errs})
	require.Less(t, worked(t)-before, nastyTime, command)
	s.out, s.err = out.String(), errs.String()
	if s.code != answered || form != "--json" {
		return s
	}
	var answer struct {
		Notes   []string
		Options []struct{ Notes []string }
	}
	require.NoError(t, json.Unmarshal(out.Bytes(), &answer))
	if answer.Options == nil {
		s.notes = [][]string{answer.Notes}
	}
	for _, o := range answer.Options {
		s.notes = append(s.notes, o.Notes)
	}
	return s
}

// sayTypical is what a command makes of a file without its draws, which take most of its time: what is wrong the command
// itself says, the answer is the library's.
func sayTypical(t *testing.T, command, path string, extent structure.Extent) said {
	result, doc, err := typical(path, extent)
	if err != nil || len(doc.OptionNames()) > 0 { // the command answers for each of them
		return say(t, command, path, "--json")
	}
	found := answer.Answer{Tiploop: 1, Machine: doc.Name(), Detail: sectionDetail, Options: []answer.Result{*result}, Asks: flags}
	var out bytes.Buffer
	require.NoError(t, report.WriteJSON(&out, found))
	require.NoError(t, report.WriteCompareCSV(&out, found))
	return said{code: answered, out: out.String(), notes: [][]string{result.Notes}}
}

// typical is a file's answer at typical numbers.
func typical(path string, extent structure.Extent) (*answer.Result, *modelfile.Document, error) {
	doc, err := modelfile.Read(path)
	if err != nil {
		return nil, nil, err
	}
	m, err := doc.Machine("")
	if err != nil {
		return nil, nil, err
	}
	result, err := (&structure.Builder{Detail: structure.Section}).Answer(context.Background(), m, extent)
	return result, doc, err
}

// TestNastyFiles: of every slip on the list what must be said is said, with its place, by show, tip and compare alike.
func TestNastyFiles(t *testing.T) {
	bases, dir := nastyBases(t), t.TempDir()
	known := map[string][]string{} // notes of the sound files
	for _, b := range bases {
		path := filepath.Join(dir, "m.yaml")
		require.NoError(t, os.WriteFile(path, []byte(b.Text), 0o644))
		for _, notes := range sayTypical(t, "tip", path, structure.TipOnly).notes {
			known[b.Name] = append(known[b.Name], notes...)
		}
	}
	times, drawn := 1, 2*nastyDrawn
	if thorough() {
		times, drawn = nastyTimes, nastyDrawn
	}
	for i, f := range nasty.Files(bases, nastySeed, times) {
		if !thorough() && i%nastyFew != 0 {
			continue
		}
		t.Run(fmt.Sprintf("%s, %s", f.Slip, f.Base), func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "m.yaml")
			require.NoError(t, os.WriteFile(path, []byte(f.Text), 0o644))
			compare := sayTypical(t, "compare", path, structure.FullTravel)
			var tip said
			if i%drawn == 0 {
				tip = say(t, "tip", path, "--json")
			} else {
				tip = sayTypical(t, "tip", path, structure.TipOnly)
			}
			requireTold(t, f, known[f.Base], [3]said{say(t, "show", path, "--json"), tip, compare})
		})
	}
	memory := []metrics.Sample{{Name: "/memory/classes/total:bytes"}}
	metrics.Read(memory)
	require.Less(t, memory[0].Value.Uint64(), uint64(nastyBytes))
}

// place is where a fault stands.
var place = regexp.MustCompile(`(?m)^(load .*: )?\S*m\.yaml(:\d+:\d+)?: `)

func requireTold(t *testing.T, f nasty.File, known []string, by [3]said) {
	for _, s := range by {
		require.Contains(t, []int{answered, misused}, s.code, s.err)
		for _, r := range s.err {
			require.True(t, r == '\n' || r == '\t' || !unicode.IsControl(r) && !unicode.Is(unicode.Bidi_Control, r), "%q", s.err)
		}
		if s.code == misused {
			require.Regexp(t, place, s.err, "no place")
			require.NotRegexp(t, `\b(NaN|[+-]Inf)\b`, s.err)
			lines := strings.Split(s.err, "\n")
			require.LessOrEqual(t, len(s.err), 20000, lines[0])
		}
	}
	show, tip, compare := by[0], by[1], by[2]
	require.Equal(t, tip.err, compare.err, "tip and compare")
	if show.code == misused {
		require.Equal(t, show.err, tip.err, "show and tip")
	}
	switch f.Want {
	case nasty.Answer:
		require.Equal(t, answered, show.code, show.err)
		require.Equal(t, answered, tip.code, tip.err)
	case nasty.Harmless:
	case nasty.Fault:
		require.Equal(t, misused, tip.code, "answered in silence")
		require.True(t, hasAll(tip.err, f.Words), "%q are not said: %s", f.Words, tip.err)
	case nasty.Told:
		if tip.code == misused {
			require.True(t, hasAll(tip.err, f.Words), "%q are not said: %s", f.Words, tip.err)
			return
		}
		require.Equal(t, answered, show.code)
		requireNoted(t, f.Words, known, by)
	}
}

// requireNoted looks for one note, new and with all the words, that each command writes once for an option.
func requireNoted(t *testing.T, words, known []string, by [3]said) {
	var fresh []string
	for _, note := range slices.Concat(by[0].notes...) {
		if slices.Contains(known, note) {
			continue
		}
		fresh = append(fresh, note)
		if !hasAll(note, words) {
			continue
		}
		most := 0
		for _, notes := range by[1].notes {
			n := 0
			for _, other := range notes {
				if other == note {
					n++
				}
			}
			most = max(most, n)
		}
		require.Equal(t, 1, most, "%s: not told once by tip: %s", note, slices.Concat(by[1].notes...))
		return
	}
	require.Fail(t, "answered in silence", "no note of %q by show; new: %q; by tip: %q", words, fresh,
		slices.DeleteFunc(slices.Concat(by[1].notes...), func(n string) bool { return slices.Contains(known, n) }))
}

// hasAll looks for words, each of them one or another.
func hasAll(text string, words []string) bool {
	for _, w := range words {
		if !slices.ContainsFunc(strings.Split(w, "|"), func(w string) bool { return strings.Contains(text, w) }) {
			return false
		}
	}
	return true
}

// What one text of FuzzAnswer may ask for, so that it is answered within a second.
const (
	fuzzBytes  = 6000
	fuzzParts  = 12
	fuzzScrews = 60
	fuzzLoads  = 6
)

// small tells whether a machine asks for no more work than that.
func small(m *machine.Machine) bool {
	screws := 0
	for _, j := range m.Joints {
		if s := j.Screws; s != nil {
			screws += len(s.At) + s.Grid[0]*s.Grid[1]
			if s.Grid[0] > fuzzScrews || s.Grid[1] > fuzzScrews {
				return false
			}
		}
	}
	for _, a := range m.Axes {
		for _, g := range a.Guides {
			screws += len(g.Carriages)
		}
		screws += len(a.Drives)
	}
	for _, g := range m.Grounds {
		screws += len(g.Feet)
	}
	return screws <= fuzzScrews && len(m.Parts) <= fuzzParts && len(m.Joints) <= 2*fuzzParts &&
		len(m.Loads)+len(m.Cuts)+len(m.Points)+len(m.Misfits)+len(m.Shims) <= fuzzLoads
}

// FuzzAnswer goes all the way from a text to the answer of its beam model: it must not panic, must place what is wrong,
// and must write no NaN and no control code.
func FuzzAnswer(f *testing.F) {
	for _, text := range []string{string(starter), models.Sledge, fmt.Sprintf(models.CrossTable, "0", "0", "0")} {
		text, _, _ = strings.Cut(text, "\noptions:")
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > fuzzBytes {
			return
		}
		doc, err := modelfile.Parse("m.yaml", []byte(text))
		if err != nil {
			requireFaults(t, err)
			return
		}
		m, err := doc.Machine("")
		if err != nil {
			requireFaults(t, err)
			return
		}
		if !small(m) {
			return
		}
		result, err := (&structure.Builder{Detail: structure.Section}).Answer(context.Background(), m, structure.TipOnly)
		if err != nil {
			requireFaults(t, err)
			return
		}
		var out bytes.Buffer
		require.NoError(t, report.WriteJSON(&out, result))
		out.Reset()
		require.NoError(t, report.WriteTip(&out, answer.Answer{Tiploop: 1, Machine: doc.Name(), Detail: sectionDetail,
			Options: []answer.Result{*result}, Asks: flags}))
		for _, r := range out.String() {
			require.True(t, r == '\n' || !unicode.IsControl(r), "%q", out.String())
		}
	})
}

// requireFaults: what is wrong is a fault of the model.
func requireFaults(t *testing.T, err error) {
	var faults machine.Faults
	require.ErrorAs(t, err, &faults)
	require.NotEmpty(t, faults)
}
