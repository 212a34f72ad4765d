package safety

import (
	"regexp"
	"slices"
	"sync"
)

// claim is a promise that nothing printed here may make.
type claim struct {
	name string
	say  *regexp.Regexp
	// unless, where set, is what must stand before it in the same clause to turn it
	// into its opposite: "never down the drain".
	unless *regexp.Regexp
}

var claims = sync.OnceValue(func() []claim {
	denied := regexp.MustCompile(`\b(not|never|nothing|nor|no one|nobody|neither|cannot|don't)(\W+\w+){0,7}\W+$`)
	c := func(name, say string, unless *regexp.Regexp) claim {
		return claim{name, regexp.MustCompile(say), unless}
	}
	return []claim{
		c("safety", `\b(is|are|be|as|it's|now|quite|perfectly|completely|considered|fairly|generally) safe\b|\bsafe (to|for|at|when|if|enough|in|and|bath|room|level)\b|\bsafely\b`, nil),
		c("no harm", `\bharmless|\bnon-?toxic|\b(becomes?|turns?|is|are|goes) inert\b|\bno (real )?(hazard|danger|risk)s?\b|\bnot (dangerous|hazardous|harmful|toxic|poisonous)\b|\bwithout (risk|danger)\b`, nil),
		c("a limit kept", `\b(below|under|within) (the |any |every |all |its |legal |safe )*(\w+ )?limits?\b`, nil),
		c("what destroys sulfide", `\bneutrali[sz]\w*( \w+){0,3} (sulfides?|sulphides?|liver of sul\w+)|\b(soda|bicarbonate|bicarb)( \w+){0,2} (destroys?|kills?|removes?|neutrali[sz]es?|inactivates?|deactivates?)\b`, denied),
		c("the drain", `\b(down|into) (the |a |any |your )?(drain|sink|sewer|toilet|lavatory|gutter)s?\b`, denied),
		c("masks", `\b(wear|use|wearing|using|choose|with|suitable|approved)\b( \w+){0,5} (respirators?|gas masks?|dust masks?|breathing masks?|filter masks?|cartridges?)\b|^\W*(\w+ ){0,4}(respirator|gas mask|dust mask|mask with|half mask)`, denied),
		c("a classification", `\bclass(ed|ified) as\b|\bcompli(es|ant|ance)\b|\bapproved\b|\bcertif\w+|\bunregulated\b|\bnot regulated\b|\bis (not )?hazardous waste\b|\bno (permit|licen[cs]e) (is |was )?(needed|necessary|required)\b|\bmeets? the (law|rules?|regulations?|standards?)\b|\blegal to\b`, nil),
		c("less protection", `\bno (need for |need of |special |extra )?(ventilation|gloves|goggles|precautions?|hood|extraction)\b|\b(ventilation|gloves|goggles|precautions?|hood|extraction|protection)( \w+){0,2} (not|un|never)\s?(needed|necessary|required)\b|\bunnecessary\b|\b(ventilation|gloves|goggles|protection)( \w+){0,2} (optional)\b`, nil),
		c("smell", `\b(you|one|they) (will|can|would) (always )?smell\b|\bsmell (will )?(warns?|tells?)\b|\bas long as you (can)?('t| not)? ?smell\b`, denied),
	}
})

// Claims names the promises that a text makes and that this program must never print:
// that something is safe or harmless, that a limit is kept, that something destroys
// sulfide which does not, that waste may go down the drain, a choice of respirator, a
// legal classification, less protection than usual, smell as a warning. Each name comes
// once. It reads words, not meaning; what it does not find may still be wrong.
func Claims(text string) []string {
	var found []string
	for _, clause := range split(text, ".;!?") {
		for _, c := range claims() {
			for _, at := range c.say.FindAllStringIndex(clause, -1) {
				within := tokens(clause[at[0]:at[1]])
				if c.unless != nil && (c.unless.MatchString(clause[:at[0]]) || anyWord(within, "not", "never", "cannot")) {
					continue
				}
				if !slices.Contains(found, c.name) {
					found = append(found, c.name)
				}
			}
		}
	}
	return found
}
