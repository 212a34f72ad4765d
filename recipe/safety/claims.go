package safety

import (
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode"
)

// claim is a promise that nothing printed here may make: a pattern over the words of a clause
// in lower case, each with a blank behind it.
type claim struct {
	name     string
	deniable bool // a "never" or "not" shortly before turns it into its opposite
	before   int  // at most so many words stand before it in the clause; 0: any number
	pattern  string
	found    *regexp.Regexp // of the pattern, at the start of a text
}

const (
	guards     = `(ventilation|gloves|goggles|precautions?|hood|extraction) `
	respirator = `(respirators?|cartridges?) `
	mask       = `(gas|dust|breathing|filter|half) masks? `
	use        = `(wear|use|wearing|using|choose|with|suitable|approved) (\S+ ){0,5}?`
)

// claims are made ready at their first use.
var claims = sync.OnceValue(func() []claim {
	all := []claim{
		{"safety", false, 0, `(is|are|be|as|it's|now|quite|perfectly|completely|considered|fairly|generally) safe |safe (to|for|at|when|if|enough|in|and|bath|room|level) |safely `, nil},
		{"no harm", false, 0, `harmless|non ?toxic |(becomes?|turns?|is|are|goes) inert |no (real )?(hazard|danger|risk)s? |not (dangerous|hazardous|harmful|toxic|poisonous) |without (risk|danger) `, nil},
		{"a limit kept", false, 0, `(below|under|within) ((the|any|every|all|its|legal|safe) )*(\S+ )?limits? `, nil},
		{"what destroys sulfide", true, 0, `neutrali[sz]\S* (\S+ ){0,3}?(sul(f|ph)ides? |liver of sul)`, nil},
		{"what destroys sulfide", true, 0, `(soda|bicarbonate|bicarb) (\S+ ){0,2}?(destroy|kill|remove|neutrali[sz]e|inactivate|deactivate)s? `, nil},
		{"the drain", true, 0, `(down|into) ((the|a|any|your) )?((drain|sink|sewer|toilet|gutter)s?|lavatory) `, nil},
		{"masks", true, 0, use + `(` + respirator + `|` + mask + `)`, nil},
		{"masks", true, 4, `respirators? |` + mask + `|mask with `, nil},
		{"a classification", false, 0, `class(ed|ified) as |complies |complian(t|ce) |approved |certif|unregulated |not regulated |is (not )?hazardous waste `, nil},
		{"a classification", false, 0, `no (permit|licen[cs]e) ((is|was) )?(needed|necessary|required) |meets? the (law|(rule|regulation|standard)s?) |legal to `, nil},
		{"less protection", false, 0, `no (need )?((for|of|special|extra) )?` + guards + `|(protection |` + guards + `)(\S+ ){0,2}?((not|never) (needed|necessary|required)|unneeded|unnecessary|optional) |unnecessary `, nil},
		{"smell", true, 0, `(you|one|they) (will|can|would) (always )?smell |smell (will )?(warn|tell)s? |as long as you ((can|can't|cannot) )?(not )?smell `, nil},
		{"fitness to work", true, 0, `(is|are) (fit|trained|qualified|competent) (to|for) `, nil},
	}
	for i, c := range all {
		all[i].found = regexp.MustCompile("^(?:" + c.pattern + ")")
	}
	return all
})

var denial = []string{"not", "never", "nothing", "nor", "nobody", "neither", "cannot", "don't"}

// turned tells whether a denial stands in a claim or among the eight words before it.
func turned(before, claim []string) bool {
	before = before[max(0, len(before)-8):]
	in := func(list []string) func(string) bool { return func(w string) bool { return slices.Contains(list, w) } }
	return slices.ContainsFunc(before, in(denial)) || strings.Contains(strings.Join(before, " ")+" ", "no one ") ||
		slices.ContainsFunc(claim, in([]string{"not", "never", "cannot"}))
}

// Claims names, once each, the promises that a text makes and that this program must never
// print: that something is safe or harmless, that a limit is kept, that something destroys
// sulfide which does not, that waste may go down the drain, a choice of respirator, a legal
// classification, less protection than usual, smell as a warning, fitness to work. It reads
// words, not meaning; what it does not find may still be wrong.
func Claims(text string) []string {
	var found []string
	for _, clause := range strings.FieldsFunc(strings.ToLower(plain(text)), func(r rune) bool { return strings.ContainsRune(".;!?()", r) }) {
		words := strings.FieldsFunc(clause, func(r rune) bool { return !unicode.IsLetter(r) && r != '\'' })
		for i := range words {
			rest := strings.Join(words[i:], " ") + " "
			for _, c := range claims() {
				run := c.found.FindString(rest)
				if run == "" || c.before > 0 && i > c.before || slices.Contains(found, c.name) || c.deniable && turned(words[:i], strings.Fields(run)) {
					continue
				}
				found = append(found, c.name)
			}
		}
	}
	return found
}
