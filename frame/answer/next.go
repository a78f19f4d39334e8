package answer

// Next is what could be made stiffer next: by how much the tip gains from a little more of each thing that the builder
// can change, and what that costs.
//
// The gains are slopes: for one unit more, as if it went on as it begins. Values, thicknesses
// and spacings are found by the adjoint (frame.Trial), counts by the difference that one more makes.
type Next struct {
	Direction [3]float64 `json:"softest_direction"` // in which StiffnessNPerUm is gained
	Gains     []Gain     `json:"gains"`             // the best buy first
	Without   []NoGain   `json:"without"`           // what no gain can be told of
}

// Gain is what one unit more of something does. A gain below zero is a loss: less of it helps.
type Gain struct {
	What            string     `json:"what"` // "gusset_leg", "upright", "base/upright", "x: rail 1, rail 2"
	Kind            GainKind   `json:"kind"`
	Unit            string     `json:"unit"`                        // of what there is more of; "" for a plain number
	At              float64    `json:"at"`                          // how much of it there is now
	Whole           bool       `json:"whole"`                       // it counts something; the gain is that of one more
	StiffnessNPerUm float64    `json:"stiffness_n_per_um_per_unit"` // gained in the softest direction, per unit
	Loads           []LoadGain `json:"loads"`                       // by load on the tip
	MassKg          float64    `json:"mass_kg_per_unit"`            // added per unit
	Operations      int        `json:"operations_per_unit"`         // of drilling, added per unit
	// gained for a kilogram more; nil when the gain costs none
	PerKg *float64 `json:"n_per_um_per_kg"`
	// gained for a drilling operation more; nil when it costs none
	PerOperation *float64 `json:"n_per_um_per_operation"`
	Side         Side     `json:"side"`
	// of a spacing: how far it can change on the way on which the tip gains, in Unit
	Room *float64 `json:"room,omitempty"`
	// and why no farther: "a carriage of rail 1 is at the end of table"
	Bound string `json:"bound,omitempty"`
}

// LoadGain is by how much less the tip moves along a load's force per unit.
type LoadGain struct {
	Load string  `json:"load"`
	Um   float64 `json:"um_per_unit"`
}

// NoGain is something of which no gain can be told.
type NoGain struct {
	What string   `json:"what"`
	Kind GainKind `json:"kind"`
	Why  string   `json:"why"`
}

// GainKind tells what there is more of.
type GainKind string

// The kinds of gain.
const (
	OfValue     GainKind = "value"     // one of the file's values
	OfThickness GainKind = "thickness" // a plate's or gusset's own metal, with what touches it left where it is
	OfScrews    GainKind = "screws"    // one more row of a joint's grid
	OfTool      GainKind = "tool"      // stick-out or diameter of the cutter; with a longer one the tip moves away from its grip
	OfSpacing   GainKind = "spacing"   // how far apart the first and last carriage of a rail stand, about their middle
)

// Side tells on which side of the present number a slope holds.
type Side string

// The sides. The model has bends: where a plate gets thinner than its neighbour, where one more node is needed.
const (
	BothSides Side = "both"
	MoreOnly  Side = "more"
	LessOnly  Side = "less"
)
