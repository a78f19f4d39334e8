package beam

import "fmt"

// Tube is a rectangular hollow section of even wall with sharp corners, mm. The drawing's origin
// is its lower left corner, as for the other shapes of this file.
type Tube struct {
	Width, Height, Wall float64 // outer sizes along y and z
}

// Section works as Polygon's. Wall must be less than half of the smaller side.
func (t Tube) Section(nu float64) (Section, error) {
	if err := checkShape("tube", nu, size{"width", t.Width}, size{"height", t.Height}, size{"wall", t.Wall}); err != nil {
		return Section{}, err
	}
	if err := checkLess("tube", size{"wall", t.Wall}, "half the smaller side", min(t.Width, t.Height)/2); err != nil {
		return Section{}, err
	}
	w, h, s := t.Width, t.Height, t.Wall
	return outlineSection(fmt.Sprintf("tube %g x %g x %g", w, h, s),
		[]point{{0, 0}, {w, 0}, {w, h}, {0, h}},
		[][]point{{{s, s}, {w - s, s}, {w - s, h - s}, {s, h - s}}}, nu)
}

// I is a doubly symmetric I section with sharp corners, web upright, mm.
type I struct {
	Depth, Width float64 // overall along z, flange width along y
	Flange, Web  float64 // thicknesses
}

// Section works as Polygon's. The flanges must leave a web between them and be wider than it.
func (i I) Section(nu float64) (Section, error) {
	if err := checkFlanged("I section", nu, i.Depth, i.Width, i.Flange, i.Web, 2); err != nil {
		return Section{}, err
	}
	d, b, f := i.Depth, i.Width, i.Flange
	l, r := (b-i.Web)/2, (b+i.Web)/2
	return outlineSection(fmt.Sprintf("I %g x %g x %g x %g", d, b, f, i.Web), []point{
		{0, 0}, {b, 0}, {b, f}, {r, f}, {r, d - f}, {b, d - f},
		{b, d}, {0, d}, {0, d - f}, {l, d - f}, {l, f}, {0, f},
	}, nil, nu)
}

// Channel is a channel with sharp corners, its web upright at low y, mm.
type Channel struct {
	Depth, Width float64 // overall along z, overall flange width along y
	Flange, Web  float64 // thicknesses
}

// Section works as Polygon's. The flanges must leave a web between them and be wider than it.
func (c Channel) Section(nu float64) (Section, error) {
	if err := checkFlanged("channel", nu, c.Depth, c.Width, c.Flange, c.Web, 2); err != nil {
		return Section{}, err
	}
	d, b, f, w := c.Depth, c.Width, c.Flange, c.Web
	return outlineSection(fmt.Sprintf("channel %g x %g x %g x %g", d, b, f, w), []point{
		{0, 0}, {b, 0}, {b, f}, {w, f}, {w, d - f}, {b, d - f}, {b, d}, {0, d},
	}, nil, nu)
}

// Angle is an angle with sharp corners, its outer corner at the origin, mm.
type Angle struct {
	LegY, LegZ, Thickness float64 // overall legs along y and z
}

// Section works as Polygon's. Thickness must be less than the shorter leg.
func (a Angle) Section(nu float64) (Section, error) {
	err := checkShape("angle", nu,
		size{"leg along y", a.LegY}, size{"leg along z", a.LegZ}, size{"thickness", a.Thickness})
	if err != nil {
		return Section{}, err
	}
	if err := checkLess("angle", size{"thickness", a.Thickness}, "the shorter leg", min(a.LegY, a.LegZ)); err != nil {
		return Section{}, err
	}
	y, z, t := a.LegY, a.LegZ, a.Thickness
	return outlineSection(fmt.Sprintf("angle %g x %g x %g", y, z, t),
		[]point{{0, 0}, {y, 0}, {y, t}, {t, t}, {t, z}, {0, z}}, nil, nu)
}

// Tee is a tee with sharp corners, its flange on top, mm.
type Tee struct {
	Width, Depth float64 // flange width along y, overall depth along z
	Flange, Web  float64 // thicknesses
}

// Section works as Polygon's. The flange must be less than the depth and wider than the web.
func (t Tee) Section(nu float64) (Section, error) {
	if err := checkFlanged("tee", nu, t.Depth, t.Width, t.Flange, t.Web, 1); err != nil {
		return Section{}, err
	}
	d, b, f := t.Depth, t.Width, t.Flange
	l, r := (b-t.Web)/2, (b+t.Web)/2
	return outlineSection(fmt.Sprintf("tee %g x %g x %g x %g", b, d, f, t.Web), []point{
		{l, 0}, {r, 0}, {r, d - f}, {b, d - f}, {b, d}, {0, d}, {0, d - f}, {l, d - f},
	}, nil, nu)
}

// checkFlanged checks the sizes of a shape of a web and one or two flanges.
func checkFlanged(shape string, nu, depth, width, flange, web float64, flanges int) error {
	err := checkShape(shape, nu,
		size{"depth", depth}, size{"width", width}, size{"flange", flange}, size{"web", web})
	if err != nil {
		return err
	}
	if err := checkLess(shape, size{"web", web}, "the width", width); err != nil {
		return err
	}
	return checkLess(
		shape,
		size{"flange", flange},
		fmt.Sprintf("the depth divided by %d", flanges),
		depth/float64(flanges),
	)
}
