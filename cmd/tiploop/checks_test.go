package main

import (
	"encoding/json"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/testdata/checks"
)

// toMM turns the µm of an answer into the mm of a check value; down counts a movement or force down as positive.
const (
	toMM = 1e-3
	down = -1
)

// tightest is the agreement asked of closed forms in the model's own theory; the check values have nine digits.
const tightest = 1e-6

// reading is one number of the answer and the check value it must agree with: value·times = expected[key].
type reading struct {
	key   string // of "expected"; key/1 is the second of a list
	path  string // into the one option of the JSON answer, see pick
	times float64
}

// checkReadings says for every model under testdata/checks which numbers of its answer are known. What a ground does is
// about the world's axes, right-handed; what a bar carries is about its own. Those of a bar along x are the world's,
// and it sags with a negative moment about y; the columns of the portals, in the plane y = 0, have theirs against it.
var checkReadings = map[string][]reading{
	"beam-cantilever-tip-load": {
		{"tip_deflection_mm", "loads/name=press/points_um/tip/2", down * toMM},
		{"tip_slope_rad", "loads/name=press/points_rad/tip/1", 1},
		{"root_moment_N_mm", "grounds/load=press,ground=wall/moment_n_mm/1", -1},
		{"root_moment_N_mm", "loads/name=press/bars/part=beam/from_n_mm/1", 1},
	},
	"beam-cantilever-uniform": {
		{"tip_deflection_mm", "loads/name=press/points_um/tip/2", down * toMM},
		{"tip_slope_rad", "loads/name=press/points_rad/tip/1", 1},
	},
	"beam-cantilever-triangular": {
		{"tip_deflection_mm", "loads/name=press/points_um/tip/2", down * toMM},
		{"root_moment_N_mm", "grounds/load=press,ground=wall/moment_n_mm/1", -1},
	},
	"beam-ss-central": {
		{"mid_deflection_mm", "loads/name=press/points_um/middle/2", down * toMM},
		{"end_slope_rad", "loads/name=press/points_rad/start/1", 1},
		{"mid_moment_N_mm", "loads/name=press/bars/part=beam/to_n_mm/1", -1},
		{"mid_moment_N_mm", "loads/name=press/bars/part=rest/from_n_mm/1", -1},
	},
	"beam-ss-offset": {
		{"deflection_under_load_mm", "loads/name=press/points_um/load/2", down * toMM},
		{"mid_deflection_mm", "loads/name=press/points_um/middle/2", down * toMM},
		{"near_end_slope_rad", "loads/name=press/points_rad/start/1", 1},
	},
	"beam-ss-uniform": {
		{"mid_deflection_mm", "loads/name=press/points_um/middle/2", down * toMM},
		{"end_slope_rad", "loads/name=press/points_rad/start/1", 1},
		{"end_slope_rad", "loads/name=press/points_rad/end/1", -1},
	},
	"beam-ss-triangular": {
		{"left_slope_rad", "loads/name=press/points_rad/start/1", 1},
		{"right_slope_rad", "loads/name=press/points_rad/end/1", -1},
		{"mid_deflection_mm", "loads/name=press/points_um/middle/2", down * toMM},
	},
	"beam-fixed-fixed-central": {
		{"mid_deflection_mm", "loads/name=press/points_um/middle/2", down * toMM},
		{"end_moment_N_mm", "grounds/load=press,ground=wall/moment_n_mm/1", -1},
		{"end_moment_N_mm", "grounds/load=press,ground=far wall/moment_n_mm/1", 1},
	},
	"beam-fixed-fixed-uniform": {
		{"mid_deflection_mm", "loads/name=press/points_um/middle/2", down * toMM},
		{"end_moment_N_mm", "grounds/load=press,ground=wall/moment_n_mm/1", -1},
		{"mid_moment_N_mm", "loads/name=press/bars/part=rest/from_n_mm/1", -1},
	},
	"beam-propped-central": {
		{"right_reaction_N", "grounds/load=press,ground=prop/force_n/2", 1},
		{"fixed_moment_N_mm", "grounds/load=press,ground=wall/moment_n_mm/1", -1},
		{"deflection_under_load_mm", "loads/name=press/points_um/middle/2", down * toMM},
	},
	"beam-overhang-tip": {
		{"tip_deflection_mm", "loads/name=press/points_um/tip/2", down * toMM},
		{"left_uplift_N", "grounds/load=press,ground=left/force_n/2", down},
	},
	"beam-two-span-uniform": {
		{"middle_reaction_N", "grounds/load=press,ground=middle/force_n/2", 1},
		{"end_reaction_N", "grounds/load=press,ground=left/force_n/2", 1},
		{"end_reaction_N", "grounds/load=press,ground=right/force_n/2", 1},
		{"middle_moment_N_mm", "loads/name=press/bars/part=beam/to_n_mm/1", 1},
	},
	"beam-two-span-one-load": {
		{"middle_reaction_N", "grounds/load=press,ground=middle/force_n/2", 1},
		{"near_reaction_N", "grounds/load=press,ground=left/force_n/2", 1},
		{"far_reaction_N", "grounds/load=press,ground=right/force_n/2", 1},
		{"middle_moment_N_mm", "loads/name=press/bars/part=rest/from_n_mm/1", 1},
	},
	"beam-stubby-cantilever": {
		{"tip_deflection_mm", "loads/name=press/points_um/tip/2", down * toMM},
	},
	"beam-stubby-fixed-central": {
		{"mid_deflection_mm", "loads/name=press/points_um/middle/2", down * toMM},
		{"end_moment_N_mm", "grounds/load=press,ground=wall/moment_n_mm/1", -1},
	},
	"beam-stubby-propped-uniform": {
		{"right_reaction_N", "grounds/load=press,ground=prop/force_n/2", 1},
	},
	"beam-settlement-fixed": {
		{"end_moment_N_mm", "grounds/load=sinking,ground=wall/moment_n_mm/1", -1},
		{"end_moment_N_mm", "grounds/load=sinking,ground=far wall/moment_n_mm/1", -1},
		{"end_shear_N", "grounds/load=sinking,ground=wall/force_n/2", 1},
		{"end_shear_N", "loads/name=sinking/bars/part=beam/from_n/2", -1},
	},
	"beam-thermal-ss": {
		{"mid_rise_mm", "loads/name=sun/points_um/middle/2", toMM},
		{"end_slope_rad", "loads/name=sun/points_rad/start/1", -1},
	},
	"beam-thermal-fixed": {
		{"end_moment_N_mm", "grounds/load=sun,ground=wall/moment_n_mm/1", 1},
		{"end_moment_N_mm", "loads/name=sun/bars/part=beam/to_n_mm/1", -1},
	},
	"beam-foundation-infinite": {
		{"deflection_under_load_mm", "loads/name=press/points_um/middle/2", down * toMM},
		{"moment_under_load_N_mm", "loads/name=press/bars/part=beam/to_n_mm/1", -1},
	},
	"beam-foundation-finite-central": {
		{"mid_deflection_mm", "loads/name=press/points_um/middle/2", down * toMM},
		{"mid_moment_N_mm", "loads/name=press/bars/part=beam/to_n_mm/1", -1},
		{"end_deflection_mm", "loads/name=press/points_um/end/2", down * toMM},
	},
	"beam-middle-spring": {
		{"mid_deflection_mm", "loads/name=press/points_um/middle/2", down * toMM},
		{"spring_force_N", "grounds/load=press,ground=spring/force_n/2", 1},
	},
	"beam-cantilever-root-spring": {
		{"tip_deflection_mm", "loads/name=press/points_um/tip/2", down * toMM},
	},
	"beam-semirigid-ends-uniform": {
		{"end_moment_N_mm", "grounds/load=press,ground=left spring/moment_n_mm/1", -1},
		{"end_moment_N_mm", "grounds/load=press,ground=right spring/moment_n_mm/1", 1},
		{"mid_deflection_mm", "loads/name=press/points_um/middle/2", down * toMM},
	},
	"beam-stepped-tool": {
		{"tip_deflection_mm", "loads/name=press/points_um/tip/0", toMM},
	},
	"frame-portal-pinned-lateral": {
		{"sway_mm", "loads/name=push/points_um/corner/0", toMM},
		{"corner_moment_N_mm", "loads/name=push/bars/part=left/to_n_mm/1", 1},
		{"foot_thrust_N", "grounds/load=push,ground=left foot/force_n/0", -1},
		{"foot_vertical_N", "grounds/load=push,ground=right foot/force_n/2", 1},
	},
	"frame-portal-fixed-lateral": {
		{"sway_mm", "loads/name=push/points_um/corner/0", toMM},
		{"foot_moment_N_mm", "grounds/load=push,ground=left foot/moment_n_mm/1", -1},
		{"corner_moment_N_mm", "loads/name=push/bars/part=left/to_n_mm/1", 1},
	},
	"frame-portal-pinned-gravity": {
		{"foot_thrust_N", "grounds/load=press,ground=left foot/force_n/0", 1},
		{"corner_moment_N_mm", "loads/name=press/bars/part=left/to_n_mm/1", -1},
	},
	"frame-portal-fixed-beam-load": {
		{"foot_thrust_N", "grounds/load=press,ground=left foot/force_n/0", 1},
		{"foot_moment_N_mm", "grounds/load=press,ground=left foot/moment_n_mm/1", 1},
		{"corner_moment_N_mm", "loads/name=press/bars/part=left/to_n_mm/1", -1},
		{"mid_deflection_mm", "loads/name=press/points_um/middle/2", down * toMM},
	},
	"frame-portal-semirigid-lateral": {
		{"sway_mm", "loads/name=push/points_um/corner/0", toMM},
	},
	"frame-bent-cantilever-out-of-plane": {
		{"tip_deflection_mm", "loads/name=press/points_um/tip/2", down * toMM},
		{"tip_twist_of_first_leg_rad", "loads/name=press/points_rad/corner/0", -1},
	},
	"frame-space-cantilever-z": {
		{"tip_deflection_in_load_direction_mm", "loads/name=press/points_um/tip/2", down * toMM},
		{"all_tip_components_mm/0", "loads/name=press/points_um/tip/0", toMM},
		{"all_tip_components_mm/1", "loads/name=press/points_um/tip/1", toMM},
		{"all_tip_components_mm/2", "loads/name=press/points_um/tip/2", toMM},
	},
	"frame-space-cantilever-x": {
		{"tip_deflection_in_load_direction_mm", "loads/name=push/points_um/tip/0", toMM},
		{"all_tip_components_mm/0", "loads/name=push/points_um/tip/0", toMM},
		{"all_tip_components_mm/1", "loads/name=push/points_um/tip/1", toMM},
		{"all_tip_components_mm/2", "loads/name=push/points_um/tip/2", toMM},
	},
	"frame-space-propped": {
		{"prop_reaction_N", "grounds/load=press,ground=prop/force_n/2", 1},
		{"load_point_deflection_mm", "loads/name=press/points_um/corner/2", down * toMM},
	},
	"frame-grillage-cross": {
		{"crossing_deflection_mm", "loads/name=press/points_um/crossing/2", down * toMM},
		{"share_of_beam_1", "grounds/load=press,ground=long end/force_n/2", 2. / 300}, // half of its share of 300 N
	},
	"frame-grillage-torsion": {
		{"load_point_deflection_mm", "loads/name=press/points_um/middle/2", down * toMM},
	},
	"frame-gravity-cantilever": {
		{"max_sag_mm", "loads/name=own weight/points_um/tip/2", down * toMM},
	},
}

// expected gives the check value under a key, or one of a list of them.
func expected(t *testing.T, c checks.Case, key string) float64 {
	t.Helper()
	name, index, listed := strings.Cut(key, "/")
	if !listed {
		return c.Want(t, name)
	}
	i, err := strconv.Atoi(index)
	require.NoError(t, err)
	return c.WantList(t, name)[i]
}

// pick follows a path into decoded JSON. A step is a key of an object, a place in a list, or key=word[,key=word] for
// the one object of a list that says so.
func pick(t *testing.T, v any, path string) any {
	t.Helper()
	for step := range strings.SplitSeq(path, "/") {
		switch x := v.(type) {
		case map[string]any:
			next, ok := x[step]
			require.True(t, ok, "%s: no key %s", path, step)
			v = next
		case []any:
			if i, err := strconv.Atoi(step); err == nil {
				require.Less(t, i, len(x), path)
				v = x[i]
				continue
			}
			found := slices.DeleteFunc(slices.Clone(x), func(item any) bool {
				for pair := range strings.SplitSeq(step, ",") {
					key, word, _ := strings.Cut(pair, "=")
					if item.(map[string]any)[key] != word {
						return true
					}
				}
				return false
			})
			require.Len(t, found, 1, "%s: %s", path, step)
			v = found[0]
		default:
			require.Fail(t, "path leads nowhere", "%s: %s in a %T", path, step, v)
		}
	}
	return v
}

// TestCheckValues runs every model under testdata/checks through the command line and compares with published values.
func TestCheckValues(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("testdata", "checks", "*.yaml"))
	require.NoError(t, err)
	require.Len(t, files, len(checkReadings), "every model has its readings, and all readings their model")
	for _, path := range files {
		id := strings.TrimSuffix(filepath.Base(path), ".yaml")
		t.Run(id, func(t *testing.T) {
			c := checks.Find(t, id)
			t.Log("source:", c.Source)
			require.NotEmpty(t, checkReadings[id])
			out := outputOf(t, "tip", path, "--json")
			var decoded map[string]any
			require.NoError(t, json.Unmarshal(out, &decoded))
			option := pick(t, decoded, "options/0")
			for _, r := range checkReadings[id] {
				value, ok := pick(t, option, r.path).(float64)
				require.True(t, ok, r.path)
				c.NearTo(t, r.path, value*r.times, expected(t, c, r.key), min(tightest, c.Tolerance))
			}
		})
	}
}
