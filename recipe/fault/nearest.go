package fault

// Nearest gives the name closest to word, if it is close enough to be a slip
// of the hand, and the empty string where none is.
func Nearest(word string, names []string) string {
	best, bestAt := "", 1+len(word)/3
	for _, name := range names {
		if d := distance(word, name); d <= bestAt {
			if best == "" || d < bestAt {
				best = name
			}
			bestAt = d
		}
	}
	return best
}

// distance is the number of single-letter changes between two words.
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		before := row[0]
		row[0] = i + 1
		for j := range len(b) {
			cost := before
			if a[i] != b[j] {
				cost = 1 + min(before, row[j], row[j+1])
			}
			before, row[j+1] = row[j+1], cost
		}
	}
	return row[len(b)]
}
