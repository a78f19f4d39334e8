package joint

// Band is a number that is not known exactly.
type Band struct {
	Low, Typical, High float64 // Low <= Typical <= High by value, whatever that means for stiffness
}

// Constant is one number of the joint model.
type Constant struct {
	Key     string // name in tables
	Meaning string // what it is
	Unit    string // "-" for a ratio
	Band    Band   // its scatter
	Source  string // where it comes from, and whether the source was read
}

// The sources that several constants share.
const (
	sourceVDI      = "VDI 2230 part 1 (from memory)"
	sourceShigley  = "Shigley's Mechanical Engineering Design, 9th ed., ch. 8"
	sourcePractice = "common practice, no publication"
)

var (
	proofShare = Constant{
		"proof_share", "preload as a share of the proof load, when no torque is given", "-",
		Band{0.70, 0.75, 0.90},
		sourceShigley + ": 0.75 for joints that are taken apart, 0.90 for permanent ones (from memory); 0.70 is a cautious shop rule",
	}
	preloadScatter = Constant{
		"preload_scatter", "preload reached over preload meant, torque wrench or practised hand", "-",
		Band{0.55, 1.0, 1.3},
		sourceVDI + ": tightening factor 1.6 to 2.0; low end widened for a hex key by hand, " + sourcePractice,
	}
	threadFriction = Constant{
		"thread_friction", "friction in the thread", "-",
		Band{0.10, 0.12, 0.16},
		sourceVDI + ": friction classes; 0.10 waxed, 0.12 to 0.14 oiled or zinc plated, 0.16 dry as bought",
	}
	headFriction = Constant{
		"head_friction", "friction under the head", "-",
		Band{0.10, 0.12, 0.16},
		sourceVDI + ": friction classes, as the thread",
	}
	coneHalfAngle = Constant{
		"cone_half_angle", "half apex angle of the pressure cone under the head", "degree",
		Band{25, 30, 33},
		sourceShigley + ", p. 428: 30 used, 25 to 33 reported, 45 too stiff",
	}
	metalUnderHead = Constant{
		"metal_under_head", "metal a counterbore leaves under the head, in screw diameters", "-",
		Band{0.5, 1.0, 1.5},
		sourcePractice,
	}
	tangentialRatio = Constant{
		"tangential_ratio", "tangential over normal contact stiffness of faces that stick", "-",
		Band{0.15, 0.45, 0.8},
		"house value between 0.1 to 0.2 measured on machine supports (Kono et al., Key Eng. Mater. 523-524, 2012, abstract), " +
			"0.38 to 0.77 in Ito, Modular Design for Machine Tools, 2008, table 6-10, and 0.8 for elastic contact (Mindlin 1949, from memory)",
	}
	slipFrictionAluminium = Constant{
		"slip_friction_aluminium", "friction between faces, aluminium on aluminium, dry", "-",
		Band{0.15, 0.20, 0.35},
		sourceVDI + "; EN 1090-2 slip classes (from memory)",
	}
	slipFrictionSteel = Constant{
		"slip_friction_steel", "friction between faces, steel on steel or on aluminium, dry", "-",
		Band{0.10, 0.15, 0.25},
		sourceVDI + "; EN 1090-2 slip classes (from memory)",
	}
	paperModulus = Constant{
		"paper_modulus", "modulus of paper through its thickness at 1 MPa", "MPa",
		Band{4, 10, 25},
		"paper-physics literature, order only (from memory): 10, 30, 80 MPa at 1, 5, 20 MPa, each within a factor 2.5",
	}
	paperExponent = Constant{
		"paper_exponent", "exponent n of the paper modulus E = E1 p^n, p in MPa", "-",
		Band{0.68, 0.69, 0.71},
		"power law through the three points of paper_modulus: 0.68 between the first two, 0.71 between the last two, 0.69 over all",
	}
	screwModulus = Constant{
		"screw_modulus", "Young's modulus of the screw", "MPa",
		Band{205e3, 206e3, 210e3},
		"206 GPa in ball-screw catalogues; range from handbooks (from memory)",
	}
	screwHeadLength = Constant{
		"screw_head_length", "length of shank that gives as much as the head, in screw diameters", "-",
		Band{0.4, 0.4, 0.5},
		sourceVDI + ": 0.4 d for a socket head, 0.5 d for a hexagon head",
	}
	screwCoreLength = Constant{
		"screw_core_length", "length of thread core that gives as much as the engaged thread, in screw diameters", "-",
		Band{0.5, 0.5, 0.5},
		sourceVDI,
	}
	tappedThreadLength = Constant{
		"tapped_thread_length", "length of the tapped part, over the screw's nominal area, that gives as much as its thread, in screw diameters", "-",
		Band{0.33, 0.33, 0.4},
		sourceVDI + ": 0.33 d in a tapped hole, 0.4 d in a nut",
	}
	loadShare = Constant{
		"load_share", "usual share of an axial load that the screw takes; to set the share of a spot against", "-",
		Band{0.15, 0.25, 0.35},
		sourcePractice + "; 0.25 if nothing is known, after a tribology reference on the joint stiffness factor",
	}
)

// Constants returns every constant of the joint model in the order of tables, the two of each
// surface's contact law included.
func Constants() []Constant {
	list := []Constant{
		proofShare, preloadScatter, threadFriction, headFriction,
		coneHalfAngle, metalUnderHead, tangentialRatio,
		slipFrictionAluminium, slipFrictionSteel,
		paperModulus, paperExponent,
		screwModulus, screwHeadLength, screwCoreLength, tappedThreadLength, loadShare,
	}
	for _, s := range surfaces {
		list = append(list,
			Constant{"contact_c_" + s.Key, "contact law λ = C p^m, " + s.Name + " on itself: C", "µm at 1 MPa", s.C, s.Source},
			Constant{"contact_m_" + s.Key, "contact law λ = C p^m, " + s.Name + " on itself: m", "-", Band{s.M, s.M, s.M},
				s.Source + "; measured 0.4 to 0.55, held at 0.5 so that C alone carries the scatter"},
		)
	}
	return list
}
