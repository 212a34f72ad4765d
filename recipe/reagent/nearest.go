package reagent

import (
	"slices"
	"strings"
)

// nearest returns up to three ids that someone may have meant by word: those
// that have it as a name or synonym, else those that begin with it, else those
// few letters away.
func nearest(word string) []string {
	word = plain(word)
	if len(word) < 2 || len(word) > 60 {
		return nil
	}
	var named, begun []string
	type guess struct {
		id   string
		away int
	}
	var guesses []guess
	for _, s := range table() {
		best := 99
		for _, name := range append([]string{s.ID, s.Name}, s.Synonyms...) {
			name = plain(name)
			if name == word {
				named = append(named, s.ID)
			} else if strings.HasPrefix(name, word) || strings.HasPrefix(word, name) {
				begun = append(begun, s.ID)
			}
			best = min(best, distance(word, name))
		}
		if best <= 1+len(word)/4 {
			guesses = append(guesses, guess{s.ID, best})
		}
	}
	slices.SortStableFunc(guesses, func(a, b guess) int { return a.away - b.away })
	found := append(named, begun...)
	if len(found) == 0 {
		for _, g := range guesses {
			found = append(found, g.id)
		}
	}
	found = slices.Compact(found)
	return found[:min(3, len(found))]
}

// plain folds case and the ways of joining words, so that "Cupric Nitrate" and
// "cupric-nitrate" are one, and "sulphate" and "sulfate" as well.
func plain(text string) string {
	text = strings.ToLower(strings.TrimSpace(text))
	text = strings.NewReplacer("_", "-", " ", "-", "sulph", "sulf").Replace(text)
	return text
}

// distance is the Levenshtein distance: how many letters to add, drop or change.
func distance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		corner := row[0]
		row[0] = i + 1
		for j := range len(b) {
			above := row[j+1]
			cost := corner
			if a[i] != b[j] {
				cost = 1 + min(corner, above, row[j])
			}
			corner, row[j+1] = above, cost
		}
	}
	return row[len(b)]
}
