// Package wrap breaks running text into lines, on a terminal or on a picture.
//
// Words gives what a line may be broken between: a number and its unit are one word, as are the measures of one thing,
// "30 × 40 mm". Lines breaks a text at a number of letters; a picture, where letters differ in width, takes the Words
// and measures them itself. Letters counts the places that a text takes on a terminal, OneLine keeps a name that came
// from a file to one line.
//
//	for _, line := range wrap.Lines(text, 100) {
//		fmt.Println(line)
//	}
//
// Text is read from left to right; no word is divided and no language's rules are known.
package wrap
