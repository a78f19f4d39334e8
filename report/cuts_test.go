package report

import (
	"bytes"
	"encoding/csv"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
)

// sampleCuts are invented cuts of every kind: the numbers follow from nothing.
func sampleCuts(scale float64) []answer.CutResult {
	one := func(v float64) *float64 { return &v }
	level := func(times float64, deepest *float64, by string, surfaces ...answer.SurfaceError) answer.CutLevel {
		l := answer.CutLevel{PeakSizeN: 85.7 * times, TorqueNmm: 176 * times, MotorPowerW: 307 * times,
			MovementUm: 34.5 * times * scale, FeedUm: [2]float64{-12.3 * times * scale, 4 * times}, DeepestMM: deepest,
			DeepestBy: by}
		for _, s := range surfaces {
			s.LeastUm, s.MostUm, s.MeanUm = s.LeastUm*times*scale, s.MostUm*times*scale, s.MeanUm*times*scale
			l.Surfaces = append(l.Surfaces, s)
		}
		if len(surfaces) > 0 {
			l.NormalUm = surfaces[0].LeastUm * times * scale
		}
		return l
	}
	left := answer.SurfaceError{Surface: "left wall", Normal: [3]float64{0, -1, 0}, LeastUm: -23.4, MostUm: 5, MeanUm: -17.6}
	floor := answer.SurfaceError{Surface: "floor", Normal: [3]float64{0, 0, 1}, LeastUm: 1.5, MostUm: 1.5000001, MeanUm: 1.5}
	aside := answer.SurfaceError{Surface: "hole's place", LeastUm: 7, MostUm: 7}
	radial, axial := 6.0, 1.5
	cut := answer.CutResult{
		Name: "slot in brass", Load: "slot in brass, peak", Material: "brass-cz120", Mode: "slot",
		FeedDirection: [3]float64{1, 0, 0}, DiameterMM: 6, RadialMM: &radial, AxialMM: &axial, FeedMMMin: 400,
		PerToothMM: 0.00833, SpeedRPM: 24000, SpeedMMin: 452.4, ToleranceUm: 20,
		Low: level(0.6, one(9.9), "flute length", left, floor), Typical: level(1, one(1.25), "tolerance", left, floor),
		High: level(2, one(0.5), "power", left, floor),
	}
	wall := cut
	narrow := 0.4
	wall.Name, wall.Load, wall.Mode, wall.RadialMM, wall.ToleranceUm = "wall", "wall, peak", "down", &narrow, 0
	wall.FeedDirection, wall.SpeedMMin = [3]float64{0, -1, 0}, 62.83
	wall.Typical, wall.Low, wall.High = level(0.2, nil, "", floor), level(0.1, nil, "", floor),
		level(0.3, nil, "", floor)
	face := cut
	face.Name, face.Load, face.Mode, face.ToleranceUm = "face", "face, peak", "centred", 1000
	face.Typical, face.Low, face.High = level(0, one(18), "flute length", floor),
		level(0, one(18), "flute length", floor), level(0, one(18), "torque", floor)
	hole := cut
	hole.Name, hole.Load, hole.Mode, hole.RadialMM, hole.AxialMM = "hole", "hole, peak", "drilling", nil, nil
	hole.FeedDirection = [3]float64{0, 0, -1}
	hole.Typical, hole.Low, hole.High = level(1, nil, "", aside, floor), level(0.5, nil, "", aside, floor),
		level(1.5, nil, "", aside, floor)
	return []answer.CutResult{cut, wall, face, hole}
}

func TestCuts(t *testing.T) {
	golden(t, "cuts.txt", written(t, func(b *bytes.Buffer) error {
		p := newPage(b)
		p.cuts(answer.Result{Cuts: sampleCuts(1)})
		return p.Close()
	}))
	require.Empty(t, written(t, func(b *bytes.Buffer) error {
		p := newPage(b)
		p.cuts(answer.Result{})
		return p.Close()
	}))
}

// Options with and without cuts side by side, and what the second gains.
func TestCutsCompared(t *testing.T) {
	first, second, bare := sampleOption("first", 1, 4, 130), sampleOption("second", 1, 4, 130),
		sampleOption("bare", 1, 4, 130)
	first.Cuts, second.Cuts = sampleCuts(1), sampleCuts(0.5)[:3]
	options := []answer.Result{first, second, bare}
	cells := map[string][]string{}
	for _, l := range present(cutLines(options), options) {
		cells[l.what+", "+l.unit] = []string{l.cell(first), l.cell(second), l.cell(bare)}
	}
	require.Equal(t, map[string][]string{
		"surfaces of “slot in brass” off by, µm":           {"23.4", "11.7", "–"},
		"deepest “slot in brass” within its tolerance, mm": {"1.25", "1.25", "–"},
		"surfaces of “wall” off by, µm":                    {"0.300", "0.150", "–"},
		"surfaces of “face” off by, µm":                    {"0", "0", "–"},
		"deepest “face” within its tolerance, mm":          {"18.0", "18.0", "–"},
		"surfaces of “hole” off by, µm":                    {"7.00", "–", "–"},
	}, cells)
	require.Equal(t, []string{"surfaces of “slot in brass” off by 11.7 µm less", "surfaces of “wall” off by 0.150 µm less"},
		compared(first, second).gains)
	require.Equal(t, []string{"surfaces of “slot in brass” off by 11.7 µm more", "surfaces of “wall” off by 0.150 µm more"},
		compared(second, first).costs)
}

// A cut's numbers stand in the row of its load, and nowhere in a table without cuts.
func TestCutsCSV(t *testing.T) {
	first, bare := sampleOption("first", 1, 4, 130), sampleOption("bare", 1, 4, 130)
	first.Cuts = sampleCuts(1)[:1]
	first.Cuts[0].Load = first.Loads[1].Name
	read := func(options ...answer.Result) [][]string {
		rows, err := csv.NewReader(bytes.NewReader(written(t, func(b *bytes.Buffer) error {
			return WriteTipCSV(b, sampleAnswer(options...))
		}))).ReadAll()
		require.NoError(t, err)
		return rows
	}
	rows := read(first, bare)
	cell := func(row int, head string) string {
		i := slices.Index(rows[0], head)
		require.GreaterOrEqual(t, i, 0, head)
		return rows[row][i]
	}
	require.Equal(t, "34.5", cell(2, "cut_typical_movement_um"))
	require.Equal(t, "-23.4", cell(2, "cut_typical_normal_um"))
	require.Equal(t, "0.5", cell(2, "cut_high_deepest_mm"))
	require.Equal(t, "105.6", cell(2, "cut_low_torque_n_mm"))
	for _, row := range []int{1, 3, 4} {
		require.Empty(t, cell(row, "cut_typical_movement_um"))
	}
	for _, head := range read(bare)[0] {
		require.NotContains(t, head, "cut_")
	}
}
