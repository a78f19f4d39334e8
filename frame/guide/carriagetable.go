package guide

import "tiploop/frame/constant"

const (
	shapeISO = "ISO 12090-1, narrow carriage of standard length, rounded (from memory); rail height and mass " +
		"as common practice"
	shapeMiniature = "ISO 12090-2, miniature, rounded (from memory); rail height and mass as common practice"
	shapeRound     = "common practice of rails on an aluminium support, rounded; no standard"

	stiffnessRound       = "common practice, low confidence"
	stiffnessRoundScaled = "common practice, low confidence; carried over from the smaller sizes"
	ratingFifteen        = "profile-rail catalogue page, size 15 (C 14.1, C0 24.1 kN), and " + sourceCatalogue
)

// carriages holds carriages of standard length. The dynamic ratings are taken to be for 50 km
// though some of the catalogues behind them mean 100 km: the cautious reading.
var carriages = []Carriage{
	{
		Key: "profile-9", Kind: TwoRow, Width: 20, Length: 30, Height: 10, Body: 20, HolesAlong: 10, HolesAcross: 15,
		Screw: "M3", MassKg: 0.02,
		Rail: Rail{Width: 9, Height: 6.5, SeatWidth: 9, HolePitch: 20, EndDistance: 5, Screw: "M3", ScrewRows: 1,
			UnderHead: 3, KgPerM: 0.38},
		Shape: shapeMiniature,
		Press: constant.Between(20e3, 40e3, 75e3), Source: sourceScaled,
		Dynamic: constant.Between(1300, 1800, 2600), Static: constant.Between(1800, 2500, 4000),
		RatingSource: sourceCatalogue,
	},
	{
		Key: "profile-12", Kind: TwoRow, Width: 27, Length: 35, Height: 13, Body: 21.5, HolesAlong: 15, HolesAcross: 20,
		Screw: "M3", MassKg: 0.035,
		Rail: Rail{Width: 12, Height: 8, SeatWidth: 12, HolePitch: 25, EndDistance: 6, Screw: "M3", ScrewRows: 1,
			UnderHead: 3.5, KgPerM: 0.62},
		Shape: shapeMiniature,
		Press: constant.Between(30e3, 60e3, 110e3), Source: sourceCatalogue,
		Dynamic: constant.Between(2000, 2800, 3700), Static: constant.Between(3000, 4200, 5600),
		RatingSource: sourceCatalogue,
	},
	{
		Key: "profile-15", Kind: FourRow, Width: 34, Length: 60, Height: 28, Body: 39, HolesAlong: 26, HolesAcross: 26,
		Screw: "M4", MassKg: 0.2,
		Rail: Rail{Width: 15, Height: 15, SeatWidth: 15, HolePitch: 60, EndDistance: 10, Screw: "M4", ScrewRows: 1,
			UnderHead: 9.5, KgPerM: 1.4},
		Shape: shapeISO,
		Press: constant.Between(80e3, 170e3, 280e3), Source: sourceCatalogue,
		Dynamic: constant.Between(8000, 11500, 15000), Static: constant.Between(13000, 20000, 25000),
		RatingSource: ratingFifteen,
	},
	{
		Key: "profile-20", Kind: FourRow, Width: 44, Length: 75, Height: 30, Body: 50, HolesAlong: 36, HolesAcross: 32,
		Screw: "M5", MassKg: 0.35,
		Rail: Rail{Width: 20, Height: 17.5, SeatWidth: 20, HolePitch: 60, EndDistance: 10, Screw: "M5", ScrewRows: 1,
			UnderHead: 9, KgPerM: 2.2},
		Shape: shapeISO,
		Press: constant.Between(110e3, 230e3, 360e3), Source: sourceCatalogue,
		Dynamic: constant.Between(14000, 19000, 28000), Static: constant.Between(24000, 33000, 45000),
		RatingSource: sourceCatalogue,
	},
	{
		Key: "profile-25", Kind: FourRow, Width: 48, Length: 83, Height: 40, Body: 58, HolesAlong: 35, HolesAcross: 35,
		Screw: "M6", MassKg: 0.55,
		Rail: Rail{Width: 23, Height: 22, SeatWidth: 23, HolePitch: 60, EndDistance: 12, Screw: "M6", ScrewRows: 1,
			UnderHead: 13, KgPerM: 3.1},
		Shape: shapeISO,
		Press: constant.Between(150e3, 300e3, 450e3), Source: sourceCatalogue,
		Dynamic: constant.Between(20000, 27000, 38000), Static: constant.Between(35000, 47000, 60000),
		RatingSource: sourceCatalogue,
	},
	{
		Key: "profile-30", Kind: FourRow, Width: 60, Length: 98, Height: 45, Body: 70, HolesAlong: 40, HolesAcross: 40,
		Screw: "M8", MassKg: 0.95,
		Rail: Rail{Width: 28, Height: 25, SeatWidth: 28, HolePitch: 80, EndDistance: 14, Screw: "M8", ScrewRows: 1,
			UnderHead: 13, KgPerM: 4.4},
		Shape: shapeISO,
		Press: constant.Between(190e3, 370e3, 550e3), Source: sourceScaled,
		Dynamic: constant.Between(28000, 38000, 50000), Static: constant.Between(47000, 65000, 85000),
		RatingSource: sourceCatalogue,
	},
	{
		Key: "profile-35", Kind: FourRow, Width: 70, Length: 110, Height: 55, Body: 80, HolesAlong: 50, HolesAcross: 50,
		Screw: "M8", MassKg: 1.5,
		Rail: Rail{Width: 34, Height: 29, SeatWidth: 34, HolePitch: 80, EndDistance: 14, Screw: "M8", ScrewRows: 1,
			UnderHead: 17, KgPerM: 6.2},
		Shape: shapeISO,
		Press: constant.Between(220e3, 430e3, 650e3), Source: sourceScaled,
		Dynamic: constant.Between(40000, 52000, 68000), Static: constant.Between(63000, 85000, 115000),
		RatingSource: sourceCatalogue,
	},
	{
		Key: "profile-45", Kind: FourRow, Width: 86, Length: 138, Height: 70, Body: 100, HolesAlong: 60,
		HolesAcross: 60, Screw: "M10", MassKg: 2.9,
		Rail: Rail{Width: 45, Height: 38, SeatWidth: 45, HolePitch: 105, EndDistance: 16, Screw: "M12", ScrewRows: 1,
			UnderHead: 20, KgPerM: 10.4},
		Shape: shapeISO,
		Press: constant.Between(280e3, 550e3, 830e3), Source: sourceScaled,
		Dynamic: constant.Between(62000, 84000, 110000), Static: constant.Between(100000, 135000, 180000),
		RatingSource: sourceCatalogue,
	},
	{
		Key: "round-12", Kind: OpenBush, Width: 40, Length: 39, Height: 38, Body: 23, HolesAlong: 26, HolesAcross: 28,
		Screw: "M5", MassKg: 0.1,
		Rail: Rail{Width: 12, Height: 20.5, SeatWidth: 34, HolePitch: 100, EndDistance: 10, Screw: "M4", ScrewRows: 2,
			UnderHead: 4.5, KgPerM: 1.6},
		Shape: shapeRound,
		Press: constant.Between(8e3, 15e3, 30e3), Tilt: constant.Between(0.1e6, 0.2e6, 0.3e6), Source: stiffnessRound,
		Dynamic: constant.Between(400, 500, 600), Static: constant.Between(600, 800, 1000),
		RatingSource: sourceCatalogue,
	},
	{
		Key: "round-16", Kind: OpenBush, Width: 45, Length: 45, Height: 45, Body: 26, HolesAlong: 30, HolesAcross: 32,
		Screw: "M5", MassKg: 0.15,
		Rail: Rail{Width: 16, Height: 25, SeatWidth: 40, HolePitch: 150, EndDistance: 15, Screw: "M5", ScrewRows: 2,
			UnderHead: 5, KgPerM: 2.6},
		Shape: shapeRound,
		Press: constant.Between(10e3, 20e3, 40e3), Tilt: constant.Between(0.2e6, 0.4e6, 0.6e6), Source: stiffnessRound,
		Dynamic: constant.Between(600, 770, 900), Static: constant.Between(950, 1200, 1500),
		RatingSource: sourceCatalogue,
	},
	{
		Key: "round-20", Kind: OpenBush, Width: 48, Length: 50, Height: 50, Body: 30, HolesAlong: 35, HolesAcross: 35,
		Screw: "M6", MassKg: 0.2,
		Rail: Rail{Width: 20, Height: 27, SeatWidth: 45, HolePitch: 150, EndDistance: 15, Screw: "M5", ScrewRows: 2,
			UnderHead: 5, KgPerM: 3.7},
		Shape: shapeRound,
		Press: constant.Between(12e3, 28e3, 55e3), Tilt: constant.Between(0.4e6, 0.7e6, 1.0e6), Source: stiffnessRound,
		Dynamic: constant.Between(700, 900, 1100), Static: constant.Between(1100, 1400, 1800),
		RatingSource: sourceCatalogue,
	},
	{
		Key: "round-25", Kind: OpenBush, Width: 60, Length: 65, Height: 60, Body: 39, HolesAlong: 40, HolesAcross: 40,
		Screw: "M6", MassKg: 0.45,
		Rail: Rail{Width: 25, Height: 33, SeatWidth: 55, HolePitch: 200, EndDistance: 20, Screw: "M6", ScrewRows: 2,
			UnderHead: 6, KgPerM: 5.6},
		Shape: shapeRound,
		Press: constant.Between(15e3, 35e3, 65e3), Tilt: constant.Between(0.7e6, 1.2e6, 2.0e6),
		Source:  stiffnessRoundScaled,
		Dynamic: constant.Between(800, 980, 1200), Static: constant.Between(1250, 1560, 2000),
		RatingSource: sourceCatalogue,
	},
	{
		Key: "round-30", Kind: OpenBush, Width: 70, Length: 70, Height: 70, Body: 42, HolesAlong: 50, HolesAcross: 50,
		Screw: "M8", MassKg: 0.65,
		Rail: Rail{Width: 30, Height: 37, SeatWidth: 60, HolePitch: 200, EndDistance: 20, Screw: "M6", ScrewRows: 2,
			UnderHead: 7, KgPerM: 7.6},
		Shape: shapeRound,
		Press: constant.Between(18e3, 42e3, 80e3), Tilt: constant.Between(1.0e6, 1.8e6, 3.0e6),
		Source:  stiffnessRoundScaled,
		Dynamic: constant.Between(1250, 1570, 1900), Static: constant.Between(2200, 2740, 3400),
		RatingSource: sourceCatalogue,
	},
}
