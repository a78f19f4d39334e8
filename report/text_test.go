package report

import (
	"bytes"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tiploop/frame/machine"
)

// The numbers of these tests are invented: they guard words and layout.

func TestWriteTip(t *testing.T) {
	for name, a := range map[string]machine.Answer{
		"tip_one":   sampleAnswer(sampleOption("as drawn", 1, 12, 130)),
		"tip_two":   sampleAnswer(sampleOption("short bed", 1, 4, 130), sampleOption(longName, 1.4, 9, 180)),
		"tip_zero":  sampleAnswer(zero("stiff")),
		"tip_frame": sampleAnswer(bareFrame("as drawn", 12345, 120)),
	} {
		t.Run(name, func(t *testing.T) {
			golden(t, name+".txt", written(t, func(b *bytes.Buffer) error { return WriteTip(b, a) }))
			golden(t, name+".csv", written(t, func(b *bytes.Buffer) error { return WriteTipCSV(b, a) }))
		})
	}
}

func TestWriteCompare(t *testing.T) {
	dearer := sampleOption("four more screws", 0.9, 4, 130)
	dearer.Holes.Operations += 44
	dearer.Holes.Minutes += 60
	for name, a := range map[string]machine.Answer{
		"compare_one":       sampleAnswer(sampleOption("as drawn", 1, 4, 130)),
		"compare_two":       sampleAnswer(sampleOption("short bed held all along", 1, 4, 130), sampleOption("long bed held in the middle", 1.14, 4, 190), dearer),
		"compare_six":       sixOptions(),
		"compare_identical": sampleAnswer(sampleOption("a", 1, 4, 130), sampleOption("b", 1, 4, 130)),
		"compare_zero":      sampleAnswer(zero("a"), zero("b")),
		"compare_frame":     sampleAnswer(bareFrame("light", 1000, 100), bareFrame("heavy", 400, 130)),
		"compare_none":      sampleAnswer(),
	} {
		t.Run(name, func(t *testing.T) {
			golden(t, name+".txt", written(t, func(b *bytes.Buffer) error { return WriteCompare(b, a) }))
			golden(t, name+".csv", written(t, func(b *bytes.Buffer) error { return WriteCompareCSV(b, a) }))
		})
	}
}

func TestWriteTravel(t *testing.T) {
	nowhere := sampleOption("nowhere", 30, 4, 130)
	free := sampleOption("without tolerance", 1, 4, 130)
	for i := range free.Travel {
		free.Travel[i].ToleranceUm, free.Travel[i].WithinMM = 0, nil
	}
	for name, a := range map[string]machine.Answer{
		"travel_two":   sampleAnswer(sampleOption("short bed", 1, 4, 130), nowhere),
		"travel_free":  sampleAnswer(free, zero("stiff")),
		"travel_frame": sampleAnswer(bareFrame("as drawn", 1, 1)),
	} {
		t.Run(name, func(t *testing.T) {
			golden(t, name+".txt", written(t, func(b *bytes.Buffer) error { return WriteTravel(b, a) }))
			golden(t, name+".csv", written(t, func(b *bytes.Buffer) error { return WriteTravelCSV(b, a) }))
		})
	}
}

func TestWriteShow(t *testing.T) {
	_, mill := sampleMachine()
	_, portal := sampleFrame()
	for name, inv := range map[string]machine.Inventory{"show_mill": mill, "show_frame": portal} {
		t.Run(name, func(t *testing.T) {
			golden(t, name+".txt", written(t, func(b *bytes.Buffer) error { return WriteShow(b, inv) }))
			golden(t, name+".csv", written(t, func(b *bytes.Buffer) error { return WriteShowCSV(b, inv) }))
		})
	}
}

func TestTextRefusesNotANumber(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		a := sampleAnswer(sampleOption("as drawn", 1, 4, 130))
		a.Options[0].Loads[1].PointsUm["bed end"] = [3]float64{0, bad, 0}
		_, inv := sampleMachine()
		inv.CentreMM[2] = bad
		for name, write := range map[string]func(b *bytes.Buffer) error{
			"tip":         func(b *bytes.Buffer) error { return WriteTip(b, a) },
			"compare":     func(b *bytes.Buffer) error { return WriteCompare(b, a) },
			"travel":      func(b *bytes.Buffer) error { return WriteTravel(b, a) },
			"show":        func(b *bytes.Buffer) error { return WriteShow(b, inv) },
			"tip csv":     func(b *bytes.Buffer) error { return WriteTipCSV(b, a) },
			"compare csv": func(b *bytes.Buffer) error { return WriteCompareCSV(b, a) },
			"travel csv":  func(b *bytes.Buffer) error { return WriteTravelCSV(b, a) },
			"show csv":    func(b *bytes.Buffer) error { return WriteShowCSV(b, inv) },
			"json":        func(b *bytes.Buffer) error { return WriteJSON(b, a) },
		} {
			var b bytes.Buffer
			require.Error(t, write(&b), name)
			require.Empty(t, b.String(), name)
		}
	}
}

func TestTravelWithoutPlacesIsAnError(t *testing.T) {
	a := sampleAnswer(sampleOption("as drawn", 1, 4, 130))
	a.Options[0].Travel[0].TipUm = a.Options[0].Travel[0].TipUm[1:]
	var b bytes.Buffer
	require.ErrorContains(t, WriteTravel(&b, a), "41 places and 40 movements")
	require.ErrorContains(t, WriteTravelCSV(&b, a), "41 places and 40 movements")
	_, err := TravelPicture(a)
	require.ErrorContains(t, err, "41 places and 40 movements")
}

// failing is a writer that takes nothing.
type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }

func TestWritersPassOnErrors(t *testing.T) {
	full := failing{err: assert.AnError}
	a := sampleAnswer(sampleOption("as drawn", 1, 4, 130))
	_, inv := sampleMachine()
	require.ErrorIs(t, WriteTip(full, a), assert.AnError)
	require.ErrorIs(t, WriteCompare(full, a), assert.AnError)
	require.ErrorIs(t, WriteTravel(full, a), assert.AnError)
	require.ErrorIs(t, WriteShow(full, inv), assert.AnError)
	require.ErrorIs(t, WriteJSON(full, a), assert.AnError)
	require.ErrorIs(t, WriteTipCSV(full, a), assert.AnError)
}
