package reagent

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"hepar/recipe/fault"
)

// Match is a name of a substance, or a group word, found in a text.
type Match struct {
	ID     string // of the substance; the group for a group word such as "acid"
	Name   string // as it stands in the text
	Offset int    // of its first byte in the text
	Near   string // the name that may be meant, where Name is a slip of it; else empty
}

// groupWords name a whole group; those without a group hold a name and mean something else: a
// gas that comes off, a film on the metal, an absence.
var groupWords = map[string]Group{
	"acid": Acid, "pickle": Acid, "pickling bath": Acid, "sulfide": Sulfide, "polysulfide": Sulfide, "caustic": Caustic,
	"aluminium": LightMetal, "aluminum": LightMetal, "zinc": LightMetal, "galvanised": LightMetal, "galvanized": LightMetal,
	"solvent": Solvent, "oxidizer": Oxidizer, "oxidiser": Oxidizer, "oxidizing agent": Oxidizer, "oxidising agent": Oxidizer,

	"hydrogen sulfide": "", "silver sulfide": "", "copper sulfide": "", "acid free": "", "lemon yellow": "", "chalk line": "", "salt spray": "", "salt air": "",
}

// Covers reports whether a declared id or group word stands for a match: the same id, or, for
// a group word in the text, a substance of that group.
func Covers(declared string, m Match) bool {
	s, err := Find(declared)
	return declared == m.ID || err == nil && s.In(Group(m.ID))
}

// Inert reports whether an id is of a substance in no pair, such as salt, soap and pumice.
func Inert(id string) bool {
	s, err := Find(id)
	return err == nil && s.In(Neutral)
}

// Called returns what a name means: the id of a substance, or the group of a group word such
// as "acid". Letter case, accents, hyphens and a plural do not count. An unknown name is an
// error of kind Usage that names the nearest.
func Called(text string) (id string, err error) {
	list := words(text)
	if n, id := longestName(list); n == len(list) && id != "" {
		return id, nil
	}
	return "", unknown(text)
}

// Named finds the substances that a text names, and the group words, in the order of the text.
// Whole words count, in any letter case, with or without accents, joined by blanks, hyphens or
// brackets, in the plural too, with "sulph" for "sulf". Of names that overlap the longest
// counts: "killed spirits of salt" is zinc chloride. "no vinegar" names acetic acid.
func Named(text string) []Match {
	found, _ := read(text)
	return found
}

// GroupsOf returns the groups of all substances and group words that a text names.
func GroupsOf(text string) (groups []Group) {
	for _, m := range Named(text) {
		if s, err := Find(m.ID); err == nil {
			groups = append(groups, s.Groups...)
		} else {
			groups = append(groups, Group(m.ID))
		}
	}
	return groups
}

// Misspelt finds words that are one letter off a name of seven letters or more, or have
// two letters in each other's place, such as "vinager", and are no name themselves.
func Misspelt(text string) []Match {
	var found []Match
	_, rest := read(text)
	for i := 0; i < len(rest); i++ {
		for n := min(4, len(rest)-i); n > 0; n-- {
			if near := nearName(rest[i : i+n]); near.text != "" {
				m := match(text, rest[i:i+n], near.id)
				m.Near = near.text
				found = append(found, m)
				i += n - 1
				break
			}
		}
	}
	return found
}

// commonWords are right words that stand one letter off a name.
var commonWords = []string{"tarnish", "writing", "waiting", "oxidized", "oxidised", "oxidizes", "oxidises"}

// nearName returns the name that words may be a slip of.
func nearName(list []word) (none name) {
	text, _ := join(list)
	for _, n := range inUse().names {
		if n.id != "" && strings.Count(n.text, " ") == len(list)-1 && slip(text, n.text) && !slices.Contains(commonWords, text) {
			return n
		}
	}
	return none
}

// slip reports whether a word is one letter off a name of seven letters or more, or has two of
// its letters swapped.
func slip(word, name string) bool {
	long := len(word) - len(name)
	if len(name) < 7 || long < -1 || long > 1 || word[0] != name[0] && word[len(word)-1] != name[len(name)-1] {
		return false
	}
	sorted := func(s string) string { return string(slices.Sorted(slices.Values([]rune(s)))) }
	changes := fault.Changes(word, name)
	return changes == 1 || changes == 2 && sorted(word) == sorted(name)
}

// read returns the names in a text, and the words that belong to none.
func read(text string) (found []Match, rest []word) {
	for list := words(text); len(list) > 0; {
		n, id := longestName(list)
		if n == 0 {
			rest, list = append(rest, list[0]), list[1:]
			continue
		}
		if id != "" {
			found = append(found, match(text, list[:n], id))
		}
		if list = list[n:]; len(list) > 0 {
			list[0].apart = true
		}
	}
	return found, rest
}

func match(text string, list []word, id string) Match {
	from := list[0].at
	return Match{ID: id, Name: text[from:list[len(list)-1].end], Offset: from}
}

// longestName returns how many of the first words make up a name, and whose; "": no substance.
func longestName(list []word) (n int, id string) {
	for n := min(6, len(list)); n > 0; n-- {
		_, stem := join(list[:n])
		if id, ok := inUse().owners[stem]; ok {
			return n, id
		}
	}
	return 0, ""
}

// name is one name of a substance or a group, in folded words.
type name struct{ text, id string }

type word struct {
	text    string
	at, end int
	apart   bool // something stands before it that no name spans, such as a comma
}

// words cuts a text into words of letters and digits, in small letters without accents,
// ligatures and apostrophes.
func words(text string) (list []word) {
	from, end, before := -1, 0, 0 // of this word, and the end of the one before
	for at, r := range text + " " {
		switch inside := unicode.IsLetter(r) || unicode.Is(unicode.Nd, r); {
		case inside || from >= 0 && unicode.Is(unicode.Mn, r):
			if from < 0 {
				from = at
			}
			end = at + utf8.RuneLen(r)
		case from >= 0 && r != '\'' && r != '’':
			apart := strings.Trim(text[before:from], " \t\n-_()\u00a0\u2010\u2011") != ""
			list = append(list, word{fold(text[from:end]), from, end, apart})
			from, before = -1, end
		}
	}
	return list
}

func fold(text string) string {
	return strings.ReplaceAll(strings.Map(func(r rune) rune {
		if r == '\'' || r == '’' || unicode.Is(unicode.Mn, r) {
			return -1
		}
		return unicode.ToLower(r)
	}, norm.NFKD.String(text)), "sulph", "sulf")
}

// join returns words that stand together, and their stems: without the ending of a plural.
// Both are empty where something stands between them.
func join(list []word) (text, stem string) {
	for i, w := range list {
		if i > 0 && w.apart {
			return "", ""
		}
		short := w.text
		for _, ending := range []string{"s", "e"} {
			if len(short) > 3 {
				short = strings.TrimSuffix(short, ending)
			}
		}
		text, stem = text+" "+w.text, stem+" "+short
	}
	return strings.TrimPrefix(text, " "), stem
}

// nearest returns up to three ids that may be meant by a word: by a name that begins like it, or in
// which at most a letter in four is another. Tea is no ash.
func nearest(text string) (ids []string) {
	var all []string
	for _, n := range inUse().names {
		if _, ok := inUse().byID[n.id]; ok {
			all = append(all, n.text)
		}
	}
	typed := plain(text, " ")
	for _, n := range fault.NearestN(typed, all, len(all)) {
		slip := strings.HasPrefix(n, typed) || strings.HasPrefix(typed, n) || fault.Changes(typed, n) <= max(1, len(n)/4)
		if _, id := longestName(words(n)); slip && len(ids) < 3 && !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
	}
	return ids
}

// plain folds a name to its words: "Cupric Nitrate" and "cupric_nitrate" are one.
func plain(text, between string) string {
	var list []string
	for _, w := range words(text) {
		list = append(list, w.text)
	}
	return strings.Join(list, between)
}
