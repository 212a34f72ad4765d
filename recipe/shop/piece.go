package shop

import (
	"fmt"
	"slices"
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

// pieceFlags are the flags that a piece may say, with an example each.
var pieceFlags = [][2]string{{"alloy", "sterling-925"}, {"shape", "disc"}, {"diameter", "24 mm"}, {"thickness", "1.6 mm"}, {"length", "30 mm"}, {"width", "12 mm"},
	{"height", "8 mm"}, {"inside", "18 mm"}, {"wire", "1 mm"}, {"area", "10 cm2"}, {"mass", "7.5 g"}, {"relief", "1.15"}, {"vessel", "tub"}, {"group", "2"}}

// PieceFlags returns the names of the flags that a piece may say.
func PieceFlags() []string {
	var names []string
	for _, f := range pieceFlags {
		names = append(names, f[0])
	}
	return names
}

func pieceEntries() []entry {
	list := []entry{
		{"name", `"token-24"`, "", required, words(func(s *Shop) *string { return &s.piece.Name }, shortText, pieceName)},
		{"recipe", `"silver-black"`, "the usual one", NotSet, words(func(s *Shop) *string { return &s.piece.Recipe }, lineText, text)},
	}
	for _, f := range pieceFlags {
		list = append(list, entry{f[0], fmt.Sprintf("%q", f[1]), "", NotSet, value{read: func(t strict.Table, e entry, s *Shop) bool {
			said := t.Text(e.key, shortText, false, e.cure())
			if said != "" {
				s.piece.Said[e.key] = said
			}
			return said != ""
		}}})
	}
	return list
}

func pieceName(text string) (string, error) {
	if strings.ContainsAny(text, " \t\"'=") {
		return "", fault.Usagef("%s holds a space, a quote or an equals sign", strict.Excerpt(text)).Try(`write one word, as in "token-24"`)
	}
	return text, nil
}

// keepPiece keeps the piece just read.
func keepPiece(t strict.Table, s *Shop) string {
	p := s.piece
	if p.Name != "" && slices.ContainsFunc(s.Pieces, func(had Piece) bool { return had.Name == p.Name }) {
		t.AtValue(t.Place("name"), "give each piece a name of its own", "there are two pieces %s", strict.Excerpt(p.Name))
	}
	s.Pieces = append(s.Pieces, p)
	return p.Name
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
	switch near := fault.Nearest(name, names); {
	case len(names) == 0:
		return Piece{}, err.Try("describe the piece by flags once, and add --save-piece %s", name)
	case near != "":
		return Piece{}, err.Try("did you mean %s? it has %s", near, strings.Join(names, ", "))
	}
	return Piece{}, err.Try("it has %s", strings.Join(names, ", "))
}

// Line returns the piece as it stands in a shop file.
func (p Piece) Line() string {
	var b strings.Builder
	fmt.Fprintf(&b, "\n[[piece]]\nname = %q\n", p.Name)
	if p.Recipe != "" {
		fmt.Fprintf(&b, "recipe = %q\n", p.Recipe)
	}
	for _, f := range pieceFlags {
		if said := p.Said[f[0]]; said != "" {
			fmt.Fprintf(&b, "%s = %q\n", f[0], said)
		}
	}
	return b.String()
}
