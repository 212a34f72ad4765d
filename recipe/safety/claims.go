package safety

import (
	"cmp"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode"
)

// claim is a promise that nothing printed here may make, as runs of words. In a run a
// blank parts the places; a place holds the words that may stand there, parted by "|".
// A word that ends in "~" stands for all that begin so. "?" before a place: it may be
// missing; "*": any number of its words, none as well; "_3": up to three words of any
// kind.
type claim struct {
	name     string
	deniable bool // a "never" or "not" shortly before turns it into its opposite
	before   int  // at most so many words stand before it in the clause; 0: any number
	runs     []string
	pattern  *regexp.Regexp // of all runs, over words with a blank behind each
}

const (
	guards  = "ventilation|gloves|goggles|precaution|precautions|hood|extraction"
	breath  = "respirator|respirators|cartridge|cartridges"
	masks   = " gas|dust|breathing|filter|half mask|masks"
	maskUse = "wear|use|wearing|using|choose|with|suitable|approved _5 "
	whether = "not|never needed|necessary|required"
)

// claims is the table with its patterns made ready.
var claims = sync.OnceValue(func() []claim {
	list := []claim{
		{"safety", false, 0, []string{
			"is|are|be|as|it's|now|quite|perfectly|completely|considered|fairly|generally safe",
			"safe to|for|at|when|if|enough|in|and|bath|room|level", "safely",
		}, nil},
		{"no harm", false, 0, []string{
			"harmless~", "non toxic", "nontoxic", "become|becomes|turn|turns|is|are|goes inert", "no ?real hazard|hazards|danger|dangers|risk|risks",
			"not dangerous|hazardous|harmful|toxic|poisonous", "without risk|danger",
		}, nil},
		{"a limit kept", false, 0, []string{"below|under|within *the|any|every|all|its|legal|safe ?_ limit|limits"}, nil},
		{"what destroys sulfide", true, 0, []string{
			"neutralis~|neutraliz~ _3 sulfide|sulfides|sulphide|sulphides", "neutralis~|neutraliz~ _3 liver of sul~",
			"soda|bicarbonate|bicarb _2 destroy|destroys|kill|kills|remove|removes|neutralise|neutralises|neutralize|neutralizes|inactivate|inactivates|deactivate|deactivates",
		}, nil},
		{"the drain", true, 0, []string{"down|into ?the|a|any|your drain|drains|sink|sinks|sewer|sewers|toilet|toilets|lavatory|gutter|gutters"}, nil},
		{"masks", true, 0, []string{maskUse + breath, maskUse + masks}, nil},
		{"masks", true, 4, []string{"respirator|respirators", masks, "mask with"}, nil},
		{"a classification", false, 0, []string{
			"classed|classified as", "complies|compliant|compliance", "approved", "certif~", "unregulated", "not regulated", "is ?not hazardous waste",
			"no permit|licence|license ?is|was needed|necessary|required", "meet|meets the law|rule|rules|regulation|regulations|standard|standards", "legal to",
		}, nil},
		{"less protection", false, 0, []string{
			"no ?need ?for|of|special|extra " + guards, guards + "|protection _2 " + whether, guards + "|protection _2 unneeded|unnecessary|optional", "unnecessary",
		}, nil},
		{"smell", true, 0, []string{"you|one|they will|can|would ?always smell", "smell ?will warn|warns|tell|tells", "as long as you ?can|can't|cannot ?not smell"}, nil},
		{"fitness to work", true, 0, []string{"is|are fit|trained|qualified|competent to|for"}, nil},
	}
	for i, c := range list {
		var runs []string
		for _, run := range c.runs {
			runs = append(runs, pattern(run))
		}
		list[i].pattern = regexp.MustCompile("^(?:" + strings.Join(runs, "|") + ")")
	}
	return list
})

// pattern turns a run into a regular expression.
func pattern(run string) string {
	var out strings.Builder
	for _, place := range strings.Fields(run) {
		words := strings.TrimLeft(place, "?*")
		one := "(?:" + strings.ReplaceAll(words, "~", `\S*`) + ") "
		if most, any := strings.CutPrefix(words, "_"); any {
			one = `(?:\S+ ){0,` + cmp.Or(most, "1") + "}?"
		}
		out.WriteString("(?:" + one + ")" + strings.TrimSuffix(place, words))
	}
	return out.String()
}

// denial is a word that turns a claim into its opposite.
var denial = []string{"not", "never", "nothing", "nor", "nobody", "neither", "cannot", "don't"}

// turned tells whether a denial stands among the last eight of the words before a claim,
// or in the claim itself.
func turned(before, claim []string) bool {
	before = before[max(0, len(before)-8):]
	in := func(list []string) func(string) bool { return func(w string) bool { return slices.Contains(list, w) } }
	return slices.ContainsFunc(before, in(denial)) || strings.Contains(strings.Join(before, " ")+" ", "no one ") ||
		slices.ContainsFunc(claim, in([]string{"not", "never", "cannot"}))
}

// Claims names the promises that a text makes and that this program must never print:
// that something is safe or harmless, that a limit is kept, that something destroys
// sulfide which does not, that waste may go down the drain, a choice of respirator, a
// legal classification, less protection than usual, smell as a warning, fitness to
// work. Each name comes once. It reads words, not meaning; what it does
// not find may still be wrong.
func Claims(text string) []string {
	var found []string
	for _, clause := range strings.FieldsFunc(strings.ToLower(plain(text)), func(r rune) bool { return strings.ContainsRune(".;!?()", r) }) {
		words := strings.FieldsFunc(clause, func(r rune) bool { return !unicode.IsLetter(r) && r != '\'' })
		for i := range words {
			rest := strings.Join(words[i:], " ") + " "
			for _, c := range claims() {
				run := c.pattern.FindString(rest)
				if run == "" || c.before > 0 && i > c.before || slices.Contains(found, c.name) || c.deniable && turned(words[:i], strings.Fields(run)) {
					continue
				}
				found = append(found, c.name)
			}
		}
	}
	return found
}
