package main

import (
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"tiploop/frame/modelfile"
	"tiploop/report"
)

// modelHelp is what help says of the model file before its keys.
var modelHelp = []string{
	"A model file is YAML. Plain numbers are mm, N, N/mm2 and kg, or what is said with the key; any number may carry " +
		"a unit (0.5 in, 71 GPa, 40 N/um), and any may be an expression over values (bed_length/2 - 20 mm) with + - " +
		"* /, comparisons, and, or, not, c ? a : b, pi, min, max, abs, sqrt, sin, cos and tan, whose plain angles " +
		"are degrees. x is right, y away from you, z up.",
	"Behind each key stands what it takes, and in brackets whether it is needed, with which other key or word it " +
		"goes, and what holds where it is not given. tiploop help model KEY tells the keys below one of the first.",
}

// newModelHelp makes the help on the model file: a topic, with one below it for each of the file's first keys.
func newModelHelp(s streams) *cobra.Command {
	topic := &cobra.Command{
		Use: "model", Short: "The keys of the model file",
		Long:    "Prints the keys of the model file, or those below one of them.",
		Example: "  tiploop help model\n  tiploop help model joints",
	}
	topic.SetHelpFunc(func(cmd *cobra.Command, _ []string) {
		key := ""
		if cmd != topic {
			key = cmd.Name()
		}
		_ = writeModelHelp(s.out, key) // the stream itself remembers that it could not be written
	})
	for _, k := range modelfile.Model().Keys {
		topic.AddCommand(&cobra.Command{Use: k.Name, Short: k.About, Long: k.About})
	}
	return topic
}

// writeModelHelp writes the keys below one of the first of the model file, or with "" all of them.
func writeModelHelp(w io.Writer, key string) error {
	var words []string
	if key == "" {
		words = modelHelp
	}
	return report.WriteKeys(w, words, keyGroups(key))
}

// keyGroups are the keys below one of the first of the model file, or with "" all of them.
func keyGroups(key string) []report.KeyGroup {
	model := modelfile.Model()
	var groups []report.KeyGroup
	if key == "" {
		groups = append(groups, report.KeyGroup{Title: "all of the file", Tables: []report.KeyTable{keyTable(model)}})
	}
	var told []*modelfile.Mapping
	for _, k := range model.Keys {
		within := slices.DeleteFunc(k.Takes.Within(), func(m *modelfile.Mapping) bool { return slices.Contains(told, m) })
		if key != "" && k.Name != key || key == "" && len(within) == 0 {
			continue
		}
		told = append(told, within...)
		g := report.KeyGroup{Title: k.Name + ": " + k.About}
		for _, m := range within {
			g.Tables = append(g.Tables, keyTable(m))
		}
		if len(within) == 0 {
			g.Title += ". It takes: " + k.Takes.String()
		}
		groups = append(groups, g)
	}
	return groups
}

// keyTable puts a mapping's keys in words.
func keyTable(m *modelfile.Mapping) report.KeyTable {
	t := report.KeyTable{Name: m.Name, About: m.About, Choices: m.Choices}
	for _, k := range m.Keys {
		var given []string
		if m.Needed(k) {
			given = append(given, "needed")
		}
		if len(k.With) > 0 {
			given = append(given, "with "+strings.Join(k.With, " or "))
		}
		if k.Default != "" {
			given = append(given, "else "+k.Default)
		}
		t.Keys = append(t.Keys, report.KeyLine{Name: k.Name, Takes: k.Takes.String(), Given: strings.Join(given, "; "),
			About: k.About})
	}
	return t
}
