package reagent

import (
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"hepar/recipe/fault"
)

// Match is a name of a substance found in a text.
type Match struct {
	ID     string // of the substance
	Name   string // as it stands in the text
	Offset int    // of its first byte in the text
}

// Named finds the substances that a text names, by id, name or any other name, in
// the order of the text. Whole words count, in any letter case, joined by blanks,
// hyphens or brackets, in the plural too, with "sulph" for "sulf". Where names overlap, the
// longest counts: "killed spirits of salt" is zinc chloride. It reads names, not
// meaning: "no vinegar" names acetic acid.
func Named(text string) []Match {
	var found []Match
	list := words(text)
	for i := 0; i < len(list); {
		n, id := longestName(list[i:])
		if n == 0 {
			i++
			continue
		}
		from := list[i].at
		found = append(found, Match{ID: id, Name: text[from:list[i+n-1].end], Offset: from})
		i += n
	}
	return found
}

// groupWords returns the words that name a whole group, and the group each names.
func groupWords() map[string]Group {
	return map[string]Group{"acid": Acid, "pickle": Acid, "sulfide": Sulfide, "solvent": Solvent, "oxidizer": Oxidizer, "oxidiser": Oxidizer}
}

// Called returns what a name means: the id of the substance that has it, or a group
// word such as "acid". Letter case, hyphens and a plural do not count. An unknown name
// is an error of kind Usage that names the nearest.
func Called(text string) (id string, err error) {
	if found := Named(text); len(found) == 1 && plain(found[0].Name) == plain(text) {
		return found[0].ID, nil
	}
	list := words(text)
	if len(list) == 1 {
		for _, w := range singular(list[0].text) {
			if group, ok := groupWords()[w]; ok {
				return string(group), nil
			}
		}
	}
	return "", unknown(text)
}

// word is one word of a text, folded, and where it stands.
type word struct {
	text    string
	at, end int
	apart   bool // a mark stands before it that no name spans, such as a comma
}

// words cuts a text into words of letters and digits. An apostrophe within a word is
// dropped.
func words(text string) []word {
	var list []word
	in, apart := false, false
	for at, r := range text {
		end := at + utf8.RuneLen(r)
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			if !in {
				list = append(list, word{at: at, apart: apart})
			}
			in, apart = true, false
			last := &list[len(list)-1]
			last.text += string(unicode.ToLower(r))
			last.end = end
		case in && (r == '\'' || r == '’'):
		default:
			in = false
			apart = apart || !strings.ContainsRune(" \t\n-_()", r)
		}
	}
	for i := range list {
		list[i].text = strings.ReplaceAll(list[i].text, "sulph", "sulf")
	}
	return list
}

// name is one name of a substance, in folded words.
type name struct {
	words []string
	id    string
}

// names holds the names of all substances by their first word, the longest first.
var names = sync.OnceValue(func() map[string][]name {
	byFirst := map[string][]name{}
	for _, s := range table() {
		for _, text := range s.called() {
			var n name
			for _, w := range words(text) {
				n.words = append(n.words, w.text)
			}
			n.id = s.ID
			byFirst[n.words[0]] = append(byFirst[n.words[0]], n)
		}
	}
	for _, list := range byFirst {
		slices.SortStableFunc(list, func(a, b name) int { return len(b.words) - len(a.words) })
	}
	return byFirst
})

// called returns every name of the substance.
func (s Substance) called() []string { return append([]string{s.ID, s.Name}, s.Names...) }

// longestName returns how many of the first words make up a name, and whose.
func longestName(list []word) (n int, id string) {
	for _, first := range singular(list[0].text) {
		for _, c := range names()[first] {
			if len(c.words) > n && c.begins(list) {
				n, id = len(c.words), c.id
			}
		}
	}
	return n, id
}

func (c name) begins(list []word) bool {
	if len(c.words) > len(list) {
		return false
	}
	for i, w := range c.words {
		if i > 0 && list[i].apart || !slices.Contains(singular(list[i].text), w) {
			return false
		}
	}
	return true
}

// singular returns the word and what it may be the plural of.
func singular(w string) []string {
	short, ok := strings.CutSuffix(w, "s")
	if !ok || len(short) < 3 {
		return []string{w}
	}
	return []string{w, short, strings.TrimSuffix(short, "e")}
}

// nearest returns up to three ids that someone may have meant by a word: those that
// have it as a name, then those with a name that begins with it or has few letters
// changed.
func nearest(text string) []string {
	text = plain(text)
	if len(text) < 2 || len(text) > 60 {
		return nil
	}
	owners := map[string]string{}
	var all []string
	for _, s := range table() {
		for _, n := range s.called() {
			n = plain(n)
			owners[n] = s.ID
			all = append(all, n)
		}
	}
	var ids []string
	for _, n := range fault.NearestN(text, all, len(all)) {
		if id := owners[n]; !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
	}
	return ids[:min(3, len(ids))]
}

// plain folds a name to its words: "Cupric Nitrate", "cupric-nitrate" and
// "cupric_nitrate" are one.
func plain(text string) string {
	var list []string
	for _, w := range words(text) {
		list = append(list, w.text)
	}
	return strings.Join(list, "-")
}
