package main

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"tiploop/report/manual"
	"tiploop/report/paper"
)

// newMan makes the command that writes the manual. Who makes a package of the program calls it, nobody else: it is hidden.
func newMan() *cobra.Command {
	return &cobra.Command{
		Use: "man <folder>", Short: "Write the pages of the manual", Hidden: true,
		Long: `Writes a page of the manual for each command, and one of the model file, into a folder that is there.`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 1 {
				return fmt.Errorf("%s writes into one folder, not %d", cmd.CommandPath(), len(args))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			for _, p := range manualOf(cmd.Root()) {
				var b bytes.Buffer
				if err := p.Write(&b); err != nil {
					return err
				}
				name := filepath.Join(args[0], fmt.Sprintf("%s.%d", p.Name, p.Section))
				if err := paper.WriteFileWhole(name, b.Bytes()); err != nil {
					return err
				}
			}
			return nil
		},
	}
}

// manualOf are the pages of all commands, and of the model file.
func manualOf(root *cobra.Command) []manual.Page {
	pages := []manual.Page{commandPage(root)}
	for _, c := range root.Commands() {
		if c.IsAvailableCommand() && c.Name() != "help" && c.Name() != "completion" {
			pages = append(pages, commandPage(c))
		}
	}
	return append(pages, modelPage(root.Name()))
}

// pageOf is the name of the page of a command.
func pageOf(c *cobra.Command) string { return strings.ReplaceAll(c.CommandPath(), " ", "-") }

func programAndVersion() string { return "tiploop " + version }

// commandPage is the page of a command.
func commandPage(c *cobra.Command) manual.Page {
	p := manual.Page{Name: pageOf(c), Section: 1, About: c.Short, Source: programAndVersion()}
	add := func(c manual.Chapter) { p.Chapters = append(p.Chapters, c) }
	use, also := c.UseLine(), []string{c.Root().Name() + "-model(5)"}
	if c.HasParent() {
		also = append(also, pageOf(c.Root())+"(1)")
	} else {
		use += " <command>"
	}
	add(manual.Chapter{Head: "SYNOPSIS", Paragraphs: []string{use}})
	add(manual.Chapter{Head: "DESCRIPTION", Paragraphs: strings.Split(c.Long, "\n\n")})
	var commands, flags []manual.Item
	for _, below := range c.Commands() {
		if below.IsAvailableCommand() {
			commands = append(commands, manual.Item{Term: below.Name(), Text: below.Short})
			if below.Name() != "help" && below.Name() != "completion" {
				also = append(also, pageOf(below)+"(1)")
			}
		}
	}
	if commands != nil {
		add(manual.Chapter{Head: "COMMANDS", Items: commands})
	}
	c.InitDefaultHelpFlag()
	c.InitDefaultVersionFlag()
	c.LocalFlags().VisitAll(func(f *pflag.Flag) {
		if !f.Hidden {
			flags = append(flags, flagItem(f))
		}
	})
	add(manual.Chapter{Head: "OPTIONS", Items: flags})
	add(manual.Chapter{Head: "EXIT STATUS", Paragraphs: []string{fmt.Sprintf("%d: answered. %d: the model or the flags are wrong. "+
		"%d: anything else.", answered, misused, failed)}})
	if c.Example != "" {
		add(manual.Chapter{Head: "EXAMPLES", Lines: strings.Split(c.Example, "\n")})
	}
	add(manual.Chapter{Head: "SEE ALSO", Paragraphs: []string{strings.Join(also, ", ")}})
	return p
}

// flagItem says of a flag what its help says.
func flagItem(f *pflag.Flag) manual.Item {
	what, usage := pflag.UnquoteUsage(f)
	term := "--" + f.Name
	if f.Shorthand != "" {
		term = "-" + f.Shorthand + ", " + term
	}
	if what != "" {
		term += " " + what
	}
	if f.DefValue != "" && f.DefValue != "false" && f.DefValue != "[]" {
		usage += fmt.Sprintf(" (default %s)", f.DefValue)
	}
	return manual.Item{Term: term, Text: usage}
}

// modelPage is the page of the model file.
func modelPage(program string) manual.Page {
	p := manual.Page{Name: program + "-model", Section: 5, About: "the model file of a machine", Source: programAndVersion(),
		Chapters: []manual.Chapter{{Head: "DESCRIPTION", Paragraphs: modelHelp}}}
	for _, g := range keyGroups("") {
		c := manual.Chapter{Head: g.Title}
		for _, t := range g.Tables {
			c.Items = append(c.Items, manual.Item{Term: t.Name + ": " + t.Says()})
			for _, k := range t.Keys {
				c.Items = append(c.Items, manual.Item{Term: k.Name, Text: k.Says()})
			}
		}
		p.Chapters = append(p.Chapters, c)
	}
	p.Chapters = append(p.Chapters, manual.Chapter{Head: "SEE ALSO", Paragraphs: []string{program + "(1)"}})
	return p
}
