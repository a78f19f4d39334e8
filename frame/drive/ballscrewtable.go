package drive

import "tiploop/frame/constant"

const (
	sourceRoot   = "makers' catalogues (from memory), within 0.4 mm"
	sourceNut    = "rolled-screw catalogue type, K at 0.3 C_a (from memory)"
	sourceRating = sourceCatalogue + "; makers of one size differ by two"
)

// ballScrews are generic single-start rolled screws. Long leads have fewer turns of balls, so their
// nuts are softer and bear less.
var ballScrews = []BallScrew{
	{"0802", 8, 2, constant.Between(6.4, 6.7, 7.0), sourceRoot, 110e3, sourceScaled, constant.Between(1300, 1800, 2500),
		constant.Between(1900, 2800, 4200), sourceRating},
	{"1002", 10, 2, constant.Between(8.2, 8.5, 8.8), sourceRoot, 140e3, sourceScaled,
		constant.Between(1600, 2200, 3000), constant.Between(2500, 3600, 5500), sourceRating},
	{"1204", 12, 4, constant.Between(9.5, 9.9, 10.3), sourceRoot, 240e3, sourceScaled,
		constant.Between(4500, 6500, 9000), constant.Between(7000, 11000, 19000), sourceRating},
	{"1205", 12, 5, constant.Between(9.3, 9.7, 10.1), sourceRoot, 250e3, sourceNut, constant.Between(4500, 6500, 9000),
		constant.Between(6500, 10500, 19000), sourceRating},
	{"1210", 12, 10, constant.Between(9.3, 9.7, 10.1), sourceRoot, 200e3, sourceScaled,
		constant.Between(3500, 5000, 8000), constant.Between(5000, 8000, 14000), sourceRating},
	{"1604", 16, 4, constant.Between(13.1, 13.5, 13.9), sourceRoot, 300e3, sourceScaled,
		constant.Between(5000, 8000, 11000), constant.Between(9000, 15000, 24000), sourceRating},
	{"1605", 16, 5, constant.Between(12.8, 13.2, 13.6), sourceRoot, 310e3, sourceNut,
		constant.Between(8000, 10500, 14000), constant.Between(12000, 19000, 30000), sourceRating},
	{"1610", 16, 10, constant.Between(12.8, 13.2, 13.6), sourceRoot, 260e3, sourceScaled,
		constant.Between(7000, 9500, 12000), constant.Between(10000, 16000, 24000), sourceRating},
	{"2004", 20, 4, constant.Between(17.1, 17.5, 17.9), sourceRoot, 370e3, sourceScaled,
		constant.Between(6000, 9000, 13000), constant.Between(13000, 20000, 33000), sourceRating},
	{"2005", 20, 5, constant.Between(16.8, 17.2, 17.6), sourceRoot, 380e3, sourceNut,
		constant.Between(9000, 12000, 16000), constant.Between(15000, 25000, 38000), sourceRating},
	{"2010", 20, 10, constant.Between(16.4, 16.9, 17.4), sourceRoot, 320e3, sourceScaled,
		constant.Between(8000, 11500, 16000), constant.Between(14000, 22000, 34000), sourceRating},
	{"2505", 25, 5, constant.Between(21.8, 22.2, 22.6), sourceRoot, 460e3, sourceScaled,
		constant.Between(10000, 13500, 18000), constant.Between(20000, 32000, 49000), sourceRating},
	{"2510", 25, 10, constant.Between(20.6, 21.3, 22.0), sourceRoot, 420e3, sourceScaled,
		constant.Between(12000, 19000, 29000), constant.Between(22000, 40000, 72000), sourceRating},
	{"3205", 32, 5, constant.Between(28.8, 29.2, 29.6), sourceRoot, 560e3, sourceScaled,
		constant.Between(11000, 15000, 20000), constant.Between(26000, 42000, 63000), sourceRating},
	{"3210", 32, 10, constant.Between(26.2, 27.0, 27.8), sourceRoot, 540e3, sourceScaled,
		constant.Between(20000, 32000, 48000), constant.Between(36000, 66000, 120000), sourceRating},
}
