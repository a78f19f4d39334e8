package machine_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/cutting"
	"tiploop/frame/drive"
	"tiploop/frame/machine"
)

// A drive of which only the size of its ball screw is said is that of a file that says as little: by README.md a snug
// nut, and at the driven end the fixed unit usual for the diameter.
func TestBallScrewCompletes(t *testing.T) {
	m := whole(t)
	ball := *m.Axes[0].Drives[0].Ball
	m.Axes[0].Drives[0].Screw = drive.ScrewDrive{}
	complete, err := m.Complete()
	require.NoError(t, err)
	d := complete.Axes[0].Drives[0]
	nut, err := ball.Nut(drive.SnugNut, 0)
	require.NoError(t, err)
	require.Equal(t, drive.ScrewDrive{
		Shaft: drive.Shaft{Root: ball.Root.Typical, Length: 400, E: 206e3, Nu: 0.3, Ends: drive.FixedFree},
		Lead:  5, Nut: nut.Typical, NearBearing: drive.FixedUnitFor(16).Axial.Typical,
	}, d.Screw, "1605: 16 mm thick, 5 mm a turn; 206 GPa and 0.3 are hardened steel's; from -200 to 200 mm")
	require.Equal(t, drive.SnugNut.PreloadShare().Typical*ball.Dynamic.Typical, d.Preload)
	require.Equal(t, drive.BallEfficiency().Typical, d.Efficiency)

	m.Axes[0].Drives[0].Screw = drive.ScrewDrive{Shaft: drive.Shaft{Ends: drive.FixedFixed}}
	m.Axes[0].Drives[0].Far = new(0)
	complete, err = m.Complete()
	require.NoError(t, err)
	require.Equal(t, d.Screw.NearBearing, complete.Axes[0].Drives[0].Screw.FarBearing, "both ends are held alike")

	m.Axes[0].Drives[0].Screw.Nut = 7e4
	complete, err = m.Complete()
	require.NoError(t, err)
	require.Zero(t, complete.Axes[0].Drives[0].Preload, "of a nut of the builder's own nothing more is known")
}

// Without a size, a screw of the builder's own has the bearing usual for its root, and no nut.
func TestOwnScrewCompletes(t *testing.T) {
	m := whole(t)
	d := &m.Axes[0].Drives[0]
	d.Ball, d.Screw = nil, drive.ScrewDrive{Shaft: drive.Shaft{Root: 13}, Lead: 5}
	require.EqualError(t, m.Check(), "axis \"x\", drive 0: nut stiffness is 0, must be positive")
	d.Screw.Nut = 5e4
	complete, err := m.Complete()
	require.NoError(t, err)
	require.Equal(t, drive.FixedUnitFor(13).Axial.Typical, complete.Axes[0].Drives[0].Screw.NearBearing)
	require.Zero(t, complete.Axes[0].Drives[0].Efficiency, "not known")
	d.Screw.Shaft.Root = 0
	require.ErrorContains(t, m.Check(), "axis \"x\", drive 0: ")
}

// A rack and a belt lose next to nothing; of a plain stiffness nobody knows.
func TestEfficiencyCompletes(t *testing.T) {
	for kind, want := range map[machine.DriveKind]float64{machine.ByRack: 1, machine.BySpring: 0} {
		m := whole(t)
		m.Axes[0].Drives[0] = machine.Drive{Kind: kind, Part: 3, On: 0, Force: 1e4}
		complete, err := m.Complete()
		require.NoError(t, err)
		require.Equal(t, want, complete.Axes[0].Drives[0].Efficiency, kind)
	}
}

// A load along a bar of which only Force is said is even, from one end to the other.
func TestLoadAlongBarIsEven(t *testing.T) {
	m := whole(t)
	complete, err := m.Complete()
	require.NoError(t, err)
	a := complete.Loads[1].Actions[1]
	require.Equal(t, machine.AlongBar, a.Kind)
	require.Equal(t, &r3.Vec{Z: -1}, a.End)
	require.Equal(t, 160., a.To, "the bar is 160 mm long")
	require.Nil(t, m.Loads[1].Actions[1].End, "the machine itself stays as it is")
	m.Loads[1].Actions[1].End = &r3.Vec{}
	complete, err = m.Complete()
	require.NoError(t, err)
	require.Equal(t, r3.Vec{}, *complete.Loads[1].Actions[1].End, "it dwindles to nothing where that is said")
}

// A path of the work spot is followed under the load that a cut adds, when there is no other.
func TestPathUnderCutAlone(t *testing.T) {
	m := whole(t)
	m.Loads, m.Travel = nil, m.Travel[:1]
	complete, err := m.Complete()
	require.NoError(t, err)
	require.Equal(t, []int{0}, complete.Travel[0].Loads)
	m.Cuts = nil
	require.EqualError(t, m.Check(), "path \"bed\" has no load to be followed under\n\t"+
		"add a load with an action on the tip")
}

// Data that no machine has is told in words, not by a panic.
func TestWordsOfWhatThereIsNot(t *testing.T) {
	require.Equal(t, "Axis(9)", machine.Axis(9).String())
	require.Equal(t, "Axis(-1)", machine.Axis(-1).String())
	require.Equal(t, "Face(6)", machine.Face(6).String())
	require.Equal(t, "Freedom(9)", machine.Freedom(9).String())
	require.Equal(t, "DriveKind(4)", machine.DriveKind(4).String())
	require.Equal(t, "stiffness", machine.BySpring.String())
	require.Equal(t, "top", machine.Top.String())
	require.Equal(t, "rz", machine.TurnZ.String())
	var none machine.Cut
	require.Equal(t, "", none.Mode())
	_, err := none.Peak()
	require.EqualError(t, err, "a cut that is neither milling nor drilling has no force")
	require.Equal(t, "Mode(9)", (&machine.Cut{Milling: &cutting.Milling{Mode: 9}}).Mode())
	require.PanicsWithValue(t, "machine: an axis that is none of X, Y and Z has no direction",
		func() { machine.Axis(3).Direction() })
	require.PanicsWithValue(t, "machine: a vector has no component along an axis that is none of X, Y and Z",
		func() { machine.Component(r3.Vec{}, 3) })
}
