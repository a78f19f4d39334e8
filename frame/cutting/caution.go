package cutting

import "fmt"

// CautionKind says what is unusual about a cut.
type CautionKind int

const (
	WideCut     CautionKind = iota // the radial depth is wider than the cutter, which takes its diameter only
	Rubbing                        // the thickest chip is thinner than the edge is round: it ploughs instead of cutting
	ThinChip                       // the thickest chip is thinner than the law was measured for
	ThickChip                      // the thickest chip is thicker than the law was measured for
	TightPath                      // the feed is so large against the cutter that its path is no circle
	FeedLow                        // the feed per tooth is below what is usual for the cutter and the material
	FeedHigh                       // above it
	SpeedLow                       // the cutting speed is below what is usual for the material
	SpeedHigh                      // above it
	DeepSlot                       // a slot deeper than the cutter is wide: chips jam, cutters break
	PowerAbove                     // the cut takes more power than the spindle has
	TorqueAbove                    // the cut takes more torque than the spindle has
)

// cautionText says each kind in words, in its order.
var cautionText = [...]string{
	"radial depth is wider than the cutter",
	"chips are thinner than the edge is round, the edge rubs",
	"chips are thinner than the force law was measured for",
	"chips are thicker than the force law was measured for",
	"chip thickness is off because the path of a tooth is no circle, by up to",
	"feed per tooth is below the usual",
	"feed per tooth is above the usual",
	"cutting speed is below the usual",
	"cutting speed is above the usual",
	"slot is deeper than the cutter is wide, chips jam and cutters break",
	"cut takes more power than the spindle has",
	"cut takes more torque than the spindle has",
}

// String returns the kind in words.
func (k CautionKind) String() string {
	if k < 0 || int(k) >= len(cautionText) {
		panic(fmt.Sprintf("cutting: unknown caution %d", int(k)))
	}
	return cautionText[k]
}

// Caution is something unusual about a cut that was computed all the same.
type Caution struct {
	Kind  CautionKind
	Value float64 // what it is
	Limit float64 // what it is held against
	Unit  string  // of both
}

// String returns the caution as a phrase with its numbers.
func (c Caution) String() string {
	return fmt.Sprintf("%v: %.3g against %.3g %s", c.Kind, c.Value, c.Limit, c.Unit)
}

// cautions holds a cut against its law and its own geometry.
func (m Milling) cautions(law Law) (list []Caution) {
	if d := m.Mill.DiameterMM; m.Mode != Slot && m.RadialDepthMM > d {
		list = append(list, Caution{WideCut, m.RadialDepthMM, d, "mm"})
	}
	if d := m.Mill.DiameterMM; m.Mode == Slot && m.AxialDepthMM > d {
		list = append(list, Caution{DeepSlot, m.AxialDepthMM, d, "mm"})
	}
	list = append(list, chipCautions(m.MostChipMM(), m.Mill.edgeRadius(), law.ChipMM)...)
	if share := m.FeedPerToothMM / m.Mill.DiameterMM; share > circularPath.Band.Typical {
		list = append(list, Caution{TightPath, share * m.FeedPerToothMM, circularPath.Band.Typical * m.FeedPerToothMM,
			"mm"})
	}
	return list
}

// chipCautions holds a chip against the edge and the range of a law.
func chipCautions(chipMM, edgeRadiusMM float64, holds Span) (list []Caution) {
	if chipMM < edgeRadiusMM {
		list = append(list, Caution{Rubbing, chipMM, edgeRadiusMM, "mm"})
	}
	if holds.known() && chipMM < holds.Least {
		list = append(list, Caution{ThinChip, chipMM, holds.Least, "mm"})
	}
	if holds.known() && chipMM > holds.Most {
		list = append(list, Caution{ThickChip, chipMM, holds.Most, "mm"})
	}
	return list
}

// usual holds feed and speed against what is usual for a material.
func usual(m Material, feedShare, speedMMin float64) (list []Caution) {
	hold := func(value float64, span Span, low, high CautionKind, unit string) {
		if span.known() && value < span.Least {
			list = append(list, Caution{low, value, span.Least, unit})
		}
		if span.known() && value > span.Most {
			list = append(list, Caution{high, value, span.Most, unit})
		}
	}
	hold(feedShare, m.FeedShare, FeedLow, FeedHigh, "of the diameter")
	hold(speedMMin, m.SpeedMMin, SpeedLow, SpeedHigh, "m/min")
	return list
}
