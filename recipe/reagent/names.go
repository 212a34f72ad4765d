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

// groupWords are the words that name a whole group, and the group of each.
func groupWords() map[string]Group {
	return map[string]Group{
		"acid": Acid, "pickle": Acid, "pickling bath": Acid, "sulfide": Sulfide, "polysulfide": Sulfide, "caustic": Caustic,
		"aluminium": LightMetal, "aluminum": LightMetal, "zinc": LightMetal, "galvanised": LightMetal, "galvanized": LightMetal,
		"solvent": Solvent, "oxidizer": Oxidizer, "oxidiser": Oxidizer, "oxidizing agent": Oxidizer, "oxidising agent": Oxidizer,
	}
}

// noNames are words that hold a name and mean something else: a gas that comes off, a
// film on the metal, an absence.
func noNames() []string {
	return []string{"hydrogen sulfide", "silver sulfide", "copper sulfide", "acid free", "lemon yellow", "chalk line", "salt spray", "salt air"}
}

// Covers reports whether a declared id or group word stands for a match: the same id,
// or, where the text has a group word, a substance of that group.
func Covers(declared string, m Match) bool {
	if declared == m.ID {
		return true
	}
	s, err := Find(declared)
	return err == nil && s.In(Group(m.ID))
}

// Inert reports whether an id is of a substance that is in no pair, such as salt, soap
// and pumice.
func Inert(id string) bool {
	s, err := Find(id)
	return err == nil && slices.Equal(s.Groups, []Group{Neutral})
}

// Called returns what a name means: the id of the substance that has it, or the group
// of a group word such as "acid". Letter case, accents, hyphens and a plural do not
// count. An unknown name is an error of kind Usage that names the nearest.
func Called(text string) (id string, err error) {
	if found := Named(text); len(found) == 1 && plain(found[0].Name) == plain(text) {
		return found[0].ID, nil
	}
	return "", unknown(text)
}

// Named finds the substances that a text names, by id, name or any other name, and the
// group words, in the order of the text. Whole words count, in any letter case, with or
// without accents, joined by blanks, hyphens or brackets, in the plural too, with
// "sulph" for "sulf". Where names overlap, the longest counts: "killed spirits of salt"
// is zinc chloride. It reads names, not meaning: "no vinegar" names acetic acid.
func Named(text string) []Match {
	found, _ := read(text)
	return found
}

// Misspelt finds words that are one letter off a name of seven letters or more, or have
// two letters in each other's place, such as "vinager", and are no name themselves.
func Misspelt(text string) []Match {
	var found []Match
	_, rest := read(text)
	for i := 0; i < len(rest); i++ {
		for n := min(4, len(rest)-i); n > 0; n-- {
			if m, ok := nearName(text, rest[i:i+n]); ok {
				found = append(found, m)
				i += n - 1
				break
			}
		}
	}
	return found
}

// commonWords are right words that stand one letter off a name.
func commonWords() []string {
	return []string{"tarnish", "writing", "waiting", "oxidized", "oxidised", "oxidizes", "oxidises"}
}

// nearName compares words that stand together in a text with the names of as many words.
func nearName(text string, list []word) (Match, bool) {
	var parts []string
	for i, w := range list {
		if i > 0 && (w.apart || w.first) {
			return Match{}, false
		}
		parts = append(parts, w.text)
	}
	joined := strings.Join(parts, " ")
	if len(joined) < 6 || slices.Contains(commonWords(), joined) {
		return Match{}, false
	}
	for _, candidates := range names() {
		for _, n := range candidates {
			if n.id != "" && len(n.words) == len(list) && slip(joined, n.joined) {
				from := list[0].at
				return Match{ID: n.id, Name: text[from:list[len(list)-1].end], Offset: from, Near: n.joined}, true
			}
		}
	}
	return Match{}, false
}

// slip reports whether a word is one letter off a name of seven letters or more, or has
// two of its letters in each other's place.
func slip(word, name string) bool {
	long := len(word) - len(name)
	if len(name) < 7 || long < -1 || long > 1 || word[0] != name[0] && word[len(word)-1] != name[len(name)-1] {
		return false
	}
	switch fault.Changes(word, name) {
	case 1:
		return true
	case 2:
		a, b := []byte(word), []byte(name)
		slices.Sort(a)
		slices.Sort(b)
		return string(a) == string(b)
	}
	return false
}

// read returns the names in a text, and the words that belong to none.
func read(text string) (found []Match, rest []word) {
	list := words(text)
	after := false // a name stood before the word
	for i := 0; i < len(list); {
		n, id := longestName(list[i:])
		if n == 0 {
			list[i].first = after
			rest = append(rest, list[i])
			after = false
			i++
			continue
		}
		if from := list[i].at; id != "" {
			found = append(found, Match{ID: id, Name: text[from:list[i+n-1].end], Offset: from})
		}
		after = true
		i += n
	}
	return found, rest
}

// word is one word of a text, folded, and where it stands.
type word struct {
	text    string
	at, end int
	apart   bool // a mark stands before it that no name spans, such as a comma
	first   bool // a name stands before it
}

// words cuts a text into words of letters and digits, in small letters without accents.
// An apostrophe within a word is dropped.
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
			last.text += fold(r)
			last.end = end
		case in && unicode.Is(unicode.Mn, r): // an accent on its own
			list[len(list)-1].end = end
		case in && (r == '\'' || r == '’'):
		default:
			in = false
			apart = apart || !strings.ContainsRune(" \t\n-_()\u00a0\u2010\u2011", r)
		}
	}
	for i := range list {
		list[i].text = strings.ReplaceAll(list[i].text, "sulph", "sulf")
	}
	return list
}

// fold returns a letter as a small one without accents; a ligature or a wide letter as
// the letters it stands for.
func fold(r rune) string {
	if r < utf8.RuneSelf {
		return string(unicode.ToLower(r))
	}
	return strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Mn, r) {
			return -1
		}
		return unicode.ToLower(r)
	}, norm.NFKD.String(string(r)))
}

// name is one name of a substance or a group, in folded words; without id it means
// something else.
type name struct {
	words  []string
	joined string
	id     string
}

// namesOf returns the names of the substances and the groups by their first word, the
// longest first.
func namesOf(list []Substance) map[string][]name {
	byFirst := map[string][]name{}
	add := func(text, id string) {
		n := name{id: id}
		for _, w := range words(text) {
			n.words = append(n.words, w.text)
		}
		n.joined = strings.Join(n.words, " ")
		byFirst[n.words[0]] = append(byFirst[n.words[0]], n)
	}
	for _, s := range list {
		for _, text := range s.called() {
			add(text, s.ID)
		}
	}
	for text, group := range groupWords() {
		add(text, string(group))
	}
	for _, text := range noNames() {
		add(text, "")
	}
	for _, list := range byFirst {
		slices.SortStableFunc(list, func(a, b name) int { return len(b.words) - len(a.words) })
	}
	return byFirst
}

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
