package safety

import (
	"fmt"
	"slices"
	"strings"
)

// steelTools finds a declared tool of iron or steel in an acid: in a pickle that has
// taken up copper it plates copper on the work.
func steelTools(l *list, vs []vessel) {
	for _, v := range vs {
		if v.has(agent.sour) && slices.ContainsFunc(v.tools, ferrous) {
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

// ferrous tells whether the name of a tool says that it is of iron or steel. Stainless
// steel does not count.
func ferrous(tool string) bool {
	words := tokens(strings.ToLower(tool))
	return anyWord(words, "steel", "iron") && !anyWord(words, "stainless")
}

// short cuts a word of a user for a message.
func short(word string) string {
	word = plain(word)
	if r := []rune(word); len(r) > 40 {
		return strings.TrimSpace(string(r[:40])) + "..."
	}
	return word
}
