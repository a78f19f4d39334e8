package structure

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
)

// toolCandidates are how far the cutter stands out of its grip and how thick it is, as far as no value of the file says
// so; none of a tool that does not give.
func (m *Model) toolCandidates(variables []machine.Variable) (list []candidate) {
	t := m.machine.Tool
	if m.tool == nil || m.tool.node < 0 || !(t.Stickout > 0) {
		return nil
	}
	changed := func(change func(*machine.Tool, float64)) []func(float64) (*Model, error) {
		return []func(float64) (*Model, error){func(by float64) (*Model, error) {
			other, tool := *m.machine, *t
			change(&tool, by)
			other.Tool = &tool
			return forSlopes().draw(&other)
		}}
	}
	back := m.tool.back()
	if !sets(variables, func(other *machine.Tool) bool { return other.Stickout != t.Stickout }) {
		list = append(list, candidate{
			gain: answer.Gain{What: "stick-out", Kind: answer.OfTool, Unit: "mm", At: t.Stickout},
			per:  1,
			step: min(slopeStep*t.Stickout, longestStep),
			// it is gripped elsewhere: what sticks out of the grip goes in, be it shank or flutes
			draw: changed(func(tool *machine.Tool, by float64) {
				tool.Stickout += by
				tool.At = r3.Sub(tool.At, r3.Scale(by, back))
				if tool.Shank != nil {
					shank := *tool.Shank
					shank.Length += by
					tool.Shank = &shank
				}
			}),
		})
	}
	if !sets(variables, func(other *machine.Tool) bool { return other.Diameter != t.Diameter }) {
		list = append(list, candidate{
			// a cutter is as thick as it can be bought
			gain: answer.Gain{What: "diameter", Kind: answer.OfTool, Unit: "mm", At: t.Diameter, Whole: true},
			per:  1,
			draw: changed(func(tool *machine.Tool, by float64) {
				times := (tool.Diameter + by) / tool.Diameter
				tool.Diameter += by
				tool.Core *= times
				if tool.Shank != nil && tool.Shank.Diameter < tool.Diameter {
					shank := *tool.Shank
					shank.Diameter = tool.Diameter
					tool.Shank = &shank
				}
			}),
		})
	}
	return list
}

// sets tells whether any of the variables changes the tool in some way.
func sets(variables []machine.Variable, changed func(*machine.Tool) bool) bool {
	return slices.ContainsFunc(variables, func(v machine.Variable) bool {
		if v.Unused {
			return false
		}
		other, err := v.More(stepOf(v))
		return err == nil && other != nil && other.Tool != nil && changed(other.Tool)
	})
}
