package reagent

import (
	"slices"
	"strings"
	"sync"
)

// called is a name of a substance, folded by plain.
type called struct{ name, id string }

var names = sync.OnceValue(func() []called {
	var all []called
	for _, s := range table() {
		for _, name := range append([]string{s.ID, s.Name}, s.Synonyms...) {
			all = append(all, called{plain(name), s.ID})
		}
	}
	return all
})

// nearest returns up to three ids that someone may have meant by word: those
// that have it as a name or synonym, then those that begin with it, else those
// few letters away.
func nearest(word string) []string {
	word = plain(word)
	if len(word) < 2 || len(word) > 60 {
		return nil
	}
	var named, begun []string
	for _, c := range names() {
		if c.name == word {
			named = append(named, c.id)
		} else if strings.HasPrefix(c.name, word) || strings.HasPrefix(word, c.name) {
			begun = append(begun, c.id)
		}
	}
	found := append(named, begun...)
	if len(found) == 0 {
		found = alike(word)
	}
	var unique []string
	for _, id := range found {
		if !slices.Contains(unique, id) {
			unique = append(unique, id)
		}
	}
	return unique[:min(3, len(unique))]
}

// alike returns the ids with a name few letters away, the closest first.
func alike(word string) []string {
	type guess struct {
		id   string
		away int
	}
	most := 1 + len(word)/4
	var guesses []guess
	row := make([]int, 0, 64)
	for _, c := range names() {
		if len(c.name)-len(word) > most || len(word)-len(c.name) > most {
			continue
		}
		if away := distance(word, c.name, row); away <= most {
			guesses = append(guesses, guess{c.id, away})
		}
	}
	slices.SortStableFunc(guesses, func(a, b guess) int { return a.away - b.away })
	var ids []string
	for _, g := range guesses {
		ids = append(ids, g.id)
	}
	return ids
}

// plain folds case and the ways of joining words, so that "Cupric Nitrate" and
// "cupric-nitrate" are one, and "sulphate" and "sulfate" as well.
func plain(text string) string {
	text = strings.ToLower(strings.TrimSpace(text))
	text = strings.ReplaceAll(text, "_", "-")
	text = strings.ReplaceAll(text, " ", "-")
	return strings.ReplaceAll(text, "sulph", "sulf")
}

// distance is the Levenshtein distance: how many letters to add, drop or change.
// It works in the room of row.
func distance(a, b string, row []int) int {
	row = row[:0]
	for j := range len(b) + 1 {
		row = append(row, j)
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
