package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"tiploop/report/wrap"
)

// helpWidth is how wide help is where nothing says how wide the terminal is, and at most: longer lines are hard to read.
const helpWidth = 100

// fitHelp lays the help of a command and of those below it out for a terminal of so many letters; 0: not known.
func fitHelp(cmd *cobra.Command, width int) {
	if width <= 0 {
		width = helpWidth
	}
	width = min(width, helpWidth)
	cmd.SetUsageTemplate(strings.ReplaceAll(cmd.UsageTemplate(), ".FlagUsages ", fmt.Sprintf(".FlagUsagesWrapped %d ", width)))
	fitLong(cmd, width)
}

// fitLong breaks the paragraphs of what commands say of themselves.
func fitLong(cmd *cobra.Command, width int) {
	for _, c := range cmd.Commands() {
		fitLong(c, width)
	}
	if cmd.Name() == "completion" || cmd.HasParent() && cmd.Parent().Name() == "completion" {
		return // what to type stands in it line by line
	}
	var paragraphs []string
	for p := range strings.SplitSeq(cmd.Long, "\n\n") {
		paragraphs = append(paragraphs, strings.Join(wrap.Lines(p, width), "\n"))
	}
	cmd.Long = strings.Join(paragraphs, "\n\n")
}
