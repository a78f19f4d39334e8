package drive

import "strings"

// Constant is one number of the drive model.
type Constant struct {
	Key     string // name in tables
	Meaning string // what it is
	Unit    string // "-" for a ratio
	Band    Band   // its scatter
	Source  string // where it comes from, and whether the source was read
}

// The sources that several constants share.
const (
	sourceCatalogue = "order of makers' catalogues of rolled screws (from memory)"
	sourceScaled    = "carried over from the neighbouring sizes; order of makers' catalogues of rolled screws (from memory)"
	sourcePractice  = "common practice, no publication"
	sourceBelt      = "order of belt makers' data (from memory)"
	sourceUnit      = "support-unit catalogue table; low and high ends common practice"
	sourceISO2904   = "ISO 2904, basic dimensions of trapezoidal threads (from memory), with common practice for the spread"
)

var (
	nutInService = Constant{
		"nut_in_service", "stiffness of a ball nut in its seat at 0.05 C_a preload over the catalogue's K at 0.3 C_a", "-",
		Band{0.35, 0.6, 0.9},
		"ball-screw maker's page on rigidity: only R_nu,ar of ISO 3408-4 is near reality; catalogue K from memory, share a house value",
	}
	nutReferencePreload = Constant{
		"nut_reference_preload", "preload over C_a at which nut_in_service holds", "-",
		exactly(0.05), "house value: the middle of a light preload",
	}
	bracket = Constant{
		"bracket", "nut bracket or motor plate along the travel, where it is no part of the model", "N/mm",
		Band{30e3, 100e3, 300e3}, sourcePractice,
	}
	bucklingUse = Constant{
		"buckling_use", "share of Euler's load that may be used", "-",
		exactly(0.5), "makers' practice for screws (from memory)",
	}
	criticalUse = Constant{
		"critical_use", "share of the critical speed that may be used", "-",
		exactly(0.8), "ISO 3408 makers' practice (from memory)",
	}
	diameterSpeed = Constant{
		"diameter_speed", "limit of diameter times speed of a ball nut", "mm/min",
		Band{50e3, 70e3, 120e3}, "makers' limits, rolled screws with tube or deflector return low, with end caps high (from memory)",
	}
	ballEfficiency = Constant{
		"ball_efficiency", "efficiency of a ball screw turning rotation into travel", "-",
		Band{0.85, 0.90, 0.95}, "makers' catalogues (from memory)",
	}
	bronzeFriction = Constant{
		"friction_bronze", "friction of a steel lead screw in a bronze nut, oiled", "-",
		Band{0.08, 0.12, 0.18}, "handbooks on power screws, e.g. Shigley's Mechanical Engineering Design, table 8-5 (from memory)",
	}
	plasticFriction = Constant{
		"friction_plastic", "friction of a steel lead screw in a plastic nut", "-",
		Band{0.08, 0.14, 0.25}, "makers of plastic nuts (from memory)",
	}
	leadNutPerDiameter = Constant{
		"lead_nut_per_diameter", "stiffness of a bronze nut with the play taken up, per mm of its screw's diameter", "N/mm per mm",
		Band{2e3, 6e3, 12e3}, sourcePractice + ", low confidence",
	}
	plasticNut = Constant{
		"plastic_nut", "stiffness of a plastic nut over that of a bronze one", "-",
		Band{0.05, 0.12, 0.3}, "ratio of the moduli, 3 against 100 GPa, eased by the screw's own threads; " + sourcePractice,
	}
	beltCord2 = Constant{"belt_2", "stiffness of a belt of 2 mm pitch, glass cord, per mm of width: force per unit strain", "N/mm",
		Band{15e3 / 6, 25e3 / 6, 40e3 / 6}, sourceBelt + ": 15 to 40 kN at 6 mm"}
	beltCord3 = Constant{"belt_3", "the same, 3 mm pitch", "N/mm",
		Band{50e3 / 9, 80e3 / 9, 120e3 / 9}, sourceBelt + ": 50 to 120 kN at 9 mm"}
	beltCord5 = Constant{"belt_5", "the same, 5 mm pitch", "N/mm",
		Band{100e3 / 15, 180e3 / 15, 300e3 / 15}, sourceBelt + ": 100 to 300 kN at 15 mm"}
	steelCord = Constant{
		"belt_steel_cord", "stiffness of a belt with steel cords over that with glass cords", "-",
		Band{2, 3, 4}, sourceBelt,
	}
	beltTooth = Constant{
		"belt_tooth", "stiffness of one belt tooth in mesh per mm of width", "N/mm per mm",
		Band{20, 40, 80}, "house value: 0.05 to 0.1 mm of give at the teeth's rated force; no measurement found",
	}
	beltTeethCarrying = Constant{
		"belt_teeth_carrying", "most teeth of a mesh that share the load evenly", "-",
		Band{6, 8, 12}, "belt makers' limit on teeth in mesh, 6 and more (from memory)",
	}
	rackMesh = Constant{
		"rack_mesh", "stiffness of rack and pinion teeth, steel, per mm of face width", "N/mm per mm",
		Band{2e3, 6e3, 14e3}, "ISO 6336-1: 14 N/(mm µm) for one pair under full load (from memory); less under the small loads of small machines",
	}
	rackPlay = Constant{
		"rack_play", "play of a rack and pinion without preload, along the rack", "mm",
		Band{0.02, 0.05, 0.15}, sourcePractice,
	}
	stepperReduced = Constant{
		"stepper_reduced", "holding stiffness of a stepper at the driver's reduced standstill current, over that at full", "-",
		Band{0.4, 0.5, 0.7}, sourcePractice + ": torque goes with current",
	}
)

// Constants returns every constant of the drive model in the order of tables, those of each size
// included.
func Constants() []Constant {
	list := []Constant{
		nutInService, nutReferencePreload, bracket, bucklingUse, criticalUse, diameterSpeed, ballEfficiency,
		bronzeFriction, plasticFriction, leadNutPerDiameter, plasticNut,
		beltCord2, beltCord3, beltCord5, steelCord, beltTooth, beltTeethCarrying,
		rackMesh, rackPlay, stepperReduced,
	}
	for _, s := range ballScrews {
		list = append(list,
			Constant{"root_" + s.Key, "core diameter of the ball screw " + s.Key, "mm", s.Root, s.RootSource},
			Constant{"nut_k_" + s.Key, "the catalogue's K of a ball nut at 0.3 C_a, " + s.Key, "N/mm", exactly(s.CatalogueNut), s.NutSource},
			Constant{"dynamic_" + s.Key, "basic dynamic load rating C_a for a million turns, " + s.Key, "N", s.Dynamic, s.RatingSource},
			Constant{"static_" + s.Key, "basic static load rating C_0a, " + s.Key, "N", s.Static, s.RatingSource},
		)
	}
	for _, f := range NutFits() {
		c := nutFits[f]
		if c.share.High > 0 {
			list = append(list, Constant{"nut_preload_" + c.key, "preload over C_a, " + c.name, "-", c.share, c.source})
		} else {
			list = append(list, Constant{"nut_play_" + c.key, "play along the screw, " + c.name, "mm", c.play, c.source})
		}
	}
	for _, s := range leadScrews {
		list = append(list, Constant{"root_" + strings.ToLower(s.Key), "core diameter of the lead screw " + s.Key, "mm", s.Root, s.Source})
	}
	for _, u := range supportUnits {
		list = append(list,
			Constant{"unit_" + u.Key, "stiffness along the screw of the " + u.Name, "N/mm", u.Axial, u.Source},
			Constant{"unit_load_" + u.Key, "load along the screw that the " + u.Name + " permits", "N", u.Load, u.Source},
		)
		if u.Play.High > 0 {
			list = append(list, Constant{"unit_play_" + u.Key, "play along the screw of the " + u.Name, "mm", u.Play, u.Source})
		}
	}
	for _, s := range steppers {
		list = append(list, Constant{"hold_" + s.Key, "holding torque of a " + s.Name, "N·mm", s.Hold, s.Source})
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
