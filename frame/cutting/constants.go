package cutting

// Constant is one number of the cutting model that is not a material's.
type Constant struct {
	Key     string // name in tables
	Meaning string // what it is
	Unit    string // "-" for a ratio
	Band    Band   // its scatter
	Source  string // where it comes from, and whether the source was read
}

// The sources that several rows share.
const (
	sourcePractice  = "common practice, no publication"
	sourceHandbooks = "machining handbooks (from memory)"
	sourceAltintas  = "Altintas, Manufacturing Automation, ch. 2 (from memory)"
)

var (
	radialRatio = Constant{
		"radial_ratio", "radial over tangential force, with Kienzle's law", "-",
		Band{0.2, 0.3, 0.7},
		sourceAltintas + ": 0.2 to 0.4 for thick chips, 0.7 to 1 where the chip is thin",
	}
	axialRatio = Constant{
		"axial_ratio", "axial force over tangential force times tan(helix), with Kienzle's law", "-",
		Band{0.3, 0.55, 0.8},
		sourceAltintas + ": 0.3 to 0.8; the typical value is the middle",
	}
	rakeSlope = Constant{
		"rake_slope", "share of the force saved by one more degree of rake", "1/degree",
		Band{0.010, 0.0125, 0.015},
		sourceHandbooks + ": 1 to 1.5 %",
	}
	rakeReference = Constant{
		"rake_reference", "rake that tables of specific force hold for", "degree",
		Band{0, 3, 6},
		sourceHandbooks + ": 0 to 6 degrees",
	}
	drillThrust = Constant{
		"drill_thrust", "normal over cutting force on a drill's lip", "-",
		Band{0.5, 0.65, 0.8},
		sourceHandbooks + ": 0.5 to 0.8",
	}
	chiselFactor = Constant{
		"chisel_factor", "thrust of a drill without pilot hole over that of its lips", "-",
		Band{1.5, 1.75, 2.0},
		sourceHandbooks + ": the chisel edge adds 50 to 100 %",
	}
	edgeRadius = Constant{
		"edge_radius", "radius of a cutting edge that nobody has measured", "mm",
		Band{0.002, 0.005, 0.010},
		sourcePractice + ": ground carbide 0.002 to 0.005 mm, coated or used 0.010 mm",
	}
	circularPath = Constant{
		"circular_path", "feed per tooth over diameter above which the circular path of a tooth is reported", "-",
		Band{0.05, 0.05, 0.05},
		"house value: the chip is then off by up to 5 % of the feed per tooth (feed squared over diameter)",
	}
)

// Constants returns every constant of the cutting model in the order of tables.
func Constants() []Constant {
	return []Constant{radialRatio, axialRatio, rakeSlope, rakeReference, drillThrust, chiselFactor, edgeRadius, circularPath}
}
