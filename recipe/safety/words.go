package safety

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"hepar/recipe/reagent"
)

// matters tells whether a substance that a free text names matters for the order of
// the steps. Sulfides are left out on purpose: a step often names the bath before it.
func matters(id string) bool {
	s, err := reagent.Find(id)
	return err == nil && slices.ContainsFunc([]reagent.Group{reagent.Acid, reagent.Hypochlorite, reagent.Peroxide, reagent.StrongOxidizer}, s.In)
}

// heard returns the substances that a free text tells the reader to use, each once. With
// strict, as for a rinse or a note, only those in a clause that adds something. A name
// that is denied ("never vinegar") or that looks back ("after the vinegar") does not
// count; where the reading is in doubt it does.
func heard(text string, strict bool) []reagent.Match {
	var found []reagent.Match
	for _, sentence := range split(text, ".;!?") {
		denied := false
		for _, clause := range split(sentence, ",:()") {
			words := tokens(clause)
			uses := anyWord(words, "with", "in", "use", "using", "wipe", "dip", "soak", "scrub")
			for _, m := range reagent.Named(clause) {
				if !matters(m.ID) || slices.ContainsFunc(found, func(f reagent.Match) bool { return f.ID == m.ID }) {
					continue
				}
				before := tokens(clause[:m.Offset])
				if denies(before) || denied && !uses || looksBack(before) || strict && !adds(words) {
					continue
				}
				found = append(found, m)
			}
			denied = denied || denies(words)
		}
	}
	return found
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

// tokens returns the words of a clause.
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

// anyWord tells whether one of the words wanted is there.
func anyWord(words []string, wanted ...string) bool {
	return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(wanted, w) })
}
