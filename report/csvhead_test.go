package report

import (
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestCSVHeads(t *testing.T) {
	require.Equal(t, []string{"tip_size_um", "tip_under_side_cut_um", "stiffness_left_right_x_n_per_um", "point_bed_end_x_um",
		"most_used_up_percent_of_its_limit", "lange_mm", "u6728_mm", "a_um", "a_um_2", "edge_mpa"},
		csvHeads([]string{"tip_size_um", "tip under “side cut”, µm", "stiffness left–right (x), N/µm", "point bed end x_um",
			"most used up, % of its limit", "Länge, mm", "木_mm", "a, µm", "A µm", "edge_mpa"}))
}

// Whatever names a file has, heads are small ASCII letters, numbers and underscores, and each stands once.
func TestCSVHeadsOfAnyNames(t *testing.T) {
	plain := regexp.MustCompile(`^[a-z0-9_]*$`)
	rapid.Check(t, func(t *rapid.T) {
		heads := csvHeads(rapid.SliceOf(rapid.String()).Draw(t, "heads"))
		once := map[string]bool{}
		for _, h := range heads {
			require.Regexp(t, plain, h)
			require.False(t, once[h], h)
			once[h] = true
		}
	})
}
