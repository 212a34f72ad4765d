package safety

import (
	"slices"
	"strings"
	"unicode"
)

// spoken are the words by which the free text of a step may name a substance that
// matters for the order of the steps. Sulfides are left out on purpose: a step often
// names the bath that it follows.
var spoken = [...]struct{ words, id string }{
	{"vinegar", "acetic-acid"},
	{"acetic acid", "acetic-acid"},
	{"lemon juice", "citric-acid"},
	{"lemon", "citric-acid"},
	{"citric acid", "citric-acid"},
	{"tartaric acid", "citric-acid"},
	{"oxalic acid", "oxalic-acid"},
	{"sulfamic acid", "sulfamic-acid"},
	{"muriatic acid", "hydrochloric-acid"},
	{"hydrochloric acid", "hydrochloric-acid"},
	{"spirits of salt", "hydrochloric-acid"},
	{"nitric acid", "nitric-acid"},
	{"aqua fortis", "nitric-acid"},
	{"sulfuric acid", "sulfuric-acid"},
	{"sulphuric acid", "sulfuric-acid"},
	{"battery acid", "sulfuric-acid"},
	{"bisulfate", "sodium-bisulfate"},
	{"bisulphate", "sodium-bisulfate"},
	{"bleach", "sodium-hypochlorite"},
	{"hypochlorite", "sodium-hypochlorite"},
	{"peroxide", "hydrogen-peroxide"},
	{"permanganate", "potassium-permanganate"},
	{"chlorate", "potassium-chlorate"},
	{"pickle", "pickle"}, // counts on the rework route only, see [line]
}

// heard gives the ids of the substances that a free text tells the reader to use. With
// strict, as for a rinse or a note, only those in a clause that adds something. A word
// that is denied ("never vinegar") or that looks back ("after the vinegar") does not
// count; where the reading is in doubt it does.
func heard(text string, strict bool) []string {
	var ids []string
	for _, sentence := range split(text, ".;!?") {
		denied := false
		for _, clause := range split(sentence, ",:()") {
			words := tokens(clause)
			uses := anyWord(words, "with", "in", "use", "using", "wipe", "dip", "soak", "scrub")
			for _, w := range spoken {
				at := find(words, tokens(w.words))
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

// split cuts a text at the marks given.
func split(text, marks string) []string {
	return strings.FieldsFunc(strings.ToLower(plain(text)), func(r rune) bool { return strings.ContainsRune(marks, r) })
}

// tokens gives the words of a clause.
func tokens(clause string) []string {
	return strings.FieldsFunc(clause, func(r rune) bool { return !unicode.IsLetter(r) && r != '\'' })
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
