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
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"text/tabwriter"

	"hepar/recipe/bath"
	"hepar/recipe/bath/plan"
	"hepar/recipe/bath/yield"
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
	Pieces   map[string]Piece  // by name
	Currency string            // the word for the money of all rates; may be empty
	Workers  []safety.Person
	Limits   []gas.Limit // the workshop's own

	// Substances are for [reagent.Declare], before a recipe is read.
	Substances []reagent.Substance

	settings []Setting // in the order of the table
	rated    string    // the first rate
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
	Recipe string            // the usual one; may be empty in a file
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

// Worker returns a person, in any letter case, with what applies as [[worker]] has it.
func (s Shop) Worker(name string) safety.Person {
	for _, w := range s.Workers {
		if strings.EqualFold(w.Name, strings.TrimSpace(name)) {
			return w
		}
	}
	return safety.Person{Name: strings.TrimSpace(name)}
}

// Full returns the name of the one person at the bench that a name is or begins, in any letter
// case: "marek" is "Marek Oja". It returns any other name as it is.
func (s Shop) Full(name string) string {
	typed := strings.ToLower(strings.TrimSpace(name))
	if i := index(s.People, typed); i >= 0 {
		return s.People[i]
	}
	meant := slices.DeleteFunc(slices.Clone(s.People), func(known string) bool { return !strings.HasPrefix(strings.ToLower(known), typed+" ") })
	if typed != "" && len(meant) == 1 {
		return meant[0]
	}
	return name
}

// Piece returns the piece of a name. The error names the nearest.
func (s Shop) Piece(name string) (Piece, error) {
	p, ok := s.Pieces[name]
	names := slices.Sorted(maps.Keys(s.Pieces))
	err := fault.Usagef("the shop file has no piece %s", strict.Excerpt(name)).At("--piece")
	switch {
	case ok:
		return p, nil
	case len(names) == 0:
		return p, err.Try("describe the piece by flags once, and add --save-piece %s", name)
	}
	return p, err.Try("%sit has %s", strict.Meant(name, names), strings.Join(names, ", "))
}

// Line returns the piece as it stands in a shop file.
func (p Piece) Line() string {
	text := fmt.Sprintf("\n[[piece]]\nname = %q\nrecipe = %q\n", p.Name, p.Recipe)
	for _, f := range PieceFlags {
		if said := p.Said[f[0]]; said != "" {
			text += fmt.Sprintf("%s = %q\n", f[0], said)
		}
	}
	return text
}

// Setting is one thing that the shop file can set, and what counts if it does not.
type Setting struct {
	Key   string `json:"key"`   // "balance.readability", "vessel tub"
	Value string `json:"value"` // with its unit; empty where nothing is set
	From  string `json:"from"`  // "shop.toml:12", "default: assumed", "not set"
}

// Settings lists every setting in the order of [Template], also of an empty Shop, with the
// value that counts and where it comes from: as the file has it, or a default in the shop's
// units.
func (s Shop) Settings() []Setting {
	if s.settings == nil { // there is no file
		file.Decode("", nil, s.read)
	}
	return s.settings
}

func (s *Shop) read(root strict.Table) {
	s.Bath.Known, s.Bath.Minutes, s.Vessels, s.Pieces = map[string]bool{}, yield.Minutes{}, map[string]Vessel{}, map[string]Piece{}
	s.Units, _ = oneOf(measure.Metric, measure.US)(root.Written("units")) // which the defaults are in
	all := groups(s)
	var tables []string
	for _, g := range all[1:] {
		tables = append(tables, g.name)
	}
	s.table(all[0], root, tables...)
	for _, g := range all[1:] {
		if !g.row {
			in, _ := root.Sub(g.name, "["+g.name+"]")
			s.table(g, in)
		} else if root.Has(g.name) {
			for _, in := range root.Subs(g.name, "[["+g.name+"]]") {
				s.table(g, in)
			}
		}
	}
}

// table reads one table, with tables of these names inside it. Each key is a setting,
// "balance.readability"; a row is one: "vessel tub".
func (s *Shop) table(g group, t strict.Table, tables ...string) {
	before := t.Count()
	var keys, parts []string
	for _, e := range g.entries {
		keys = append(keys, e.key)
		written, path := t.Written(e.key), strings.TrimPrefix(g.name+"."+e.key, ".")
		if t.Has(e.key) {
			e.read(t, e)
		} else if e.unset == required {
			t.Missing(e.key, e.cure())
		}
		switch {
		case !g.row && written == "":
			s.settings = append(s.settings, Setting{path, e.unset.Value, e.unset.From})
		case !g.row:
			s.keep(path, written, t.LineOf(e.key))
			s.Bath.Known[path] = true
		case written == "true":
			parts = append(parts, strings.ReplaceAll(e.key, "_", " "))
		case e.key != "name" && written != "false" && written != "":
			parts = append(parts, e.key+" "+written)
		}
	}
	t.Only(append(keys, tables...)...)
	if g.row && t.Count() > before {
		return
	}
	if g.done != nil {
		g.done(t)
	}
	if g.row {
		name := cmp.Or(t.Written("name"), t.Written("gas")+", "+t.Written("list")) // a limit has no name
		key := g.name + " " + name
		if slices.ContainsFunc(s.settings, func(one Setting) bool { return strings.EqualFold(one.Key, measure.Clean(key)) }) {
			t.AtKey(t.At, "keep one of the two, or change its name", "there are two [[%s]] %s", g.name, strict.Excerpt(name))
		}
		s.keep(key, strings.Join(parts, ", "), t.LineOf(""))
	}
}

func (s *Shop) keep(key, written string, line int) {
	s.settings = append(s.settings, Setting{measure.Clean(key), measure.Clean(written), fmt.Sprintf("%s:%d", measure.Clean(filepath.Base(s.File)), line)})
}

// Template returns a commented shop file that sets nothing. A # with no blank after it marks a
// setting; without these marks the file sets everything.
func Template() []byte {
	var b strings.Builder
	b.WriteString(`# The settings of your workshop, for hepar. All of them are optional.
# To set one, remove the # right in front of it and put in your own value; the values
# here are examples, not advice. A setting that you leave out takes a default, and every
# sheet lists that default among its assumptions. "hepar shop" shows the values in use.
# A quantity is text with a unit: "19 C", "0.1 g", "1 min 30 s".
`)
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
			fmt.Fprintf(rows, "#%s\t= %s%s\n", e.key, e.example, strings.TrimSuffix("\t  # "+e.help, "\t  # "))
		}
		rows.Flush()
	}
	return []byte(b.String())
}
