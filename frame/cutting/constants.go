package cutting

import "tiploop/frame/constant"

// The sources that several rows share.
const (
	sourcePractice  = "common practice, no publication"
	sourceHandbooks = "machining handbooks (from memory)"
	sourceAltintas  = "Altintas, Manufacturing Automation, ch. 2 (from memory)"
)

var (
	radialRatio = constant.Entry{
		Key: "radial_ratio", Meaning: "radial over tangential force, with Kienzle's law", Unit: "-",
		Band:   constant.Between(0.2, 0.3, 0.7),
		Source: sourceAltintas + ": 0.2 to 0.4 for thick chips, 0.7 to 1 where the chip is thin",
	}
	axialRatio = constant.Entry{
		Key: "axial_ratio", Meaning: "axial force over tangential force times tan(helix), with Kienzle's law",
		Unit:   "-",
		Band:   constant.Between(0.3, 0.55, 0.8),
		Source: sourceAltintas + ": 0.3 to 0.8; the typical value is the middle",
	}
	edgeRadialRatio = constant.Entry{
		Key: "edge_radial_ratio", Meaning: "radial over tangential force of an edge without chip, with a tangent to " +
			"Kienzle's curve", Unit: "-",
		Band:   constant.Between(0.7, 0.85, 1),
		Source: sourceAltintas + ": 0.7 to 1 where the chip is thin; the measured rows of metals say 0.77 to 1.25",
	}
	edgeAxialShare = constant.Entry{
		Key: "edge_axial_share", Meaning: "axial over tangential force of an edge without chip", Unit: "-",
		Band:   constant.Exactly(0.1),
		Source: "house value: the measured rows of metals say 0.03 to 0.22",
	}
	rakeSlope = constant.Entry{
		Key: "rake_slope", Meaning: "share of the force saved by one more degree of rake", Unit: "1/degree",
		Band:   constant.Between(0.010, 0.0125, 0.015),
		Source: sourceHandbooks + ": 1 to 1.5 %",
	}
	rakeReference = constant.Entry{
		Key: "rake_reference", Meaning: "rake that tables of specific force hold for", Unit: "degree",
		Band:   constant.Between(0, 3, 6),
		Source: sourceHandbooks + ": 0 to 6 degrees",
	}
	drillThrust = constant.Entry{
		Key: "drill_thrust", Meaning: "normal over cutting force on a drill's lip", Unit: "-",
		Band:   constant.Between(0.5, 0.65, 0.8),
		Source: sourceHandbooks + ": 0.5 to 0.8",
	}
	chiselFactor = constant.Entry{
		Key: "chisel_factor", Meaning: "thrust of a drill without pilot hole over that of its lips", Unit: "-",
		Band:   constant.Between(1.5, 1.75, 2.0),
		Source: sourceHandbooks + ": the chisel edge adds 50 to 100 %",
	}
	edgeRadius = constant.Entry{
		Key: "edge_radius", Meaning: "radius of a cutting edge that nobody has measured", Unit: "mm",
		Band:   constant.Between(0.002, 0.005, 0.010),
		Source: sourcePractice + ": ground carbide 0.002 to 0.005 mm, coated or used 0.010 mm",
	}
	circularPath = constant.Entry{
		Key: "circular_path", Meaning: "feed per tooth over diameter above which the circular path of a tooth is " +
			"reported", Unit: "-",
		Band:   constant.Exactly(0.05),
		Source: "house value: the chip is then off by up to 5 % of the feed per tooth (feed squared over diameter)",
	}
)

// Constants returns every constant of the cutting model that is not a material's, in the order of tables.
func Constants() []constant.Entry {
	return []constant.Entry{radialRatio, axialRatio, edgeRadialRatio, edgeAxialShare, rakeSlope, rakeReference,
		drillThrust, chiselFactor, edgeRadius, circularPath}
}
