package label

import (
	"embed"
	"html/template"
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
	data, err := drawings.ReadFile("symbols/" + string(s) + ".svg")
	if err != nil {
		return ""
	}
	return template.HTML(data) // our own file
}
