// Package guide describes linear guides: carriages on profile rails, open bushes on supported round
// rails, and plain slides, as springs between what stands still and what is carried.
//
// A [Carriage] is one size of the trade. [Carriage.Stiffness] gives its five springs, low, typical
// and high; a builder who has better numbers makes a [Stiffness] of them. A table on guides is a
// list of [Placed] carriages, any number on a rail; [Group] adds them up as springs under a rigid
// body.
//
//	carriage, _ := guide.LookupCarriage("profile-15")
//	springs, err := carriage.Stiffness(guide.Light)
//	k := springs.Typical // k.Press N/mm, k.Pitch N·mm/rad
//	_, rating, _ := carriage.Ratings()
//	load, err := rating.Equivalent(guide.Load{Vertical: -300, Pitch: 5e3}) // N
//	life, err := rating.LifeKm(load)                                       // km
//
// A [Slide] gives its stiffness per area, [Slide.PerArea]; [RailBed] is a long rail on the
// screws that hold it, as a carriage on it feels it.
//
// # Axes, units, signs
//
// A carriage's own axes: x along the rail, y across it, z out of the rail's seat. Roll turns about
// x, pitch about y, yaw about z. Press pushes the carriage onto the rail (force along -z), pull
// takes it off. Along the rail a carriage gives no stiffness: that is the drive's.
//
// N, mm, MPa, rad throughout: stiffness N/mm and N·mm/rad, stiffness per area MPa/mm. Mass is kg
// and travelled distance km where the name says so.
//
// # Beyond the tool
//
// The tool builds its machines of single carriages, so [Group], a table on carriages under a rigid
// body, and [Spread], a sliding face as springs at its middle, are for work by hand and for tests
// of whoever builds a model of his own. So are [LockedIn], the force that a step in height locks in,
// [From100Km] for catalogues that rate for 100 km, and [Constants] and [RailTorques], every number in
// one list; the tool prints those that belong to no size ([CommonConstants]) beside the table of sizes.
//
// # Ratings
//
// [Rating] follows ISO 14728 part 1 (life) and part 2 (static safety). The ratings in the table are
// generic: makers of one size differ by a factor of two. What comes of them indicates whether a
// guide is far from its limits. It replaces no maker's calculation, and nobody's safety may hang
// on it; dirt, missing grease and a twisted seat end most rails of small machines long before
// fatigue does.
//
// # Left out
//
// Damping, friction along the rail, the change of stiffness with load beyond the preload (see
// [Preload.LinearLoad]), and the give of the plates around a carriage, which belongs to them.
// A programmer's mistake panics; bad data is an error.
package guide
