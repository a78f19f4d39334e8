package report

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
)

// guidedSample adds invented loads of two guides and two drives: a carriage of a known size with a short life, one
// beyond the law, one of own numbers; a ball screw that lives for ever and a drive of which nothing is known.
func guidedSample(r answer.Result) answer.Result {
	carriage := func(load, guide string, pull float64) answer.CarriageLoad {
		c := answer.CarriageLoad{Load: load, Axis: "x", Guide: guide, PullN: pull, SideN: 3, RollNmm: 1200,
			PitchNmm: -450, YawNmm: 0.25}
		if guide == "rail 1" {
			c.EquivalentN, c.DynamicN, c.StaticN, c.PreloadN, c.StaticSafety = new(2*pull), new(11500.0), new(20000.0),
				new(460.0), new(10000/pull)
			if pull < 4000 {
				c.LifeKm, c.LifeH = new(1234.5), new(6858.0)
			}
		}
		return c
	}
	drive := func(load string, force float64) answer.DriveLoad {
		return answer.DriveLoad{Load: load, Axis: "x", Drive: "drive x", ForceN: force, StiffNPerUm: 25,
			Chain:    []answer.DriveShare{{Name: "shaft", Percent: 60}, {Name: "nut", Percent: 40}},
			DynamicN: new(6500.0), StaticN: new(11000.0), PreloadN: new(130.0), StaticSafety: new(110.0),
			LifeKm: new(9e7), TorqueNmm: new(150 - force), HoldingNmm: new(1900.0)}
	}
	for k, load := range []string{"side push", "down push"} {
		r.Carriages = append(r.Carriages, carriage(load, "rail 1", 1000+4000*float64(k)), carriage(load, "rail 1", 900),
			carriage(load, "rail 2", 20))
		r.Drives = append(r.Drives, drive(load, -100+90*float64(k)), answer.DriveLoad{Load: load, Axis: "y",
			Drive: "drive y", ForceN: 7, StiffNPerUm: 30})
	}
	return r
}

func TestRatings(t *testing.T) {
	golden(t, "ratings.txt", written(t, func(b *bytes.Buffer) error {
		p := newPage(b)
		guided(p, guidedSample(answer.Result{}))
		return p.Close()
	}))
	require.Empty(t, written(t, func(b *bytes.Buffer) error {
		p := newPage(b)
		guided(p, answer.Result{})
		return p.Close()
	}), "a machine without axes")
}

// What lacks any of its ratings is left out of their table: there is nothing to hold its load against.
func TestRatingsLeaveOut(t *testing.T) {
	of := func(r answer.Result) string {
		return string(written(t, func(b *bytes.Buffer) error {
			p := newPage(b)
			p.ratings(r)
			return p.Close()
		}))
	}
	whole := guidedSample(answer.Result{})
	require.Contains(t, of(answer.Result{Drives: whole.Drives[:1]}), "drive x")
	require.Contains(t, of(answer.Result{Carriages: whole.Carriages[:1]}), "guide x: rail 1")
	for name, lose := range map[string]func(*answer.CarriageLoad, *answer.DriveLoad){
		"load":    func(c *answer.CarriageLoad, d *answer.DriveLoad) { c.EquivalentN, d.StaticSafety = nil, nil },
		"dynamic": func(c *answer.CarriageLoad, d *answer.DriveLoad) { c.DynamicN, d.DynamicN = nil, nil },
		"static":  func(c *answer.CarriageLoad, d *answer.DriveLoad) { c.StaticN, d.StaticN = nil, nil },
	} {
		c, d := whole.Carriages[0], whole.Drives[0]
		lose(&c, &d)
		require.Empty(t, of(answer.Result{Carriages: []answer.CarriageLoad{c}, Drives: []answer.DriveLoad{d}}), name)
	}
}

// The CSV names of each guide the worst carriage of the row's own load, and leaves blank what has no rating.
func TestRatingsInCSV(t *testing.T) {
	r := guidedSample(answer.Result{Name: "one", Loads: []answer.LoadResult{{Name: "side push"},
		{Name: "down push"}}})
	rows, err := csv.NewReader(strings.NewReader(string(written(t, func(b *bytes.Buffer) error {
		return WriteTipCSV(b, answer.Answer{Machine: "m", Options: []answer.Result{r}})
	})))).ReadAll()
	require.NoError(t, err)
	for column, want := range map[string][]string{
		"guide_x_rail_1_equivalent_n": {"2000", "10000"}, "guide_x_rail_1_static_safety_ratio": {"10", "2"},
		"guide_x_rail_1_life_km":      {"1234.5", ""},
		"guide_x_rail_2_equivalent_n": {"", ""}, "guide_x_rail_2_life_km": {"", ""},
		"drive_x_force_n": {"-100", "-10"}, "drive_x_life_km": {"9e+07", "9e+07"}, "drive_y_force_n": {"7", "7"},
		"drive_y_static_safety_ratio": {"", ""},
	} {
		i := indexOf(t, rows[0], column)
		require.Equal(t, want, []string{rows[1][i], rows[2][i]}, column)
	}
}

func indexOf(t *testing.T, head []string, column string) int {
	t.Helper()
	for i, h := range head {
		if h == column {
			return i
		}
	}
	t.Fatalf("no column %q in %q", column, head)
	return -1
}

// guided writes all that tells of guides and drives.
func guided(p *page, r answer.Result) {
	p.guides(r)
	p.drives(r)
	p.motors(r)
	p.ratings(r)
}
