package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"regexp"

	"tiploop/report/number"
)

// numberRow is an array of nothing but numbers, spread over lines. A line break inside a JSON string is always
// escaped, so this never matches within one.
var numberRow = regexp.MustCompile(`\[\n\s+[-+.0-9eE]+(?:,\n\s+[-+.0-9eE]+)*\n\s*\]`)

// lineBreak is what stands between two numbers of such an array.
var lineBreak = regexp.MustCompile(`\n\s*`)

// WriteJSON writes v as indented JSON with a line break at the end: keys in the order of their fields, maps sorted,
// a row of numbers on one line, 0 for −0. A NaN or an infinity is an error, and then nothing is written.
func WriteJSON(w io.Writer, v any) error {
	if err := number.CheckFinite(v); err != nil {
		return err
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		return fmt.Errorf("writing JSON: %w", err)
	}
	data := numberRow.ReplaceAllFunc(withoutMinusZero(b.Bytes()), func(row []byte) []byte {
		row = lineBreak.ReplaceAll(row, []byte(" "))
		return append([]byte("["), append(bytes.Trim(row, "[] "), ']')...)
	})
	if _, err := w.Write(data); err != nil {
		return fmt.Errorf("writing JSON: %w", err)
	}
	return nil
}

// withoutMinusZero replaces the number −0, which no reader of a result wants to see, by 0.
func withoutMinusZero(data []byte) []byte {
	out := make([]byte, 0, len(data))
	inString := false
	for i := 0; i < len(data); i++ {
		c := data[i]
		switch {
		case inString && c == '\\':
			out = append(out, c, data[i+1])
			i++
			continue
		case c == '"':
			inString = !inString
		case !inString && c == '-' && data[i+1] == '0' && (data[i+2] < '.' || data[i+2] > '9'):
			continue // neither −0.5 nor an exponent
		}
		out = append(out, c)
	}
	return out
}
