package safety

import (
	"math"
	"slices"
	"strings"
	"testing"

	"hepar/recipe"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/outside"
	"hepar/recipe/safety/gas"
	"hepar/recipes"
)

// builtins reads the recipes that come with the program.
func builtins(t testing.TB) []*recipe.Recipe {
	t.Helper()
	files, err := recipes.FS.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	var list []*recipe.Recipe
	for _, f := range files {
		data, err := recipes.FS.ReadFile(f.Name())
		if err != nil {
			t.Fatal(err)
		}
		r, findings := recipe.Decode(f.Name(), data)
		if r == nil {
			t.Fatalf("%s: %v", f.Name(), findings)
		}
		list = append(list, r)
	}
	if len(list) < 14 {
		t.Fatalf("only %d built-in recipes", len(list))
	}
	return list
}

func assess(t testing.TB, s Subject) Review {
	t.Helper()
	review, err := Assess(s)
	if err != nil {
		t.Fatal(err)
	}
	sound(t, review.Points)
	if len(review.Emergency) < 4 {
		t.Errorf("only %d emergency lines", len(review.Emergency))
	}
	for _, e := range review.Emergency {
		if found := Claims(e); len(found) > 0 {
			t.Errorf("emergency line claims %q: %s", found, e)
		}
	}
	return review
}

// codes gives the points by code.
func codes(r Review) map[string]Point {
	m := map[string]Point{}
	for _, p := range r.Points {
		m[p.Code] = p
	}
	return m
}

// No built-in recipe is forbidden, none has something to put right first, and no text
// of any of their reviews makes a claim that this program must not make (sound checks
// that). The checklist of points is the same for all.
func TestBuiltinReviews(t *testing.T) {
	for _, r := range builtins(t) {
		t.Run(r.Slug, func(t *testing.T) {
			review := assess(t, Subject{Recipe: r})
			for _, p := range review.Points {
				if p.Level != Caution {
					t.Errorf("%s: %s: %s", p.Level, p.Code, p.Text)
				}
				if p.Code == "recipe-claim" {
					t.Errorf("a line of a built-in recipe is not repeated: %s", p.Text)
				}
			}
			have := codes(review)
			want := []string{"sds", "ppe", "eye-wash", "labels", "waste-route", "mixing", "recipe-ventilation", "recipe-ppe", "recipe-disposal", "who-decides"}
			if slices.ContainsFunc(r.Bath.Reagents, func(g recipe.Reagent) bool { return lookup(g.Substance, "").sulfide() }) {
				want = append(want, "never-meet-sulfide", "gas-hydrogen-sulfide", "smell-is-no-detector", "sulfide-ph", "capture-at-source", "not-alone", "rework-not-in-acid")
				if !strings.Contains(strings.Join(review.Emergency, " "), "Do not go back in") {
					t.Error("the emergency lines of a sulfide bath do not say to stay out")
				}
			}
			for _, g := range r.Bath.Reagents {
				a := lookup(g.Substance, g.Form)
				if !a.known {
					t.Errorf("%s is not known", g.Substance)
				}
				if len(a.sub.HCodes) > 0 {
					want = append(want, "substance-"+a.id)
				}
			}
			for _, code := range want {
				if _, ok := have[code]; !ok {
					t.Errorf("no point %s", code)
				}
			}
			if n := len(review.Points); n > 34 {
				t.Errorf("%d points: nobody reads that many", n)
			}
		})
	}
}

// A review names what is in this recipe and this batch.
func TestReviewIsSpecific(t *testing.T) {
	r := bathOf("liver-of-sulfur:lump, ammonia", "pickle sodium-bisulfate", "rinse 2", "neutralise sodium-carbonate", "rinse", "dip", "rinse 2", "dry")
	review := assess(t, Subject{Recipe: r, Bath: 2, Reagents: weighed("liver-of-sulfur", 10)})
	have := codes(review)
	for code, words := range map[string][]string{
		"never-meet-sulfide":        {"iver of sulfur in step 5 (dip)", "sodium bisulfate in step 1 (pickle)"},
		"gas-hydrogen-sulfide":      {"liver of sulfur", "the bath of this batch", "factor of five"},
		"gas-ammonia":               {"mmonia comes off ammonia solution in step 5 (dip)"},
		"rework-not-in-acid":        {"step 1 (pickle)"},
		"not-alone":                 {"acid and sulfide", "not do it alone"},
		"mixing":                    {"Acid into water", "sodium bisulfate"},
		"waste-route":               {"container of its own", "Nothing of it goes down the drain"},
		"sds":                       {"revision date", "sodium bisulfate", "liver of sulfur"},
		"sulfide-ph":                {"pH 10", "working temperature", "bicarbonate does not"},
		"substance-liver-of-sulfur": {"take the codes from your own SDS", "EUH031"},
		"hot-bath":                  {"65 C"},
	} {
		for _, w := range words {
			if !strings.Contains(have[code].Text, w) {
				t.Errorf("%s does not say %q: %s", code, w, have[code].Text)
			}
		}
	}
}

// The gas of a fully acidified bath, one mol of hydrogen sulfide for each of sulfide.
func TestGasFreed(t *testing.T) {
	r := bathOf("potassium-sulfide", "dip", "rinse 2")
	text := func(s Subject) string { return codes(assess(t, s))["gas-hydrogen-sulfide"].Text }
	for _, c := range []struct {
		what string
		s    Subject
		want string
	}{
		{"10 g of potassium sulfide", Subject{Recipe: r, Reagents: weighed("potassium-sulfide", 10)}, "the bath of this batch would free up to 3.1 g"},
		{"2 L at the strongest, 5 g/L", Subject{Recipe: r, Bath: 2}, "the bath of this batch would free up to 3.1 g"},
		{"no batch", Subject{Recipe: r}, "each liter of this bath would free up to 1.5 g"},
	} {
		if got := text(c.s); !strings.Contains(got, c.want) {
			t.Errorf("%s: %s", c.what, got)
		}
	}
	review := assess(t, Subject{Recipe: r, Reagents: weighed("potassium-sulfide", 10), Room: gas.Room{VolumeM3: 30}})
	outside.Check(t, "10 g of K2S fully acidified, g of hydrogen sulfide", "40 CFR 265 Appendix V, pair 5-A/5-B, names the meeting; 34.08/110.26 from atomic weights", 3.09, estimated(t, review, "acid-all").FreedG, 0.01)
}

// estimated gives one estimate by its code.
func estimated(t testing.TB, r Review, code string) gas.Estimate {
	t.Helper()
	for _, e := range r.Gas {
		if e.Code == code {
			return e
		}
	}
	t.Fatalf("no estimate %s", code)
	return gas.Estimate{}
}

// What the recipe says of its own hazards can only add.
func TestRecipeCannotLowerAHazard(t *testing.T) {
	r := bathOf("liver-of-sulfur", "dip", "rinse 2")
	before := assess(t, Subject{Recipe: r})
	low := *r
	low.Hazards = recipe.Hazards{
		Ventilation: "no ventilation needed, it is harmless",
		PPE:         []string{"gloves are not needed", "respirator with combination filter"},
		Disposal:    "neutralise the sulfide with soda, then pour it down the drain",
		Notes:       []string{"the bath is safe and below the limit", "certified non-toxic", "you will smell it in time", "keep the lid clean"},
	}
	after := assess(t, Subject{Recipe: &low})
	have := codes(after)
	for _, p := range before.Points {
		if strings.HasPrefix(p.Code, "recipe-") {
			continue
		}
		if have[p.Code] != p {
			t.Errorf("%s is gone or changed", p.Code)
		}
	}
	if have["recipe-claim"].Level != CorrectFirst {
		t.Error("the claims of the recipe pass without a word")
	}
	for _, code := range []string{"recipe-ventilation", "recipe-ppe", "recipe-disposal"} {
		if _, ok := have[code]; ok {
			t.Errorf("%s repeats a claim: %s", code, have[code].Text)
		}
	}
	if !strings.Contains(have["recipe-notes"].Text, "keep the lid clean") {
		t.Error("the harmless note went with the others")
	}
}

func TestAssessRefusesNonsense(t *testing.T) {
	r := bathOf("liver-of-sulfur", "dip", "rinse 2")
	for name, s := range map[string]Subject{
		"no recipe":     {},
		"negative area": {Recipe: r, MetalArea: -1},
		"no number":     {Recipe: r, Bath: measure.Liters(math.NaN())},
		"endless mass":  {Recipe: r, Reagents: weighed("liver-of-sulfur", math.Inf(1))},
	} {
		if _, err := Assess(s); err == nil || fault.KindOf(err) != fault.Usage || fault.CureOf(err) == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
	if Sequence(nil) != nil || len(FirstAid(nil)) == 0 {
		t.Error("nil recipe")
	}
}

// The batch may bring what the recipe does not name.
func TestBatchAddsToTheRecipe(t *testing.T) {
	r := bathOf("liver-of-sulfur", "dip", "rinse 2")
	review := assess(t, Subject{Recipe: r, Reagents: append(weighed("liver-of-sulfur", 5), weighed("acetic-acid", 1)...)})
	if !review.Stopped() {
		t.Error("vinegar weighed out for a sulfide bath is not stopped")
	}
	review = assess(t, Subject{Recipe: r, Alloy: &metal.Alloy{Name: "aluminium", Family: "aluminium"}})
	if p := codes(review)["light-metal-in-alkali"]; p.Level != StopLevel {
		t.Error("aluminium in a sulfide bath is not stopped")
	}
	if _, ok := codes(review)["alloy-not-in-recipe"]; !ok {
		t.Error("nothing is said of a metal the recipe is not for")
	}
	two := onlyFor(bathOf("liver-of-sulfur", "dip", "rinse 2"), "sterling-925", "aluminium")
	if assess(t, Subject{Recipe: two, Alloy: &metal.Alloy{Name: "sterling-925", Family: "silver"}}).Stopped() {
		t.Error("sterling is stopped for the sake of another metal of the recipe")
	}
}

func TestEmergencyLines(t *testing.T) {
	for _, c := range []struct {
		bath, source string
		want, not    []string
	}{
		{"liver-of-sulfur", "ICSC 1038; NIOSH FACE 89-28", []string{"Close the door", "Do not go back in", "No mouth-to-mouth", "at least 15 minutes", "bring up nothing", "Skin:"}, nil},
		{"sodium-sulfide", "New Jersey fact sheet 1728 (30 minutes)", []string{"at least 30 minutes"}, []string{"at least 15 minutes or"}},
		{"ammonium-sulfide", "New Jersey fact sheet 0115 (30 minutes)", []string{"at least 30 minutes", "Brown or biting"}, nil},
		{"nitric-acid", "ICSC 0183", []string{"half sitting", "hours later"}, []string{"hydrogen sulfide"}},
		{"secret-powder", "unknown: the worst of its family", []string{"Do not go back in", "at least 30 minutes"}, nil},
	} {
		text := strings.Join(FirstAid(bathOf(c.bath, "dip")), "\n")
		for _, w := range c.want {
			if !strings.Contains(text, w) {
				t.Errorf("%s (%s): no %q in\n%s", c.bath, c.source, w, text)
			}
		}
		for _, w := range c.not {
			if strings.Contains(text, w) {
				t.Errorf("%s (%s): %q in\n%s", c.bath, c.source, w, text)
			}
		}
	}
	if first := FirstAid(nil)[0]; !strings.Contains(first, "get out at once") {
		t.Errorf("the first line is %q", first)
	}
}

// The cautions stand in the order of the checklist: acid, data sheets, pH, capture, meter,
// eye wash, company, labels, waste, batch sheet, room, metals, dusts, when to review again.
// Common practice for such reviews, no published source.
func TestOrderOfTheChecklist(t *testing.T) {
	r := bathOf("liver-of-sulfur, copper-carbonate", "pickle citric-acid", "rinse 2", "dip", "rinse 2")
	last := -1
	points := assess(t, Subject{Recipe: r, Alloy: &metal.Alloy{Name: "sterling-999", Family: "silver"}, Persons: []Person{{New: true}}}).Points
	for _, code := range []string{
		"never-meet-sulfide", "sds", "sulfide-ph", "gas-estimate", "acid-drag-in", "capture-at-source", "gas-meter", "eye-wash", "not-alone", "person-new",
		"labels", "waste-route", "mixing", "gas-room", "alloy-not-in-recipe", "dust", "review-again", "who-decides",
	} {
		at := slices.IndexFunc(points, func(p Point) bool { return p.Code == code })
		if at < 0 || at <= last {
			t.Errorf("%s stands at %d, after %d", code, at, last)
		}
		last = max(at, last)
	}
}

func BenchmarkAssess(b *testing.B) {
	r := bathOf("liver-of-sulfur, ammonia", "pickle sodium-bisulfate", "rinse 2", "dip", "rinse 2", "seal carnauba-wax")
	for b.Loop() {
		if _, err := Assess(Subject{Recipe: r}); err != nil {
			b.Fatal(err)
		}
	}
}
