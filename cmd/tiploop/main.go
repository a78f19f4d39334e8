// Command tiploop estimates how stiff a small, self-built machine is and how far its tool tip moves under the cut.
package main

import (
	"os"
	"runtime/debug"
)

// garbageShare is how much may pile up before it is collected, in percent of what is in use. Most memory is large
// matrices, which cost nothing to look through: a fifth less is held than with Go's own 100, in the same time.
const garbageShare = 60

func main() {
	if os.Getenv("GOGC") == "" { // who sets it means it
		debug.SetGCPercent(garbageShare)
	}
	os.Exit(run(os.Args[1:]))
}
