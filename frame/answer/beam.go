package answer

import (
	"math"
	"slices"
)

// BeamModel is how far the beam model of a machine (detail "section") is from an answer by meshed parts: a second,
// quick model that knows nothing of the first. Contacts and grounds are alike in both.
type BeamModel struct {
	TipPercent *[3]float64 `json:"tip_percent"` // by which it gives more at the tip along x, y, z; nil without a tool
	Loads      []BeamOff   `json:"loads"`       // and moves farther under each load, by the size of the movement
}

// BeamOff is how far a beam model moves more under one load: the tip or, without a tool, the point that moves most.
type BeamOff struct {
	Load    string  `json:"load"`
	Percent float64 `json:"percent"`
}

// BesideBeam sets a beam model's answer beside that of the same machine by meshed parts.
func BesideBeam(meshed, beam *Result) *BeamModel {
	b := &BeamModel{Loads: []BeamOff{}}
	if meshed.Tip != nil && beam.Tip != nil {
		b.TipPercent = &[3]float64{}
		for k := range b.TipPercent {
			b.TipPercent[k] = percentMore(beam.Tip.ComplianceUmPerN[k][k], meshed.Tip.ComplianceUmPerN[k][k])
		}
	}
	for _, l := range meshed.Loads {
		if i := slices.IndexFunc(beam.Loads, func(o LoadResult) bool { return o.Name == l.Name }); i >= 0 {
			b.Loads = append(b.Loads, BeamOff{l.Name, percentMore(beam.Loads[i].most(), l.most())})
		}
	}
	return b
}

// most is the movement of the tip or, without a tool, of the point that moves most, µm.
func (l *LoadResult) most() (um float64) {
	if l.TipSizeUm != nil {
		return *l.TipSizeUm
	}
	for _, p := range l.PointsUm {
		um = math.Max(um, math.Sqrt(p[0]*p[0]+p[1]*p[1]+p[2]*p[2]))
	}
	return um
}

// percentMore is by how much one number is more than another; 0 where there is nothing to compare with.
func percentMore(a, b float64) float64 {
	if b == 0 {
		return 0
	}
	return 100 * (a/b - 1)
}

// Worst is the largest of the differences at the tip, or without a tool under loads: percent, and along which axis
// (x, y or z) or under which load. The other of these two is "", and both are where there is nothing to compare.
func (b *BeamModel) Worst() (percent float64, axis, load string) {
	if b.TipPercent != nil {
		for k, p := range b.TipPercent {
			if math.Abs(p) > math.Abs(percent) || axis == "" {
				percent, axis = p, string("xyz"[k])
			}
		}
		return percent, axis, ""
	}
	for i, l := range b.Loads {
		if math.Abs(l.Percent) > math.Abs(percent) || i == 0 {
			percent, load = l.Percent, l.Load
		}
	}
	return percent, "", load
}

// MeshDoubt is what the meshes may hold back at most, percent, and under which load.
func MeshDoubt(loads []LoadResult) (percent float64, under string) {
	for _, l := range loads {
		if l.MeshErrorPercent != nil && *l.MeshErrorPercent > percent {
			percent, under = *l.MeshErrorPercent, l.Name
		}
	}
	return percent, under
}
