package shop

import (
	"fmt"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/strict"
)

// Piece is a piece that comes again: what it says is said as flags of hepar prepare.
type Piece struct {
	Name   string
	Recipe string            // the usual one; empty if it has none
	Said   map[string]string // by flag: "diameter" -> "24 mm"
}

// PieceFlags are the flags that a piece may say, with an example each.
var PieceFlags = [][2]string{{"alloy", "sterling-925"}, {"shape", "disc"}, {"diameter", "24 mm"}, {"thickness", "1.6 mm"}, {"length", "30 mm"}, {"width", "12 mm"},
	{"height", "8 mm"}, {"inside", "18 mm"}, {"wire", "1 mm"}, {"area", "10 cm2"}, {"mass", "7.5 g"}, {"relief", "1.15"}, {"vessel", "tub"}, {"group", "2"}}

// entries are the settings of a piece, which reading puts into p.
func (p *Piece) entries() []entry {
	list := []entry{
		{"name", `"token-24"`, "", required, words(&p.Name, 60, pieceName)},
		{"recipe", `"silver-black"`, "the usual one", NotSet, words(&p.Recipe, 80, text)},
	}
	for _, f := range PieceFlags {
		list = append(list, entry{f[0], fmt.Sprintf("%q", f[1]), "", NotSet, value{read: func(t strict.Table, e entry) {
			p.Said[e.key] = t.Text(e.key, 60, false, e.cure())
		}}})
	}
	return list
}

// Piece returns the piece of a name. The error names the nearest.
func (s Shop) Piece(name string) (Piece, error) {
	var names []string
	for _, p := range s.Pieces {
		if p.Name == name {
			return p, nil
		}
		names = append(names, p.Name)
	}
	err := fault.Usagef("the shop file has no piece %s", strict.Excerpt(name)).At("--piece")
	if len(names) == 0 {
		return Piece{}, err.Try("describe the piece by flags once, and add --save-piece %s", name)
	}
	return Piece{}, err.Try("%sit has %s", strict.Meant(name, names), strings.Join(names, ", "))
}

// Line returns the piece as it stands in a shop file.
func (p Piece) Line() string {
	var b strings.Builder
	fmt.Fprintf(&b, "\n[[piece]]\nname = %q\n", p.Name)
	if p.Recipe != "" {
		fmt.Fprintf(&b, "recipe = %q\n", p.Recipe)
	}
	for _, f := range PieceFlags {
		if said := p.Said[f[0]]; said != "" {
			fmt.Fprintf(&b, "%s = %q\n", f[0], said)
		}
	}
	return b.String()
}
