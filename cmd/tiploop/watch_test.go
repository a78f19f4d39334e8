package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"net/http"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/report"
	"tiploop/report/live"
	"tiploop/report/page"
	"tiploop/report/phrase"
)

// soon is how long a test waits for what should come within tenths of a second, on a machine that is busy a hundredfold.
const soon = time.Minute

// watching is the program with a page open.
type watching struct {
	t       testing.TB
	path    string
	address string
	states  chan live.State
	leave   func() (code int)
}

// watch runs the program on a file, and reads what it tells its page.
func watch(t testing.TB, path string) *watching {
	t.Helper()
	ctx, cancel := context.WithCancel(t.Context())
	read, written := io.Pipe()
	done := make(chan int, 1)
	go func() {
		done <- runWith(ctx, []string{"watch", path}, streams{in: strings.NewReader(""), out: written, err: io.Discard})
		_ = written.Close()
	}()
	out := bufio.NewScanner(read)
	require.True(t, out.Scan())
	w := &watching{t: t, path: path, address: out.Text(), states: make(chan live.State, 1000)}
	go func() {
		for out.Scan() {
		}
	}()
	left := false
	w.leave = func() int {
		cancel()
		left = true
		select {
		case code := <-done:
			return code
		case <-time.After(soon):
			require.Fail(t, "the program does not end")
			return -1
		}
	}
	t.Cleanup(func() {
		if !left {
			w.leave()
		}
	})
	response, err := http.Get(w.address + "events")
	require.NoError(t, err)
	t.Cleanup(func() { _ = response.Body.Close() })
	go func() {
		events := bufio.NewScanner(response.Body)
		events.Buffer(nil, 1<<20)
		for events.Scan() {
			var state live.State
			if text, ok := strings.CutPrefix(events.Text(), "data: "); ok && json.Unmarshal([]byte(text), &state) == nil {
				w.states <- state
			}
		}
		close(w.states)
	}()
	return w
}

// until waits for a state like that.
func (w *watching) until(what string, like func(live.State) bool) live.State {
	w.t.Helper()
	timeout := time.After(soon)
	var last live.State
	for {
		select {
		case state, ok := <-w.states:
			require.True(w.t, ok, "the stream has ended before there was %s", what)
			last = state
			if like(state) {
				return state
			}
		case <-timeout:
			require.Fail(w.t, "there never was "+what, "%+v", last)
		}
	}
}

// settled tells whether all that there is to say has been said.
func settled(s live.State) bool {
	return s.Readout.By == live.ByMeshes && s.Readout.Pending == "" && s.Fault == nil
}

// post asks the program for something; the error is what it says against it.
func (w *watching) post(name string, what any) (code int, text string) {
	w.t.Helper()
	body, err := json.Marshal(what)
	require.NoError(w.t, err)
	r, err := http.NewRequest("POST", w.address+name, bytes.NewReader(body))
	require.NoError(w.t, err)
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("Origin", "http://"+r.URL.Host)
	response, err := http.DefaultClient.Do(r)
	require.NoError(w.t, err)
	defer response.Body.Close()
	said, err := io.ReadAll(response.Body)
	require.NoError(w.t, err)
	return response.StatusCode, string(said)
}

// move moves values of the starter's first option and waits until the program has an answer for them.
func (w *watching) move(values map[string]float64) live.State {
	w.t.Helper()
	code, text := w.post("move", live.Moved{Option: "plain column", Values: values})
	require.Equal(w.t, 200, code, text)
	var taken struct{ Move int }
	require.NoError(w.t, json.Unmarshal([]byte(text), &taken))
	return w.until("an answer to a move", func(s live.State) bool { return s.Move == taken.Move && settled(s) })
}

// starterFile is the model that new writes, in a folder of its own, written long ago.
func starterFile(t *testing.T) (path, text string) {
	t.Helper()
	data, err := os.ReadFile("starter.yaml")
	require.NoError(t, err)
	path = filepath.Join(t.TempDir(), "stand.yaml")
	require.NoError(t, os.WriteFile(path, data, 0o640))
	long := time.Now().Add(-time.Hour)
	require.NoError(t, os.Chtimes(path, long, long))
	return path, string(data)
}

// plainFile is the same without its second option, which would be solved, drawn and shown each time, too.
func plainFile(t *testing.T) (path, text string) {
	t.Helper()
	path, text = starterFile(t)
	text = edited(t, text, "  braced column: {braced: true}\n", "")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o640))
	long := time.Now().Add(-time.Hour)
	require.NoError(t, os.Chtimes(path, long, long))
	return path, text
}

// edited is a text with one thing in place of another that stands there once.
func edited(t testing.TB, text, old, now string) string {
	t.Helper()
	require.Equal(t, 1, strings.Count(text, old), old)
	return strings.Replace(text, old, now, 1)
}

// lastPage keeps the last page's answer.
type lastPage struct{ found answer.Answer }

func (k *lastPage) render(_ context.Context, _ *solver, _ page.Source, _ []*solvedOption, found answer.Answer) ([]byte, error) {
	k.found = found
	return nil, nil
}

// nowhere is a wall without a page.
type nowhere struct{}

func (nowhere) ShowPage([]byte)            {}
func (nowhere) ShowState(live.State) error { return nil }

// What is solved for a page, bit by bit and with bodies that are kept from before, is what the commands say of a file with
// the same numbers, to all digits.
func TestWatchSaysWhatCommandsSay(t *testing.T) {
	path, text := starterFile(t)
	k := &lastPage{}
	d := newDesk(path)
	d.wall, d.render = nowhere{}, k.render
	s := newSolver()
	d.takeInstead(d.holds(), looked{text: []byte(text)})
	require.NoError(t, d.solve(s, <-d.meshes))
	_, err := d.Move(t.Context(), live.Moved{Option: "plain column", Values: map[string]float64{
		"column_height": 330, "reach": 142.5}})
	require.NoError(t, err)
	require.NoError(t, d.solve(s, <-d.meshes))
	other := filepath.Join(t.TempDir(), "other.yaml")
	text = edited(t, edited(t, text, "column_height: 300 mm", "column_height: 330 mm"), "reach: 150 mm", "reach: 142.5 mm")
	require.NoError(t, os.WriteFile(other, []byte(text), 0o600))

	var out, ours bytes.Buffer
	require.Zero(t, runWith(t.Context(), []string{"tip", other, "--json"}, streams{out: &out, err: io.Discard}))
	var said answer.Answer
	require.NoError(t, json.Unmarshal(out.Bytes(), &said))
	require.Len(t, said.Options, 2)
	for i, theirs := range said.Options {
		found := k.found.Options[i]
		require.Equal(t, theirs.Loads, found.Loads)
		require.Equal(t, theirs.Next, found.Next)
		require.Equal(t, theirs.Beam, found.Beam)
	}
	// tip draws without paths, so on another basis; its ranges are the same to the digits that are printed
	theirs, found := said.Options[0].Sure.Stiffness, k.found.Options[0].Sure.Stiffness
	for i, r := range []answer.Range{theirs.X, theirs.Y, theirs.Z, theirs.Softest} {
		require.Equal(t, phrase.Span(r), phrase.Span([]answer.Range{found.X, found.Y, found.Z, found.Softest}[i]))
	}

	// and all there is to say is what a log says
	log := &logOptions{modelOptions: modelOptions{path: other, detail: solidDetail, next: true, posted: true}}
	content, err := log.content(t.Context(), newProgress(streams{}), false)
	require.NoError(t, err)
	out.Reset()
	require.NoError(t, report.WriteJSON(&out, content.Answer))
	require.NoError(t, report.WriteJSON(&ours, k.found))
	require.Equal(t, out.String(), ours.String())
}

// A slider that is moved says what the screen of tip says for a file with that number; the file stays as it is. At once
// the beam model answers, and says that it does.
func TestWatchMoves(t *testing.T) {
	path, text := plainFile(t)
	w := watch(t, path)
	w.until("an answer", settled)
	code, said := w.post("move", live.Moved{Option: "plain column", Values: map[string]float64{"reach": 120}})
	require.Equal(t, 200, code, said)
	state := w.until("an answer to a move", func(s live.State) bool { return s.Move == 1 && s.Readout.Moved && settled(s) })
	other := filepath.Join(t.TempDir(), "other.yaml")
	require.NoError(t, os.WriteFile(other, []byte(edited(t, text, "reach: 150 mm", "reach: 120 mm")), 0o600))
	for file, of := range map[string]func(live.Row) string{
		path:  func(r live.Row) string { return r.File },
		other: func(r live.Row) string { return r.Now },
	} {
		var screen bytes.Buffer
		require.Zero(t, runWith(t.Context(), []string{"tip", file}, streams{out: &screen, err: io.Discard}))
		for _, row := range state.Readout.Rows {
			if load, ok := strings.CutPrefix(row.What, "tip under "); ok {
				require.Contains(t, screen.String(), strings.Trim(load, "“”")+"  "+of(row), "%+v", row)
			}
		}
	}
	for _, row := range state.Readout.Rows {
		if row.What == "tip under “drilling”" {
			require.Equal(t, 1, row.Good, "a shorter arm is stiffer")
			require.Contains(t, row.Sure, "better in ")
			require.Contains(t, row.Change, " % less")
		}
	}
	now, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, text, string(now))
	// back to the file
	state = w.move(map[string]float64{})
	require.False(t, state.Readout.Moved)
	// numbers that make no machine are said to, and what was known stays
	code, said = w.post("move", live.Moved{Option: "plain column", Values: map[string]float64{"column_height": 10}})
	require.Equal(t, 200, code, said)
	state = w.until("no machine", func(s live.State) bool { return s.Readout.Trouble != nil })
	require.NotEmpty(t, state.Readout.Rows)
	require.Nil(t, state.Fault, "the file is as good as it was")
	require.NotEmpty(t, state.Readout.Trouble.Places[0].What)
	for _, m := range []live.Moved{{Option: "no such", Values: nil}} {
		code, said = w.post("move", m)
		require.Equal(t, 409, code, said)
	}
}

// While a value moves the beam model answers, and says so.
func TestWatchAnswersByBeamsAtOnce(t *testing.T) {
	path, _ := plainFile(t)
	w := watch(t, path)
	w.until("an answer", settled)
	code, said := w.post("move", live.Moved{Option: "plain column", Values: map[string]float64{"reach": 130}})
	require.Equal(t, 200, code, said)
	state := w.until("an answer by beams", func(s live.State) bool { return s.Readout.By == live.ByBeams })
	require.True(t, state.Readout.Moved)
	require.Equal(t, live.MeshesFollow, state.Readout.Pending)
	require.NotEqual(t, state.Readout.Rows[0].File, state.Readout.Rows[0].Now)
	w.until("the meshed answer", settled)
}

// A number that is written changes that number and nothing else of the file, whose permissions stay.
func TestWatchWrites(t *testing.T) {
	path, text := plainFile(t)
	text = edited(t, text, "  reach: 150 mm               # from the column's front", "  reach:   6.00 in\t# from  the 柱's front")
	text = edited(t, text, "  braced: false", "  half: reach/2\n  braced: false")
	text = strings.ReplaceAll(text, "\n", "\r\n")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o640))
	w := watch(t, path)
	state := w.until("an answer", settled)
	require.Equal(t, "in", state.Values[0].Unit)
	require.Equal(t, "made by an expression", state.Values[3].Fixed)
	code, said := w.post("write", live.Written{Name: "reach"})
	require.Equal(t, 409, code, said)
	require.Contains(t, said, "has this number already")
	w.move(map[string]float64{"reach": 5.75, "column_height": 310})
	code, said = w.post("write", live.Written{Name: "reach"})
	require.Equal(t, 200, code, said)
	now, err := os.ReadFile(path)
	require.NoError(t, err)
	want := edited(t, text, "6.00 in", "5.75 in")
	require.Equal(t, want, string(now))
	state = w.until("the number in the file", func(s live.State) bool { return s.Values[0].File == 5.75 && settled(s) })
	require.Equal(t, 310.0, state.Values[1].At, "the other one is still moved")
	if runtime.GOOS != "windows" {
		info, err := os.Stat(path)
		require.NoError(t, err)
		require.EqualValues(t, 0o640, info.Mode().Perm())
	}
	left, err := os.ReadDir(filepath.Dir(path))
	require.NoError(t, err)
	require.Len(t, left, 1, "nothing is left beside the file")
	// an expression is not written over
	code, said = w.post("move", live.Moved{Option: "plain column", Values: map[string]float64{"half": 60}})
	require.Equal(t, 409, code, said)
	require.Contains(t, said, "an expression is not written over")
}

// Two programs on one file both follow what one of them writes.
func TestTwoWatchers(t *testing.T) {
	path, text := plainFile(t)
	one, two := watch(t, path), watch(t, path)
	one.until("an answer", settled)
	two.until("an answer", settled)
	one.move(map[string]float64{"reach": 140})
	code, said := one.post("write", live.Written{Name: "reach"})
	require.Equal(t, 200, code, said)
	two.until("the other's number", func(s live.State) bool { return len(s.Values) > 0 && s.Values[0].File == 140 })
	now, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, edited(t, text, "reach: 150 mm", "reach: 140 mm"), string(now))
}

// A file that is broken is told of with its line, and so is one that is gone; the page follows it again as it is mended.
func TestWatchFollowsTheFile(t *testing.T) {
	path, text := plainFile(t)
	w := watch(t, path)
	before := w.until("an answer", settled)
	require.NoError(t, os.WriteFile(path, []byte(edited(t, text, "material: steel}\n\njoints", "material: stele}\n\njoints")), 0o600))
	state := w.until("a fault", func(s live.State) bool { return s.Fault != nil })
	require.Equal(t, before.Page, state.Page, "the last good machine stays")
	place := state.Fault.Places[0]
	require.Regexp(t, `^stand\.yaml:\d+:\d+$`, place.At)
	require.Contains(t, place.What, "stele")
	require.Contains(t, place.Line, "material: stele}")
	require.Contains(t, place.Hint, "steel")
	require.NoError(t, os.Remove(path))
	state = w.until("a missing file", func(s live.State) bool {
		return s.Fault != nil && strings.Contains(s.Fault.Title, "not there")
	})
	require.NotContains(t, state.Fault.Places[0].What, filepath.Dir(path))
	beside := path + ".new" // as editors save
	require.NoError(t, os.WriteFile(beside, []byte(edited(t, text, "reach: 150 mm", "reach: 151 mm")), 0o600))
	require.NoError(t, os.Rename(beside, path))
	state = w.until("the file again", func(s live.State) bool { return settled(s) && s.Values[0].File == 151 })
	require.Greater(t, state.Page, before.Page)
	require.Zero(t, w.leave(), "an interrupt is how it is meant to end")
}

// What a page writes and an editor takes back at once is noticed, and the page's own writing is no news.
func TestWatchIsTakenBack(t *testing.T) {
	path, text := starterFile(t)
	d, wall := newDesk(path), &lastState{}
	d.wall = wall
	f := &watchedFile{path: path}
	look := func() (news bool) {
		held := d.holds()
		now, news := f.look(held)
		if news {
			d.takeInstead(held, now)
		}
		return news
	}
	require.True(t, look())
	writes := func(at float64) {
		_, err := d.Move(t.Context(), live.Moved{Option: "plain column", Values: map[string]float64{"reach": at}})
		require.NoError(t, err)
		require.NoError(t, d.Write(t.Context(), live.Written{Name: "reach"}))
		require.Equal(t, at, wall.state.Values[0].File)
	}
	writes(140)
	require.NoError(t, os.WriteFile(path, []byte(text), 0o640))
	require.True(t, look())
	require.Equal(t, 150.0, wall.state.Values[0].File)
	writes(130)
	require.False(t, look(), "that is known")
	// what was read before a write is not taken for what became of it
	held := d.holds()
	now, _ := f.look(held)
	writes(120)
	d.takeInstead(held, now)
	require.Equal(t, 120.0, wall.state.Values[0].File)
}

// A number is not written that is known to make no machine, with the others that were moved or without them.
func TestWatchWritesMachinesOnly(t *testing.T) {
	const text = `machine: Two plates
values: {top: 10 mm, seat: 10 mm}
parts:
  lower: {plate: {from: [0, 0, 0], to: [50, 50, top]}, material: steel}
  upper: {plate: {from: [0, 0, top], to: [50, 50, seat + 1]}, material: steel}
`
	path := filepath.Join(t.TempDir(), "two.yaml")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	d, wall := deskOf(t, path, text)
	refused := func(why string, values map[string]float64) {
		_, err := d.Move(t.Context(), live.Moved{Option: wall.state.Option, Values: values})
		require.NoError(t, err)
		require.ErrorContains(t, d.Write(t.Context(), live.Written{Name: "top"}), why)
		now, err := os.ReadFile(path)
		require.NoError(t, err)
		require.Equal(t, text, string(now))
	}
	refused("With this number alone the file makes no machine: ", map[string]float64{"top": -5})
	now := <-d.meshes
	d.failed(now, d.solve(newSolver(), now))
	require.Equal(t, numbersMakeNone, wall.state.Readout.Trouble.Title)
	require.ErrorContains(t, d.Write(t.Context(), live.Written{Name: "top"}), "These numbers make no machine: ")
	refused("With this number alone the file makes no machine: ", map[string]float64{"top": 12, "seat": 12})
	require.Nil(t, wall.state.Readout.Trouble)
}

// Whatever number can be moved is taken when it is, and of the others it is said why not.
func TestWatchMovesWhatCanBeMoved(t *testing.T) {
	path, text := starterFile(t)
	for _, value := range []string{"10", "'10 mm'", " \t 10", "|\n    10", `"\x37 mm"`, "5 + 5"} {
		d, wall := deskOf(t, path, edited(t, text, "  braced: false", "  one: "+value+"\n  braced: false"))
		v := wall.state.Values[3]
		_, err := d.Move(t.Context(), live.Moved{Option: "plain column", Values: map[string]float64{"one": 11}})
		require.Equal(t, v.Fixed == "", err == nil, "%q: %s: %v", value, v.Fixed, err)
	}
}

// A number that a page adds up goes into the file in the digits that it means.
func TestWatchRoundsWhatAPageSends(t *testing.T) {
	path, text := starterFile(t)
	d, wall := deskOf(t, path, text)
	tenth := 0.1
	_, err := d.Move(t.Context(), live.Moved{Option: "plain column", Values: map[string]float64{"reach": 149 + tenth + 0.2}})
	require.NoError(t, err)
	require.NoError(t, d.Write(t.Context(), live.Written{Name: "reach"}))
	require.Equal(t, wall.state.Values[0].File, wall.state.Values[0].At)
	now, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, edited(t, text, "reach: 150 mm", "reach: 149.3 mm"), string(now))
	for _, tt := range [][2]float64{{tenth + 0.2, 0.3}, {math.MaxFloat64, math.MaxFloat64}, {5e-324, 5e-324}, {-0.1, -0.1}, {0, 0}} {
		require.Equal(t, tt[1], asMeant(tt[0]))
	}
}

// The name of a file steers no terminal.
func TestWatchedNameIsHarmless(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no file has such a name there")
	}
	path := filepath.Join(t.TempDir(), "mill\x1b[2J\u202e.yaml")
	var out bytes.Buffer
	require.Zero(t, runWith(t.Context(), []string{"new", path}, streams{out: &out, err: io.Discard}))
	require.NotContains(t, out.String(), "\x1b")
	require.NotContains(t, out.String(), "\u202e")
	out.Reset()
	ended, cancel := context.WithCancel(t.Context())
	cancel()
	require.NoError(t, runWatch(ended, streams{out: &out}, path))
	require.Contains(t, out.String(), "The page follows ")
	require.NotContains(t, out.String(), "\x1b")
	require.NotContains(t, out.String(), "\u202e")
	out.Reset()
	page := path + ".md"
	args := []string{"log", path, "--detail", "section", "--sections", "parts", "--out", page}
	require.Zero(t, runWith(t.Context(), args, streams{out: &out, err: io.Discard}))
	require.Contains(t, out.String(), "wrote ")
	require.NotContains(t, out.String(), "\x1b")
}

// A save that has the size and the time of the one before is noticed.
func TestWatchSameSizeAndTime(t *testing.T) {
	path, text := starterFile(t)
	f := &watchedFile{path: path}
	now, news := f.look(nil)
	require.True(t, news)
	info, err := os.Stat(path)
	require.NoError(t, err)
	next := edited(t, text, "reach: 150 mm", "reach: 160 mm")
	require.NoError(t, os.WriteFile(path, []byte(next), 0o640))
	require.NoError(t, os.Chtimes(path, info.ModTime(), info.ModTime()))
	now, news = f.look(&now)
	require.True(t, news)
	require.Equal(t, next, string(now.text))
}

// A file that is there and cannot be read is not said to be missing.
func TestWatchSaysWhyThereIsNoFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "mill.yaml")
	title := func() string {
		return goneFault("mill.yaml", (&watchedFile{path: path}).read().gone).Title
	}
	require.Equal(t, "The file is not there.", title())
	require.NoError(t, os.Mkdir(path, 0o700))
	require.Equal(t, "The file cannot be read.", title())
}

// A file that is half written when it is looked at, or gone for a moment, is not told of as broken.
func TestHalfWrittenFile(t *testing.T) {
	path, text := starterFile(t)
	f := &watchedFile{path: path}
	var held *looked
	look := func() (looked, bool) {
		now, news := f.look(held)
		if news {
			held = &now
		}
		return now, news
	}
	now, news := look()
	require.True(t, news)
	require.Equal(t, text, string(now.text))
	_, news = look()
	require.False(t, news, "nothing is new")
	next := edited(t, text, "reach: 150 mm", "reach: 160 mm")
	for _, half := range []string{"", next[:len(next)/2], next[:len(next)/3]} {
		require.NoError(t, os.WriteFile(path, []byte(half), 0o600))
		_, news = look()
		require.False(t, news, "%q", half)
	}
	require.NoError(t, os.Remove(path))
	_, news = look()
	require.False(t, news)
	require.NoError(t, os.WriteFile(path, []byte(next), 0o600))
	now, news = look()
	require.True(t, news)
	require.Equal(t, next, string(now.text))
	// the same again, and this time it stays so
	require.NoError(t, os.WriteFile(path, []byte(next[:len(next)/2]), 0o600))
	_, news = look()
	require.False(t, news)
	now, news = look()
	require.True(t, news)
	require.Equal(t, next[:len(next)/2], string(now.text))
	require.NoError(t, os.Remove(path))
	_, news = look()
	require.False(t, news)
	now, news = look()
	require.True(t, news)
	require.Error(t, now.gone)
	_, news = look()
	require.False(t, news, "that is known")
	require.NoError(t, os.Mkdir(path, 0o700))
	look()
	now, news = look()
	require.True(t, news)
	require.ErrorContains(t, now.gone, "not a plain file")
}

func TestWatchNeedsAFile(t *testing.T) {
	var out, err bytes.Buffer
	require.Equal(t, failed, runWith(t.Context(), []string{"watch", "no.yaml"}, streams{out: &out, err: &err}))
	require.Contains(t, err.String(), "no.yaml")
	err.Reset()
	require.Equal(t, misused, runWith(t.Context(), []string{"watch", "-"}, streams{out: &out, err: &err}))
	require.Empty(t, out.String())
}

// How long after a save of the sample, in which one plate changed, the page has the typical numbers, all sections with
// them, and how sure they are; and what the process has worked until then, which does not depend on what runs beside.
func BenchmarkSaveToPage(b *testing.B) {
	data, err := os.ReadFile(filepath.Join(top, "examples", "bed-layouts.yaml"))
	require.NoError(b, err)
	path := filepath.Join(b.TempDir(), "mill.yaml")
	require.NoError(b, os.WriteFile(path, data, 0o600))
	w := watch(b, path)
	before := w.until("an answer", settled)
	stages := []struct {
		name string
		like func(live.State) bool
	}{
		{"numbers", func(s live.State) bool { return s.Readout.Pending == live.DrawsFollow }},
		{"page", func(s live.State) bool { return s.Page > before.Page }},
		{"sure", func(s live.State) bool { return s.Readout.Pending == live.NextFollows }},
		{"all", settled},
	}
	passed, cpu := make([]time.Duration, len(stages)), make([]time.Duration, len(stages))
	n := 0
	for b.Loop() {
		n++
		text := edited(b, string(data), "to: [75, 245, 330]}", fmt.Sprintf("to: [75, 245, %g]}", 330+float64(n)/4))
		saved, working := time.Now(), worked(b)
		require.NoError(b, os.WriteFile(path, []byte(text), 0o600))
		var last live.State
		for i, stage := range stages {
			last = w.until(stage.name, stage.like)
			passed[i] += time.Since(saved)
			cpu[i] += worked(b) - working
		}
		before = last
	}
	for i, stage := range stages {
		b.ReportMetric(float64(passed[i].Milliseconds())/float64(n), stage.name+"-ms")
		b.ReportMetric(float64(cpu[i].Milliseconds())/float64(n), stage.name+"-cpu-ms")
	}
}
