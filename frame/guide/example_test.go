package guide_test

import (
	"fmt"

	"tiploop/frame/guide"
)

// The catalogue page of a profile rail of size 15 states, beside C0 = 24.1 kN, static moments of 0.16 to 0.17 kN·m; and
// ISO 14728-1 (from memory) makes of a tenth of C a life of a thousand times the rated 50 km.
func Example() {
	carriage, _ := guide.LookupCarriage("profile-15")
	springs, err := carriage.Stiffness(guide.Light)
	if err != nil {
		fmt.Println(err)
		return
	}
	k := springs.Typical
	fmt.Printf("onto the rail %.0f N/µm, against pitching %.1f kN·m/rad\n", k.Press/1000, k.Pitch/1e6)
	_, pitch, _ := carriage.Rows().StaticMoments(24100)
	fmt.Printf("static pitch moment %.2f kN·m\n", pitch/1e6)

	_, rating, _ := carriage.Ratings()
	km, err := rating.LifeKm(rating.Dynamic / 10)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("at a tenth of C it lasts %.0f km\n", km)
	// Output:
	// onto the rail 170 N/µm, against pitching 21.5 kN·m/rad
	// static pitch moment 0.16 kN·m
	// at a tenth of C it lasts 50000 km
}
