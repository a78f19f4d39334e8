package modelfile

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/constant"
	"tiploop/frame/drive"
)

const playing = two + `axes:
  a:
    along: x
    carries: [post]
    travel: [-1, 1]
    guides: [{stiffness: {press: 1e5}, on: base, part: post, from: [0, 0, 10], to: [50, 0, 10], carriages: [20]}]
    drive: `

// Play is that of the fit, the kind or the unit, or what the builder says; 0 is none.
func TestPlay(t *testing.T) {
	nut := drive.PlayNut.Play()
	unit, _ := drive.LookupSupportUnit("plain-12")
	const (
		ball  = "{screw: 1605, from: [0, 0, 10], to: [90, 0, 10], bearing: {part: base}, nut: {part: post, at: 20"
		held  = "{screw: 1605, from: [0, 0, 10], to: [90, 0, 10], nut: {part: post, at: 20}, bearing: {part: base"
		lead  = "{screw: Tr8x8, from: [0, 0, 10], to: [90, 0, 10], bearing: {part: base}, nut: {part: post, at: 20"
		fixed = held + "}, ends: fixed-fixed, far: {part: base"
		rack  = "{rack: {radius: 10, width: 8}, part: post, on: base, at: [20, 0, 10]"
		plain = "{stiffness: 30 N/um, part: post, on: base, at: [20, 0, 10]"
	)
	for text, want := range map[string][]drive.Play{
		ball + "}}":                            nil,
		ball + ", fit: play}}":                 {{Name: "nut", Gap: nut}},
		ball + ", fit: play, play: 0}}":        nil,
		ball + ", play: 30 um}}":               {{Name: "nut", Gap: constant.Exactly(0.03)}},
		lead + "}}":                            {{Name: "nut", Gap: drive.LeadNutPlay()}},
		lead + ", play: 1 thou}}":              {{Name: "nut", Gap: constant.Exactly(0.0254)}},
		held + ", unit: plain-12}}":            {{Name: drive.BearingPlay, Gap: unit.Play}},
		held + ", stiffness: 5e4, play: 0.1}}": {{Name: drive.BearingPlay, Gap: constant.Exactly(0.1)}},
		fixed + ", play: 10 um}}":              {{Name: drive.FarBearingPlay, Gap: constant.Exactly(0.01)}},
		rack + "}":                             {{Name: "rack", Gap: drive.RackPlay()}},
		rack + ", play: 0}":                    nil,
		plain + ", play: 0.1 mm}":              {{Name: "drive", Gap: constant.Exactly(0.1)}},
	} {
		m := readMachine(t, playing+text+"\n")
		require.Equal(t, want, m.Axes[0].Drives[0].Play, text)
	}
	near, far := drive.Play{Name: drive.BearingPlay, Gap: unit.Play}, drive.Play{Name: drive.FarBearingPlay,
		Gap: constant.Exactly(0.001)}
	require.Equal(t, []drive.Play{far}, drive.SideBySide([]drive.Play{near, far}), "the tighter is felt alone")
	require.Empty(t, drive.SideBySide([]drive.Play{near}), "one without play is felt alone")
}

func TestPlayFaults(t *testing.T) {
	testFaults(t, []faultCase{
		{"less than none", playing + "{stiffness: 30 N/um, part: post, on: base, at: [20, 0, 10], play: -0.1}\n", `
m.yaml:12:78: play must not be negative: -0.1 mm
	it is how far the drive moves between push and pull; 0 for none`},
		{"without its unit", playing + "{stiffness: 30 N/um, part: post, on: base, at: [20, 0, 10], play: 50}\n", `
m.yaml:12:78: a play of 50 mm is beyond belief: at most 5 mm
	look for a wrong unit`},
		{"a force", playing + "{rack: {radius: 10, width: 8}, part: post, on: base, at: [20, 0, 10], play: 4 N}\n", `
m.yaml:12:88: a force (4 N) where a length belongs`},
		{"misspelt", playing + "{stiffness: 30 N/um, part: post, on: base, at: [20, 0, 10], ply: 4 um}\n", `
m.yaml:12:72: key "ply" is not known in drive
	did you mean play? play takes: length in mm`},
	})
}
