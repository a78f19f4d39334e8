package cutting_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tiploop/frame/constant"
	"tiploop/frame/cutting"
	"tiploop/testdata/checks"
)

var levels = []constant.Level{constant.Low, constant.Typical, constant.High}

func TestMaterials(t *testing.T) {
	seen := map[string]bool{}
	for _, m := range cutting.Materials() {
		require.False(t, seen[m.Key], m.Key)
		seen[m.Key] = true
		require.NotEmpty(t, m.Name, m.Key)
		require.NotEmpty(t, m.UsualSource, m.Key)
		require.NotEmpty(t, m.Kienzle.Source, m.Key)
		require.NoError(t, m.Kienzle.Kc11.Check(), m.Key)
		require.NoError(t, m.Kienzle.M.Check(), m.Key)
		for _, s := range []cutting.Span{m.SpeedMMin, m.FeedShare, m.Kienzle.ChipMM} {
			require.Greater(t, s.Least, 0.0, m.Key)
			require.Greater(t, s.Most, s.Least, m.Key)
		}
		if e := m.Edge; e != nil {
			require.NotEmpty(t, e.Source, m.Key)
			for _, b := range []constant.Band{e.Ktc, e.Krc, e.Kac, e.Kte, e.Kre, e.Kae} {
				require.NoError(t, b.Check(), m.Key)
			}
		}
		for _, l := range levels {
			require.NoError(t, m.Kienzle.Law(l, 30).Check(), m.Key)
			if m.Edge != nil {
				require.NoError(t, m.Edge.Law(l).Check(), m.Key)
			}
		}
		found, ok := cutting.LookupMaterial(m.Key)
		require.True(t, ok)
		require.Equal(t, m, found)
	}
	_, ok := cutting.LookupMaterial("cheese")
	require.False(t, ok)

	// The table is out of reach.
	m, _ := cutting.LookupMaterial("brass-cz120")
	m.Edge.Ktc.Typical = 1
	again, _ := cutting.LookupMaterial("brass-cz120")
	require.NotEqual(t, m.Edge.Ktc, again.Edge.Ktc)
}

// Specific forces as printed: the group table after VDI 3323, and coefficients measured in milling.
func TestTypicalNumbers(t *testing.T) {
	for _, tt := range []struct {
		key, source string
		kc11, m     float64
	}{
		{"aluminium-5083", "group table after VDI 3323 and ISO 513, wrought aluminium not hardened", 700, 0.25},
		{"aluminium-6082", "the same, age-hardened", 800, 0.25},
		{"brass-cz120", "the same, free-cutting copper alloy", 700, 0.27},
		{"steel", "the same, unalloyed steel below 0.25 % carbon", 1350, 0.21},
		{"steel-c45", "the same, from 0.25 % carbon", 1500, 0.22},
		{"stainless-1.4301", "the same, austenitic stainless", 2150, 0.20},
		{"cast-iron-gjl-250", "the same, pearlitic grey iron", 1350, 0.28},
	} {
		require.NotEmpty(t, tt.source)
		m, ok := cutting.LookupMaterial(tt.key)
		require.True(t, ok, tt.key)
		require.Equal(t, tt.kc11, m.Kienzle.Kc11.Typical)
		require.Equal(t, tt.m, m.Kienzle.M.Typical)
	}
	// 58 N per mm of edge by Kienzle against 32 by coefficients, at a chip of 0.03 mm: the project's table of trade
	// data.
	m, _ := cutting.LookupMaterial("aluminium-6082")
	ft, _, _ := m.Kienzle.Law(constant.Typical, 0).Orthogonal(0.03, 1)
	require.InDelta(t, 58, ft, 0.5)
	ft, _, _ = m.Edge.Law(constant.Typical).Orthogonal(0.03, 1)
	require.InDelta(t, 32, ft, 0.5)
	// A specific force of 30 MPa is what it is at a chip of 0.1 mm.
	m, _ = cutting.LookupMaterial("mdf")
	checks.CloseTo(t, "mdf", m.Kienzle.Law(constant.Typical, 0).SpecificForce(0.1), 30, 1e-12)
}

// Low and high of every kind of row.
func TestBandsOfMaterials(t *testing.T) {
	const digits = 1e-12
	const groups = "group table after VDI 3323 (800, 0.25) and Kienzle's (830, 0.23; from memory), 15 % beyond either"
	alloy, _ := cutting.LookupMaterial("aluminium-6082")
	wood, _ := cutting.LookupMaterial("mdf")
	stainless, _ := cutting.LookupMaterial("stainless-1.4301")
	const milled = "house band of 0.6 to 1.6 about the row of 6082-T6, doi 10.1186/s10033-021-00536-9"
	for _, tt := range []struct {
		name, source string
		got, want    constant.Band
	}{
		{"k_c1.1", groups, alloy.Kienzle.Kc11, constant.Between(680, 800, 954.5)},
		{"exponent", groups, alloy.Kienzle.M, constant.Between(0.23, 0.25, 0.25)},
		{"k_c1.1 of stainless", "2150 and 2350 in the same tables", stainless.Kienzle.Kc11,
			constant.Between(2150*0.85, 2150, 2350*1.15)},
		{"exponent of stainless", "0.20 and 0.21 in the same tables", stainless.Kienzle.M,
			constant.Between(0.20, 0.20, 0.21)},
		{"tangential", milled, alloy.Edge.Ktc, constant.Between(378.6, 631, 1009.6)},
		{"radial", milled, alloy.Edge.Krc, constant.Between(59.4, 99, 158.4)},
		{"axial", milled, alloy.Edge.Kac, constant.Between(163.8, 273, 436.8)},
		{"tangential edge", milled, alloy.Edge.Kte, constant.Between(7.8, 13, 20.8)},
		{"radial edge", milled, alloy.Edge.Kre, constant.Between(6, 10, 16)},
		{"axial edge", milled, alloy.Edge.Kae, constant.Between(1.68, 2.8, 4.48)},
		{"fibreboard", "15 to 60 MPa at a chip of 0.1 mm, taken to 1 mm by its exponent of 0.4: over 2.5119",
			wood.Kienzle.Kc11, constant.Between(15, 30, 60).Scaled(1 / math.Pow(10, 0.4))},
	} {
		require.NotEmpty(t, tt.source)
		for _, l := range levels {
			checks.CloseTo(t, tt.name+", "+l.String(), tt.got.At(l), tt.want.At(l), digits)
		}
	}
}

// Radial 0.2 to 0.7 and axial 0.3 to 0.8 times tan(helix) of the tangential force (Altintas, Manufacturing Automation,
// ch. 2, from memory).
func TestLawOfKienzle(t *testing.T) {
	k := cutting.Kienzle{Kc11: constant.Between(600, 700, 900), M: constant.Between(0.2, 0.25, 0.3)}
	tan := 1 / math.Sqrt(3)
	for level, want := range map[constant.Level]cutting.Law{
		constant.Low:     {Kt: 600, Kr: 600 * 0.2, Ka: 600 * 0.3 * tan, M: 0.2},
		constant.Typical: {Kt: 700, Kr: 700 * 0.3, Ka: 700 * 0.55 * tan, M: 0.25},
		constant.High:    {Kt: 900, Kr: 900 * 0.7, Ka: 900 * 0.8 * tan, M: 0.3},
	} {
		got := k.Law(level, 30)
		checks.CloseTo(t, "axial", got.Ka, want.Ka, 1e-12)
		want.Ka = got.Ka
		require.Equal(t, want, got)
	}
}

func TestConstants(t *testing.T) { require.NoError(t, constant.Check(cutting.Constants())) }

// Handbooks take 1 to 1.5 % a degree from a rake of 0 to 6 degrees (from memory).
func TestRake(t *testing.T) {
	m, _ := cutting.LookupMaterial("brass-cz120")
	k, err := m.Kienzle.WithRake(13)
	require.NoError(t, err)
	checks.CloseTo(t, "typical", k.Kc11.Typical, 700*(1-0.0125*10), 1e-12)
	checks.CloseTo(t, "low", k.Kc11.Low, m.Kienzle.Kc11.Low*(1-0.015*13), 1e-12)
	checks.CloseTo(t, "high", k.Kc11.High, m.Kienzle.Kc11.High*(1-0.010*7), 1e-12)
	k, err = m.Kienzle.WithRake(-10)
	require.NoError(t, err)
	require.NoError(t, k.Kc11.Check(), "negative rake")
	require.Greater(t, k.Kc11.Low, m.Kienzle.Kc11.Low)
	_, err = m.Kienzle.WithRake(31)
	require.Error(t, err)
}
