package report_test

import (
	"bytes"
	"encoding/csv"
	"fmt"

	"tiploop/frame/answer"
	"tiploop/report"
)

// The tip of a machine that is 4 N/µm stiff along x: 100 N move it by 100/4 = 25 µm.
func ExampleWriteTipCSV() {
	moved, size := [3]float64{25, 0, 0}, 25.0
	found := answer.Answer{Machine: "wheel-cutting stand", Detail: "section", Options: []answer.Result{{
		Name:   "as drawn",
		Detail: "section",
		MassKg: 6.4,
		Tip:    &answer.Tip{StiffnessNPerUm: answer.Stiffness{X: 4, Y: 9, Z: 12, Softest: 4}},
		Loads:  []answer.LoadResult{{Name: "side push", OnTip: true, TipUm: &moved, TipSizeUm: &size}},
	}}}
	var csvText bytes.Buffer
	if err := report.WriteTipCSV(&csvText, found); err != nil {
		fmt.Println(err)
		return
	}
	rows, err := csv.NewReader(&csvText).ReadAll()
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, head := range rows[0] {
		if head == "load" || head == "stiffness_softest_n_per_um" || head == "tip_size_um" {
			fmt.Println(head, rows[1][i])
		}
	}
	// Output:
	// load side push
	// stiffness_softest_n_per_um 4
	// tip_size_um 25
}
