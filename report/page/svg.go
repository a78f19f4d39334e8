package page

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"html/template"
	"io"
	"strings"

	"tiploop/report/paper"
)

// usual are the properties of a picture's letters and lines that hold where nothing is said.
var usual = map[string]string{"font-variant": "normal", "font-weight": "normal", "font-style": "normal"}

// inline is a picture as it stands in a page: it takes the width that it is given, and says by attributes what a file
// says by styles, which the page's policy does not allow. The letters are those of the page.
func inline(p *paper.Picture, id, words string) (template.HTML, error) {
	var file, out bytes.Buffer
	if err := p.Encode(&file, paper.SVG); err != nil {
		return "", err
	}
	fmt.Fprintf(&out, `<svg class="picture" viewBox="0 0 %.6g %.6g" role="img" aria-labelledby="%s"><title id="%[3]s">`,
		p.Width.Points(), p.Height.Points(), id)
	if err := xml.EscapeText(&out, []byte(words)); err != nil {
		return "", err
	}
	out.WriteString("</title>")
	in := xml.NewDecoder(&file)
	for {
		token, err := in.Token()
		if errors.Is(err, io.EOF) {
			return template.HTML(out.String()), nil // made here, letter by letter, from what the XML encoder escaped
		}
		if err != nil {
			return "", fmt.Errorf("page: reading a picture: %w", err)
		}
		switch t := token.(type) {
		case xml.StartElement:
			if t.Name.Local != "svg" {
				if err := element(&out, t); err != nil {
					return "", err
				}
			}
		case xml.EndElement:
			fmt.Fprintf(&out, "</%s>", t.Name.Local)
		case xml.CharData:
			if text := bytes.TrimSpace(t); len(text) > 0 {
				if err := xml.EscapeText(&out, t); err != nil {
					return "", err
				}
			}
		}
	}
}

// element writes the start of an element with its style as attributes.
func element(out *bytes.Buffer, t xml.StartElement) error {
	fmt.Fprintf(out, "<%s", t.Name.Local)
	attribute := func(name, value string) error {
		fmt.Fprintf(out, ` %s="`, name)
		err := xml.EscapeText(out, []byte(value))
		out.WriteByte('"')
		return err
	}
	for _, a := range t.Attr {
		if a.Name.Local != "style" {
			if err := attribute(a.Name.Local, a.Value); err != nil {
				return err
			}
			continue
		}
		for property := range strings.SplitSeq(a.Value, ";") {
			name, value, _ := strings.Cut(strings.TrimSpace(property), ":")
			if name == "" || name == "font-family" || usual[name] == value {
				continue
			}
			if err := attribute(name, value); err != nil {
				return err
			}
		}
	}
	out.WriteByte('>')
	return nil
}
