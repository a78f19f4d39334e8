package main

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"tiploop/frame/answer"
	"tiploop/frame/machine"
	"tiploop/report"
	"tiploop/report/paper"
	"tiploop/report/workshop"
)

// sheetsAsked are the flags that ask for what is taken to the drill press.
type sheetsAsked struct {
	folder string
	page   pageSize
}

// addTo declares the flags on a command.
func (a *sheetsAsked) addTo(cmd *cobra.Command) {
	f := cmd.Flags()
	f.Var((*outFolder)(&a.folder), "sheets", "also write sheets for saw and drill press into this `folder`: each part with its "+
		"holes (PDF, SVG), each drilled face at 1:1 (SVG in mm), holes as CSV")
	f.Var(&a.page, "paper", "`size` of the sheets' paper: "+strings.Join(pageNames(), " or "))
	// The only errors are flags that are not there.
	_ = cmd.RegisterFlagCompletionFunc("paper", cobra.FixedCompletions(pageNames(), cobra.ShellCompDirectiveNoFileComp))
	_ = cmd.MarkFlagDirname("sheets")
}

// outFolder is the one folder that sheets go into.
type outFolder string

// Set takes the folder's name.
func (o *outFolder) Set(name string) error { return setOnce((*string)(o), name, o.Type()) }

// String is the folder's name.
func (o *outFolder) String() string { return string(*o) }

// Type is what help calls it.
func (*outFolder) Type() string { return "folder" }

// pageNames are the sizes of paper as a flag takes them.
func pageNames() (names []string) {
	for _, p := range workshop.Pages {
		names = append(names, strings.ToLower(p.Name))
	}
	return names
}

// pageSize is a size of paper.
type pageSize struct{ page *workshop.Page }

// Set takes the name of a size.
func (s *pageSize) Set(name string) error {
	p, ok := workshop.PageOf(name)
	if !ok {
		return errors.New("say " + strings.Join(pageNames(), " or "))
	}
	s.page = &p
	return nil
}

// String is the name of the size; "" for the usual one, a4.
func (s *pageSize) String() string {
	if s.page == nil {
		return ""
	}
	return strings.ToLower(s.page.Name)
}

// Type is what help calls it.
func (*pageSize) Type() string { return "size" }

// check finds what is wrong with the flags.
func (a *sheetsAsked) check() error {
	if a.page.page != nil && a.folder == "" {
		return misuse("--paper is for sheets\n\tsay where they go: --sheets FOLDER")
	}
	return nil
}

// write writes the sheets, if they are asked for.
func (a *sheetsAsked) write(m *machine.Machine, inv answer.Inventory) error {
	if a.folder == "" {
		return nil
	}
	page := workshop.Pages[0]
	if a.page.page != nil {
		page = *a.page.page
	}
	parts, err := workshop.Draw(m, inv, page)
	if err != nil {
		return err
	}
	files, err := sheetFiles(parts, inv, workshop.Warning(inv, page))
	if err != nil {
		return err
	}
	return paper.WriteFolderWhole(a.folder, files)
}

// sheetFiles are the files of all parts: the sheets together as a PDF, a warning on top if there is one, then for each part
// its sheets, its faces at full size and its holes.
func sheetFiles(parts []workshop.Part, inv answer.Inventory, warning *paper.Picture) (files []paper.File, err error) {
	add := func(name string, write func(b *bytes.Buffer) error) {
		var b bytes.Buffer
		if err == nil {
			err = write(&b)
		}
		files = append(files, paper.File{Path: name, Data: b.Bytes()})
	}
	var pages []*paper.Picture
	if warning != nil {
		pages = append(pages, warning)
	}
	for _, p := range parts {
		pages = append(pages, p.Sheets...)
	}
	add("sheets.pdf", func(b *bytes.Buffer) error { return paper.EncodePages(b, pages...) })
	for _, p := range parts {
		for i, sheet := range p.Sheets {
			name := p.File + ".svg"
			if i > 0 {
				name = fmt.Sprintf("%s-sheet-%d.svg", p.File, i+1)
			}
			add(name, func(b *bytes.Buffer) error { return sheet.Encode(b, paper.SVG) })
		}
		for _, f := range p.Faces {
			add(p.File+"-"+f.Face+"-1to1.svg", func(b *bytes.Buffer) error { _, err := b.Write(f.SVG); return err })
		}
		if slices.ContainsFunc(inv.HoleList, func(h answer.HoleLine) bool { return h.Part == p.Name }) {
			add(p.File+"-holes.csv", func(b *bytes.Buffer) error { return report.WriteHolesCSV(b, inv, p.Name) })
		}
	}
	return files, err
}
