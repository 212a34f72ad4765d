package label

import (
	"math"
	"strings"
	"testing"

	"hepar/recipe"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
	"hepar/recipes"
	"pgregory.net/rapid"
)

// fits tells what lies outside the label or over something else, or "".
func fits(p *picture) string {
	const slack = 0.02
	type area struct{ x0, y0, x1, y1 float64 }
	inside := func(a, b area) bool {
		return a.x0 >= b.x0-slack && a.y0 >= b.y0-slack && a.x1 <= b.x1+slack && a.y1 <= b.y1+slack
	}
	meet := func(a, b area) bool {
		return a.x0 < b.x1-slack && b.x0 < a.x1-slack && a.y0 < b.y1-slack && b.y0 < a.y1-slack
	}
	whole := area{1, 1, p.w - 1, p.h - 1}
	var texts, bars []area
	for _, b := range p.bars {
		a := area{b.x, b.y, b.x + b.w, b.y + b.h}
		if !inside(a, area{0.5, 0.5, p.w - 0.5, p.h - 0.5}) {
			return "a bar leaves the label"
		}
		if b.line == 0 {
			bars = append(bars, a)
		}
	}
	for _, r := range p.runs {
		// From the top of a capital to the end of a tail.
		a := area{r.x, r.y - capital*r.size, r.x + r.width, r.y + 0.21*r.size}
		if !inside(a, whole) {
			return "text leaves the label: " + r.text
		}
		if r.size < leastFoot-1e-9 {
			return "text is too small: " + r.text
		}
		within := false
		for _, b := range bars {
			within = within || inside(a, b)
		}
		if within != r.white {
			return "white text off its bar, or black on it: " + r.text
		}
		for _, other := range texts {
			if meet(a, other) {
				return "text over text: " + r.text
			}
		}
		texts = append(texts, a)
	}
	for i, m := range p.marks {
		box := area{m.x, m.y, m.x + m.box, m.y + m.box}
		if !inside(box, whole) {
			return "a symbol leaves the label"
		}
		for _, a := range append(texts, bars...) {
			if meet(a, box) {
				return "a symbol covers something"
			}
		}
		for _, o := range p.marks[:i] {
			// Two squares on their points meet where their centres are nearer than a box,
			// counted across and down together.
			if math.Abs(m.x-o.x)+math.Abs(m.y-o.y) < m.box-slack {
				return "two symbols meet"
			}
		}
	}
	return ""
}

// symbolSize says what is wrong with the size of the symbols, or "".
func symbolSize(p *picture) string {
	switch {
	case len(p.marks) == 0:
		return ""
	case p.w*p.h >= clpArea && p.side < clpSide-1e-9:
		return "a symbol of less than 16 mm on a side"
	case p.marks[0].box < smallBox-1e-9:
		return "a symbol in a box of less than 16 mm"
	}
	return ""
}

// The label of every substance that may be used can be set on every sheet of labels of 4 x
// 2 inch and more. On the smallest sheet it is set or refused in so many words.
func TestEverySubstance(t *testing.T) {
	small := 0
	for _, s := range reagent.All() {
		l := container(t, jar(s.ID))
		for _, sh := range Sheets() {
			p, err := set(l, sh.Label)
			if err != nil {
				// What nobody should have needs more room than 4 x 2 inch: it says so.
				if sh.Name != "a4-3x8" && !(sh.Name == "letter-2x5" && s.Banned != "") || !strings.Contains(err.Error(), "no room") {
					t.Errorf("%s on %s: %v", s.ID, sh.Name, err)
				}
				continue
			}
			if sh.Name == "a4-3x8" {
				small++
			}
			if bad := fits(p) + symbolSize(p); bad != "" {
				t.Errorf("%s on %s: %s", s.ID, sh.Name, bad)
			}
			if len(p.marks) != len(l.symbols) {
				t.Errorf("%s on %s: %d of %d symbols", s.ID, sh.Name, len(p.marks), len(l.symbols))
			}
			drawing := must[[]byte](t)(SVG(l, sh.Label))
			if text := parse(t, drawing).text; !strings.Contains(text, "your own SDS") && !strings.Contains(text, "codes from your own") {
				t.Errorf("%s on %s does not say where the codes are from: %s", s.ID, sh.Name, text)
			}
		}
	}
	if small < len(reagent.All())/2 {
		t.Errorf("only %d labels can be set on the smallest sheet", small)
	}
}

// Where there is room a symbol covers a fifteenth of the label.
func TestSymbolShare(t *testing.T) {
	for _, size := range []Size{mm(52, 74), mm(74, 105), mm(105, 148), mm(148, 105), mm(99.1, 139)} {
		p := must[*picture](t)(set(container(t, jar("sodium-bisulfate")), size))
		if share := p.side * p.side / (p.w * p.h); share < clpShare-1e-9 {
			t.Errorf("%s: a symbol of %.1f mm covers 1/%.1f of the label", size, p.side, 1/share)
		}
	}
}

// Every built-in recipe has a bath label, whose contents may stand in one tank.
func TestEveryRecipe(t *testing.T) {
	lib, _, err := recipe.Load(recipes.FS)
	if err != nil {
		t.Fatal(err)
	}
	list, _ := lib.All()
	if len(list) < 14 {
		t.Fatalf("%d recipes", len(list))
	}
	for _, r := range list {
		b := BathOf(r)
		b.Mixed, b.By, b.Batch, b.Volume = noon, "Ada Quill", "2026-014", 4
		for _, name := range []string{"a4-2x2", "a4-2x3", "letter-1x2"} {
			p, err := set(bath(t, b), sheet(t, name).Label)
			if err != nil {
				t.Errorf("%s on %s: %v", r.Slug, name, err)
				continue
			}
			if bad := fits(p) + symbolSize(p); bad != "" {
				t.Errorf("%s on %s: %s", r.Slug, name, bad)
			}
		}
		w := WasteLabel{Contents: ContentsOf(r), Started: noon}
		if p, err := set(waste(t, w), mm(148, 105)); err != nil {
			t.Errorf("waste of %s: %v", r.Slug, err)
		} else if bad := fits(p) + symbolSize(p); bad != "" {
			t.Errorf("waste of %s: %s", r.Slug, bad)
		}
	}
}

// Any text at any size is inside the label, or the label is refused.
func TestAnyTextFits(t *testing.T) {
	letters := rapid.StringOf(rapid.RuneFrom([]rune("aiWM.-, é ñ漢字Щ\u0301x%()\"<&")))
	set4 := func(t *rapid.T, l Label, err error) {
		if err != nil {
			return
		}
		size := mm(0, 0)
		size.Width = measure.Millimeters(rapid.Float64Range(leastSide, 300).Draw(t, "w"))
		size.Height = measure.Millimeters(rapid.Float64Range(leastSide, 300).Draw(t, "h"))
		p, err := set(l, size)
		if err != nil {
			return
		}
		if bad := fits(p) + symbolSize(p); bad != "" {
			t.Fatalf("%s at %s: %s", l.kind, size, bad)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		some := func(name string) string { return letters.Draw(t, name) }
		c := jar(rapid.SampledFrom(reagent.All()).Draw(t, "s").ID)
		c.Name, c.Form, c.Lot, c.SDS, c.Note = some("name"), some("form"), some("lot"), some("sds"), some("note")
		l, err := Container(c)
		set4(t, l, err)
		b := tank()
		b.Name, b.By, b.Batch, b.Note = some("bath"), some("by"), some("batch"), some("note")
		l, err = Bath(b)
		set4(t, l, err)
		w := drum()
		w.Words, w.Volume, w.Hazards, w.Estimate = some("words"), some("volume"), some("hazards"), []string{some("estimate")}
		l, err = Waste(w)
		set4(t, l, err)
	})
}

// A long word is broken between characters, and nothing of it is lost.
func TestWrap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOf(rapid.RuneFrom([]rune("iWa éé漢\u0301"))).Draw(t, "text")
		width := rapid.Float64Range(2, 40).Draw(t, "width")
		size := rapid.Float64Range(1, 1.9).Draw(t, "size")
		got := ""
		for _, l := range wrap([]span{{text: text}}, size, width) {
			sum := 0.0
			for i, w := range l {
				if i > 0 {
					sum += glyph(' ', false) * size
				}
				sum += w.width * size
				got += w.text
			}
			if sum > width+1e-9 {
				t.Fatalf("a line of %g in %g", sum, width)
			}
		}
		if want := strings.Join(strings.Fields(text), ""); got != want {
			t.Fatalf("%q became %q", want, got)
		}
	})
}

func BenchmarkHTML(b *testing.B) {
	labels := make([]Label, 8)
	for i := range labels {
		labels[i] = container(b, jar("liver-of-sulfur"))
	}
	sh := sheet(b, "a4-2x4")
	for b.Loop() {
		if _, err := HTML(labels, sh); err != nil {
			b.Fatal(err)
		}
	}
}
