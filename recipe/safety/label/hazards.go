package label

import (
	"cmp"
	"slices"
	"strings"

	"hepar/recipe/reagent"
)

type danger struct {
	codes   []string
	symbols []Symbol
	signal  string   // capitals; empty where there is none
	unknown []string // names of contents, or codes, that are not known
	more    []string // family codes that your own SDS does not list
	own     bool     // every code is from your own SDS
	seen    bool     // every family default was read in its source
}

// dangers sums up the contents. Codes that say less of the same thing are left out.
func dangers(contents []Content) danger {
	d := danger{own: true, seen: true}
	var all []string
	for _, c := range contents {
		codes, signal := c.Codes, c.Signal
		if len(codes) > 0 {
			for _, code := range c.defaults() {
				if c.known() && !slices.Contains(codes, code) {
					d.more = append(d.more, code)
				}
			}
			signal = cmp.Or(signal, SignalFor(codes))
		} else {
			d.own = false
			d.seen = d.seen && c.known() && c.sub.Evidence == reagent.Opened
			codes = c.defaults()
			word, _ := c.sub.Rating(c.Form)
			signal = cmp.Or(signal, word)
			if !c.known() {
				d.unknown, signal = append(d.unknown, c.Name), "Danger"
			}
		}
		all = append(all, codes...)
		if signal == "Danger" || d.signal == "" {
			d.signal = strings.ToUpper(signal)
		}
	}
	all = unique(all)
	var codes []string
	if d.symbols, codes = SymbolsFor(all); len(codes) > 0 {
		d.signal = "DANGER"
	}
	d.unknown = unique(append(d.unknown, codes...))
	d.codes, d.more = withoutLesser(all), unique(d.more)
	return d
}

func (d danger) say(how func(string) string, between string) words {
	var parts []string
	for _, code := range d.codes {
		parts = append(parts, how(code))
	}
	return words(upper(strings.Join(unique(parts), between)) + ".")
}

// origin says where the codes come from and who decides. It is never left out.
func (d danger) origin(brief bool) (all words) {
	if len(d.unknown) > 0 {
		all += bold(upper(strings.Join(d.unknown, ", "))+": "+Unknown+".") + " "
	} else if len(d.codes) == 0 {
		all += "The family default has no code. Read the SDS all the same. "
	}
	switch {
	case brief && !d.own:
		all += "Family default: " + bold("codes from your own SDS.")
	case d.own:
		all += "Codes as entered from your own SDS."
	case d.seen:
		all += "Family default: " + bold("take the codes from your own SDS.")
	default:
		all += "Family default, not verified: " + bold("take the codes from your own SDS.")
	}
	if len(d.more) > 0 {
		all += " " + bold("The family also has "+strings.Join(d.more, ", ")+": check your SDS.")
	}
	if brief {
		all += " Shortened: see the SDS."
	}
	return all + " Workplace label, own drawing; not a supplier label."
}

func (l *Label) warn(d danger) {
	l.Symbols = d.symbols
	if d.signal != "" {
		l.Main = append(l.Main, part{Class: "signal", Words: bold(d.signal)})
	}
	if len(d.codes) > 0 {
		l.Main = append(l.Main, part{Class: "hazards", Words: d.say(statement, ". "), Brief: d.say(shortWords, "; ")})
	}
}

// keepApart puts on a label what to keep it apart from, and the bar with what kills first.
func (l *Label) keepApart(contents []Content) {
	from := apartFrom(contents)
	if len(from) == 0 && slices.ContainsFunc(contents, func(c Content) bool { return len(c.families) == 0 }) {
		from = []string{"everything, until you have read its SDS"}
	}
	shout, why := shoutFor(contents)
	if len(from) > 0 {
		p := part{Class: "apart", Words: bold("Keep apart from") + words(" "+strings.Join(from, ", ")+".")}
		if shout != "" && l.Kind != "waste" {
			p.Order = 2 // the bar says the gravest of it
		}
		l.Main = append(l.Main, p)
	}
	if shout != "" {
		l.End = append(l.End, part{Class: "bar", Parts: []part{
			{Class: "shout", Words: bold(shout)},
			{Class: "why", Words: words(why), Order: 2},
		}})
	}
}

// apartFrom lists, gravest first, what the contents must be kept apart from, by the rules of
// [reagent.Pairs] from severity 3: strong heat or gas.
func apartFrom(contents []Content) []string {
	const keptApart = 3
	var out []string
	pairs := reagent.Pairs()
	slices.SortStableFunc(pairs, func(a, b reagent.Pair) int { return cmp.Compare(b.Severity, a.Severity) })
	for _, p := range pairs {
		if p.Severity < keptApart || p.Severity < reagent.Forbidden && p.B == reagent.Sulfide {
			continue // a weaker sulfide pair frees gas slowly, in a bath: no matter for the shelf
		}
		for _, sides := range [][2]reagent.Group{{p.A, p.B}, {p.B, p.A}} {
			if anyIn(contents, sides[0]) && sides[1] != reagent.Cyanide && sides[1] != reagent.Fluoride { // no workshop should have these
				out = append(out, sides[1].Plural())
			}
		}
	}
	out = unique(out)
	if slices.Contains(out, reagent.Acid.Plural()) {
		out = slices.DeleteFunc(out, func(s string) bool { return s == reagent.OxidizingAcid.Plural() })
	}
	return out
}

// shouts are the words of the bar and the reason: what kills first stands first.
var shouts = []struct {
	groups     []reagent.Group
	shout, why string
}{
	{[]reagent.Group{reagent.Cyanide}, "NO ACID", "Any acid frees hydrogen cyanide, which kills. Not even a drop, not even a wet tool."},
	{[]reagent.Group{reagent.Sulfide}, "NO ACID", "Any acid, even vinegar or a film of pickle, frees hydrogen sulfide, which kills. The nose stops smelling it."},
	{[]reagent.Group{reagent.SilverSalt}, "NO AMMONIA", "Silver salts kept with ammonia make a solid that explodes when touched, dry or wet."},
	{[]reagent.Group{reagent.Hypochlorite}, "NO ACID, NO AMMONIA", "Either frees poisonous gas from bleach: chlorine or chloramines."},
	{[]reagent.Group{reagent.Acid, reagent.OxidizingAcid}, "NO SULFIDE, NO BLEACH", "Acid frees hydrogen sulfide from any sulfide and chlorine from bleach."},
	{[]reagent.Group{reagent.Ammonia}, "NO BLEACH, NO SILVER", "Bleach frees chloramines from ammonia; silver kept with ammonia explodes."},
	{[]reagent.Group{reagent.AcidSalt}, "NO SULFIDE", "The solution is acid enough to free hydrogen sulfide."},
}

func shoutFor(contents []Content) (shout, why string) {
	for _, s := range shouts {
		if anyIn(contents, s.groups...) {
			return s.shout, s.why
		}
	}
	if slices.ContainsFunc(contents, func(c Content) bool { return len(c.families)+len(c.Codes) == 0 }) {
		return "UNKNOWN", "Treat as the worst known family; read its SDS before use."
	}
	return "", ""
}
