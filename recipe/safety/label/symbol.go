package label

import (
	"slices"
	"strings"
)

// Symbol is one of the nine hazard symbols of the Globally Harmonized System.
type Symbol string

// The symbols by their code.
const (
	Bomb        Symbol = "GHS01" // exploding bomb
	Flame       Symbol = "GHS02"
	FlameCircle Symbol = "GHS03" // flame over circle: oxidisers
	Cylinder    Symbol = "GHS04" // gas under pressure
	Corrosion   Symbol = "GHS05"
	Skull       Symbol = "GHS06" // skull and crossbones
	Exclamation Symbol = "GHS07"
	Health      Symbol = "GHS08" // health hazard
	Environment Symbol = "GHS09"
)

// Symbols lists all nine, in the order of their codes.
func Symbols() []Symbol {
	return []Symbol{Bomb, Flame, FlameCircle, Cylinder, Corrosion, Skull, Exclamation, Health, Environment}
}

// Name is the standard English name of a symbol, empty for one that is not in the list.
// Names of 01 to 05: key of Safe Work Australia's HCIS; the others from memory.
func (s Symbol) Name() string {
	switch s {
	case Bomb:
		return "exploding bomb"
	case Flame:
		return "flame"
	case FlameCircle:
		return "flame over circle"
	case Cylinder:
		return "gas cylinder"
	case Corrosion:
		return "corrosion"
	case Skull:
		return "skull and crossbones"
	case Exclamation:
		return "exclamation mark"
	case Health:
		return "health hazard"
	case Environment:
		return "environment"
	}
	return ""
}

// reason is what an exclamation mark stands for, which decides whether it may be left out.
type reason int

const (
	other        reason = iota // harmful, airways, drowsiness, ozone
	irritation                 // of skin or eyes
	skinAllergy                // skin sensitisation
	lungAllergy                // respiratory sensitisation, shown by the health hazard symbol
	poison                     // acute toxicity
	noSymbol                   // a code that has no symbol
	notKnown                   // a code that is not in the list
	manySymbols  = 2           // H241 has two
	longestEntry = 12          // letters of a code that is still looked at
)

// meaning is what a code shows.
type meaning struct {
	symbols []Symbol
	why     reason
	danger  bool // the signal word is Danger, or may be
}

// codeOf brings a code such as "h360fd" or "H350i" to its number: "H360".
func codeOf(code string) string {
	code = strings.ToUpper(strings.TrimSpace(code))
	if len(code) > longestEntry {
		return ""
	}
	if strings.HasPrefix(code, "EUH") {
		return code
	}
	return strings.TrimRight(code, "ABCDEFGHIJKLMNOPQRSTUVWXYZ")
}

// meaningOf gives the symbols of one code. Source: GHS annex 1 and 3, CLP annex V, from
// memory. Where a code stands for two categories the graver one counts.
func meaningOf(code string) meaning {
	one := func(s Symbol, why reason, danger bool) meaning { return meaning{[]Symbol{s}, why, danger} }
	switch codeOf(code) {
	case "H200", "H201", "H202", "H203", "H240":
		return one(Bomb, other, true)
	case "H204":
		return one(Bomb, other, false)
	case "H241":
		return meaning{[]Symbol{Bomb, Flame}, other, true}
	case "H206", "H207", "H208", "H220", "H222", "H224", "H225", "H228", "H232", "H242", "H250", "H251", "H260":
		return one(Flame, other, true)
	case "H223", "H226", "H252", "H261":
		return one(Flame, other, false)
	case "H270", "H271", "H272":
		return one(FlameCircle, other, true)
	case "H280", "H281":
		return one(Cylinder, other, false)
	case "H290":
		return one(Corrosion, other, false)
	case "H314", "H318":
		return one(Corrosion, other, true)
	case "H300", "H301", "H310", "H311", "H330", "H331":
		return one(Skull, poison, true)
	case "H302", "H312", "H332":
		return one(Exclamation, poison, false)
	case "H315", "H319":
		return one(Exclamation, irritation, false)
	case "H317":
		return one(Exclamation, skinAllergy, false)
	case "H335", "H336", "H420":
		return one(Exclamation, other, false)
	case "H334":
		return one(Health, lungAllergy, true)
	case "H304", "H340", "H350", "H360", "H370", "H372":
		return one(Health, other, true)
	case "H305", "H341", "H351", "H361", "H371", "H373":
		return one(Health, other, false)
	case "H400", "H410", "H411":
		return one(Environment, other, false)
	case "H205", "H221", "H227", "H229", "H230", "H231",
		"H303", "H313", "H316", "H320", "H333", "H362",
		"H401", "H402", "H412", "H413",
		"EUH014", "EUH018", "EUH019", "EUH029", "EUH031", "EUH032", "EUH044",
		"EUH066", "EUH070", "EUH071":
		return meaning{why: noSymbol}
	}
	return meaning{why: notKnown}
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
	var exclaims []reason
	add := func(s Symbol) {
		if !slices.Contains(symbols, s) {
			symbols = append(symbols, s)
		}
	}
	lungs := false
	for _, code := range apart(codes) {
		m := meaningOf(code)
		if m.why == notKnown {
			unknown = append(unknown, code)
		}
		lungs = lungs || m.why == lungAllergy
		for _, s := range m.symbols {
			if s == Exclamation {
				exclaims = append(exclaims, m.why)
				continue
			}
			add(s)
		}
	}
	for _, why := range exclaims {
		hidden := slices.Contains(symbols, Skull) ||
			why == irritation && slices.Contains(symbols, Corrosion) ||
			lungs && (why == irritation || why == skinAllergy)
		if !hidden {
			add(Exclamation)
		}
	}
	slices.Sort(symbols)
	return symbols, unknown
}

// apart splits "H302+H332" and drops what is empty or stands there twice.
func apart(codes []string) []string {
	var out []string
	for _, joined := range codes {
		for code := range strings.SplitSeq(joined, "+") {
			code = strings.TrimSpace(code)
			if code != "" && !slices.Contains(out, code) {
				out = append(out, code)
			}
		}
	}
	return out
}

// SignalFor gives the signal word that hazard codes call for: "Danger", "Warning", or
// "" where none is known to call for one. Where a code stands for two categories the
// graver one counts. Source: GHS annex 1, from memory; the SDS decides.
func SignalFor(codes []string) string {
	word := ""
	for _, code := range apart(codes) {
		m := meaningOf(code)
		switch {
		case m.danger:
			return "Danger"
		case len(m.symbols) > 0 && codeOf(code) != "H411", codeOf(code) == "H205":
			word = "Warning"
		}
	}
	return word
}
