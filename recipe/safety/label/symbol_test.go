package label

import (
	"slices"
	"strings"
	"testing"

	"hepar/recipe/outside"
	"hepar/recipe/reagent"
	"pgregory.net/rapid"
)

// Codes and pictograms as they stand together in CLP Annex VI or on a data card.
func TestSymbolsOfEntries(t *testing.T) {
	const six = "CLP Annex VI, from memory: "
	for _, c := range []struct{ what, source, codes, want string }{
		{"hydrochloric acid", six + "017-002-01-X", "H314 H335", "GHS05 GHS07"},
		{"potassium polysulfides", six + "016-007-00-7", "H314 H400", "GHS05 GHS09"},
		{"sodium sulfide", six + "016-009-00-8", "H311 H302 H314 H400", "GHS05 GHS06 GHS09"},
		{"sodium hydroxide", six + "011-002-00-6", "H314", "GHS05"},
		{"acetone", six + "606-001-00-8", "H225 H319 H336", "GHS02 GHS07"},
		{"potassium dichromate", six + "024-002-00-6", "H350 H340 H360FD H272 H330 H301 H312 H372 H314 H334 H317 H410", "GHS03 GHS05 GHS06 GHS08 GHS09"},
		{"silver nitrate", six + "047-001-00-2", "H272 H314 H410", "GHS03 GHS05 GHS09"},
		{"oxalic acid", six + "607-006-00-8", "H312 H302", "GHS07"},
		{"potassium chlorate", six + "017-004-00-3", "H271 H332 H302 H411", "GHS03 GHS07 GHS09"},
		{"nitric acid", six + "007-030-00-3", "H272 H314 H331", "GHS03 GHS05 GHS06"},
		{"sulfur", six + "016-094-00-1", "H315", "GHS07"},
		{"sulfamic acid", six + "016-026-00-0", "H315 H319 H412", "GHS07"},
		{"copper sulfate pentahydrate", "ILO ICSC 1416 (November 2023), symbols from memory", "H302 H318 H410", "GHS05 GHS07 GHS09"},
		{"isocyanates, precedence of the lungs", "CLP Article 26(1)(d), from memory", "H334 H317 H315 H319", "GHS08"},
		{"skull before exclamation mark", "CLP Article 26(1)(b), from memory", "H301 H335", "GHS06"},
		{"corrosion before irritation", "CLP Article 26(1)(c), from memory", "H314 H315 H319", "GHS05"},
		{"skin allergy stays beside corrosion", "CLP Article 26(1)(c), from memory", "H314 H317", "GHS05 GHS07"},
	} {
		symbols, unknown := SymbolsFor(strings.Fields(c.codes))
		if len(unknown) > 0 {
			t.Errorf("%s: %q are not known", c.what, unknown)
		}
		outside.Text(t, "pictograms of "+c.what+" ("+c.codes+")", c.source, c.want, spelled(symbols))
	}
}

func spelled(symbols []Symbol) string {
	var out []string
	for _, s := range symbols {
		out = append(out, string(s))
	}
	return strings.Join(out, " ")
}

func TestSignals(t *testing.T) {
	const annex = "GHS annex 1 (Danger for the graver categories), from memory"
	for codes, want := range map[string]string{
		"H314": "Danger", "H318": "Danger", "H301": "Danger", "H225": "Danger", "H350": "Danger", "H304": "Danger",
		"H302": "Warning", "H319": "Warning", "H400": "Warning", "H410": "Warning", "H290": "Warning", "H226": "Warning", "H373": "Warning",
		"H411": "", "H412": "", "EUH066": "", "H302 H314": "Danger", "H315 H411": "Warning",
	} {
		outside.Text(t, "signal word of "+codes, annex, want, SignalFor(strings.Fields(codes)))
	}
}

// Every code of the table of substances stands in the table of codes, and has words in full
// and in short.
func TestEveryCodeOfTheTable(t *testing.T) {
	for _, s := range reagent.All() {
		for _, code := range s.HCodes {
			if _, known := meaningOf(code); !known {
				t.Errorf("%s: the table of codes lacks %s", s.ID, code)
			}
			if words := shortWords(code); words == statement(code) || strings.Contains(statement(code), "see the SDS") {
				t.Errorf("%s has no words: %q, %q", code, words, statement(code))
			}
		}
		// The table may be graver than its codes need, never milder.
		if SignalFor(s.HCodes) == "" && s.Signal != "" {
			t.Errorf("%s says %s for %q", s.ID, s.Signal, s.HCodes)
		}
	}
}

// Every symbol has a file of black and white shapes that loads nothing.
func TestDrawings(t *testing.T) {
	files, err := drawings.ReadDir("symbols")
	if err != nil || len(files) != 9 || len(names) != 9 {
		t.Fatalf("%d files, %d symbols, %v", len(files), len(names), err)
	}
	for s := range names {
		if s.Drawing() == "" {
			t.Errorf("%s has no drawing", s)
		}
		check(t, string(s), []byte(s.Drawing()))
	}
	if Symbol("GHS10").Drawing() != "" || Symbol("x").Name() != "" {
		t.Error("something that is no symbol has a drawing or a name")
	}
}

func TestUnknownCodes(t *testing.T) {
	c := jar("liver-of-sulfur")
	c.Codes = []string{"H314", "H999", "EUH031"}
	l := container(t, c)
	text := strings.Join(l.Text(), " ")
	if !strings.Contains(text, "H999: "+Unknown) || said(l, "signal") != "DANGER" {
		t.Error(text)
	}
	if !strings.Contains(text, "The family also has H400") {
		t.Errorf("a code of the family that is not on the SDS is not mentioned: %s", text)
	}
	goo := container(t, ContainerLabel{Content: Content{Name: "green goo"}})
	if text := strings.Join(goo.Text(), " "); !strings.Contains(text, Unknown) || said(goo, "signal") != "DANGER" || said(goo, "shout") != "UNKNOWN" {
		t.Error(text)
	}
	// What is not in the table is treated as the worst of its family.
	for name, want := range map[string]string{"mystery sulfide": "NO ACID", "somebody's pickle": "NO SULFIDE, NO BLEACH", "old bleach": "NO ACID, NO AMMONIA"} {
		l := container(t, ContainerLabel{Content: Content{Name: name}})
		if said(l, "shout") != want || !slices.Contains(l.Symbols, Corrosion) || !strings.Contains(strings.Join(l.Text(), " "), Unknown) {
			t.Errorf("%s: %q, %v", name, said(l, "shout"), l.Symbols)
		}
	}
}

// Your own SDS decides the symbols, but never takes NO ACID off a sulfide.
func TestOwnCodes(t *testing.T) {
	c := jar("sodium-sulfide")
	c.Codes = []string{"H315", "H318+H400"}
	l := container(t, c)
	if spelled(l.Symbols) != "GHS05 GHS09" || said(l, "shout") != "NO ACID" {
		t.Errorf("%v %q", l.Symbols, said(l, "shout"))
	}
	if text := strings.Join(l.Text(), " "); !strings.Contains(text, "your own SDS") || strings.Contains(text, "Family default") || !strings.Contains(text, "EUH031") {
		t.Error(text)
	}
}

// Symbols come once each, in order, never the exclamation mark beside the skull.
func TestSymbolProperties(t *testing.T) {
	var codes []string
	for _, s := range reagent.All() {
		codes = append(codes, s.HCodes...)
	}
	codes = append(unique(codes), "H999", "", "h314", "H241", "H302+H312")
	rapid.Check(t, func(t *rapid.T) {
		list := rapid.SliceOf(rapid.SampledFrom(codes)).Draw(t, "codes")
		symbols, _ := SymbolsFor(list)
		if !slices.IsSorted(symbols) || len(slices.Compact(slices.Clone(symbols))) != len(symbols) {
			t.Fatalf("%v", symbols)
		}
		if slices.Contains(symbols, Skull) && slices.Contains(symbols, Exclamation) {
			t.Fatalf("%v for %q", symbols, list)
		}
		slices.Reverse(list)
		if again, _ := SymbolsFor(list); !slices.Equal(again, symbols) {
			t.Fatalf("the order of the codes matters: %v, %v", symbols, again)
		}
		if kept, _ := SymbolsFor(withoutLesser(apart(list))); slices.Contains(symbols, Corrosion) != slices.Contains(kept, Corrosion) ||
			slices.Contains(symbols, Skull) != slices.Contains(kept, Skull) || slices.Contains(symbols, "GHS09") != slices.Contains(kept, "GHS09") {
			t.Fatalf("leaving out lesser codes lost a symbol: %v, %v", symbols, kept)
		}
	})
}
