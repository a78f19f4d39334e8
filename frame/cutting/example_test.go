package cutting_test

import (
	"fmt"

	"tiploop/frame/cutting"
)

// Altintas, Manufacturing Automation, ch. 2 (from memory): a slot with two teeth has the mean forces −z·b·f·K_r/4 along
// the feed and z·b·f·K_t/4 across it, here −12 and 27 N (check cutting-mean-forces-slot of testdata/checks.yaml).
// Without edge forces K_t is the work per volume: 900 MPa by 8640 mm³/min are 129.6 W.
func ExampleMilling_Forces() {
	slot := cutting.Milling{
		Mill: cutting.Mill{DiameterMM: 6, Flutes: 2}, Mode: cutting.Slot,
		AxialDepthMM: 2, FeedPerToothMM: 0.03, SpeedRPM: 12000,
	}
	f, err := slot.Forces(cutting.Law{Kt: 900, Kr: 400})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("mean %.1f N along the feed, %.1f N across it\n", f.Mean.X, f.Mean.Y)
	fmt.Printf("%.0f mm³/min at %.1f W\n", f.RemovalMM3Min, f.MeanPowerW)
	// Output:
	// mean -12.0 N along the feed, 27.0 N across it
	// 8640 mm³/min at 129.6 W
}
