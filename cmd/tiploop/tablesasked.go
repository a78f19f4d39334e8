package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"
)

// tablesAsked are the flags that ask for more than one screen.
type tablesAsked struct {
	known []string
	all   bool
	show  []string
}

// addTo declares the flags on a command that has such tables.
func (t *tablesAsked) addTo(cmd *cobra.Command, known []string) {
	t.known = known
	f := cmd.Flags()
	f.BoolVar(&t.all, "all", false, "print everything instead of one screen")
	f.StringSliceVar(&t.show, "show", nil, "print these `tables` instead: "+strings.Join(known, ", "))
	// The only error is a flag that is not there.
	_ = cmd.RegisterFlagCompletionFunc("show", cobra.FixedCompletions(known, cobra.ShellCompDirectiveNoFileComp))
}

// check finds what is wrong with the flags; whole tells that the answer is one that leaves nothing out.
func (t *tablesAsked) check(whole bool) error {
	switch {
	case t.all && t.show != nil:
		return misuse("--all and --show are both asked for\n\tkeep one of them")
	case whole && t.all:
		return misuse("--all is for text: JSON and CSV leave nothing out\n\tleave it out")
	case whole && t.show != nil:
		return misuse("--show is for text: JSON and CSV leave nothing out\n\tleave it out")
	}
	for _, name := range t.show {
		if !slices.Contains(t.known, name) {
			hint := "one or more of: " + strings.Join(t.known, ", ")
			if near := nearest(name, t.known); near != "" {
				hint = "did you mean " + near + "? " + hint
			}
			return misuse("--show %q is not known\n\t%s", name, hint)
		}
	}
	return nil
}

// screen tells that neither everything nor chosen tables are asked for.
func (t *tablesAsked) screen() bool { return !t.all && len(t.show) == 0 }
