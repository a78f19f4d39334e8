package spindle

import (
	"errors"

	"tiploop/frame/constant"
)

// Class is a kind of spindle. Its radial stiffness is what a dial at the nose shows with collet or
// taper in place, so bearings, shaft and the grip's own sideways give are all in it.
type Class struct {
	Key    string // "round-spindle"
	Name   string
	Radial constant.Band // at the nose, N/mm
	Axial  constant.Band // N/mm
	Span   constant.Band // distance of front and rear bearings, mm
	Source string
}

const sourceAxial = sourcePractice + "; axial about 0.7 of radial, as angular-contact pairs of small contact angle have"

var classes = []Class{
	{"router-motor", "small router motor", constant.Between(5e3, 12e3, 25e3), constant.Between(3e3, 8e3, 20e3),
		constant.Between(45, 60, 80), sourceAxial},
	{"round-spindle", "round spindle of 65 to 80 mm with small collets", constant.Between(15e3, 35e3, 70e3),
		constant.Between(10e3, 25e3, 55e3), constant.Between(100, 130, 160), sourceAxial},
	{"mill-quill", "quill of a benchtop mill", constant.Between(20e3, 40e3, 80e3), constant.Between(15e3, 30e3, 70e3),
		constant.Between(120, 150, 200), sourceAxial},
	{"lathe-head", "headstock of a small lathe", constant.Between(30e3, 70e3, 150e3),
		constant.Between(20e3, 45e3, 100e3), constant.Between(100, 150, 220), sourceAxial},
	{"taper-30", "milling spindle with a 7/24 taper of size 30", constant.Between(60e3, 100e3, 150e3),
		constant.Between(40e3, 75e3, 130e3), constant.Between(150, 200, 260), sourceAxial},
	{"taper-40", "milling spindle with a 7/24 taper of size 40", constant.Between(150e3, 250e3, 400e3),
		constant.Between(90e3, 170e3, 300e3), constant.Between(200, 280, 360), sourceAxial},
}

// Classes returns the known kinds from soft to stiff.
func Classes() []Class { return append([]Class(nil), classes...) }

// LookupClass returns the kind of that key.
func LookupClass(key string) (Class, bool) {
	return constant.Find(classes, key, func(c Class) string { return c.Key })
}

// Springs is what a spindle holds a tool with, at its nose.
type Springs struct {
	Radial float64 // N/mm
	Axial  float64 // N/mm
	Tilt   float64 // about the nose, N·mm/rad
}

// Range is a spindle with its scatter.
type Range struct {
	Low, Typical, High Springs
}

// Check returns an error unless all three resist.
func (s Springs) Check() error {
	return errors.Join(constant.Positive("radial stiffness of the spindle", s.Radial),
		constant.Positive("axial stiffness of the spindle", s.Axial),
		constant.Positive("tilt stiffness of the spindle", s.Tilt))
}

// Springs returns the springs of the class, to be set in a row at the nose. The tilt is that of a shaft that turns
// about its front bearings against the rear ones, rear_bearing · radial · span², with the typical span all along: its
// scatter, squared, would swamp the rest.
func (c Class) Springs() Range {
	span := c.Span.Typical
	tilt := rearShare.Band.Times(c.Radial).Scaled(span * span)
	return Range{
		Low:     Springs{c.Radial.Low, c.Axial.Low, tilt.Low},
		Typical: Springs{c.Radial.Typical, c.Axial.Typical, tilt.Typical},
		High:    Springs{c.Radial.High, c.Axial.High, tilt.High},
	}
}

// TwoBearings returns the radial springs at the nose, an overhang in front of the front bearings, of a
// rigid shaft on front and rear bearings a span apart, N/mm and mm: the force at the nose per its
// movement and the moment there per its turning, each with nothing else acting. It is elementary
// statics, for builders who know their bearings:
//
//	1/radial = (1 + a/l)²/front + (a/l)²/rear,  1/tilt = (1/front + 1/rear)/l²
func TwoBearings(front, rear, span, overhang float64) (radial, tilt float64) {
	constant.MustBePositive("spindle: front stiffness", front)
	constant.MustBePositive("spindle: rear stiffness", rear)
	constant.MustBePositive("spindle: span", span)
	constant.MustNotBeNegative("spindle: overhang", overhang)
	q := overhang / span
	return 1 / ((1+q)*(1+q)/front + q*q/rear), span * span / (1/front + 1/rear)
}

// Taper is a tool holder's seat in a spindle.
type Taper struct {
	Key    string // "7/24-30"
	Name   string
	Tilt   constant.Band // N·mm/rad
	Source string
}

const sourceTaper = "order of Rivin, Stiffness and Damping in Mechanical Design, on 7/24 tapers (from memory), low " +
	"confidence"

var tapers = []Taper{
	{"7/24-30", "7/24 taper of size 30, pulled in", constant.Between(0.15e9, 0.3e9, 0.6e9), sourceTaper},
	{"7/24-40", "7/24 taper of size 40, pulled in", constant.Between(0.4e9, 0.9e9, 2e9), sourceTaper},
}

// Tapers returns the known seats, small to large.
func Tapers() []Taper { return append([]Taper(nil), tapers...) }

// LookupTaper returns the seat of that key.
func LookupTaper(key string) (Taper, bool) {
	return constant.Find(tapers, key, func(p Taper) string { return p.Key })
}
