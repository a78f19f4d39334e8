package joint

import "tiploop/frame/constant"

// The sources that several constants share.
const (
	sourceVDI      = "VDI 2230 part 1 (from memory)"
	sourceShigley  = "Shigley's Mechanical Engineering Design, 9th ed., ch. 8"
	sourcePractice = "common practice, no publication"
)

var (
	proofShare = constant.Entry{
		Key: "proof_share", Meaning: "preload as a share of the proof load, when no torque is given", Unit: "-",
		Band: constant.Between(0.70, 0.75, 0.90),
		Source: sourceShigley + ": 0.75 for joints that are taken apart, 0.90 for permanent ones (from memory); 0.70 " +
			"is a cautious shop rule",
	}
	preloadScatter = constant.Entry{
		Key: "preload_scatter", Meaning: "preload reached over preload meant, torque wrench or practised hand",
		Unit:   "-",
		Band:   constant.Between(0.55, 1.0, 1.3),
		Source: sourceVDI + ": tightening factor 1.6 to 2.0; low end widened for a hex key by hand, " + sourcePractice,
	}
	threadFriction = constant.Entry{
		Key: "thread_friction", Meaning: "friction in the thread", Unit: "-",
		Band:   constant.Between(0.10, 0.12, 0.16),
		Source: sourceVDI + ": friction classes; 0.10 waxed, 0.12 to 0.14 oiled or zinc plated, 0.16 dry as bought",
	}
	headFriction = constant.Entry{
		Key: "head_friction", Meaning: "friction under the head", Unit: "-",
		Band:   constant.Between(0.10, 0.12, 0.16),
		Source: sourceVDI + ": friction classes, as the thread",
	}
	coneHalfAngle = constant.Entry{
		Key: "cone_half_angle", Meaning: "half apex angle of the pressure cone under the head", Unit: "degree",
		Band:   constant.Between(25, 30, 33),
		Source: sourceShigley + ", p. 428: 30 used, 25 to 33 reported, 45 too stiff",
	}
	metalUnderHead = constant.Entry{
		Key: "metal_under_head", Meaning: "metal a counterbore leaves under the head, in screw diameters", Unit: "-",
		Band:   constant.Between(0.5, 1.0, 1.5),
		Source: sourcePractice,
	}
	shareOfRoughness = constant.Entry{
		Key: "contact_u0_share", Meaning: "contact law k = p/u0 of small flat faces: u0 over the rms roughness of both",
		Unit:   "-",
		Band:   constant.Between(0.4, 0.45, 0.5),
		Source: "Persson 2007; Akarapu, Sharp and Robbins 2011 (both from memory)",
	}
	rmsPerRa = constant.Entry{
		Key: "rms_per_ra", Meaning: "rms roughness Rq over Ra of a machined face", Unit: "-",
		Band: constant.Between(1.1, 1.25, 1.4), Source: sourcePractice + "; 1.11 for a sine, 1.25 for random heights",
	}
	tangentialRatio = constant.Entry{
		Key: "tangential_ratio", Meaning: "tangential over normal contact stiffness of faces that stick", Unit: "-",
		Band: constant.Between(0.35, 0.6, 0.85),
		Source: "house value: (2-2ν)/(2-ν), 0.8, for rough elastic faces (Campañá, Persson and Müser, J. Phys.: Condens. " +
			"Matter 23, 2011, 085001, abstract; Mindlin 1949, from memory); 0.38 to 0.77 in Ito, Modular Design for " +
			"Machine Tools, 2008, table 6-10",
	}
	slipFrictionAluminium = constant.Entry{
		Key: "slip_friction_aluminium", Meaning: "friction between faces, aluminium on aluminium, dry", Unit: "-",
		Band:   constant.Between(0.15, 0.20, 0.35),
		Source: sourceVDI + "; EN 1090-2 slip classes (from memory)",
	}
	slipFrictionSteel = constant.Entry{
		Key: "slip_friction_steel", Meaning: "friction between faces, steel on steel or on aluminium, dry", Unit: "-",
		Band:   constant.Between(0.10, 0.15, 0.25),
		Source: sourceVDI + "; EN 1090-2 slip classes (from memory)",
	}
	settlingThread = constant.Entry{
		Key: "settling_thread", Meaning: "settling of a thread after tightening", Unit: "µm",
		Band: constant.Exactly(3), Source: sourceVDI + ", table 5, axial load",
	}
	settlingHead = constant.Entry{
		Key: "settling_head", Meaning: "settling under a head: faces of Rz below 10, to 40, above", Unit: "µm",
		Band: constant.Between(2.5, 3, 4), Source: sourceVDI + ", table 5, axial load",
	}
	settlingFace = constant.Entry{
		Key: "settling_face", Meaning: "settling of faces pressed together: Rz below 10, to 40, above", Unit: "µm",
		Band: constant.Between(1.5, 2, 3), Source: sourceVDI + ", table 5, axial load",
	}
	settlingPaper = constant.Entry{
		Key: "settling_paper", Meaning: "settling of paper, paint or a burr, each", Unit: "µm",
		Band: constant.Between(10, 20, 30), Source: sourcePractice,
	}
	preloadKept = constant.Entry{
		Key: "preload_kept", Meaning: "least share of its preload that a screw keeps, whatever settles", Unit: "-",
		Band: constant.Between(0.05, 0.1, 0.2), Source: sourcePractice + "; it will have been tightened again",
	}
	tappedStrength = constant.Entry{
		Key: "tapped_strength", Meaning: "tensile strength of the aluminium of a tapped part", Unit: "MPa",
		Band:   constant.Between(200, 275, 310),
		Source: "EN 485-2 (from memory): 275 least of 5083 in its softest state; low a cast tooling plate, high 6082-T6",
	}
	shearStrengthRatio = constant.Entry{
		Key: "shear_strength_ratio", Meaning: "shear over tensile strength of a tapped part", Unit: "-",
		Band: constant.Between(0.5, 0.6, 0.65), Source: "Bickford, An Introduction to the Design and Behavior of " +
			"Bolted Joints (from memory); 0.5 in trade articles",
	}
	threadLeft = constant.Entry{
		Key: "thread_left", Meaning: "shear area of a tapped thread over that of its basic profile", Unit: "-",
		Band: constant.Between(0.75, 0.8, 0.9), Source: sourcePractice + ": tolerances and bell mouth cost 10 to 25 %",
	}
	paperModulus = constant.Entry{
		Key: "paper_modulus", Meaning: "modulus of paper through its thickness at 1 MPa", Unit: "MPa",
		Band: constant.Between(4, 10, 25),
		Source: "paper-physics literature, order only (from memory): 10, 30, 80 MPa at 1, 5, 20 MPa, each within a " +
			"factor 2.5",
	}
	paperExponent = constant.Entry{
		Key: "paper_exponent", Meaning: "exponent n of the paper modulus E = E1 p^n, p in MPa", Unit: "-",
		Band: constant.Between(0.68, 0.69, 0.71),
		Source: "power law through the three points of paper_modulus: 0.68 between the first two, 0.71 between the " +
			"last two, 0.69 over all",
	}
	screwModulus = constant.Entry{
		Key: "screw_modulus", Meaning: "Young's modulus of the screw", Unit: "MPa",
		Band:   constant.Between(205e3, 206e3, 210e3),
		Source: "206 GPa in ball-screw catalogues; range from handbooks (from memory)",
	}
	screwHeadLength = constant.Entry{
		Key: "screw_head_length", Meaning: "length of shank that gives as much as the head, in screw diameters",
		Unit:   "-",
		Band:   constant.Between(0.4, 0.4, 0.5),
		Source: sourceVDI + ": 0.4 d for a socket head, 0.5 d for a hexagon head",
	}
	screwCoreLength = constant.Entry{
		Key: "screw_core_length", Meaning: "length of thread core that gives as much as the engaged thread, in screw " +
			"diameters", Unit: "-",
		Band:   constant.Exactly(0.5),
		Source: sourceVDI,
	}
	tappedThreadLength = constant.Entry{
		Key: "tapped_thread_length", Meaning: "length of the tapped part, over the screw's nominal area, that gives " +
			"as much as its thread, in screw diameters", Unit: "-",
		Band:   constant.Between(0.33, 0.33, 0.4),
		Source: sourceVDI + ": 0.33 d in a tapped hole, 0.4 d in a nut",
	}
	loadShare = constant.Entry{
		Key: "load_share", Meaning: "usual share of an axial load that the screw takes; to set the share of a spot " +
			"against", Unit: "-",
		Band: constant.Between(0.15, 0.25, 0.35),
		Source: sourcePractice + "; 0.25 if nothing is known, after a tribology reference on the joint stiffness " +
			"factor",
	}
)

// Constants returns every constant of the joint model in the order of tables, the two of each
// surface's contact law included.
func Constants() []constant.Entry {
	list := []constant.Entry{
		proofShare, preloadScatter, threadFriction, headFriction,
		coneHalfAngle, metalUnderHead, shareOfRoughness, rmsPerRa, tangentialRatio,
		slipFrictionAluminium, slipFrictionSteel,
		settlingThread, settlingHead, settlingFace, settlingPaper, preloadKept,
		tappedStrength, shearStrengthRatio, threadLeft,
		paperModulus, paperExponent,
		screwModulus, screwHeadLength, screwCoreLength, tappedThreadLength, loadShare,
	}
	for _, s := range surfaces {
		list = append(list,
			constant.Entry{Key: "contact_c_" + s.Key, Meaning: "contact law λ = C p^m, " + s.Name + " on itself: C",
				Unit: "µm at 1 MPa", Band: s.C, Source: s.Source},
			constant.Entry{
				Key: "contact_m_" + s.Key, Meaning: "contact law λ = C p^m, " + s.Name + " on itself: m", Unit: "-",
				Band:   constant.Exactly(s.M),
				Source: s.Source + "; measured 0.4 to 0.55, held at 0.5 so that C alone carries the scatter",
			},
		)
	}
	return list
}
