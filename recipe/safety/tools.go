package safety

import (
	"fmt"
	"slices"
	"strings"
)

// steelTools finds iron or steel that a step brings into an acid: in a pickle that has
// taken up copper it plates copper on the work.
func steelTools(l *list, vs []vessel) {
	for _, v := range vs {
		if v.has(agent.sour) && (bringsSteel(v.words) || bringsSteel(v.note)) {
			l.add(steelPoint(v.String() + " brings iron or steel into the acid"))
		}
	}
}

func steelPoint(what string) Point {
	cure := "use tongs, wire and baskets of copper, plastic or wood in a pickle, and take steel springs and pins out first; where copper has come out already, mix a fresh pickle"
	return Point{
		Code: "steel-in-pickle", Level: CorrectFirst, Cure: cure, Source: practice,
		Text: fmt.Sprintf("%s: from a pickle that has copper in it, copper plates out on every piece that touches the steel, and steel in acid gives off hydrogen. %s", what, sentence(cure)),
	}
}

// bringsSteel tells whether a text uses iron or steel. Stainless steel does not count,
// nor a colour such as steel grey.
func bringsSteel(text string) bool {
	if !mentions(text, "steel", "iron", "binding") {
		return false
	}
	for _, s := range split(text, ".;!?") {
		words := tokens(s)
		for i, w := range words {
			iron := w == "steel" || w == "iron" || w == "binding" && i+1 < len(words) && words[i+1] == "wire"
			if !iron || i > 0 && (words[i-1] == "stainless" || words[i-1] == "instead") || denies(words[:i]) || looksBack(words[:i]) {
				continue
			}
			if i+1 < len(words) && slices.Contains([]string{"grey", "gray", "blue", "colour", "color", "salt", "salts", "chloride", "nitrate", "sulfate"}, words[i+1]) {
				continue
			}
			return true
		}
	}
	return false
}

// short cuts a word of a user for a message.
func short(word string) string {
	word = plain(word)
	if r := []rune(word); len(r) > 40 {
		return strings.TrimSpace(string(r[:40])) + "..."
	}
	return word
}
