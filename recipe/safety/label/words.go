package label

import (
	"slices"
	"strings"

	"hepar/recipe/reagent"
)

// Unknown is what stands on a label where a hazard is not known.
const Unknown = "UNKNOWN - treat as the worst known family"

// statement gives the words of a code with the code behind them.
func statement(code string) string {
	if meaningOf(code).why == notKnown {
		return code + ": " + Unknown
	}
	for _, c := range []string{code, codeOf(code)} {
		if words, ok := reagent.Statement(c); ok {
			return words + " (" + code + ")"
		}
	}
	return code + ": see the SDS"
}

// shortWords gives a code in two or three plain words. Own wording.
func shortWords(code string) string {
	if meaningOf(code).why == notKnown {
		return code + ": " + Unknown
	}
	switch codeOf(code) {
	case "H200", "H201", "H202", "H203", "H204", "H205", "H206", "H207", "H208", "H240", "H241":
		return "explosive"
	case "H220", "H222", "H223", "H224", "H225", "H226", "H228":
		return "catches fire"
	case "H250", "H251", "H252", "H260", "H261":
		return "fire by itself or with water"
	case "H270", "H271", "H272":
		return "feeds fire"
	case "H280", "H281":
		return "under pressure"
	case "H290":
		return "eats metals"
	case "H300":
		return "kills if swallowed"
	case "H310":
		return "kills through the skin"
	case "H330":
		return "kills if breathed in"
	case "H301":
		return "poisonous if swallowed"
	case "H311":
		return "poisonous through the skin"
	case "H331":
		return "poisonous to breathe"
	case "H302":
		return "harmful if swallowed"
	case "H312":
		return "harmful through the skin"
	case "H332":
		return "harmful to breathe"
	case "H304", "H305":
		return "harms the lungs if swallowed"
	case "H314":
		return "burns skin and eyes"
	case "H318":
		return "damages eyes"
	case "H315":
		return "irritates skin"
	case "H319":
		return "irritates eyes"
	case "H317":
		return "skin allergy"
	case "H334":
		return "allergy of the lungs"
	case "H335":
		return "irritates the airways"
	case "H336":
		return "makes drowsy"
	case "H340", "H341":
		return "genetic damage"
	case "H350", "H351":
		return "cancer"
	case "H360", "H361", "H362":
		return "harms fertility or the unborn"
	case "H370", "H371", "H372", "H373":
		return "damages organs"
	case "H400", "H410", "H411":
		return "poisons water life"
	case "H412", "H413":
		return "harms water life"
	case "EUH031":
		return "ACID FREES POISONOUS GAS"
	case "EUH032":
		return "ACID FREES DEADLY GAS"
	case "EUH066":
		return "dries the skin"
	case "EUH071":
		return "burns the airways"
	}
	return statement(code)
}

// keepFrom is the severity from which a meeting is printed: 3, strong heat or gas.
const keepFrom = 3

// apartFrom lists, gravest first, what the contents must be kept apart from, by the
// rules of [reagent.Pairs].
func apartFrom(contents []Content) []string {
	var out []string
	for severity := 5; severity >= keepFrom; severity-- {
		for _, h := range reagent.Pairs() {
			if h.Severity != severity {
				continue
			}
			if h.Severity < reagent.Forbidden && h.B == reagent.Sulfide {
				continue // frees gas slowly, in a bath: nothing for the shelf
			}
			for _, c := range contents {
				if c.in(h.A) {
					out = append(out, partner(h.B)...)
				}
				if c.in(h.B) {
					out = append(out, partner(h.A)...)
				}
			}
		}
	}
	out = unique(out)
	if slices.Contains(out, reagent.Acid.Plural()) {
		out = slices.DeleteFunc(out, func(s string) bool { return s == reagent.OxidizingAcid.Plural() })
	}
	return out
}

// partner names the other side of a pair. What no workshop should have is left out.
func partner(g reagent.Group) []string {
	if g == reagent.Cyanide || g == reagent.Fluoride {
		return nil
	}
	return []string{g.Plural()}
}

func unique(list []string) []string {
	var out []string
	for _, s := range list {
		if !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// shoutFor gives the words of the last bar and what stands beside them: what kills
// first. The gas and the acids are those of [reagent.Pairs].
func shoutFor(contents []Content) (shout, why string) {
	in := func(groups ...reagent.Group) bool {
		return slices.ContainsFunc(contents, func(c Content) bool { return c.in(groups...) })
	}
	switch {
	case in(reagent.Cyanide):
		return "NO ACID", "Any acid frees hydrogen cyanide, which kills. Not even a drop, not even a wet tool."
	case in(reagent.Sulfide):
		return "NO ACID", "Any acid, even vinegar or a film of pickle, frees hydrogen sulfide, which kills. The nose stops smelling it."
	case in(reagent.Hypochlorite):
		return "NO ACID, NO AMMONIA", "Either frees poisonous gas from bleach: chlorine or chloramines."
	case in(reagent.Acid, reagent.OxidizingAcid):
		return "NO SULFIDE, NO BLEACH", "Acid frees hydrogen sulfide from any sulfide and chlorine from bleach."
	case in(reagent.AcidSalt):
		return "NO SULFIDE", "The solution is acid enough to free hydrogen sulfide."
	}
	for _, c := range contents {
		if len(c.groups()) == 0 && len(c.Codes) == 0 {
			return "UNKNOWN", "Treat as the worst known family; read its SDS before use."
		}
	}
	return "", ""
}

// join writes a list with commas.
func join(list []string) string { return strings.Join(list, ", ") }
