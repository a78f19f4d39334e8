package guide

import "tiploop/frame/constant"

// The sources that several constants share.
const (
	sourceCatalogue = "order of makers' catalogues (from memory)"
	sourceScaled    = "carried over from the neighbouring sizes in proportion to the rail's width; order of makers' " +
		"catalogues (from memory)"
	sourcePractice = "common practice, no publication"
	sourceIto      = "Ito, Modular Design for Machine Tools, 2008, table 6-7, p. 224"
	sourceHertz    = "Hertz's law of ball contact (from memory)"
)

var (
	pullRatio = constant.Entry{
		Key: "pull_ratio", Meaning: "pull over press stiffness, four rows of balls", Unit: "-",
		Band:   constant.Between(0.6, 0.7, 0.8),
		Source: sourceCatalogue,
	}
	sideRatio = constant.Entry{
		Key: "side_ratio", Meaning: "sideways over press stiffness, four rows of balls", Unit: "-",
		Band:   constant.Between(0.5, 0.65, 0.8),
		Source: sourceCatalogue,
	}
	pullRatioTwoRow = constant.Entry{
		Key: "pull_ratio_miniature", Meaning: "pull over press stiffness, two rows of balls", Unit: "-",
		Band:   constant.Between(0.6, 0.7, 0.8),
		Source: sourceCatalogue,
	}
	sideRatioTwoRow = constant.Entry{
		Key: "side_ratio_miniature", Meaning: "sideways over press stiffness, two rows of balls", Unit: "-",
		Band:   constant.Between(0.6, 0.7, 0.8),
		Source: sourceCatalogue,
	}
	pullRatioRound = constant.Entry{
		Key: "pull_ratio_round", Meaning: "pull over press stiffness, open bush: the balls beside the opening carry " +
			"alone", Unit: "-",
		Band:   constant.Between(0.3, 0.4, 0.5),
		Source: sourcePractice + ", low confidence",
	}
	sideRatioRound = constant.Entry{
		Key: "side_ratio_round", Meaning: "sideways over press stiffness, open bush", Unit: "-",
		Band:   constant.Between(0.5, 0.6, 0.7),
		Source: sourcePractice + ", low confidence",
	}
	loadedShare = constant.Entry{
		Key: "loaded_share", Meaning: "length of the loaded rows over the steel body between the end caps", Unit: "-",
		Band:   constant.Between(0.85, 1.0, 1.05),
		Source: "estimate: rows are crowned at their ends, balls reach a little into the caps",
	}
	rowLever = constant.Entry{
		Key: "row_lever", Meaning: "lever of the rows about the rail's middle over the rail's width", Unit: "-",
		Band: constant.Between(0.40, 0.43, 0.46),
		Source: "profiles of makers' catalogues (from memory); 0.43 gives the static moment of a size 15 whose " +
			"rating was read",
	}
	rollingFriction = constant.Entry{
		Key: "friction", Meaning: "friction of a carriage or bush along its rail over the load on it, without its seals",
		Unit:   "-",
		Band:   constant.Between(0.002, 0.003, 0.005),
		Source: sourceCatalogue,
	}
	waistWidth = constant.Entry{
		Key: "rail_waist", Meaning: "width of a profile rail's waist over its width", Unit: "-",
		Band:   constant.Between(0.40, 0.50, 0.65),
		Source: "mass per metre of makers' catalogues (from memory), less the holes",
	}
	playClearance = constant.Entry{
		Key: "play_clearance", Meaning: "play of a carriage or bush without preload", Unit: "mm",
		Band:   constant.Between(0.005, 0.010, 0.020),
		Source: sourcePractice + ": what a dial shows between push and pull",
	}
	linearLimit = constant.Entry{
		Key: "linear_limit", Meaning: "load up to which a preloaded carriage is nearly linear, over its preload",
		Unit:   "-",
		Band:   constant.Exactly(2.8),
		Source: "linear-guide maker's page on rigidity; 2^(3/2), " + sourceHertz,
	}
	thinSeat = constant.Entry{
		Key: "thin_seat", Meaning: "share of a carriage's stiffness left on a thin plate or on half its screws",
		Unit:   "-",
		Band:   constant.Between(0.35, 0.5, 0.7),
		Source: sourcePractice,
	}
	heightStepPreloaded = constant.Entry{
		Key: "height_step_preloaded", Meaning: "height difference allowed between two carriages of one preloaded " +
			"rail, over their distance", Unit: "-",
		Band:   constant.Between(0.000042, 0.00021, 0.00021),
		Source: "light-alloy guide supplier (0.00021) and a guideway assembly manual, stiff types (0.000042)",
	}
	heightStepClearance = constant.Entry{
		Key: "height_step_clearance", Meaning: "height difference allowed between two carriages of one rail with " +
			"clearance, over their distance", Unit: "-",
		Band:   constant.Exactly(0.0006),
		Source: "light-alloy guide supplier's page on parallelism",
	}
	railStepPreloaded = constant.Entry{
		Key: "rail_step_preloaded", Meaning: "height difference allowed between two rails with preloaded carriages, " +
			"over their distance", Unit: "-",
		Band:   constant.Between(0.00035, 0.00035, 0.00066),
		Source: "light-alloy guide supplier (0.00035); linear-guide maintenance manual, 0.33 mm per 500 mm (0.00066)",
	}
	railStepClearance = constant.Entry{
		Key: "rail_step_clearance", Meaning: "height difference allowed between two rails with clearance, over their " +
			"distance", Unit: "-",
		Band:   constant.Between(0.00075, 0.0012, 0.0012),
		Source: "light-alloy guide supplier (0.0012); linear-guide maintenance manual, 0.375 mm per 500 mm (0.00075)",
	}
	roundPull = constant.Entry{
		Key: "round_rating_pull", Meaning: "rating of an open bush against pull, over its rating against press",
		Unit:   "-",
		Band:   constant.Between(0.35, 0.5, 0.6),
		Source: "order of bush makers' direction diagrams (from memory)",
	}
	roundSide = constant.Entry{
		Key: "round_rating_side", Meaning: "rating of an open bush against a sideways load, over its rating against " +
			"press", Unit: "-",
		Band:   constant.Between(0.6, 0.8, 0.95),
		Source: "order of bush makers' direction diagrams (from memory)",
	}
	slideScatter = constant.Entry{
		Key: "slide_scatter", Meaning: "stiffness of a plain slide over that of its table, like slides of one batch",
		Unit:   "-",
		Band:   constant.Between(0.63, 1.0, 1.6),
		Source: "Ito, Modular Design for Machine Tools, 2008, p. 225: 2.5 to 1 between guideways of one batch",
	}
	slideLoaded = constant.Entry{
		Key: "slide_loaded", Meaning: "stiffness of a plain slide pressed beyond 0.3 MPa over that below", Unit: "-",
		Band:   constant.Between(1.67, 1.8, 2.0),
		Source: sourceIto + ": approach 40 to 50 % less",
	}
	slideUpright = constant.Entry{
		Key: "slide_upright", Meaning: "stiffness of an upright sliding face over that of a level one", Unit: "-",
		Band:   constant.Between(0.71, 0.74, 0.77),
		Source: sourceIto + ": approach 30 to 40 % more",
	}
	slideLocalBending = constant.Entry{
		Key: "slide_local_bending", Meaning: "stiffness of a plain slide whose part bends locally over that of a " +
			"stout one", Unit: "-",
		Band:   constant.Between(0.59, 0.625, 0.67),
		Source: sourceIto + ": approach 50 to 70 % more",
	}
	gibShare = constant.Entry{
		Key: "gib_share", Meaning: "stiffness of the face behind a gib over that of the solid face opposite", Unit: "-",
		Band:   constant.Between(0.3, 0.5, 0.8),
		Source: sourcePractice + ": a strip set by screws low, a tapered gib along its whole length high",
	}
	gibPlay = constant.Entry{
		Key: "gib_play", Meaning: "play of an adjusted gib", Unit: "mm",
		Band:   constant.Between(0.005, 0.01, 0.03),
		Source: sourcePractice,
	}
	gibPressure = constant.Entry{
		Key: "gib_pressure", Meaning: "mean pressure a snug gib puts on its faces", Unit: "MPa",
		Band:   constant.Between(0.02, 0.05, 0.15),
		Source: sourcePractice + ", from the force that moves an adjusted slide by hand",
	}
)

// Constants returns every constant of the guide model in the order of tables, those of each size included.
func Constants() []constant.Entry {
	list := CommonConstants()
	for _, c := range carriages {
		list = append(list,
			constant.Entry{Key: "press_" + c.Key, Meaning: "press stiffness of one carriage at light preload, " + c.Key,
				Unit: "N/mm", Band: c.Press, Source: c.Source},
			constant.Entry{Key: "dynamic_" + c.Key, Meaning: "basic dynamic load rating C for 50 km, " + c.Key,
				Unit: "N", Band: c.Dynamic, Source: c.RatingSource},
			constant.Entry{Key: "static_" + c.Key, Meaning: "basic static load rating C0, " + c.Key, Unit: "N",
				Band: c.Static, Source: c.RatingSource},
		)
		if c.Kind == OpenBush {
			list = append(list, constant.Entry{
				Key: "tilt_" + c.Key, Meaning: "pitch and yaw stiffness of one bush, " + c.Key, Unit: "N·mm/rad",
				Band: c.Tilt, Source: c.Source,
			})
		}
	}
	return list
}

// CommonConstants returns the constants that belong to no size of carriage, those of each preload class and face width
// included.
func CommonConstants() []constant.Entry {
	list := []constant.Entry{
		pullRatio, sideRatio, pullRatioTwoRow, sideRatioTwoRow, pullRatioRound, sideRatioRound,
		loadedShare, rowLever, waistWidth, rollingFriction, playClearance, linearLimit, thinSeat,
		heightStepPreloaded, heightStepClearance, railStepPreloaded, railStepClearance,
		roundPull, roundSide,
		slideScatter, slideLoaded, slideUpright, slideLocalBending, gibShare, gibPlay, gibPressure,
	}
	for _, p := range Preloads() {
		c := preloads[p]
		if c.share.High > 0 {
			list = append(list, constant.Entry{
				Key: "preload_share_" + c.key, Meaning: "preload over the dynamic rating, " + c.name, Unit: "-",
				Band: c.share, Source: c.shareSource,
			})
		}
		list = append(list, constant.Entry{
			Key: "preload_factor_" + c.key, Meaning: "stiffness over that at light preload, " + c.name, Unit: "-",
			Band: c.factor, Source: c.factorSource,
		})
	}
	for _, f := range slideFaces {
		list = append(list, constant.Entry{
			Key: "slide_c0_" + f.key, Meaning: "approach per pressure of lubricated slides, face " + f.name,
			Unit: "µm·cm²/kgf",
			Band: f.c0, Source: sourceIto,
		})
	}
	return list
}
