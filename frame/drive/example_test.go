package drive_test

import (
	"fmt"

	"tiploop/frame/drive"
)

// ISO 3408-4 (from memory) rounds the rigidity of a shaft held at one end to 165 d²/l N/µm, with E = 210 GPa: at 12.9
// mm and 320 mm that is 85.8 N/µm, 84.2 at 206 GPa. With a nut of 120 and a bearing of 90 N/µm in a row (compliances
// add) 31.9 are left, as the check joint-screw-drive-chain of testdata/checks.yaml has it; the shaft's twist, which
// that leaves out, takes a little more.
func Example() {
	chain := drive.ScrewDrive{
		Shaft: drive.Shaft{Root: 12.9, E: 206e3, Nu: 0.3, Length: 500, Ends: drive.FixedSupported},
		Lead:  5, Nut: 120e3, NearBearing: 90e3, Twisting: drive.TwistLeftOut,
	}
	fmt.Printf("shaft alone %.1f N/µm\n", chain.Shaft.Axial(320)/1000)
	for _, twisting := range []drive.Twisting{drive.TwistLeftOut, drive.TwistCounts} {
		chain.Twisting = twisting
		k, err := chain.Stiffness(320)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("drive %.1f N/µm\n", k/1000)
	}
	// Output:
	// shaft alone 84.1 N/µm
	// drive 31.9 N/µm
	// drive 31.0 N/µm
}
