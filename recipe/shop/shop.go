package shop

import (
	"errors"
	"io/fs"
	"os"
	"slices"
	"strings"

	"hepar/recipe/bath"
	"hepar/recipe/bath/plan"
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

	// Bath is what a sheet is computed with. Its Known holds what the file sets: "balance",
	// "cylinder", "hot-water", "cold-water", "ambient", "humidity", "match".
	Bath bath.Shop

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
	row   row       // the one being read
}

// Vessel is a vessel with what belongs to it.
type Vessel struct {
	plan.Vessel
	Material string  // glass, glazed, plastic, steel, or empty
	Lid      bool    // it has one
	HeaterW  float64 // W, steady; 0 for none
}

func fileKind() strict.Kind {
	return strict.Kind{Name: "shop file", Sample: "hepar shop --template", Missing: "print one to fill in: hepar shop --template",
		Further: "begin another vessel with [[vessel]]; put what applies to a person under [[worker]]"}
}

// Read reads a shop file. Findings are all that is wrong with it, and the Shop is empty then.
// The error means that it cannot be read at all; os.IsNotExist recognizes a missing file.
func Read(path string) (Shop, []strict.Finding, error) {
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return Shop{}, nil, err
	}
	data, err := fileKind().ReadFile(path)
	if err != nil {
		return Shop{}, nil, err
	}
	s, findings := Decode(path, data)
	return s, findings, nil
}

// Decode reads a shop file in memory; file is its name in findings. It returns a Shop or
// findings, never both, and never panics.
func Decode(file string, data []byte) (Shop, []strict.Finding) {
	s := Shop{File: file}
	if findings := fileKind().Decode(file, data, s.read); len(findings) > 0 {
		return Shop{}, findings
	}
	return s, nil
}

// Worker returns what applies to a person, in any letter case; false where no [[worker]] does.
func (s Shop) Worker(name string) (w safety.Person, ok bool) {
	i := slices.IndexFunc(s.Workers, func(w safety.Person) bool { return strings.EqualFold(w.Name, strings.TrimSpace(name)) })
	if i < 0 {
		return w, false
	}
	return s.Workers[i], true
}
