package screen

import (
	"fmt"
	"strings"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/phrase"
	"tiploop/report/wrap"
)

// check says by which pushes the machine is held against its answer once it stands, and what the dial should read: in
// µm, and in hundredths of a millimetre, in which most dials are divided. Pushes at one place stand in one sentence.
func (s *sheet) check(r answer.Result) {
	if len(r.Check) == 0 {
		return
	}
	s.Heading("Check it")
	for i := 0; i < len(r.Check); {
		first := r.Check[i]
		var reads []string
		for ; i < len(r.Check) && r.Check[i].Place == first.Place && r.Check[i].Part == first.Part; i++ {
			c := r.Check[i]
			hundredths := number.Digits(c.ReadingUm/phrase.HundredthUm, phrase.RangedDigits)
			if reads == nil {
				hundredths += " hundredths of a mm"
			}
			reads = append(reads, fmt.Sprintf("%s N %s reads %s = %s", number.Given(c.ForceN), phrase.ShortWay(c.Direction),
				phrase.Ranged(c.ReadingUm, r.CheckRange(i), "µm"), hundredths))
		}
		s.Item("  ", fmt.Sprintf("Push %s %s, dial on %s: %s.", wrap.OneLine(first.Part), wrap.OneLine(first.Place),
			wrap.OneLine(first.Against), strings.Join(reads, "; ")))
	}
}
