package safety

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// spoken are the words by which the free text of a step may name a substance that
// matters for the order of the steps. Sulfides are left out on purpose: a step often
// names the bath that it follows.
var spoken = [...]struct {
	words []string
	id    string
}{
	{[]string{"vinegar"}, "acetic-acid"},
	{[]string{"acetic", "acid"}, "acetic-acid"},
	{[]string{"lemon", "juice"}, "citric-acid"},
	{[]string{"lemon"}, "citric-acid"},
	{[]string{"citric", "acid"}, "citric-acid"},
	{[]string{"tartaric", "acid"}, "citric-acid"},
	{[]string{"oxalic", "acid"}, "oxalic-acid"},
	{[]string{"sulfamic", "acid"}, "sulfamic-acid"},
	{[]string{"muriatic", "acid"}, "hydrochloric-acid"},
	{[]string{"hydrochloric", "acid"}, "hydrochloric-acid"},
	{[]string{"spirits", "of", "salt"}, "hydrochloric-acid"},
	{[]string{"nitric", "acid"}, "nitric-acid"},
	{[]string{"aqua", "fortis"}, "nitric-acid"},
	{[]string{"sulfuric", "acid"}, "sulfuric-acid"},
	{[]string{"sulphuric", "acid"}, "sulfuric-acid"},
	{[]string{"battery", "acid"}, "sulfuric-acid"},
	{[]string{"bisulfate"}, "sodium-bisulfate"},
	{[]string{"bisulphate"}, "sodium-bisulfate"},
	{[]string{"bleach"}, "sodium-hypochlorite"},
	{[]string{"hypochlorite"}, "sodium-hypochlorite"},
	{[]string{"peroxide"}, "hydrogen-peroxide"},
	{[]string{"permanganate"}, "potassium-permanganate"},
	{[]string{"chlorate"}, "potassium-chlorate"},
	{[]string{"pickle"}, "pickle"}, // counts on the rework route only, see [line]
}

// heard gives the ids of the substances that a free text tells the reader to use. With
// strict, as for a rinse or a note, only those in a clause that adds something. A word
// that is denied ("never vinegar") or that looks back ("after the vinegar") does not
// count; where the reading is in doubt it does.
func heard(text string, strict bool) []string {
	var ids []string
	if !mentionsSpoken(text) {
		return nil
	}
	for _, sentence := range split(text, ".;!?") {
		denied := false
		for _, clause := range split(sentence, ",:()") {
			words := tokens(clause)
			uses := anyWord(words, "with", "in", "use", "using", "wipe", "dip", "soak", "scrub")
			for _, w := range spoken {
				at := find(words, w.words)
				if at < 0 || slices.Contains(ids, w.id) {
					continue
				}
				before := words[:at]
				if denies(before) || denied && !uses || looksBack(before) || strict && !adds(words) {
					continue
				}
				ids = append(ids, w.id)
			}
			denied = denied || denies(words)
		}
	}
	return ids
}

// mentionsSpoken tells whether any of the words of [spoken] may be in a text.
func mentionsSpoken(text string) bool {
	text = strings.ToLower(plain(text))
	for _, w := range spoken {
		if strings.Contains(text, w.words[0]) {
			return true
		}
	}
	return false
}

func denies(words []string) bool {
	return anyWord(words, "no", "not", "never", "without", "avoid", "nor", "keep", "away", "instead", "don't", "refused")
}

func adds(words []string) bool {
	return anyWord(words, "add", "adds", "added", "adding", "stir", "stirred", "mix", "mixed", "pour", "poured", "plus",
		"spoon", "spoonful", "tsp", "tbsp", "splash", "dash", "drop", "drops", "cup", "with", "in", "into", "through")
}

// looksBack tells whether the last word before a mention, articles aside, speaks of
// something that was there earlier.
func looksBack(words []string) bool {
	for len(words) > 0 && slices.Contains([]string{"the", "a", "an", "any", "all", "of"}, words[len(words)-1]) {
		words = words[:len(words)-1]
	}
	return len(words) > 0 && slices.Contains([]string{"after", "until", "off", "from", "than", "traces", "residue", "residues", "smell"}, words[len(words)-1])
}

// split cuts a text, in small letters, at the marks given, all of one byte.
func split(text, marks string) []string {
	text = strings.ToLower(plain(text))
	var list []string
	from := 0
	for i := 0; i <= len(text); i++ {
		if i < len(text) && strings.IndexByte(marks, text[i]) < 0 {
			continue
		}
		if i > from {
			list = append(list, text[from:i])
		}
		from = i + 1
	}
	return list
}

// tokens gives the words of a clause.
func tokens(clause string) []string {
	list := make([]string, 0, 16)
	from := -1
	for i := 0; i < len(clause); i++ {
		c := clause[i]
		if c >= utf8.RuneSelf {
			return strings.FieldsFunc(clause, func(r rune) bool { return !unicode.IsLetter(r) && r != '\'' })
		}
		switch letter := c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '\''; {
		case letter && from < 0:
			from = i
		case !letter && from >= 0:
			list = append(list, clause[from:i])
			from = -1
		}
	}
	if from >= 0 {
		list = append(list, clause[from:])
	}
	return list
}

// mentions tells whether a text has one of the strings in it, in any case of letters. It
// saves reading the many texts that have not.
func mentions(text string, parts ...string) bool {
	text = strings.ToLower(text)
	return slices.ContainsFunc(parts, func(p string) bool { return strings.Contains(text, p) })
}

// find gives the place of a run of words, or -1.
func find(words, run []string) int {
	for i := 0; i+len(run) <= len(words); i++ {
		if slices.Equal(words[i:i+len(run)], run) {
			return i
		}
	}
	return -1
}

// anyWord tells whether one of the words wanted is there.
func anyWord(words []string, wanted ...string) bool {
	return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(wanted, w) })
}

// kept tells whether one of the texts says that a bath is put by.
func kept(texts ...string) bool {
	for _, text := range texts {
		for _, clause := range split(text, ".;,") {
			words := tokens(clause)
			at := slices.IndexFunc(words, func(w string) bool {
				return anyWord([]string{w}, "overnight", "store", "stored", "stock", "keeps", "kept", "bottle", "bottled", "days", "weeks", "months")
			})
			if at >= 0 && !anyWord(words[:at], "never", "not", "no", "don't", "nothing", "none", "before", "without") {
				return true
			}
		}
	}
	return false
}
