// Command tiploop estimates how stiff a small, self-built machine is and how far its tool tip moves under the cut.
package main

import "os"

func main() { os.Exit(run(os.Args[1:])) }
