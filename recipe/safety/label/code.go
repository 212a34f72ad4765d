package label

import (
	"slices"
	"strings"

	"hepar/recipe/reagent"
)

// Unknown is what stands on a label where a hazard is not known.
const Unknown = "UNKNOWN - treat as the worst known family"

// kind is what an exclamation mark stands for, which decides whether it may be left out.
type kind int

const (
	other       kind = iota
	irritation       // of skin or eyes
	skinAllergy      // skin sensitisation
	lungAllergy      // respiratory sensitisation, shown by the health hazard symbol
)

// meaning is what the label knows of some hazard codes.
type meaning struct {
	codes   string // "H206 H207"
	short   string // own wording for a small label; empty for the full statement
	symbols []Symbol
	signal  string // Danger, Warning or empty
	kind    kind
	unless  string // codes that say more of the same thing, so that these are left out
}

// meanings lists the codes. Symbols and signal words: GHS annex 1 and 3, CLP annex V, from
// memory; where a code stands for two categories the graver one counts. Codes left out
// beside others: CLP Article 27 (no evident repetition), from memory.
var meanings = []meaning{
	{codes: "H200 H201 H202 H203 H240", short: "explosive", symbols: []Symbol{Bomb}, signal: "Danger"},
	{codes: "H204", short: "explosive", symbols: []Symbol{Bomb}, signal: "Warning"},
	{codes: "H205", short: "explosive", signal: "Warning"},
	{codes: "H241", short: "explosive", symbols: []Symbol{Bomb, Flame}, signal: "Danger"},
	{codes: "H206 H207 H208", short: "explosive", symbols: []Symbol{Flame}, signal: "Danger"},
	{codes: "H220 H222 H224 H225 H228 H242", short: "catches fire", symbols: []Symbol{Flame}, signal: "Danger"},
	{codes: "H223 H226", short: "catches fire", symbols: []Symbol{Flame}, signal: "Warning"},
	{codes: "H232 H250 H251 H260", short: "fire by itself or with water", symbols: []Symbol{Flame}, signal: "Danger"},
	{codes: "H252 H261", short: "fire by itself or with water", symbols: []Symbol{Flame}, signal: "Warning"},
	{codes: "H270 H271 H272", short: "feeds fire", symbols: []Symbol{FlameCircle}, signal: "Danger"},
	{codes: "H280 H281", short: "under pressure", symbols: []Symbol{Cylinder}, signal: "Warning"},
	{codes: "H290", short: "eats metals", symbols: []Symbol{Corrosion}, signal: "Warning"},
	{codes: "H314", short: "burns skin and eyes", symbols: []Symbol{Corrosion}, signal: "Danger"},
	{codes: "H318", short: "damages eyes", symbols: []Symbol{Corrosion}, signal: "Danger", unless: "H314"},
	{codes: "H300", short: "kills if swallowed", symbols: []Symbol{Skull}, signal: "Danger"},
	{codes: "H310", short: "kills through the skin", symbols: []Symbol{Skull}, signal: "Danger"},
	{codes: "H330", short: "kills if breathed in", symbols: []Symbol{Skull}, signal: "Danger"},
	{codes: "H301", short: "poisonous if swallowed", symbols: []Symbol{Skull}, signal: "Danger", unless: "H300"},
	{codes: "H311", short: "poisonous through the skin", symbols: []Symbol{Skull}, signal: "Danger", unless: "H310"},
	{codes: "H331", short: "poisonous to breathe", symbols: []Symbol{Skull}, signal: "Danger", unless: "H330"},
	{codes: "H302", short: "harmful if swallowed", symbols: []Symbol{Exclamation}, signal: "Warning", unless: "H300 H301"},
	{codes: "H312", short: "harmful through the skin", symbols: []Symbol{Exclamation}, signal: "Warning", unless: "H310 H311"},
	{codes: "H332", short: "harmful to breathe", symbols: []Symbol{Exclamation}, signal: "Warning", unless: "H330 H331"},
	{codes: "H315", short: "irritates skin", symbols: []Symbol{Exclamation}, signal: "Warning", kind: irritation, unless: "H314"},
	{codes: "H319", short: "irritates eyes", symbols: []Symbol{Exclamation}, signal: "Warning", kind: irritation, unless: "H314 H318"},
	{codes: "H317", short: "skin allergy", symbols: []Symbol{Exclamation}, signal: "Warning", kind: skinAllergy},
	{codes: "H334", short: "allergy of the lungs", symbols: []Symbol{Health}, signal: "Danger", kind: lungAllergy},
	{codes: "H335", short: "irritates the airways", symbols: []Symbol{Exclamation}, signal: "Warning", unless: "EUH071"},
	{codes: "H336", short: "makes drowsy", symbols: []Symbol{Exclamation}, signal: "Warning"},
	{codes: "H420", symbols: []Symbol{Exclamation}, signal: "Warning"},
	{codes: "H304", short: "harms the lungs if swallowed", symbols: []Symbol{Health}, signal: "Danger"},
	{codes: "H305", short: "harms the lungs if swallowed", symbols: []Symbol{Health}, signal: "Warning"},
	{codes: "H340", short: "genetic damage", symbols: []Symbol{Health}, signal: "Danger"},
	{codes: "H341", short: "genetic damage", symbols: []Symbol{Health}, signal: "Warning"},
	{codes: "H350", short: "cancer", symbols: []Symbol{Health}, signal: "Danger"},
	{codes: "H351", short: "cancer", symbols: []Symbol{Health}, signal: "Warning"},
	{codes: "H360", short: "harms fertility or the unborn", symbols: []Symbol{Health}, signal: "Danger"},
	{codes: "H361", short: "harms fertility or the unborn", symbols: []Symbol{Health}, signal: "Warning"},
	{codes: "H362", short: "harms fertility or the unborn"},
	{codes: "H370 H372", short: "damages organs", symbols: []Symbol{Health}, signal: "Danger"},
	{codes: "H371", short: "damages organs", symbols: []Symbol{Health}, signal: "Warning"},
	{codes: "H373", short: "damages organs", symbols: []Symbol{Health}, signal: "Warning", unless: "H372"},
	{codes: "H410", short: "poisons water life", symbols: []Symbol{Environment}, signal: "Warning"},
	{codes: "H400", short: "poisons water life", symbols: []Symbol{Environment}, signal: "Warning", unless: "H410"},
	{codes: "H411", short: "poisons water life", symbols: []Symbol{Environment}, unless: "H400 H410"},
	{codes: "H412", short: "harms water life", unless: "H400 H410 H411"},
	{codes: "H413", short: "harms water life"},
	{codes: "EUH031", short: "ACID FREES POISONOUS GAS", unless: "EUH032"},
	{codes: "EUH032", short: "ACID FREES DEADLY GAS"},
	{codes: "EUH066", short: "dries the skin"},
	{codes: "EUH071", short: "burns the airways"},
	{codes: "H221 H227 H229 H230 H231 H303 H313 H316 H320 H333 H401 H402"},
	{codes: "EUH014 EUH018 EUH019 EUH029 EUH044 EUH070"},
}

// meaningOf returns what a code means, and false for one that is not in the list.
func meaningOf(code string) (meaning, bool) {
	code = codeOf(code)
	for _, m := range meanings {
		if code != "" && slices.Contains(strings.Fields(m.codes), code) {
			return m, true
		}
	}
	return meaning{}, false
}

// codeOf brings a code such as "h360fd" or "H350i" to its number: "H360".
func codeOf(code string) string {
	code = strings.ToUpper(strings.TrimSpace(code))
	if strings.HasPrefix(code, "EUH") {
		return code
	}
	return strings.TrimRight(code, "ABCDEFGHIJKLMNOPQRSTUVWXYZ")
}

// apart splits "H302+H332" and drops what is empty or stands there twice.
func apart(codes []string) []string {
	var out []string
	for _, joined := range codes {
		for code := range strings.SplitSeq(joined, "+") {
			if code = strings.TrimSpace(code); code != "" {
				out = append(out, code)
			}
		}
	}
	return unique(out)
}

// withoutLesser leaves out codes that say less than another one there.
func withoutLesser(codes []string) []string {
	var out []string
	for _, code := range codes {
		m, _ := meaningOf(code)
		if !slices.ContainsFunc(codes, func(c string) bool { return slices.Contains(strings.Fields(m.unless), codeOf(c)) }) {
			out = append(out, code)
		}
	}
	return out
}

// SymbolsFor chooses the symbols for hazard codes, in the order of their numbers, and
// returns the codes it does not know. Codes joined by a plus sign are taken apart.
//
// The order of precedence is that of CLP Article 26 and 29 CFR 1910.1200 appendix C.2, from
// memory: no exclamation mark beside the skull, none for irritation of skin or eyes
// beside corrosion, none for skin allergy or irritation beside a health hazard that
// stands for allergy of the lungs. Flame, oxidiser and cylinder, which may be left out
// in some company, are kept.
func SymbolsFor(codes []string) (symbols []Symbol, unknown []string) {
	var exclaims []kind
	lungs := false
	for _, code := range apart(codes) {
		m, known := meaningOf(code)
		if !known {
			unknown = append(unknown, code)
		}
		lungs = lungs || m.kind == lungAllergy
		for _, s := range m.symbols {
			if s == Exclamation {
				exclaims = append(exclaims, m.kind)
			} else {
				symbols = append(symbols, s)
			}
		}
	}
	for _, k := range exclaims {
		hidden := slices.Contains(symbols, Skull) ||
			k == irritation && slices.Contains(symbols, Corrosion) ||
			lungs && (k == irritation || k == skinAllergy)
		if !hidden {
			symbols = append(symbols, Exclamation)
		}
	}
	slices.Sort(symbols)
	return slices.Compact(symbols), unknown
}

// SignalFor returns the signal word that hazard codes call for: "Danger", "Warning", or
// "" where none is known to call for one. The SDS decides.
func SignalFor(codes []string) string {
	word := ""
	for _, code := range apart(codes) {
		if m, _ := meaningOf(code); m.signal == "Danger" || word == "" {
			word = m.signal
		}
	}
	return word
}

// statement returns the words of a code with the code behind them.
func statement(code string) string {
	if _, known := meaningOf(code); !known {
		return code + ": " + Unknown
	}
	for _, c := range []string{code, codeOf(code)} {
		if words, ok := reagent.Statement(c); ok {
			return words + " (" + code + ")"
		}
	}
	return code + ": see the SDS"
}

// shortWords returns a code in two or three plain words.
func shortWords(code string) string {
	if m, _ := meaningOf(code); m.short != "" {
		return m.short
	}
	return statement(code)
}
