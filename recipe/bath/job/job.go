// Package job reads the file of a batch that holds several kinds of piece, each with its own
// metal, shape and number: earring drops in pairs and the studs that go with them, in one bath.
//
// Call [Read]. A file has either one kind at its top level or one [[kind]] table for each;
// everything wrong is found at once, with line and column.
package job

import (
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/strict"
)

// MostPieces is the most pieces of one kind.
const MostPieces = 1_000_000

// Kind is one kind of piece of a batch.
type Kind struct {
	Name   string
	Pieces int // wanted
	Spares int // started beside them
	Piece  metal.Piece
}

// Count returns how many go into the bath: the pieces wanted and their spares.
func (k Kind) Count() int { return k.Pieces + k.Spares }

var file = strict.Kind{Name: "job file", Sample: "hepar prepare --help", Missing: "name a file with a [[kind]] for each kind of piece",
	Further: "begin another kind with [[kind]]"}

// Read reads the kinds of a job file. The error names all that is wrong: see [strict.Findings].
func Read(path string) (kinds []Kind, err error) {
	err = file.Read(path, func(t strict.Table) { kinds = read(t) })
	return kinds, err
}

func read(t strict.Table) (kinds []Kind) {
	if !t.Has("kind") {
		return []Kind{kind(t)}
	}
	t.Only("kind")
	for _, sub := range t.Subs("kind", "[[kind]]") {
		kinds = append(kinds, kind(sub))
	}
	return kinds
}

func kind(t strict.Table) Kind {
	t.Only("name", "pieces", "spares", "alloy", "shape", "diameter", "thickness", "length", "width", "height",
		"inside", "wire", "area", "mass", "relief")
	before := t.Count()
	k := Kind{Name: t.Text("name", 40, true, `write name = "drop", a word for this kind`),
		Pieces: t.Whole("pieces", 1, MostPieces, 0, true), Spares: t.Whole("spares", 0, MostPieces, 0, false)}
	alloy, err := metal.Find(t.Text("alloy", 40, true, `name the metal, such as alloy = "sterling-925"`))
	if err != nil && t.Has("alloy") {
		t.AtValue(t.Place("alloy"), fault.CureOf(err), "%s", what(err))
	}
	shape := t.Text("shape", 20, true, `write shape = "disc"`)
	var d metal.Dimensions
	for _, side := range []struct {
		key string
		to  *measure.Millimeters
	}{{"diameter", &d.Diameter}, {"thickness", &d.Thickness}, {"length", &d.Length}, {"width", &d.Width},
		{"height", &d.Height}, {"inside", &d.Inside}, {"wire", &d.Wire}} {
		*side.to, _ = strict.Figure(t, side.key, "14 mm", measure.ParseLength)
	}
	d.Area, _ = strict.Figure(t, "area", "12 cm2", measure.ParseArea)
	d.Mass, _ = strict.Figure(t, "mass", "1.6 g", func(text string) (measure.Grams, error) { return metal.ParseMass(text, alloy) })
	d.Relief, _ = t.Number("relief", 1, 5, false)
	if t.Count() > before {
		return k
	}
	if k.Piece, err = metal.New(shape, alloy, d); err != nil {
		t.AtKey(t.At, fault.CureOf(err), "%s: %s", k.Name, what(err))
	}
	return k
}

// what is the message of an error without the flag that it names.
func what(err error) string {
	if f, ok := err.(*fault.Error); ok {
		return f.What
	}
	return err.Error()
}
