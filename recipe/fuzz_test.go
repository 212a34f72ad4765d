package recipe

import (
	"bytes"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/BurntSushi/toml"
	other "github.com/pelletier/go-toml/v2"

	"hepar/recipe/strict"
	"hepar/recipes"
)

// FuzzDecode feeds anything at all to the decoder. Whatever comes, it gives a
// recipe or findings, never both and never neither; every finding has a place
// inside the file; the two parsers agree on what is TOML, or a finding says so.
func FuzzDecode(f *testing.F) {
	f.Add([]byte(good))
	f.Add([]byte(goodBrushed))
	f.Add(Template("new"))
	files, err := recipes.FS.ReadDir(".")
	if err != nil {
		f.Fatal(err)
	}
	for _, file := range files {
		data, err := recipes.FS.ReadFile(file.Name())
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	for _, c := range badImmersed() {
		f.Add([]byte(strings.Replace(strings.Replace(good, c.old, c.new, 1), "«", "", 1)))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		r, findings := Decode("fuzz.toml", data)
		if (r == nil) != (len(findings) > 0) {
			t.Fatalf("recipe %v, findings %v", r, findings)
		}
		for _, one := range findings {
			checkPlace(t, one, data)
		}
		checkParsers(t, r, data)
		if r != nil {
			checkSound(t, r)
		}
	})
}

func checkPlace(t *testing.T, f Finding, data []byte) {
	if f.What == "" || f.Cure == "" || strings.HasPrefix(f.What, "could not be read") {
		t.Fatalf("finding %+v", f)
	}
	for _, line := range f.Lines() {
		if strings.ContainsFunc(line, strict.Hidden) || !utf8.ValidString(line) {
			t.Fatalf("unprintable: %q", line)
		}
	}
	if f.Line == 0 {
		return
	}
	lines := bytes.Split(data, []byte("\n"))
	if f.Line > len(lines) || f.Column < 1 || f.Column > utf8.RuneCount(lines[f.Line-1])+1 {
		t.Fatalf("no such place: %+v", f)
	}
}

func checkParsers(t *testing.T, r *Recipe, data []byte) {
	if r == nil {
		return // said; and the file may nest too deeply for the first parser
	}
	var content, again map[string]any
	_, first := toml.Decode(string(data), &content)
	second := other.Unmarshal(data, &again)
	if first != nil || second != nil {
		t.Fatalf("the parsers disagree and nothing is said: %v against %v", first, second)
	}
}

func checkSound(t *testing.T, r *Recipe) {
	var figures []float64
	span := func(at, from, to float64) {
		figures = append(figures, at, from, to)
		if from > at || at > to {
			t.Fatalf("range out of order: %v %v %v", from, at, to)
		}
	}
	span(float64(r.Bath.Water.At), float64(r.Bath.Water.From), float64(r.Bath.Water.To))
	span(float64(r.Bath.MaxLoad), 0, mostLoad)
	span(r.Bath.Weakest, 0, 1)
	for _, g := range r.Bath.Reagents {
		span(g.Concentration.At.PerL, g.Concentration.From.PerL, g.Concentration.To.PerL)
		if c := g.Concentration; c.From.PerL <= 0 || g.Substance == "" || c.From.ByVolume != c.To.ByVolume {
			t.Fatalf("reagent %+v", g)
		}
	}
	if r.Dip != nil {
		span(float64(r.Dip.Time.At), float64(r.Dip.Time.From), float64(r.Dip.Time.To))
	}
	if r.Coats != nil {
		span(r.Coats.Number.At, r.Coats.Number.From, r.Coats.Number.To)
		span(float64(r.Coats.Spread.At), float64(r.Coats.Spread.From), float64(r.Coats.Spread.To))
		span(float64(r.Coats.Wait.At), float64(r.Coats.Wait.From), float64(r.Coats.Wait.To))
	}
	for _, s := range r.Steps {
		span(s.Concentration.At.PerL, s.Concentration.From.PerL, s.Concentration.To.PerL)
		span(float64(s.Water.At), float64(s.Water.From), float64(s.Water.To))
		span(float64(s.Time.At), float64(s.Time.From), float64(s.Time.To))
	}
	for _, x := range figures {
		if math.IsNaN(x) || math.IsInf(x, 0) || x < 0 {
			t.Fatalf("figure %v", x)
		}
	}
	if len(r.Steps) == 0 || len(r.Alloys) == 0 || len(r.Bath.Reagents) == 0 || (r.Dip == nil) == (r.Coats == nil) || r.Title == "" {
		t.Fatalf("incomplete: %+v", r)
	}
	if again, findings := Decode("fuzz.toml", []byte(r.Text)); again == nil || again.Digest != r.Digest {
		t.Fatalf("not the same twice: %v", findings)
	}
}
