package answer

// WorstStresses are those of every part over all loads.
func WorstStresses(all []Stress) []Stress {
	list := []Stress{}
	at := map[string]int{}
	for _, s := range all {
		i, ok := at[s.Part]
		switch {
		case !ok:
			at[s.Part] = len(list)
			list = append(list, s)
		case s.MPa > list[i].MPa:
			list[i] = s
		}
	}
	return list
}
