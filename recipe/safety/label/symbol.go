package label

import (
	"embed"
	"html/template"
	"slices"
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

// symbols lists all nine, in the order of their codes.
var symbols = []Symbol{Bomb, Flame, FlameCircle, Cylinder, Corrosion, Skull, Exclamation, Health, Environment}

// names of the symbols. 01 to 05: key of Safe Work Australia's HCIS; the others from memory.
var names = []string{"exploding bomb", "flame", "flame over circle", "gas cylinder", "corrosion",
	"skull and crossbones", "exclamation mark", "health hazard", "environment"}

// Name returns the standard English name of a symbol, empty for one that is not in the list.
func (s Symbol) Name() string {
	if i := slices.Index(symbols, s); i >= 0 {
		return names[i]
	}
	return ""
}

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
	data, err := drawings.ReadFile("symbols/" + string(s) + ".svg")
	if err != nil {
		return ""
	}
	return template.HTML(data) // our own file
}
