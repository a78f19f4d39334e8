package constant

// Find returns the first row of a table whose key, as of gives it, is the one asked for. Tables are short, so it looks
// at one row after the other.
func Find[Row any](rows []Row, key string, of func(Row) string) (found Row, ok bool) {
	for _, row := range rows {
		if of(row) == key {
			return row, true
		}
	}
	return found, false
}
