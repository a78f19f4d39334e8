package drive

import (
	"errors"

	"tiploop/frame/constant"
)

// Rack is a rack and pinion.
type Rack struct {
	PitchRadius float64 // of the pinion, mm
	FaceWidth   float64 // of the teeth, mm
	Turning     float64 // rotary stiffness at the pinion of motor and gear, N·mm/rad; 0: held
}

// Check returns an error unless the pinion has a size.
func (r Rack) Check() error {
	return errors.Join(constant.Positive("pitch radius of the pinion", r.PitchRadius),
		constant.Positive("face width", r.FaceWidth),
		constant.NotNegative("rotary stiffness at the pinion", r.Turning))
}

// Stiffness returns the stiffness along the rack, N/mm: the teeth in a row with K/r² of what holds the
// pinion. Play comes first (rack_play in [Constants]).
func (r Rack) Stiffness() (constant.Band, error) {
	if err := r.Check(); err != nil {
		return constant.Band{}, err
	}
	mesh := rackMesh.Band.Scaled(r.FaceWidth)
	if r.Turning == 0 {
		return mesh, nil
	}
	turning := r.Turning / (r.PitchRadius * r.PitchRadius)
	return constant.Between(Series(mesh.Low, turning), Series(mesh.Typical, turning), Series(mesh.High, turning)), nil
}
