package safety

import (
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// noNames are answers that name nobody.
var noNames = []string{"nobody", "none", "no one", "noone", "myself", "me", "self", "alone", "no", "n/a", "yes", "ok", "okay"}

// longestName is how long a name may be, in bytes: to compare two takes the product of their lengths.
const longestName = 200

// named returns an error of kind Usage where a text is the name of nobody: a word such as yes, or a single letter.
func named(text, cure string) error {
	oneLetter := strings.IndexFunc(text, unicode.IsLetter) == strings.LastIndexFunc(text, unicode.IsLetter) // or none
	if oneLetter || len(text) > longestName || text != measure.Clean(text) || slices.Contains(noNames, fold(text)) {
		return fault.Usagef("%.60q is not the name of a person", measure.Clean(text)).Try("%s", cure)
	}
	return nil
}

func fold(name string) string { return strings.ToLower(strings.TrimSpace(name)) }

func listed(name string, people []string) bool {
	return slices.ContainsFunc(people, func(known string) bool { return fold(known) == fold(name) })
}

// alike tells whether two names may be one person's: one is the beginning of the other, or at most one letter differs in
// each word, or a word is an initial. A single word of three letters is a name of its own. How much is a choice of ours.
func alike(a, b string) bool {
	a, b = fold(a), fold(b)
	if strings.HasPrefix(a, b+" ") || strings.HasPrefix(b, a+" ") {
		return true
	}
	as, bs := strings.Fields(a), strings.Fields(b)
	for i := range min(len(as), len(bs)) {
		x, y := strings.TrimSuffix(as[i], "."), strings.TrimSuffix(bs[i], ".")
		initial := min(len(x), len(y)) == 1 && x[0] == y[0]
		if !initial && (fault.Changes(x, y) > 1 || x != y && max(len(a), len(b)) < 4) {
			return false
		}
	}
	return len(as) == len(bs)
}

// nearest is whose name of the shop file one may be that it does not list; "" where it is nobody's, or listed.
func nearest(name string, people []string) string {
	i := slices.IndexFunc(people, func(known string) bool { return alike(known, name) })
	if name == "" || i < 0 || listed(name, people) {
		return ""
	}
	return people[i]
}

// Unlisted says that a name is not among the people of the shop file, where it lists any; and whose it may be.
func Unlisted(name string, people []string) string {
	if name == "" || len(people) == 0 || listed(name, people) {
		return ""
	}
	said := fmt.Sprintf("%s is not among the people of the shop file", measure.Clean(name))
	if near := nearest(name, people); near != "" {
		said += "; is it " + near + "?"
	}
	return said
}

// Sign returns an error of kind Usage where by cannot put their name to the review: it is no name, it is nearly that of
// somebody in the shop file, or it is the second person's, in one spelling or another. Two people whose names are alike
// are two where the shop file lists both.
func (s Subject) Sign(by string) error {
	if err := named(by, "write the name of the person who has done and read all of it"); err != nil {
		return err
	}
	for _, name := range []string{by, s.Second} {
		if near := nearest(name, s.People); near != "" {
			return fault.Usagef("%s is not among the people of the shop file, and %s is", name, near).Try("write the name as it stands there; a newcomer goes into people of the shop file first")
		}
	}
	switch {
	case s.Second == "" || !alike(by, s.Second):
		return nil
	case fold(by) == fold(s.Second):
		return fault.Usagef("the second person is %s, who does the review", by).Try("name another person, who stays within call")
	case listed(by, s.People) && listed(s.Second, s.People):
		return nil
	}
	return fault.Usagef("%s and %s may be one person in two spellings, and nobody is the second of themselves", by, s.Second).
		Try("name another person, who stays within call; where they are two, list both under people in the shop file")
}

// Remarks says of a review that somebody puts their name to what it passes and nobody should pass over: an old data
// sheet, a name that the shop file does not list.
func (s Subject) Remarks(by string, today time.Time) []string {
	all := []string{s.OldSheet(today), Unlisted(by, s.People), Unlisted(s.Second, s.People)}
	return slices.DeleteFunc(all, func(said string) bool { return said == "" })
}

// Stays says who stays within call where the second person of a review is at the bath; "" where another is.
func Stays(at, by, second string) string {
	if second == "" || fold(at) != fold(second) {
		return ""
	}
	return fmt.Sprintf("%s was the second person and is at the bath now. %s stays within call from here on, or somebody else who knows what to do; without one this work waits.", second, by)
}

// Apply notes what applies to a person, by its words.
func (p *Person) Apply(words []string) error {
	known := map[string]*bool{"no-smell": &p.NoSmell, "pregnant": &p.Pregnant, "lungs": &p.Lungs, "alone": &p.Alone, "new": &p.New}
	for _, word := range words {
		if known[word] == nil {
			return fault.Usagef("%q is not a word about a person", measure.Clean(word)).Try("write no-smell, pregnant, lungs, alone or new")
		}
		*known[word] = true
	}
	return nil
}
