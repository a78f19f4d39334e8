package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"strings"

	"tiploop/frame/machine"
	"tiploop/report/live"
	"tiploop/report/phrase"
)

// goneFault says why there is no file to follow.
func goneFault(file string, gone error) *live.Fault {
	title, hint := "The file cannot be read.", "the page follows it again as soon as it can be"
	if errors.Is(gone, fs.ErrNotExist) {
		title, hint = "The file is not there.", "the page follows it again as soon as it is back"
	}
	return &live.Fault{Title: title, Places: []live.Place{{At: file, What: gone.Error(), Hint: hint}}}
}

// refusalOf is what is wrong, without its place: whoever moves a slider has no file before him.
func refusalOf(err error) live.Refusal {
	var faults machine.Faults
	if errors.As(err, &faults) && len(faults) > 0 {
		return live.Refusal(strings.TrimSuffix(faults[0].What+"; "+faults[0].Hint, "; "))
	}
	return live.Refusal(err.Error())
}

// noMachine refuses to write what makes no machine, and says why it makes none.
func noMachine(f *live.Fault) live.Refusal {
	return live.Refusal(strings.TrimSuffix(f.Title, ".") + ": " + f.Places[0].What)
}

// faultOf takes an error apart; text is that of the file, of which lines are shown.
func faultOf(title string, err error, text []byte) *live.Fault {
	f := &live.Fault{Title: title}
	var of optionError
	if errors.As(err, &of) {
		f.Title = strings.TrimSuffix(title, ".") + " under option " + phrase.Quoted(of.option) + "."
		err = of.err
	}
	var faults machine.Faults
	if !errors.As(err, &faults) {
		f.Places = []live.Place{{What: err.Error()}}
		return f
	}
	lines := strings.Split(strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(string(bytes.ToValidUTF8(text, []byte("?")))),
		"\n")
	for i, one := range faults {
		if i == mostPlaces {
			f.Places = append(f.Places, live.Place{What: fmt.Sprintf("and %d more", len(faults)-mostPlaces)})
			break
		}
		p := live.Place{What: one.What, Hint: one.Hint}
		if one.Pos.Line > 0 {
			p.At = fmt.Sprintf("%s:%d:%d", one.File, one.Pos.Line, one.Pos.Col)
			if text != nil && one.Pos.Line <= len(lines) {
				p.Line = lines[one.Pos.Line-1]
			}
		}
		f.Places = append(f.Places, p)
	}
	return f
}

// mostPlaces is how many faults are shown; the first ones are usually the cause of the rest.
const mostPlaces = 5
