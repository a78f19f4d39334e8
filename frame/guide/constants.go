package guide

// Constant is one number of the guide model.
type Constant struct {
	Key     string // name in tables
	Meaning string // what it is
	Unit    string // "-" for a ratio
	Band    Band   // its scatter
	Source  string // where it comes from, and whether the source was read
}

// The sources that several constants share.
const (
	sourceCatalogue = "order of makers' catalogues (from memory)"
	sourceScaled    = "carried over from the neighbouring sizes in proportion to the rail's width; order of makers' catalogues (from memory)"
	sourcePractice  = "common practice, no publication"
	sourceIto       = "Ito, Modular Design for Machine Tools, 2008, table 6-7, p. 224"
	sourceHertz     = "Hertz's law of ball contact (from memory)"
)

var (
	pullRatio = Constant{
		"pull_ratio", "pull over press stiffness, four rows of balls", "-",
		Band{0.6, 0.7, 0.8}, sourceCatalogue,
	}
	sideRatio = Constant{
		"side_ratio", "sideways over press stiffness, four rows of balls", "-",
		Band{0.5, 0.65, 0.8}, sourceCatalogue,
	}
	pullRatioTwoRow = Constant{
		"pull_ratio_miniature", "pull over press stiffness, two rows of balls", "-",
		Band{0.6, 0.7, 0.8}, sourceCatalogue,
	}
	sideRatioTwoRow = Constant{
		"side_ratio_miniature", "sideways over press stiffness, two rows of balls", "-",
		Band{0.6, 0.7, 0.8}, sourceCatalogue,
	}
	pullRatioRound = Constant{
		"pull_ratio_round", "pull over press stiffness, open bush: the balls beside the opening carry alone", "-",
		Band{0.3, 0.4, 0.5}, sourcePractice + ", low confidence",
	}
	sideRatioRound = Constant{
		"side_ratio_round", "sideways over press stiffness, open bush", "-",
		Band{0.5, 0.6, 0.7}, sourcePractice + ", low confidence",
	}
	loadedShare = Constant{
		"loaded_share", "length of the loaded rows over the steel body between the end caps", "-",
		Band{0.85, 1.0, 1.05}, "estimate: rows are crowned at their ends, balls reach a little into the caps",
	}
	rowLever = Constant{
		"row_lever", "lever of the rows about the rail's middle over the rail's width", "-",
		Band{0.40, 0.43, 0.46}, "profiles of makers' catalogues (from memory); 0.43 gives the static moment of a size 15 whose rating was read",
	}
	waistWidth = Constant{
		"rail_waist", "width of a profile rail's waist over its width", "-",
		Band{0.40, 0.50, 0.65}, "mass per metre of makers' catalogues (from memory), less the holes",
	}
	playClearance = Constant{
		"play_clearance", "play of a carriage or bush without preload", "mm",
		Band{0.005, 0.010, 0.020}, sourcePractice + ": what a dial shows between push and pull",
	}
	linearLimit = Constant{
		"linear_limit", "load up to which a preloaded carriage is nearly linear, over its preload", "-",
		exactly(2.8), "linear-guide maker's page on rigidity; 2^(3/2), " + sourceHertz,
	}
	thinSeat = Constant{
		"thin_seat", "share of a carriage's stiffness left on a thin plate or on half its screws", "-",
		Band{0.35, 0.5, 0.7}, sourcePractice,
	}
	heightStepPreloaded = Constant{
		"height_step_preloaded", "height difference allowed between two carriages of one preloaded rail, over their distance", "-",
		Band{0.000042, 0.00021, 0.00021}, "light-alloy guide supplier (0.00021) and a guideway assembly manual, stiff types (0.000042)",
	}
	heightStepClearance = Constant{
		"height_step_clearance", "height difference allowed between two carriages of one rail with clearance, over their distance", "-",
		exactly(0.0006), "light-alloy guide supplier's page on parallelism",
	}
	railStepPreloaded = Constant{
		"rail_step_preloaded", "height difference allowed between two rails with preloaded carriages, over their distance", "-",
		Band{0.00035, 0.00035, 0.00066}, "light-alloy guide supplier (0.00035); linear-guide maintenance manual, 0.33 mm per 500 mm (0.00066)",
	}
	railStepClearance = Constant{
		"rail_step_clearance", "height difference allowed between two rails with clearance, over their distance", "-",
		Band{0.00075, 0.0012, 0.0012}, "light-alloy guide supplier (0.0012); linear-guide maintenance manual, 0.375 mm per 500 mm (0.00075)",
	}
	roundPull = Constant{
		"round_rating_pull", "rating of an open bush against pull, over its rating against press", "-",
		Band{0.35, 0.5, 0.6}, "order of bush makers' direction diagrams (from memory)",
	}
	roundSide = Constant{
		"round_rating_side", "rating of an open bush against a sideways load, over its rating against press", "-",
		Band{0.6, 0.8, 0.95}, "order of bush makers' direction diagrams (from memory)",
	}
	slideScatter = Constant{
		"slide_scatter", "stiffness of a plain slide over that of its table, like slides of one batch", "-",
		Band{0.63, 1.0, 1.6}, "Ito, Modular Design for Machine Tools, 2008, p. 225: 2.5 to 1 between guideways of one batch",
	}
	slideLoaded = Constant{
		"slide_loaded", "stiffness of a plain slide pressed beyond 0.3 MPa over that below", "-",
		Band{1.67, 1.8, 2.0}, sourceIto + ": approach 40 to 50 % less",
	}
	slideUpright = Constant{
		"slide_upright", "stiffness of an upright sliding face over that of a level one", "-",
		Band{0.71, 0.74, 0.77}, sourceIto + ": approach 30 to 40 % more",
	}
	slideLocalBending = Constant{
		"slide_local_bending", "stiffness of a plain slide whose part bends locally over that of a stout one", "-",
		Band{0.59, 0.625, 0.67}, sourceIto + ": approach 50 to 70 % more",
	}
	gibShare = Constant{
		"gib_share", "stiffness of the face behind a gib over that of the solid face opposite", "-",
		Band{0.3, 0.5, 0.8}, sourcePractice + ": a strip set by screws low, a tapered gib along its whole length high",
	}
	gibPlay = Constant{
		"gib_play", "play of an adjusted gib", "mm",
		Band{0.005, 0.01, 0.03}, sourcePractice,
	}
	gibPressure = Constant{
		"gib_pressure", "mean pressure a snug gib puts on its faces", "MPa",
		Band{0.02, 0.05, 0.15}, sourcePractice + ", from the force that moves an adjusted slide by hand",
	}
)

// Constants returns every constant of the guide model in the order of tables, those of each size,
// preload class and face width included.
func Constants() []Constant {
	list := []Constant{
		pullRatio, sideRatio, pullRatioTwoRow, sideRatioTwoRow, pullRatioRound, sideRatioRound,
		loadedShare, rowLever, waistWidth, playClearance, linearLimit, thinSeat,
		heightStepPreloaded, heightStepClearance, railStepPreloaded, railStepClearance,
		roundPull, roundSide,
		slideScatter, slideLoaded, slideUpright, slideLocalBending, gibShare, gibPlay, gibPressure,
	}
	for _, p := range Preloads() {
		c := preloads[p]
		if c.share.High > 0 {
			list = append(list, Constant{"preload_share_" + c.key, "preload over the dynamic rating, " + c.name, "-", c.share, c.shareSource})
		}
		list = append(list, Constant{"preload_factor_" + c.key, "stiffness over that at light preload, " + c.name, "-", c.factor, c.factorSource})
	}
	for _, c := range carriages {
		list = append(list,
			Constant{"press_" + c.Key, "press stiffness of one carriage at light preload, " + c.Key, "N/mm", c.Press, c.Source},
			Constant{"dynamic_" + c.Key, "basic dynamic load rating C for 50 km, " + c.Key, "N", c.Dynamic, c.RatingSource},
			Constant{"static_" + c.Key, "basic static load rating C0, " + c.Key, "N", c.Static, c.RatingSource},
		)
		if c.Kind == OpenBush {
			list = append(list, Constant{"tilt_" + c.Key, "pitch and yaw stiffness of one bush, " + c.Key, "N·mm/rad", c.Tilt, c.Source})
		}
	}
	for _, f := range slideFaces {
		list = append(list, Constant{"slide_c0_" + f.key, "approach per pressure of lubricated slides, face " + f.name, "µm·cm²/kgf", f.c0, sourceIto})
	}
	return list
}

// LookupConstant returns the constant of that key.
func LookupConstant(key string) (Constant, bool) {
	for _, c := range Constants() {
		if c.Key == key {
			return c, true
		}
	}
	return Constant{}, false
}
