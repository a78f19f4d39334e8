package structure

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/drive"
)

// The ways of a screw to the frame are the chain of frame/drive, with every number that it has: both fixed ends side
// by side, 1/(k₁ + k₂), in a row with what they have in common.
func TestScrewWaysAreTheChain(t *testing.T) {
	for _, ends := range drive.AllEnds() {
		for _, twisting := range []drive.Twisting{drive.TwistCounts, drive.TwistLeftOut} {
			for _, seat := range []float64{0, 3e5} {
				s := drive.ScrewDrive{
					Shaft: drive.Shaft{Root: 13, E: 206e3, Nu: 0.3, Length: 400, Ends: ends}, Lead: 5,
					Nut: 2e5, NearBearing: 1e5, NearBracket: seat, NutBracket: seat, Turning: 1e5, Twisting: twisting,
				}
				if ends == drive.FixedFixed {
					s.FarBearing, s.FarBracket = 8e4, seat
				}
				want, err := s.Stiffness(150)
				require.NoError(t, err)
				near, far, common := screwWays(s, 150)
				require.InEpsilon(t, want, drive.Series(near+far, common), 1e-12, fmt.Sprint(ends, twisting, seat))
			}
		}
	}
}
