// Package shop reads the workshop's own settings, shop.toml: balance, water, room, vessels,
// hands, minutes and rates, the people and what applies to them, and the exposure limits that
// the workshop keeps to.
//
// Call [Read]. One reading finds everything that is wrong, with line, column and cure (see
// package strict). One table, in table.go, holds all there is to know of a setting; reading,
// checking, [Shop.Settings] and [Template] follow it, so a new setting is one line in it.
//
// A [Shop] is in range and in the units of its types, and a setting that is missing from the
// file never passes as given. Nothing in it lowers a hazard: what applies to a person only adds
// to a review, and a limit of the workshop's own is printed with its reason.
package shop

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"text/tabwriter"

	"hepar/recipe/bath"
	"hepar/recipe/bath/plan"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
	"hepar/recipe/safety"
	"hepar/recipe/safety/gas"
	"hepar/recipe/strict"
)

// Shop is the workshop. A zero field is not set, unless its comment says more.
type Shop struct {
	File   string // where it was read from
	Name   string
	Person string   // who works at the bench if no flag names somebody
	People []string // all who work at the bench, Person and Workers included
	Units  measure.System

	Bath bath.Shop // what a sheet is computed with

	Room     gas.Room
	Vessels  map[string]Vessel // by name
	Rack     int               // pieces that one rack holds; 0 where not set
	ByHand   bool              // pieces go in and out one by one
	Heat     plan.Heat         // what warms a bath
	Pieces   []Piece
	Currency string // the word for the money of all rates; may be empty
	Workers  []safety.Person
	Limits   []gas.Limit // the workshop's own

	// Substances are for [reagent.Declare], before a recipe is read.
	Substances []reagent.Substance

	given []Setting // as they stand in the file
	rated string    // the first rate
}

// Vessel is a vessel with what belongs to it.
type Vessel struct {
	plan.Vessel
	Lid     bool    // it has one
	HeaterW float64 // W, steady; 0 for none
}

// Piece is a piece that comes again: what it says is said as flags of hepar prepare.
type Piece struct {
	Name   string
	Recipe string            // the usual one; empty if it has none
	Said   map[string]string // by flag: "diameter" -> "24 mm"
}

// PieceFlags are the flags that a piece may say, with an example each.
var PieceFlags = [][2]string{{"alloy", "sterling-925"}, {"shape", "disc"}, {"diameter", "24 mm"}, {"thickness", "1.6 mm"}, {"length", "30 mm"}, {"width", "12 mm"},
	{"height", "8 mm"}, {"inside", "18 mm"}, {"wire", "1 mm"}, {"area", "10 cm2"}, {"mass", "7.5 g"}, {"relief", "1.15"}, {"vessel", "tub"}, {"group", "2"}}

var file = strict.Kind{Name: "shop file", Sample: "hepar shop --template", Missing: "print one to fill in: hepar shop --template",
	Further: "begin another vessel with [[vessel]]; put what applies to a person under [[worker]]"}

// Read reads a shop file. The error names all that is wrong (see [strict.Findings]), and the
// Shop is empty then.
func Read(path string) (Shop, error) {
	s := Shop{File: path}
	if err := file.Read(path, s.read); err != nil {
		return Shop{}, err
	}
	return s, nil
}

// Worker returns what applies to a person, in any letter case; false where no [[worker]] does.
func (s Shop) Worker(name string) (w safety.Person, ok bool) {
	for _, w := range s.Workers {
		if strings.EqualFold(w.Name, strings.TrimSpace(name)) {
			return w, true
		}
	}
	return w, false
}

// Full returns the name of the one person at the bench that a name is or begins, in any letter
// case: "marek" is "Marek Oja". It returns any other name as it is.
func (s Shop) Full(name string) string {
	typed, full := strings.ToLower(strings.TrimSpace(name)), ""
	for _, known := range s.People {
		switch at := strings.ToLower(known); {
		case at == typed:
			return known
		case typed != "" && strings.HasPrefix(at, typed+" ") && full == "":
			full = known
		case strings.HasPrefix(at, typed+" "): // two of them
			return name
		}
	}
	return cmp.Or(full, name)
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

// Setting is one thing that the shop file can set, and what counts if it does not.
type Setting struct {
	Key   string `json:"key"`   // "balance.readability", "vessel tub"
	Value string `json:"value"` // with its unit; empty where nothing is set
	From  string `json:"from"`  // "shop.toml:12", or a word such as [Practice]
}

// Settings lists every setting in the order of [Template], also of an empty Shop, with the
// value that counts and where it comes from: as the file has it, or a default in the shop's
// units.
func (s Shop) Settings() []Setting {
	var list []Setting
	unset := Shop{Bath: bath.DefaultShop(), Units: s.Units}
	unset.Bath.Pace = plan.DefaultPace
	for _, g := range groups(&unset) {
		if g.row { // those that the file has
			list = append(list, slices.DeleteFunc(slices.Clone(s.given), func(one Setting) bool { return !strings.HasPrefix(one.Key, g.name+" ") })...)
			continue
		}
		for _, e := range g.entries {
			one := Setting{Key: g.path(e), From: e.unset}
			if i := s.set(one.Key); i >= 0 {
				one = s.given[i]
			} else if strings.HasPrefix(e.unset, "default") {
				one.Value = e.value.show()
			}
			list = append(list, one)
		}
	}
	return list
}

const templateHead = `# The settings of your workshop, for hepar. All of them are optional.
# To set one, remove the # right in front of it and put in your own value; the values
# here are examples, not advice. A setting that you leave out takes a default, and every
# sheet lists that default among its assumptions. "hepar shop" shows what counts.
# A quantity is text with a unit: "19 C", "0.1 g", "1 min 30 s".
`

// Template returns a commented shop file that sets nothing. A # with no blank after it marks a
// setting; without these marks the file sets everything.
func Template() []byte {
	var b strings.Builder
	b.WriteString(templateHead)
	for _, g := range groups(&Shop{}) {
		b.WriteString("\n")
		if g.help != "" {
			fmt.Fprintf(&b, "# %s\n", g.help)
		}
		switch {
		case g.row:
			fmt.Fprintf(&b, "#[[%s]]\n", g.name)
		case g.name != "":
			fmt.Fprintf(&b, "[%s]\n", g.name)
		}
		rows := tabwriter.NewWriter(&b, 0, 0, 1, ' ', 0)
		for _, e := range g.entries {
			fmt.Fprintf(rows, "#%s\t= %s", e.key, e.example)
			if e.help != "" {
				fmt.Fprintf(rows, "\t  # %s", e.help)
			}
			fmt.Fprintln(rows)
		}
		rows.Flush()
	}
	return []byte(b.String())
}
