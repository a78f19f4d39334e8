// Package phrase puts directions, counts, lists, names and times into the words that reports share.
package phrase
