package drive

import (
	"strings"

	"tiploop/frame/constant"
)

// The sources that several constants share.
const (
	sourceCatalogue = "order of makers' catalogues of rolled screws (from memory)"
	sourceScaled    = "carried over from the neighbouring sizes; order of makers' catalogues of rolled screws (from " +
		"memory)"
	sourcePractice = "common practice, no publication"
	sourceBelt     = "order of belt makers' data (from memory)"
	sourceUnit     = "support-unit catalogue table; low and high ends common practice"
	sourceISO2904  = "ISO 2904, basic dimensions of trapezoidal threads (from memory), with common practice for the " +
		"spread"
)

var (
	nutInService = constant.Entry{
		Key: "nut_in_service", Meaning: "stiffness of a ball nut in its seat at 0.05 C_a preload over the " +
			"catalogue's K at 0.3 C_a", Unit: "-",
		Band: constant.Between(0.35, 0.6, 0.9),
		Source: "ball-screw maker's page on rigidity: only R_nu,ar of ISO 3408-4 is near reality; catalogue K from " +
			"memory, share a house value",
	}
	nutReferencePreload = constant.Entry{
		Key: "nut_reference_preload", Meaning: "preload over C_a at which nut_in_service holds", Unit: "-",
		Band:   constant.Exactly(0.05),
		Source: "house value: the middle of a light preload",
	}
	bracket = constant.Entry{
		Key: "bracket", Meaning: "nut bracket or motor plate along the travel, where it is no part of the model",
		Unit:   "N/mm",
		Band:   constant.Between(30e3, 100e3, 300e3),
		Source: sourcePractice,
	}
	bucklingUse = constant.Entry{
		Key: "buckling_use", Meaning: "share of Euler's load that may be used", Unit: "-",
		Band:   constant.Exactly(0.5),
		Source: "makers' practice for screws (from memory)",
	}
	criticalUse = constant.Entry{
		Key: "critical_use", Meaning: "share of the critical speed that may be used", Unit: "-",
		Band:   constant.Exactly(0.8),
		Source: "ISO 3408 makers' practice (from memory)",
	}
	diameterSpeed = constant.Entry{
		Key: "diameter_speed", Meaning: "limit of diameter times speed of a ball nut", Unit: "mm/min",
		Band:   constant.Between(50e3, 70e3, 120e3),
		Source: "makers' limits, rolled screws with tube or deflector return low, with end caps high (from memory)",
	}
	ballEfficiency = constant.Entry{
		Key: "ball_efficiency", Meaning: "efficiency of a ball screw turning rotation into travel", Unit: "-",
		Band:   constant.Between(0.85, 0.90, 0.95),
		Source: "makers' catalogues (from memory)",
	}
	bronzeFriction = constant.Entry{
		Key: "friction_bronze", Meaning: "friction of a steel lead screw in a bronze nut, oiled", Unit: "-",
		Band:   constant.Between(0.08, 0.12, 0.18),
		Source: "handbooks on power screws, e.g. Shigley's Mechanical Engineering Design, table 8-5 (from memory)",
	}
	plasticFriction = constant.Entry{
		Key: "friction_plastic", Meaning: "friction of a steel lead screw in a plastic nut", Unit: "-",
		Band:   constant.Between(0.08, 0.14, 0.25),
		Source: "makers of plastic nuts (from memory)",
	}
	leadNutPerDiameter = constant.Entry{
		Key: "lead_nut_per_diameter", Meaning: "stiffness of a bronze nut with the play taken up, per mm of its " +
			"screw's diameter", Unit: "N/mm per mm",
		Band:   constant.Between(2e3, 6e3, 12e3),
		Source: sourcePractice + ", low confidence",
	}
	leadNutPlay = constant.Entry{
		Key: "lead_nut_play", Meaning: "play of a lead screw's nut that nothing takes up, along the screw", Unit: "mm",
		Band:   constant.Between(0.02, 0.05, 0.15),
		Source: sourcePractice,
	}
	plasticNut = constant.Entry{
		Key: "plastic_nut", Meaning: "stiffness of a plastic nut over that of a bronze one", Unit: "-",
		Band:   constant.Between(0.05, 0.12, 0.3),
		Source: "ratio of the moduli, 3 against 100 GPa, eased by the screw's own threads; " + sourcePractice,
	}
	nutSleeve = constant.Entry{
		Key: "nut_sleeve", Meaning: "outer diameter of a nut over its screw's diameter", Unit: "-",
		Band:   constant.Between(1.6, 1.8, 2.2),
		Source: sourcePractice + ": 28 mm for a screw of 16",
	}
	nutLength = constant.Entry{
		Key: "nut_length", Meaning: "length of a nut over its screw's diameter, a flange spread over it", Unit: "-",
		Band:   constant.Between(2, 3, 4),
		Source: sourcePractice,
	}
	beltCord2 = constant.Entry{
		Key: "belt_2", Meaning: "stiffness of a belt of 2 mm pitch, glass cord, per mm of width: force per unit strain",
		Unit:   "N/mm",
		Band:   constant.Between(15e3/6, 25e3/6, 40e3/6),
		Source: sourceBelt + ": 15 to 40 kN at 6 mm",
	}
	beltCord3 = constant.Entry{
		Key: "belt_3", Meaning: "the same, 3 mm pitch", Unit: "N/mm",
		Band:   constant.Between(50e3/9, 80e3/9, 120e3/9),
		Source: sourceBelt + ": 50 to 120 kN at 9 mm",
	}
	beltCord5 = constant.Entry{
		Key: "belt_5", Meaning: "the same, 5 mm pitch", Unit: "N/mm",
		Band:   constant.Between(100e3/15, 180e3/15, 300e3/15),
		Source: sourceBelt + ": 100 to 300 kN at 15 mm",
	}
	steelCord = constant.Entry{
		Key: "belt_steel_cord", Meaning: "stiffness of a belt with steel cords over that with glass cords", Unit: "-",
		Band:   constant.Between(2, 3, 4),
		Source: sourceBelt,
	}
	beltTooth = constant.Entry{
		Key: "belt_tooth", Meaning: "stiffness of one belt tooth in mesh per mm of width", Unit: "N/mm per mm",
		Band:   constant.Between(20, 40, 80),
		Source: "house value: 0.05 to 0.1 mm of give at the teeth's rated force; no measurement found",
	}
	beltTeethCarrying = constant.Entry{
		Key: "belt_teeth_carrying", Meaning: "most teeth of a mesh that share the load evenly", Unit: "-",
		Band:   constant.Between(6, 8, 12),
		Source: "belt makers' limit on teeth in mesh, 6 and more (from memory)",
	}
	rackMesh = constant.Entry{
		Key: "rack_mesh", Meaning: "stiffness of rack and pinion teeth, steel, per mm of face width",
		Unit: "N/mm per mm",
		Band: constant.Between(2e3, 6e3, 14e3),
		Source: "ISO 6336-1: 14 N/(mm µm) for one pair under full load (from memory); less under the small loads of " +
			"small machines",
	}
	rackPlay = constant.Entry{
		Key: "rack_play", Meaning: "play of a rack and pinion without preload, along the rack", Unit: "mm",
		Band:   constant.Between(0.02, 0.05, 0.15),
		Source: sourcePractice,
	}
	stepperReduced = constant.Entry{
		Key: "stepper_reduced", Meaning: "holding stiffness of a stepper at the driver's reduced standstill current, " +
			"over that at full", Unit: "-",
		Band:   constant.Between(0.4, 0.5, 0.7),
		Source: sourcePractice + ": torque goes with current",
	}
	stepperMoving = constant.Entry{
		Key: "stepper_moving", Meaning: "torque a stepper may be asked for while it turns, over its holding torque",
		Unit:   "-",
		Band:   constant.Between(0.3, 0.5, 0.7),
		Source: sourcePractice + ": torque falls with speed, and a lost step is not noticed",
	}
)

// Constants returns every constant of the drive model in the order of tables, those of each size included.
func Constants() []constant.Entry {
	list := CommonConstants()
	for _, s := range ballScrews {
		list = append(list,
			constant.Entry{Key: "root_" + s.Key, Meaning: "core diameter of the ball screw " + s.Key, Unit: "mm",
				Band: s.Root, Source: s.RootSource},
			constant.Entry{
				Key: "nut_k_" + s.Key, Meaning: "the catalogue's K of a ball nut at 0.3 C_a, " + s.Key, Unit: "N/mm",
				Band: constant.Exactly(s.CatalogueNut), Source: s.NutSource,
			},
			constant.Entry{
				Key: "dynamic_" + s.Key, Meaning: "basic dynamic load rating C_a for a million turns, " + s.Key,
				Unit: "N",
				Band: s.Dynamic, Source: s.RatingSource,
			},
			constant.Entry{Key: "static_" + s.Key, Meaning: "basic static load rating C_0a, " + s.Key, Unit: "N",
				Band: s.Static, Source: s.RatingSource},
		)
	}
	for _, s := range leadScrews {
		list = append(list, constant.Entry{
			Key: "root_" + strings.ToLower(s.Key), Meaning: "core diameter of the lead screw " + s.Key, Unit: "mm",
			Band: s.Root, Source: s.Source,
		})
	}
	for _, u := range supportUnits {
		list = append(list,
			constant.Entry{Key: "unit_" + u.Key, Meaning: "stiffness along the screw of the " + u.Name, Unit: "N/mm",
				Band: u.Axial, Source: u.Source},
			constant.Entry{Key: "unit_load_" + u.Key, Meaning: "load along the screw that the " + u.Name + " permits",
				Unit: "N", Band: u.Load, Source: u.Source},
		)
		if u.Play.High > 0 {
			list = append(list, constant.Entry{Key: "unit_play_" + u.Key,
				Meaning: "play along the screw of the " + u.Name, Unit: "mm", Band: u.Play, Source: u.Source})
		}
	}
	for _, s := range steppers {
		list = append(list,
			constant.Entry{Key: "hold_" + s.Key, Meaning: "holding torque of a " + s.Name, Unit: "N·mm", Band: s.Hold,
				Source: s.Source},
			constant.Entry{Key: "rotor_" + s.Key, Meaning: "moment of inertia of the rotor of a " + s.Name,
				Unit: "tonne·mm²", Band: s.Rotor, Source: s.Source},
			constant.Entry{Key: "mass_" + s.Key, Meaning: "mass of a " + s.Name, Unit: "tonne", Band: s.Mass,
				Source: s.Source},
		)
	}
	return list
}

// CommonConstants returns the constants that belong to no size of screw, support unit or motor, those of each nut fit
// included.
func CommonConstants() []constant.Entry {
	list := []constant.Entry{
		nutInService, nutReferencePreload, bracket, bucklingUse, criticalUse, diameterSpeed, ballEfficiency,
		bronzeFriction, plasticFriction, leadNutPerDiameter, leadNutPlay, plasticNut, nutSleeve, nutLength,
		beltCord2, beltCord3, beltCord5, steelCord, beltTooth, beltTeethCarrying,
		rackMesh, rackPlay, stepperReduced, stepperMoving,
	}
	for _, f := range NutFits() {
		c := nutFits[f]
		if c.share.High > 0 {
			list = append(list, constant.Entry{Key: "nut_preload_" + c.key, Meaning: "preload over C_a, " + c.name,
				Unit: "-", Band: c.share, Source: c.source})
		} else {
			list = append(list, constant.Entry{Key: "nut_play_" + c.key, Meaning: "play along the screw, " + c.name,
				Unit: "mm", Band: c.play, Source: c.source})
		}
	}
	return list
}
