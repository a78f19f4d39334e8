package screen

import (
	"fmt"
	"io"

	"tiploop/frame/answer"
	"tiploop/report/number"
	"tiploop/report/table"
)

// The blocks of a screen of tip by name, for whoever sets them elsewhere.
const (
	Loads  = "loads"  // how far each load moves the tip, and how stiff it is
	Cuts   = "cuts"   // what each cut does and how deep it may go
	Next   = "next"   // what to change next
	Limits = "screws" // what is near a limit
	Check  = "check"  // what a dial should read
	Sure   = "sure"   // how sure the numbers are
)

// parts are the blocks by name.
var parts = map[string]func(*sheet, answer.Result){Loads: (*sheet).does, Cuts: (*sheet).cuts, Next: (*sheet).changes,
	Limits: (*sheet).limits, Check: (*sheet).check, Sure: (*sheet).sure}

// Part writes one block of the screen that Tip writes of an option, with nothing left out to make it fit. It panics at a
// name that is none.
func Part(w io.Writer, name string, r answer.Result, asks answer.Asks) error {
	write, known := parts[name]
	if !known {
		panic(fmt.Sprintf("screen: no block %q", name))
	}
	if err := number.CheckFinite(r); err != nil {
		return err
	}
	s := &sheet{Page: table.New(w), asks: asks}
	write(s, r)
	return s.Close()
}
