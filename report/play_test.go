package report_test

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/answer"
	"tiploop/report"
)

// playing is an answer with a nut that has play, and one without.
func playing() answer.Answer {
	um, size := [3]float64{20, 0, 0}, 20.0
	tip := [3]float64{30, 0, 0}
	lost := answer.Result{Name: "with play", Detail: answer.SectionDetail,
		Tip: &answer.Tip{StiffnessNPerUm: answer.Stiffness{X: 1, Y: 1, Z: 1, Softest: 1,
			SoftestDirection: [3]float64{1, 0, 0}}, LostMotionUm: &answer.LostMotion{X: 20}},
		Loads: []answer.LoadResult{
			{Name: "cut", OnTip: true, TipUm: &tip, TipSizeUm: &tip[0], LostMotionUm: &um, LostMotionSizeUm: &size,
				LostMotionSizeUm90: &[2]float64{5, 50}},
			{Name: "own weight", TipUm: &tip, TipSizeUm: &tip[0]},
		},
		Play: []answer.PlayLine{{Source: "drive x, nut", PlayUm: 20, PlayUm90: [2]float64{5, 50}, RestingN: 37.5,
			TipUm: [3]float64{20, 0, 0}}},
		Travel: []answer.Travel{{Path: "table", Load: "cut", AtMM: []float64{0, 10}, TipUm: [][3]float64{tip, tip},
			LostMotionUm: &um}},
	}
	none := lost
	none.Name, none.Play, none.Travel = "without", nil, nil
	none.Loads = []answer.LoadResult{{Name: "cut", OnTip: true, TipUm: &tip, TipSizeUm: &tip[0]}}
	none.Tip = &answer.Tip{StiffnessNPerUm: lost.Tip.StiffnessNPerUm}
	return answer.Answer{Tiploop: 1, Machine: "m", Detail: answer.SectionDetail, Options: []answer.Result{lost, none}}
}

func columnOf(t *testing.T, text []byte, head string) (cells []string) {
	t.Helper()
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	require.NoError(t, err)
	for k, h := range rows[0] {
		if h == head {
			for _, r := range rows[1:] {
				cells = append(cells, r[k])
			}
		}
	}
	require.NotEmpty(t, cells, "no column %s", head)
	return cells
}

// What play costs stands beside the elastic movement, in text and in CSV; where nothing has play nothing is said of it.
func TestPlayBesideMovement(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, report.WriteTip(&b, playing()))
	text := strings.Join(strings.Fields(b.String()), " ")
	require.Contains(t, text, "drive x, nut 20.0 5.00 to 50.0 37.5 20.0 0 0")
	require.Contains(t, text, "a push that turns round loses 20.0 µm along x, 0 along y, 0 along z")
	require.Contains(t, text, "cut 20.0 0 0 20.0 5.00 to 50.0")
	require.Equal(t, 1, strings.Count(b.String(), "Play: what the tip loses"))

	b.Reset()
	require.NoError(t, report.WriteTipCSV(&b, playing()))
	require.Equal(t, []string{"20", "", ""}, columnOf(t, b.Bytes(), "lost_motion_x_um"))
	b.Reset()
	require.NoError(t, report.WriteTravel(&b, playing()))
	require.Contains(t, b.String(), "Play adds 20.0 µm when the push turns round")
	b.Reset()
	require.NoError(t, report.WriteTravelCSV(&b, playing()))
	require.Equal(t, []string{"20", "20"}, columnOf(t, b.Bytes(), "lost_motion_x_um"))
	require.Equal(t, []string{"section", "section"}, columnOf(t, b.Bytes(), "detail"))

	dry := playing()
	dry.Options = dry.Options[1:]
	b.Reset()
	require.NoError(t, report.WriteTipCSV(&b, dry))
	require.NotContains(t, b.String(), "lost_motion")
}
