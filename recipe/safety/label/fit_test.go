package label

import (
	"math"
	"slices"
	"strings"
	"testing"

	"hepar/recipe"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
	"hepar/recipes"
	"pgregory.net/rapid"
)

// wrong tells what is wrong with a setting, or "": text or symbols below their least size,
// symbols that leave the label or meet, words that are neither printed nor in the notes.
func wrong(l Label, f setting) string {
	const slack = 0.01
	w, h := float64(f.Size.Width), float64(f.Size.Height)
	least, box := leastText, clpSide*math.Sqrt2
	if w*h < clpArea {
		least, box = leastSmall, smallBox
	}
	var small func(parts []part) bool
	small = func(parts []part) bool {
		return slices.ContainsFunc(parts, func(p part) bool { return p.Size < leastFoot-slack || small(p.Parts) })
	}
	printed := slices.Concat(f.Head, f.Text, f.End)
	if f.Body < least-slack || small(printed) {
		return "the text is too small"
	}
	if len(f.Symbols) != len(l.symbols) || f.Across > w-2*f.Edge+slack || f.Down > h-2*f.Edge+slack {
		return "a symbol is missing or leaves the label"
	}
	for i, m := range f.Symbols {
		if m.Box < box-slack {
			return "a symbol is too small"
		}
		for _, o := range f.Symbols[:i] {
			// Two squares on their points meet where their centres are nearer than a box,
			// counted across and down together.
			if math.Abs(m.X-o.X)+math.Abs(m.Y-o.Y) < m.Box-slack {
				return "two symbols meet"
			}
		}
	}
	said := read(printed) + strings.Join(omitted(l, f.level), " ")
	for _, p := range slices.Concat(l.head, l.body, l.end) {
		spans, is := p.at(f.level)
		if words := read([]part{{Spans: spans}}); is && !strings.Contains(said, words) {
			return "the label lost: " + words
		}
	}
	if f.level == everything {
		for _, line := range l.Text() {
			if !strings.Contains(said, line) && !slices.ContainsFunc(l.symbols, func(s Symbol) bool { return s.Name() == line }) {
				return "the label lost: " + line
			}
		}
	} else if !strings.Contains(said, "Shortened: see the SDS.") || len(omitted(l, f.level)) == 0 && len(l.hazards()) > 0 {
		return "a shortened label does not say so"
	}
	return ""
}

func (l Label) hazards() []part {
	return slices.DeleteFunc(slices.Clone(l.body), func(p part) bool { return p.Class != "hazards" })
}

// jars returns a label of every form of every substance.
func jars(t testing.TB) (labels []Label, banned []bool) {
	for _, s := range reagent.All() {
		for _, f := range s.Forms {
			c := jar(s.ID)
			c.Form = f.Name
			labels, banned = append(labels, container(t, c)), append(banned, s.Banned != "")
		}
	}
	return labels, banned
}

// The label of every substance and form that may be used fits on every sheet of labels of
// 4 x 2 inch and more. On the smallest sheet it fits or is refused in so many words.
func TestEverySubstance(t *testing.T) {
	small := 0
	labels, banned := jars(t)
	for i, l := range labels {
		for _, sh := range Sheets() {
			f, err := set(l, sh.Label)
			if err != nil {
				if sh.Name != "a4-3x8" && !(sh.Name == "letter-2x5" && banned[i]) || !strings.Contains(err.Error(), "no room") {
					t.Errorf("%s on %s: %v", l.title, sh.Name, err)
				}
				continue
			}
			if sh.Name == "a4-3x8" {
				small++
			}
			if bad := wrong(l, f); bad != "" {
				t.Errorf("%s on %s: %s", l.title, sh.Name, bad)
			}
			if text := read(f.End); !strings.Contains(text, "your own SDS") {
				t.Errorf("%s on %s does not say where the codes are from: %s", l.title, sh.Name, text)
			}
		}
	}
	t.Logf("%d of %d labels fit on the smallest sheet", small, len(labels))
	if small < len(labels)/2 {
		t.Errorf("only %d of %d labels fit on the smallest sheet", small, len(labels))
	}
}

// Where there is room a symbol covers a fifteenth of the label.
func TestSymbolShare(t *testing.T) {
	for _, size := range []Size{mm(52, 74), mm(74, 105), mm(105, 148), mm(148, 105), mm(99.1, 139)} {
		f := must[setting](t)(set(container(t, jar("sodium-bisulfate")), size))
		if share := f.Symbols[0].Box * f.Symbols[0].Box / 2 / float64(size.Width*size.Height); share < clpShare-1e-9 {
			t.Errorf("%s: the symbol covers 1/%.1f of the label", size, 1/share)
		}
	}
}

// recipeLabels returns bath and waste labels of every built-in recipe.
func recipeLabels(t testing.TB) (baths, drums []Label) {
	lib, _, err := recipe.Load(recipes.FS, "")
	if err != nil {
		t.Fatal(err)
	}
	list, _ := lib.All()
	if len(list) < 14 {
		t.Fatalf("%d recipes", len(list))
	}
	for _, r := range list {
		b := BathOf(r)
		b.Mixed, b.By, b.Batch, b.Volume = noon, "Ilse Tamm", "2026-014", 4
		baths = append(baths, bath(t, b))
		drums = append(drums, waste(t, WasteLabel{Contents: ContentsOf(r), Started: noon}))
	}
	return baths, drums
}

// Every built-in recipe has a bath label and a waste label.
func TestEveryRecipe(t *testing.T) {
	baths, drums := recipeLabels(t)
	for _, l := range append(baths, drums...) {
		for _, name := range []string{"a4-2x2", "a4-2x3", "letter-1x2", "148x105mm"} {
			f, err := set(l, sheet(t, name).Label)
			if err != nil {
				t.Errorf("%s %s on %s: %v", l.kind, l.title, name, err)
			} else if bad := wrong(l, f); bad != "" {
				t.Errorf("%s %s on %s: %s", l.kind, l.title, name, bad)
			}
		}
	}
}

// Any text at any size is printed or noted, or the label is refused.
func TestAnyText(t *testing.T) {
	letters := rapid.StringOf(rapid.RuneFrom([]rune("aiWM.-, é ñ漢字Щ\u0301x%()\"<&")))
	rapid.Check(t, func(t *rapid.T) {
		some := func(name string) string { return letters.Draw(t, name) }
		c := jar(rapid.SampledFrom(reagent.All()).Draw(t, "s").ID)
		c.Name, c.Form, c.Lot, c.SDS, c.Note = some("name"), some("form"), some("lot"), some("sds"), some("note")
		b := tank()
		b.Name, b.By, b.Batch, b.Note = some("bath"), some("by"), some("batch"), some("note")
		w := drum()
		w.Words, w.Volume, w.Hazards, w.Estimate = some("words"), some("volume"), some("hazards"), []string{some("estimate")}
		size := mm(measure.Millimeters(rapid.Float64Range(leastSide, 300).Draw(t, "w")), measure.Millimeters(rapid.Float64Range(leastSide, 300).Draw(t, "h")))
		for _, make := range []func() (Label, error){
			func() (Label, error) { return Container(c) },
			func() (Label, error) { return Bath(b) },
			func() (Label, error) { return Waste(w) },
		} {
			l, err := make()
			if err != nil {
				continue
			}
			if f, err := set(l, size); err == nil {
				if bad := wrong(l, f); bad != "" {
					t.Fatalf("%s at %s: %s", l.kind, size, bad)
				}
			}
		}
	})
}

func BenchmarkPage(b *testing.B) {
	l := []Label{container(b, jar("liver-of-sulfur"))}
	sh := sheet(b, "a4-2x4")
	for b.Loop() {
		if _, _, err := Page(l, 8, sh); err != nil {
			b.Fatal(err)
		}
	}
}
