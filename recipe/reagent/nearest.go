package reagent

import (
	"slices"
	"strings"
	"sync"

	"hepar/recipe/fault"
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
// that have it as a name or synonym, then those with a name that begins with it or
// has few letters changed.
func nearest(word string) []string {
	word = plain(word)
	if len(word) < 2 || len(word) > 60 {
		return nil
	}
	all := names()
	folded := make([]string, len(all))
	for i, c := range all {
		folded[i] = c.name
	}
	var ids []string
	for _, name := range fault.NearestN(word, folded, len(folded)) {
		for _, c := range all {
			if c.name == name && !slices.Contains(ids, c.id) {
				ids = append(ids, c.id)
			}
		}
		if len(ids) >= 3 {
			return ids[:3]
		}
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
