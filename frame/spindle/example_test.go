package spindle_test

import (
	"fmt"

	"tiploop/frame/spindle"
)

// A carbide cutter of 6 mm that sticks out 24 mm is a bar of 0.8 D (Kops & Vo 1990, from memory) of 580 GPa: by 3 E
// I/L³ it has 3.3 N/µm, which is 0.305 µm per N. Common practice has a collet add 0.6 of that at three diameters; it
// turns, so at four it is 0.6·3/4.
func Example() {
	class, _ := spindle.LookupClass("round-spindle")
	cutter := spindle.Cutter{Diameter: 6, Flutes: 3, Stickout: 24, FluteLength: 24, E: 580e3}
	shares, err := spindle.Tip(class.Springs().Typical, cutter)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range shares {
		fmt.Printf("%-18s %.3f µm/N\n", s.Name, s.Compliance*1000)
	}
	// Output:
	// spindle, sideways  0.029 µm/N
	// spindle, tilting   0.002 µm/N
	// collet, turning    0.137 µm/N
	// cutter             0.305 µm/N
}
