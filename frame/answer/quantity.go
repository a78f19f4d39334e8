package answer

import "strings"

// Names of quantities, as they stand in [UnknownShare] and [Duel]. Where a quantity has two names in it a stroke between
// spaces parts them; strokes of their own are doubled, so that no two quantities share a name.

// StiffnessKey names the stiffness at the tip in a direction: "x", "y", "z" or "softest".
func StiffnessKey(direction string) string { return "stiffness " + direction }

// MovementKey names how far the tip moves under a load, or with its name a point.
func MovementKey(load, point string) string {
	if point == "" {
		return "movement " + doubled(load)
	}
	return "movement " + doubled(load) + " / " + doubled(point)
}

// StretchKey names the stretch of a path within its tolerance under a load.
func StretchKey(path, load string) string { return "stretch " + doubled(path) + " / " + doubled(load) }

// DepthKey names the depth of a cut that keeps the tolerance.
func DepthKey(cut string) string { return "depth " + cut }

func doubled(name string) string { return strings.ReplaceAll(name, "/", "//") }
