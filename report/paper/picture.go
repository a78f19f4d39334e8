package paper

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"codeberg.org/go-pdf/fpdf"
	xfont "golang.org/x/image/font"
	"golang.org/x/text/encoding/charmap"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgpdf"
	"gonum.org/v1/plot/vg/vgsvg"
)

// Format is a file format for pictures.
type Format string

// The formats a picture can be written in.
const (
	SVG Format = "svg"
	PNG Format = "png"
	PDF Format = "pdf"
)

// FormatOf gives the format that a file's name asks for by its extension, in capitals or not; an error that names the
// three when it is none of them.
func FormatOf(path string) (Format, error) {
	switch f := Format(strings.ToLower(strings.TrimPrefix(filepath.Ext(path), "."))); f {
	case SVG, PNG, PDF:
		return f, nil
	}
	return "", fmt.Errorf("picture %q: the name must end in .svg, .png or .pdf", path)
}

// Picture is a drawing that can be written in any Format.
type Picture struct {
	Width, Height vg.Length           // in points
	Paint         func(c draw.Canvas) // draws it on a canvas of that size

	pages []*Picture // what a PDF has in its place; none: itself, on a single page
}

// NothingToDraw is the error of a picture function whose answer has none of what the picture shows; its text says what
// is missing.
type NothingToDraw string

// Error says that there is nothing to draw, and why.
func (n NothingToDraw) Error() string { return "nothing to draw: " + string(n) }

// Width is that of every picture, in points: 1080 pixels on a screen at the usual 96 to the inch.
const Width = vg.Length(810)

// pngDotsPerInch makes a PNG half as fine again as a screen, so that it can be printed.
const pngDotsPerInch = 144

// Save writes the picture to path, whole or not at all, in the format of its extension: .svg, .png or .pdf.
func (p *Picture) Save(path string) error {
	format, err := FormatOf(path)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := p.Encode(&b, format); err != nil {
		return err
	}
	return WriteFileWhole(path, b.Bytes())
}

// Encode writes the picture to w.
func (p *Picture) Encode(w io.Writer, format Format) error {
	var err error
	switch format {
	case SVG:
		err = p.encodeSVG(w)
	case PNG:
		c := vgimg.NewWith(vgimg.UseWH(p.Width, p.Height), vgimg.UseDPI(pngDotsPerInch))
		p.Paint(draw.NewCanvas(imageCanvas{c}, p.Width, p.Height))
		_, err = vgimg.PngCanvas{Canvas: c}.WriteTo(w)
	case PDF:
		err = p.encodePDF(w)
	default:
		panic(fmt.Sprintf("paper: unknown picture format %q", format))
	}
	if err != nil {
		return fmt.Errorf("writing %s: %w", format, err)
	}
	return nil
}

// svgFamily is the font as the canvas writes it, and svgFamilies what a reader without that font may use in its
// place: both have letters of the same widths.
const (
	svgFamily   = "font-family:Liberation Sans;"
	svgFamilies = "font-family:Liberation Sans,Arial,Helvetica,sans-serif;"
)

func (p *Picture) encodeSVG(w io.Writer) error {
	c := vgsvg.New(p.Width, p.Height)
	p.Paint(draw.New(c))
	var b bytes.Buffer
	if _, err := c.WriteTo(&b); err != nil {
		return err
	}
	_, err := w.Write(bytes.ReplaceAll(b.Bytes(), []byte(svgFamily), []byte(svgFamilies)))
	return err
}

// pdfDefaults guards the PDF library's defaults, which belong to the whole program.
var pdfDefaults sync.Mutex

// pdfDate stands in every PDF in place of the day it was written on, which would make each file another one.
var pdfDate = time.Date(2000, time.January, 1, 0, 0, 0, 0, time.UTC)

// EncodePages writes pictures of one size to w as the pages of a PDF, each page as large as its picture. There must be one
// at least.
func EncodePages(w io.Writer, pages ...*Picture) error {
	for _, p := range pages {
		if p.Width != pages[0].Width || p.Height != pages[0].Height {
			panic("paper: pages of different sizes")
		}
	}
	err := writePDF(w, vg.Point{X: pages[0].Width, Y: pages[0].Height}, pages, func(c *vgpdf.Canvas, p *Picture) {
		p.Paint(draw.NewCanvas(codePageCanvas{c}, p.Width, p.Height))
	})
	if err != nil {
		return fmt.Errorf("writing %s: %w", PDF, err)
	}
	return nil
}

// writePDF makes a PDF with a page of that size for each picture; it has the same bytes on every run.
func writePDF(w io.Writer, size vg.Point, pages []*Picture, paint func(c *vgpdf.Canvas, p *Picture)) error {
	pdfDefaults.Lock()
	defer pdfDefaults.Unlock()
	fpdf.SetDefaultCatalogSort(true)
	fpdf.SetDefaultCreationDate(pdfDate)
	fpdf.SetDefaultModificationDate(pdfDate)
	defer func() {
		fpdf.SetDefaultCatalogSort(false)
		fpdf.SetDefaultCreationDate(time.Time{})
		fpdf.SetDefaultModificationDate(time.Time{})
	}()
	c := vgpdf.New(size.X, size.Y)
	for i, p := range pages {
		if i > 0 {
			c.NextPage()
			vg.Initialize(c)
		}
		paint(c, p)
	}
	_, err := c.WriteTo(w)
	return err
}

// encodePDF writes it on a page of paper, or on several.
func (p *Picture) encodePDF(w io.Writer) error {
	pages := p.pages
	if pages == nil {
		pages = []*Picture{p}
	}
	size, _ := pages[0].page()
	return writePDF(w, size, pages, func(c *vgpdf.Canvas, p *Picture) {
		page, room := p.page()
		scale := min(1, room.X/p.Width, room.Y/p.Height)
		c.Push()
		c.Translate(vg.Point{X: (page.X - scale*p.Width) / 2, Y: page.Y - (page.Y-room.Y)/2 - scale*p.Height})
		c.Scale(float64(scale), float64(scale))
		p.Paint(draw.NewCanvas(codePageCanvas{c}, p.Width, p.Height))
		c.Pop()
	})
}

// A page is A4 (ISO 216), in points. What is printed on it is within what a sheet of Letter, 8.5 x 11 inches, has, too,
// with a quarter of an inch to its edges.
const (
	pageShort = 210 * vg.Millimeter
	pageLong  = 297 * vg.Millimeter
	roomShort = 197 * vg.Millimeter // of A4's 210
	roomLong  = 266 * vg.Millimeter // of Letter's 279
)

// page is the page of a PDF, upright or lying as the picture is drawn larger, and the room on it.
func (p *Picture) page() (page, room vg.Point) {
	page, room = vg.Point{X: pageShort, Y: pageLong}, vg.Point{X: roomShort, Y: roomLong}
	if min(1, room.Y/p.Width, room.X/p.Height) > min(1, room.X/p.Width, room.Y/p.Height) {
		page, room = vg.Point{X: page.Y, Y: page.X}, vg.Point{X: room.Y, Y: room.X}
	}
	return page, room
}

// codePageCanvas hands text to the PDF canvas in the encoding that its fonts are embedded with.
type codePageCanvas struct{ *vgpdf.Canvas }

// FillString writes text, with a question mark for each letter that Windows code page 1252 lacks.
func (c codePageCanvas) FillString(f font.Face, at vg.Point, text string) {
	var b strings.Builder
	for _, r := range text {
		code, ok := charmap.Windows1252.EncodeRune(r)
		switch {
		case ok:
			b.WriteByte(code)
		case r == '−': // the code page has no minus sign; its en dash looks like one
			b.WriteByte(enDash)
		default:
			b.WriteByte('?')
		}
	}
	if f.Font.Weight == xfont.WeightBold {
		// The canvas embeds every font under the same file name, so that a second one would be drawn with the letters
		// of the first. Bold is the plain font struck twice.
		f = font.DefaultCache.Lookup(Lettering(f.Font.Size, nil).Font, f.Font.Size)
		c.Canvas.FillString(f, vg.Point{X: at.X + f.Font.Size*boldShift, Y: at.Y}, b.String())
	}
	c.Canvas.FillString(f, at, b.String())
}

// enDash is the en dash in Windows code page 1252.
const enDash = 0x96

// boldShift is how far apart the two strikes of bold letters are, as a part of their size.
const boldShift = 0.035
