package safety

import (
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"
)

// claim is a promise that nothing printed here may make, as runs of words. In a run a
// blank parts the places; a place holds the words that may stand there, parted by "|".
// A word that ends in "~" stands for all that begin so. "?" before a place: it may be
// missing; "*": any number of its words, none as well; "_3": up to three words of any
// kind; "^4" at the head: at most four words stand before.
type claim struct {
	name string
	// deniable tells that a "never" or "not" shortly before turns it into its opposite.
	deniable bool
	runs     []string
}

const (
	guards  = "ventilation|gloves|goggles|precaution|precautions|hood|extraction"
	breath  = "respirator|respirators|cartridge|cartridges"
	masks   = " gas|dust|breathing|filter|half mask|masks"
	maskUse = "wear|use|wearing|using|choose|with|suitable|approved _5 "
	whether = "not|never needed|necessary|required"
)

func allClaims() []claim {
	return []claim{
		{"safety", false, []string{
			"is|are|be|as|it's|now|quite|perfectly|completely|considered|fairly|generally safe",
			"safe to|for|at|when|if|enough|in|and|bath|room|level", "safely",
		}},
		{"no harm", false, []string{
			"harmless~", "non toxic", "nontoxic", "become|becomes|turn|turns|is|are|goes inert", "no ?real hazard|hazards|danger|dangers|risk|risks",
			"not dangerous|hazardous|harmful|toxic|poisonous", "without risk|danger",
		}},
		{"a limit kept", false, []string{"below|under|within *the|any|every|all|its|legal|safe ?_ limit|limits"}},
		{"what destroys sulfide", true, []string{
			"neutralis~|neutraliz~ _3 sulfide|sulfides|sulphide|sulphides", "neutralis~|neutraliz~ _3 liver of sul~",
			"soda|bicarbonate|bicarb _2 destroy|destroys|kill|kills|remove|removes|neutralise|neutralises|neutralize|neutralizes|inactivate|inactivates|deactivate|deactivates",
		}},
		{"the drain", true, []string{"down|into ?the|a|any|your drain|drains|sink|sinks|sewer|sewers|toilet|toilets|lavatory|gutter|gutters"}},
		{"masks", true, []string{maskUse + breath, maskUse + masks, "^4 respirator|respirators", "^4" + masks, "^4 mask with"}},
		{"a classification", false, []string{
			"classed|classified as", "complies|compliant|compliance", "approved", "certif~", "unregulated", "not regulated", "is ?not hazardous waste",
			"no permit|licence|license ?is|was needed|necessary|required", "meet|meets the law|rule|rules|regulation|regulations|standard|standards", "legal to",
		}},
		{"less protection", false, []string{
			"no ?need ?for|of|special|extra " + guards, guards + "|protection _2 " + whether, guards + "|protection _2 unneeded|unnecessary|optional", "unnecessary",
		}},
		{"smell", true, []string{"you|one|they will|can|would ?always smell", "smell ?will warn|warns|tell|tells", "as long as you ?can|can't|cannot ?not smell"}},
		{"fitness to work", true, []string{"is|are fit|trained|qualified|competent to|for"}},
	}
}

// run is a run of words made ready.
type run struct {
	claim  *claim
	within int // words that may stand before it; -1 for any number
	places []place
}

type place struct {
	words    []string
	any      int // up to so many words of any kind
	optional bool
	many     bool
}

// runs gives the runs by the words with which they begin; those that begin with the
// head of a word, or with any word, stand under "".
var runs = sync.OnceValue(func() map[string][]run {
	byWord := map[string][]run{}
	list := allClaims()
	for i := range list {
		for _, text := range list[i].runs {
			r := run{claim: &list[i], within: -1}
			for _, f := range strings.Fields(text) {
				switch f[0] {
				case '^':
					r.within = int(f[1] - '0')
				case '_':
					n := 1
					if len(f) > 1 {
						n = int(f[1] - '0')
					}
					r.places = append(r.places, place{any: n})
				case '?', '*':
					p := place{words: strings.Split(f[1:], "|"), optional: true, many: f[0] == '*'}
					if f[1:] == "_" {
						p = place{any: 1}
					}
					r.places = append(r.places, p)
				default:
					r.places = append(r.places, place{words: strings.Split(f, "|")})
				}
			}
			for _, w := range r.places[0].words {
				if strings.HasSuffix(w, "~") {
					w = ""
				}
				byWord[w] = append(byWord[w], r)
			}
		}
	}
	return byWord
})

// holds tells whether a word may stand in a place.
func (p place) holds(word string) bool {
	for _, w := range p.words {
		if w == word || w[len(w)-1] == '~' && strings.HasPrefix(word, w[:len(w)-1]) {
			return true
		}
	}
	return false
}

// match gives how many words the places take up, or -1.
func match(places []place, words []string) int {
	if len(places) == 0 {
		return 0
	}
	p := places[0]
	if p.any > 0 {
		for skip := 0; skip <= p.any && skip <= len(words); skip++ {
			if n := match(places[1:], words[skip:]); n >= 0 {
				return n + skip
			}
		}
		return -1
	}
	if len(words) > 0 && p.holds(words[0]) {
		rest := places[1:]
		if p.many {
			rest = places
		}
		if n := match(rest, words[1:]); n >= 0 {
			return n + 1
		}
	}
	if p.optional {
		return match(places[1:], words)
	}
	return -1
}

// turned tells whether a denial stands among the eight words before a place.
func turned(words []string, at int) bool {
	for i := max(0, at-8); i < at; i++ {
		switch words[i] {
		case "not", "never", "nothing", "nor", "nobody", "neither", "cannot", "don't":
			return true
		case "no":
			if i+1 < at && words[i+1] == "one" {
				return true
			}
		}
	}
	return false
}

// Claims names the promises that a text makes and that this program must never print:
// that something is safe or harmless, that a limit is kept, that something destroys
// sulfide which does not, that waste may go down the drain, a choice of respirator, a
// legal classification, less protection than usual, smell as a warning, fitness to
// work. Each name comes once. It reads words, not meaning; what it does
// not find may still be wrong.
func Claims(text string) []string {
	var found []string
	by := runs()
	heads := by[""]
	for _, clause := range split(text, ".;!?()") {
		words := tokens(clause)
		for i, w := range words {
			for _, list := range [2][]run{by[w], heads} {
				for _, r := range list {
					if !r.places[0].holds(w) {
						continue
					}
					if r.within >= 0 && i > r.within || slices.Contains(found, r.claim.name) {
						continue
					}
					n := match(r.places, words[i:])
					if n < 0 || r.claim.deniable && (turned(words, i) || anyWord(words[i:i+n], "not", "never", "cannot")) {
						continue
					}
					found = append(found, r.claim.name)
				}
			}
		}
	}
	return found
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

// anyWord tells whether one of the words wanted is there.
func anyWord(words []string, wanted ...string) bool {
	return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(wanted, w) })
}
