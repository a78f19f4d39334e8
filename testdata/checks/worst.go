package checks

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// least is the smallest bound written down: below it errors are rounding and differ between processors.
const least = 1e-12

var (
	mu    sync.Mutex
	worst = map[string]float64{} // by case, in this test binary
)

// headroom lets another processor round a little differently.
const headroom = 1.02

// keep remembers the worst error of a case.
func keep(c Case, e float64) {
	mu.Lock()
	defer mu.Unlock()
	worst[c.Kind+"\t"+c.ID] = math.Max(worst[c.Kind+"\t"+c.ID], e)
}

// Main runs a package's tests and holds the worst error of every check against the bound in testdata/worst/<room>.tsv,
// which a run with -update rewrites. Use it from TestMain: os.Exit(checks.Main(m.Run, "beam")).
func Main(run func() int, room string) int {
	code := run()
	if filtered() {
		return code
	}
	path := filepath.Join(folder(), "worst", room+".tsv")
	if f := flag.Lookup("update"); f != nil && f.Value.String() == "true" {
		if err := os.WriteFile(path, []byte(written()), 0o644); err != nil {
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
		return code
	}
	if code != 0 {
		return code
	}
	bounds, err := Bounds(room)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	for _, b := range bounds {
		if e, ok := worst[b.Kind+"\t"+b.ID]; !ok || !(e <= b.Error) {
			fmt.Fprintf(os.Stderr, "%s: check %s is off by %.2g, README says at most %g; run the tests with -update if that "+
				"is right\n", room, b.ID, e, b.Error)
			code = 1
		}
	}
	if len(bounds) != len(worst) {
		fmt.Fprintf(os.Stderr, "%s: %d checks ran, %s lists %d; run the tests with -update\n", room, len(worst), path,
			len(bounds))
		code = 1
	}
	return code
}

// filtered tells whether only some of the tests ran.
func filtered() bool {
	for _, name := range []string{"test.run", "test.skip", "test.list", "test.fuzz", "test.bench"} {
		if f := flag.Lookup(name); f != nil && f.Value.String() != "" {
			return true
		}
	}
	return false
}

// written is the table of bounds: each worst error rounded up to one digit.
func written() string {
	var lines []string
	for key, e := range worst {
		e = math.Max(e, least)
		digit := math.Pow(10, math.Floor(math.Log10(e)))
		bound, _ := strconv.ParseFloat(fmt.Sprintf("%.0e", math.Ceil(e/digit*headroom)*digit), 64)
		lines = append(lines, fmt.Sprintf("%s\t%.0e\n", key, bound))
	}
	slices.Sort(lines)
	return strings.Join(lines, "")
}

// Bound is how far a check may be off.
type Bound struct {
	Kind, ID string
	Error    float64 // relative
}

// Bounds reads what a room has written down.
func Bounds(room string) (list []Bound, err error) {
	text, err := os.ReadFile(filepath.Join(folder(), "worst", room+".tsv"))
	if err != nil {
		return nil, err
	}
	for line := range strings.Lines(string(text)) {
		cells := strings.Split(strings.TrimSpace(line), "\t")
		if len(cells) != 3 {
			return nil, fmt.Errorf("testdata/worst/%s.tsv: %q is not a kind, an id and an error", room, line)
		}
		e, err := strconv.ParseFloat(cells[2], 64)
		if err != nil {
			return nil, err
		}
		list = append(list, Bound{cells[0], cells[1], e})
	}
	return list, nil
}
