package label

import (
	"strings"
	"testing"

	"hepar/recipe"
	"hepar/recipes"
)

// TestFactsOfTheLabel holds what a label must and must not say. Sources: form and class
// limits, CLP Annex VI, from memory; silver with ammonia, NIOSH and 40 CFR 265 appendix V;
// vented caps, SDS of nitric acid and hydrogen peroxide, section 7, from memory; sulfide in
// stop rinses and copper in used pickle, common practice, no source.
func TestFactsOfTheLabel(t *testing.T) {
	library, _, err := recipe.Load(recipes.FS, "")
	if err != nil {
		t.Fatal(err)
	}
	jar := func(substance, form string) func() (Label, error) {
		return func() (Label, error) {
			return Container(ContainerLabel{Content: Content{Substance: substance, Form: form}})
		}
	}
	tub := func(slug string) func() (Label, error) {
		return func() (Label, error) {
			r, err := library.Get(slug)
			if err != nil {
				t.Fatal(err)
			}
			b := BathOf(r)
			b.Mixed = noon
			return Bath(b)
		}
	}
	drumOf := func(contents ...Content) func() (Label, error) {
		return func() (Label, error) { return Waste(WasteLabel{Contents: contents}) }
	}
	for name, c := range map[string]struct {
		make        func() (Label, error)
		says, never string
	}{
		"glacial acetic acid":  {jar("acetic-acid", "glacial"), "H314", ""},
		"vinegar":              {jar("acetic-acid", "vinegar 5 %"), "NO SULFIDE, NO BLEACH", "H314"},
		"peroxide of 30 %":     {jar("hydrogen-peroxide", "30 %"), "H318", ""},
		"peroxide of 3 %":      {jar("hydrogen-peroxide", "3 %"), "", "DANGER"},
		"silver nitrate":       {jar("silver-nitrate", ""), "NO AMMONIA", ""},
		"ammonia":              {jar("ammonia", "25 % solution"), "NO BLEACH", ""},
		"bleach":               {jar("sodium-hypochlorite", ""), "NO ACID, NO AMMONIA", ""},
		"a stop rinse":         {tub("stop-soda"), "NO ACID", ""},
		"a strip":              {tub("silver-strip"), "NO ACID", ""},
		"a pickle":             {tub("pickle-citric"), "Copper off the pieces", "NO ACID"},
		"waste of stop rinse":  {drumOf(append([]Content{{Substance: "sodium-carbonate"}}, Content{Substance: "liver-of-sulfur"})...), "Keep closed.", "Never close"},
		"waste of two baths":   {drumOf(Content{Substance: "liver-of-sulfur", Amount: "4 g/L"}, Content{Substance: "liver-of-sulfur", Amount: "5 g/L"}), "Contents: spent bath and its rinses, with Liver of sulfur", "g/L"},
		"waste of nitric acid": {drumOf(Content{Substance: "nitric-acid"}), "Never close it tight", "Keep closed"},
		"waste of peroxide":    {drumOf(Content{Substance: "hydrogen-peroxide"}), "Never close it tight", "Keep closed"},
	} {
		l, err := c.make()
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		text := strings.Join(l.Text(), "\n")
		if !strings.Contains(strings.ToUpper(text), strings.ToUpper(c.says)) || c.never != "" && strings.Contains(text, c.never) {
			t.Errorf("%s: want %q and not %q in\n%s", name, c.says, c.never, text)
		}
		if !strings.Contains(text, "Workplace label, own drawing; not a supplier label.") {
			t.Errorf("%s does not say what kind of label it is", name)
		}
	}
}
