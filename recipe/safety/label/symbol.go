package label

import (
	"embed"
	"html/template"
	"slices"
	"strings"
	"sync"

	"hepar/recipe/reagent"
)

// Symbol is one of the nine hazard symbols of the Globally Harmonized System.
type Symbol string

// The symbols that decide about others.
const (
	Corrosion   Symbol = "GHS05"
	Skull       Symbol = "GHS06"
	Exclamation Symbol = "GHS07"
)

// names of the symbols. 01 to 05: key of Safe Work Australia's HCIS; the others from memory.
var names = map[Symbol]string{
	"GHS01": "exploding bomb", "GHS02": "flame", "GHS03": "flame over circle", "GHS04": "gas cylinder", Corrosion: "corrosion",
	Skull: "skull and crossbones", Exclamation: "exclamation mark", "GHS08": "health hazard", "GHS09": "environment",
}

// Name returns the standard English name of a symbol, empty for one that is not in the list.
func (s Symbol) Name() string { return names[s] }

// drawings were made by hand for this project, after the standard meaning of each symbol,
// in a square of 100 by 100 that stands on its point: black on white, few and heavy shapes,
// so that at 16 mm they hold on a cheap printer. The border is black; on a label for goods
// that are shipped it has to be red (29 CFR 1910.1200 appendix C.2.3, CLP Annex I 1.2.1,
// from memory).
//
//go:embed symbols/*.svg
var drawings embed.FS

// Drawing returns the symbol as an svg element, empty for one that is not in the list.
func (s Symbol) Drawing() template.HTML {
	data, _ := drawings.ReadFile("symbols/" + string(s) + ".svg")
	return template.HTML(data) // our own file
}

// Unknown is what stands on a label where a hazard is not known.
const Unknown = "UNKNOWN - treat as the worst known family"

// meaning is what the label knows of some hazard codes.
type meaning struct {
	codes   []string
	short   string   // own wording for a small label; empty for the full statement
	symbols string   // parted by blanks
	signal  string   // Danger, Warning or empty
	kind    string   // what decides whether an exclamation mark may be left out
	unless  []string // codes that say more of the same thing, so that these are left out
}

// The table of codes. Symbols and signal words: GHS annex 1 and 3, CLP annex V, from memory;
// where a code stands for two categories the graver one counts. Codes left out beside
// others: CLP Article 27 (no evident repetition), from memory.
//
//go:embed codes.csv
var table string

var meanings = sync.OnceValue(func() (all []meaning) {
	for line := range strings.Lines(table) {
		f := strings.Split(strings.TrimSpace(line), ",")
		all = append(all, meaning{strings.Fields(f[0]), f[1], f[2], f[3], f[4], strings.Fields(f[5])})
	}
	return all[1:]
})

func meaningOf(code string) (meaning, bool) {
	code = codeOf(code)
	for _, m := range meanings() {
		if slices.Contains(m.codes, code) {
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
		if !slices.ContainsFunc(codes, func(c string) bool { return slices.Contains(m.unless, codeOf(c)) }) {
			out = append(out, code)
		}
	}
	return out
}

// SymbolsFor chooses the symbols for hazard codes, in the order of their numbers, and returns
// the codes it does not know. It takes codes joined by a plus sign apart.
//
// Precedence as in CLP Article 26 and 29 CFR 1910.1200 appendix C.2, from memory: no
// exclamation mark beside the skull, none for irritation of skin or eyes beside corrosion,
// none for skin allergy or irritation beside a health hazard that stands for allergy of the
// lungs. Flame, oxidiser and cylinder, which may be left out in some company, are kept.
func SymbolsFor(codes []string) (symbols []Symbol, unknown []string) {
	var exclaims []string
	lungs := false
	for _, code := range apart(codes) {
		m, known := meaningOf(code)
		if !known {
			unknown = append(unknown, code)
		}
		lungs = lungs || m.kind == "lung allergy"
		for s := range strings.FieldsSeq(m.symbols) {
			if Symbol(s) == Exclamation {
				exclaims = append(exclaims, m.kind)
			} else {
				symbols = append(symbols, Symbol(s))
			}
		}
	}
	for _, k := range exclaims {
		hidden := slices.Contains(symbols, Skull) ||
			k == "irritation" && slices.Contains(symbols, Corrosion) ||
			lungs && (k == "irritation" || k == "skin allergy")
		if !hidden {
			symbols = append(symbols, Exclamation)
		}
	}
	slices.Sort(symbols)
	return slices.Compact(symbols), unknown
}

// SignalFor returns the signal word that hazard codes call for: "Danger", "Warning", or "".
// The SDS decides.
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
