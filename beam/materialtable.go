package beam

const (
	alongGrain = "; wood idealised as isotropic: E is along the grain, across it a tenth or less, and the real shear " +
		"modulus is far below E/(2(1+ν))"
	inPlane = "; layered wood idealised as isotropic: the real shear modulus is far below E/(2(1+ν))"
)

// materialTable is in the units of the handbooks: GPa, kg/m³, 1e-6/K, MPa. Yield is the least
// value of the standard for plate or bar of usual thickness. Sources marked "from memory" were
// not opened when the row was written.
var materialTable = []materialRow{
	{"aluminium-5083", "aluminium 5083 O/H111 plate", 69, 70.5, 72, 0.33, 2660, 23.8, 125,
		"association data sheets for 5083 O; yield EN 485-2 (from memory), up to 50 mm thick"},
	{"aluminium-5083-h112", "aluminium 5083 H112 plate", 69, 70.5, 72, 0.33, 2660, 23.8, 190,
		"association data sheets for 5083 H112, typical yield"},
	{"aluminium-5083-h116", "aluminium 5083 H116 plate", 69, 70.5, 72, 0.33, 2660, 23.8, 228,
		"association data sheets for 5083 H116, typical yield"},
	{"aluminium-6061", "aluminium 6061-T6/T651", 68, 69, 70, 0.33, 2700, 23.6, 240,
		"EN 485-2; ASM Handbook 2 (from memory)"},
	{"aluminium-6082", "aluminium 6082-T6/T651 plate", 69, 70, 71, 0.33, 2700, 23.4, 240,
		"EN 485-2; EN 1999-1-1 uses E = 70 GPa (from memory); yield 12.5 to 60 mm thick"},
	{"aluminium-6060", "aluminium 6060/6063 T5/T6 extrusion", 69, 70, 70, 0.33, 2700, 23.4, 100,
		"EN 755-2 (from memory); yield 100 to 160 MPa by temper and wall"},
	{"aluminium-7075", "aluminium 7075-T651 plate", 70, 71.5, 73, 0.33, 2800, 23.5, 460,
		"EN 485-2 (from memory); yield 12.5 to 50 mm thick, falling with thickness"},
	{"aluminium-tooling-plate", "cast aluminium tooling plate, machined faces", 68, 70, 71, 0.33, 2660, 23.5, 110,
		"plate makers' sheets (from memory); typical yield 110 to 130 MPa"},
	{"steel", "structural steel S235", 200, 207, 212, 0.30, 7850, 12, 235,
		"EN 10025-2; EN 1993-1-1 uses E = 210 GPa (from memory); yield up to 16 mm thick"},
	{"steel-s355", "structural steel S355", 200, 207, 212, 0.30, 7850, 12, 355,
		"EN 10025-2; EN 1993-1-1 uses E = 210 GPa (from memory); yield up to 16 mm thick"},
	{"steel-hardened", "hardened steel: shaft, screw, rail", 205, 206, 210, 0.30, 7830, 11.8, 600,
		"E = 206 GPa as in ball-screw catalogues; rest handbooks (from memory)"},
	{"cast-iron-gjl-200", "grey cast iron GJL-200", 88, 100, 113, 0.26, 7150, 10, 0,
		"EN 1561 annex (from memory); brittle, tensile strength 200 MPa"},
	{"cast-iron-gjl-250", "grey cast iron GJL-250", 103, 110, 118, 0.26, 7200, 10, 0,
		"EN 1561 annex (from memory); brittle, tensile strength 250 MPa"},
	{"cast-iron-gjl-300", "grey cast iron GJL-300", 108, 122, 137, 0.26, 7250, 10, 0,
		"EN 1561 annex (from memory); brittle, tensile strength 300 MPa"},
	{"stainless-1.4301", "stainless steel 1.4301", 190, 196, 200, 0.29, 7900, 16.5, 210, "EN 10088-2, -3 (from memory)"},
	{"brass", "brass CuZn39Pb3, CuZn37", 96, 101, 110, 0.34, 8450, 20.5, 150,
		"EN 12164, EN 1652 (from memory); yield 150 to 400 MPa by temper"},
	{"carbide", "tungsten carbide (tools)", 540, 580, 640, 0.22, 14500, 5.5, 0,
		"E = 580 GPa as in tool-deflection pages; range handbooks (from memory); brittle"},
	{"high-speed-steel", "high-speed steel (tools)", 200, 210, 230, 0.29, 8100, 11, 0,
		"handbooks (from memory); hardened, no yield stated"},
	{"granite", "granite", 35, 50, 65, 0.2, 2800, 6.5, 0,
		"Slocum, Precision Machine Design (from memory); brittle, flexural strength 10 to 20 MPa"},
	{"mineral-casting", "mineral casting, industrial", 30, 38, 45, 0.27, 2350, 15, 0,
		"mineral-casting trade site for E, ν, density; rest makers' sheets (from memory); brittle, tensile strength 10 to " +
			"15 MPa"},
	{"epoxy-granite", "epoxy granite, home-mixed", 10, 20, 32, 0.25, 2100, 18, 0,
		"common practice, no source; depends on resin share and voids: measure a bar"},
	{"concrete", "concrete C20/25 to C40/50, short-term", 25, 31, 36, 0.2, 2350, 10, 0,
		"EN 1992-1-1 (from memory); creeps to 1.5 to 3 times and shrinks later"},
	{"birch-plywood", "birch plywood, along the face grain", 8.5, 10, 12, 0.1, 680, 7, 0,
		"EN 310, EN 789, EN 636 (from memory); E in bending, across the face grain 6 to 9 GPa; moisture governs expansion" +
			inPlane},
	{"softwood", "softwood, along the grain", 8, 11, 14, 0.35, 480, 4, 0, "EN 338 (from memory)" + alongGrain},
	{"mdf", "medium-density fibreboard", 2.2, 2.8, 4.0, 0.25, 740, 10, 0,
		"EN 622-5 (from memory); creeps to twice within weeks; moisture governs expansion" + inPlane},
	{"acrylic", "acrylic (PMMA)", 2.4, 3.1, 3.3, 0.37, 1190, 70, 60, "ISO 7823, handbooks (from memory)"},
	{"shim-steel", "steel shim stock, hardened strip", 190, 206, 210, 0.30, 7850, 11.5, 900, "EN 10132 (from memory)"},
	{"shim-stainless", "stainless shim 1.4310", 180, 190, 200, 0.29, 7900, 16.5, 900, "EN 10151 (from memory)"},
	{"shim-brass", "brass shim CuZn37, hard", 103, 108, 112, 0.34, 8440, 20, 300, "EN 1652 (from memory)"},
	{"paper", "paper, through its thickness", 0.005, 0.02, 0.1, 0, 850, 0, 0,
		"paper-physics literature, order of magnitude only (from memory); stiffens strongly with pressure, creeps, " +
			"moisture governs expansion"},
	{"card", "card, through its thickness", 0.01, 0.03, 0.2, 0, 900, 0, 0,
		"between paper and pressboard, order of magnitude only (from memory); creeps"},
}
