package safety

import (
	"slices"
	"strings"
	"testing"

	"hepar/recipe/fault"
	"hepar/recipe/metal"
)

// Stones, pearls, enamel, plate, hollow pieces, steel, and what a shop shares. Where no
// other source stands, these are common practice, no published source.
func TestPiecesAndShares(t *testing.T) {
	sulfide := func(steps ...string) Subject {
		return Subject{Recipe: bathOf("liver-of-sulfur", append(steps, "dip", "rinse 2", "dry")...)}
	}
	acidFirst := []string{"pickle sodium-bisulfate", "rinse", "neutralise sodium-carbonate", "rinse 2"}
	pickle := func() Subject { return Subject{Recipe: bathOf("sodium-bisulfate", "dip", "rinse 2", "dry")} }
	with := func(s Subject, words ...string) Subject { s.With = words; return s }
	shares := func(s Subject, words ...string) Subject { s.Shared = words; return s }
	uses := func(s Subject, tools ...string) Subject { s.Recipe.Steps[0].Tools = tools; return s }
	plated := with(sulfide(), "plate")
	plated.Recipe.Plated = true
	steel := pickle()
	steel.Alloy = &metal.Alloy{Name: "sterling-925", Family: "silver"}
	for _, c := range []struct {
		name string
		s    Subject
		want Level
		code string
	}{
		{"turquoise in sulfide", with(sulfide(), "turquoise"), CorrectFirst, "stone-in-sulfide"},
		{"pearls in a pickle", with(pickle(), "pearls"), CorrectFirst, "stone-in-acid"},
		{"coral in vinegar", with(Subject{Recipe: bathOf("acetic-acid:vinegar 5 %", "dip", "rinse 2")}, "coral"), CorrectFirst, "stone-in-acid"},
		{"lapis in a pickle", with(pickle(), "lapis"), CorrectFirst, "stone-in-acid"},
		{"malachite in ammonia", with(Subject{Recipe: bathOf("ammonia, copper-carbonate", "dip", "rinse 2")}, "malachite"), CorrectFirst, "stone-in-alkali"},
		{"opal in hot sulfide", with(sulfide(), "opal"), CorrectFirst, "stone-in-sulfide"},
		{"enamel in a pickle", with(pickle(), "enamel"), CorrectFirst, "enamel-in-acid"},
		{"hollow through pickle and sulfide, well rinsed", with(sulfide(acidFirst...), "hollow"), CorrectFirst, "trapped-acid-sulfide"},
		{"porous stones through pickle and sulfide", with(sulfide(acidFirst...), "Turquoise"), CorrectFirst, "trapped-acid-sulfide"},
		{"plate in a recipe for solid metal", with(sulfide(), "plate"), CorrectFirst, "plate-not-for-recipe"},
		{"steel springs in a pickle", with(pickle(), "steel"), CorrectFirst, "steel-in-pickle"},
		{"steel tweezers in a pickle", uses(pickle(), "basket", "steel tweezers"), CorrectFirst, "steel-in-pickle"},
		{"iron binding wire in a pickle", uses(pickle(), "iron binding wire"), CorrectFirst, "steel-in-pickle"},
		{"acid and sulfide share a drain", shares(sulfide(), "drain"), StopLevel, "shared-drain"},
		{"they share a waste bottle", shares(pickle(), "waste"), StopLevel, "shared-waste"},
		{"they share a rinse", shares(sulfide(), "Rinse"), StopLevel, "shared-rinse"},
		{"they share tongs", shares(sulfide(), "tongs"), CorrectFirst, "shared-tongs"},

		{"hollow in sulfide without an acid", with(sulfide(), "hollow"), harmless, "trapped-liquid"},
		{"hollow in a pickle without a sulfide", with(pickle(), "hollow"), harmless, "trapped-liquid"},
		{"plate in a recipe for plate", plated, harmless, ""},
		{"plate in a pickle", with(pickle(), "plated"), harmless, ""},
		{"steel pins in sulfide without an acid", with(sulfide(), "steel"), harmless, ""},
		{"stones in a cold detergent", with(Subject{Recipe: bathOf("detergent", "dip", "rinse")}, "turquoise", "pearl", "enamel"), harmless, ""},
		{"enamel in soda", with(Subject{Recipe: bathOf("sodium-carbonate", "dip", "rinse")}, "enamel"), harmless, ""},
		{"amber in a pickle", with(pickle(), "amber"), harmless, "heat-cracks"},
		{"copper tongs", uses(steel, "copper tongs"), harmless, ""},
		{"a stainless basket", uses(pickle(), "stainless steel basket"), harmless, ""},
		{"steel tweezers in sulfide", uses(sulfide(), "steel tweezers"), harmless, ""},
		{"a drain shared in a shop without either", shares(Subject{Recipe: bathOf("detergent", "dip", "rinse")}, "drain", "waste", "rinse"), harmless, ""},
		{"nothing given", sulfide(acidFirst...), harmless, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, codes := gravestOf(assess(t, c.s).Points)
			if got != c.want {
				t.Fatalf("gravest is %q, want %q: %q", got, c.want, codes)
			}
			if c.code != "" && !slices.Contains(codes, string(c.want)+" "+c.code) {
				t.Errorf("no %s among %q", c.code, codes)
			}
		})
	}
}

func TestWordsRefused(t *testing.T) {
	r := bathOf("liver-of-sulfur", "dip", "rinse 2")
	for _, s := range []Subject{
		{Recipe: r, With: []string{"turqoise"}}, {Recipe: r, With: []string{""}}, {Recipe: r, With: []string{"pearl", "\x1b[31m"}}, {Recipe: r, With: []string{strings.Repeat("x", 500)}},
		{Recipe: r, Shared: []string{"bucket-list"}}, {Recipe: r, Shared: []string{""}},
	} {
		_, err := Assess(s)
		if fault.KindOf(err) != fault.Usage || fault.CureOf(err) == "" || strings.ContainsAny(err.Error()+fault.CureOf(err), "\x1b\n") || len(err.Error()) > 200 {
			t.Errorf("%q %q: %v", s.With, s.Shared, err)
		}
	}
	_, err := Assess(Subject{Recipe: r, With: []string{"turqoise"}})
	if !strings.Contains(fault.CureOf(err), "turquoise") {
		t.Errorf("the nearest word is not named: %s", fault.CureOf(err))
	}
	for _, w := range Withs() {
		if _, err := Assess(Subject{Recipe: r, With: []string{strings.ToUpper(w)}}); err != nil {
			t.Errorf("%s: %v", w, err)
		}
	}
}

// Each flag adds a point that names the person, and takes none away.
func TestPersons(t *testing.T) {
	sulfide, mild, nitric := bathOf("liver-of-sulfur", "dip", "rinse 2"), bathOf("detergent", "dip", "rinse"), bathOf("nitric-acid", "dip", "rinse 3")
	both := bathOf("liver-of-sulfur", "pickle citric-acid", "rinse 2", "dip", "rinse 2")
	permanganate := bathOf("potassium-permanganate", "dip", "rinse 2")
	for _, c := range []struct {
		name string
		p    Person
		r    Subject
		code string
		want Level
		says string
	}{
		{"no smell with sulfide", Person{Name: "Mirja", NoSmell: true}, Subject{Recipe: sulfide}, "person-no-smell", CorrectFirst, "meter"},
		{"no smell with soap", Person{Name: "Mirja", NoSmell: true}, Subject{Recipe: mild}, "person-no-smell", Caution, "Mirja"},
		{"pregnant with permanganate (H361d)", Person{Name: "Ada", Pregnant: true}, Subject{Recipe: permanganate}, "person-pregnant", CorrectFirst, "may harm the unborn"},
		{"pregnant with sulfide", Person{Name: "Ada", Pregnant: true}, Subject{Recipe: sulfide}, "person-pregnant", CorrectFirst, "ask a doctor"},
		{"pregnant with soap", Person{Name: "Ada", Pregnant: true}, Subject{Recipe: mild}, "person-pregnant", Caution, "H360"},
		{"lungs with nitric acid", Person{Name: "Bo", Lungs: true}, Subject{Recipe: nitric}, "person-lungs", CorrectFirst, "doctor"},
		{"alone with acid and sulfide", Person{Name: "Bo", Alone: true}, Subject{Recipe: both}, "person-alone", CorrectFirst, "acid and sulfide"},
		{"alone with sulfide", Person{Name: "Bo", Alone: true}, Subject{Recipe: sulfide}, "person-alone", CorrectFirst, "hydrogen sulfide"},
		{"alone with soap", Person{Alone: true}, Subject{Recipe: mild}, "person-alone", Caution, "One of the persons"},
		{"new", Person{Name: "Tilo", New: true}, Subject{Recipe: sulfide}, "person-new", Caution, "side by side"},
	} {
		before := codes(assess(t, c.r))
		c.r.Persons = []Person{c.p}
		after := codes(assess(t, c.r))
		p := after[c.code]
		if p.Level != c.want || !strings.Contains(p.Text, c.says) || c.p.Name != "" && !strings.Contains(p.Text, c.p.Name) {
			t.Errorf("%s: %+v", c.name, p)
		}
		if len(after) != len(before)+1 {
			t.Errorf("%s: %d points became %d", c.name, len(before), len(after))
		}
		for code, old := range before {
			if after[code] != old {
				t.Errorf("%s: %s changed", c.name, code)
			}
		}
	}
	s := Subject{Recipe: sulfide, Persons: []Person{{Name: "A\x1b[2J\nB", New: true}, {Name: "it is safe here", New: true}, {Name: strings.Repeat("n", 300), New: true}}}
	if p := codes(assess(t, s))["person-new"]; !strings.Contains(p.Text, "A") || strings.Contains(p.Text, "safe") || len(p.Text) > 600 {
		t.Errorf("hostile names: %s", p.Text)
	}
}
