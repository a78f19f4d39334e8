// Package cutting turns feed, depth, tool and work material into forces on the tool.
//
//	brass, _ := cutting.LookupMaterial("brass-cz120")
//	cut := cutting.Milling{
//		Mill: cutting.Mill{DiameterMM: 6, Flutes: 2, HelixDeg: 30},
//		Mode: cutting.Down, RadialDepthMM: 1, AxialDepthMM: 2, FeedPerToothMM: 0.03, SpeedRPM: 12000,
//	}
//	spread, err := cut.Spread(brass) // low, typical, high: each a Forces
//
// [Milling] is a cut with an end mill or a face mill, [Drilling] a hole. [Law] says what force a
// chip takes; a [Material] gives one for its low, typical and high numbers, each with its source.
// [Cut] is a milling cut made ready: the force at any angle of the cutter.
//
// The tool asks for a material's cuts alone. A user of the package may bring a law of his own
// ([Milling.Forces], [Drilling.Hole], [Law.Orthogonal]), follow the force round ([Cut.At], with
// [Milling.EntryDeg], [Milling.ExitDeg] and [Mill.LagDeg] to place it), or work as handbooks do
// ([Milling.HandEstimate], [Law.SpecificForce], [Kienzle.WithRake], [DrivePowerW]).
//
// # Axes and signs
//
// All forces are those of the work on the tool; the work feels the opposite. Right-handed axes,
// z along the tool and up, away from the work. The spindle turns clockwise seen from above, and
// the tool moves through the work (or the work against the tool) along the feed direction f,
// which lies Milling.FeedDeg anticlockwise of the machine's x. The normal direction n lies 90°
// anticlockwise of f, to the left of the way the tool goes. With FeedDeg 0, f is x and n is y.
//
//	n
//	^    ///////// left wall ///////    φ = 0, made by up milling, where chips start
//	|  -------..-------..------------
//	|       .'    -->    '.
//	|      /               \
//	|     |        +        |  ==>      the tool goes along f; φ = 90°, where the chip is thickest
//	|      \               /
//	|       '.    <--    .'
//	|  -------''-------''------------
//	|    ///////// right wall //////    φ = 180°, made by down milling, where chips end
//	+-------------------------------> f
//
// This is a slot seen from above, the work ahead of the tool, its teeth going round clockwise. The chip of a tooth is
// h = feed per tooth × sin φ.
//
// The angle φ of a tooth counts clockwise from n, so a tooth stands at (R sin φ, R cos φ) and moves
// along (cos φ, −sin φ). The tangential force Ft resists that movement, the radial force Fr
// presses the tooth towards the axis, the axial force Fa pulls along the edge, with a right-hand
// helix down and out of the collet. For an edge along the tool (entering angle 90°):
//
//	F_f = −Ft cos φ − Fr sin φ
//	F_n =  Ft sin φ − Fr cos φ
//	F_z = −Fa
//
// (Altintas, Manufacturing Automation, ch. 2, from memory; there z points the other way.) With an
// entering angle κ below 90° the edge leans outwards, as on face mills: it is 1/sin κ longer, the
// chip sin κ thinner, and part of Fr lifts the tool: towards the axis Fr sin κ + Fa cos κ, along
// z Fr cos κ − Fa sin κ. The torque the work puts on the tool is positive and turns it
// anticlockwise, right-handed about z; the spindle must supply as much.
//
// # What a revolution is summed from
//
// A tooth with a helix lags by 2 z tan(helix)/D at the height z, so at any moment it covers a
// range of φ. The force of that range is the integral of the law over the part of it that lies
// between entry and exit, which has a closed form: powers of sin φ integrate to a fast series, see
// sinePowers. No slicing error arises. The peaks are found by sampling between the angles at
// which an end of an edge enters or leaves, so that no sample straddles a jump, and closing in on
// the best; they do not hang on a grid. Mean values come from the integral over the arc of
// engagement, and do not need the helix at all.
//
// Run-out is an offset of the cutter's axis from the spindle's. It gives each tooth its own
// radius, and its chip lies between its path and the outermost surface that any tooth has left
// in the last revolution (Kline and DeVor 1983, from memory). The offset turns with the helix; this, and only
// this, is sliced along the tool, at most two degrees of lag a slice. A law with an exponent
// is then integrated by quadrature. A cut without run-out takes some ten
// microseconds; run-out on a straight or short edge some hundred, on a deep one with an exponent tens of milliseconds,
// and with run-out on a helix a peak is good to a thousandth, not a millionth.
//
// # Limits
//
// The path of a tooth is taken as a circle, so the chip is feed × sin φ; the true one differs by
// up to feed²/D, which a [Caution] reports where it matters. The tool is stiff and sharp: no
// deflection feeds back into the chip, no wear (a worn edge takes 20 to 50 % more, handbooks from memory), no built-up
// edge, no rubbing of the floor under the end of the tool. Chips of different materials than
// listed need numbers of their own. The corner radius is ignored. Chatter is another question.
//
// Lengths are mm, forces N, torque N·mm, power W, speed revolutions a minute, as the names say.
// Bad data is an error, and no result is NaN or infinite. What is unusual but can be computed is a
// [Caution] beside the result.
package cutting
