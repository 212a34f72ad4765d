package safety

import (
	"slices"
	"strings"
	"testing"

	"hepar/recipe"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"

	"pgregory.net/rapid"
)

// someRecipe draws a recipe of any sense or none, so long as it is a value of its type.
func someRecipe() *rapid.Generator[*recipe.Recipe] {
	return rapid.Custom(func(t *rapid.T) *recipe.Recipe {
		var ids []string
		for _, s := range reagent.All() {
			ids = append(ids, s.ID)
		}
		ids = append(ids, "no-such-thing", "x-acid", "\x1b[31m", "")
		substance := rapid.SampledFrom(ids)
		dos := []string{"degrease", "matte", "pickle", "rinse", "dip", "coat", "neutralise", "dry", "relieve", "seal", "inspect", "wait", "nonsense"}
		r := &recipe.Recipe{
			Kind:    rapid.SampledFrom([]recipe.Kind{recipe.Immersed, recipe.Brushed, recipe.Sprayed, recipe.Pickle, recipe.Stop}).Draw(t, "kind"),
			Alloys:  rapid.SliceOfN(rapid.SampledFrom([]string{"sterling-925", "copper-c110", "aluminium", "zinc", "steel-carbon"}), 1, 2).Draw(t, "alloys"),
			Hazards: recipe.Hazards{Ventilation: "hood", PPE: []string{"goggles"}, Disposal: "collect"},
		}
		r.Bath.Water = recipe.Range[measure.Celsius]{At: 60, From: 20, To: 80}
		for _, id := range rapid.SliceOfN(substance, 1, 3).Draw(t, "bath") {
			r.Bath.Reagents = append(r.Bath.Reagents, recipe.Reagent{Substance: id, Concentration: gramsPerL(5, 5, 5)})
		}
		for range rapid.IntRange(0, 7).Draw(t, "steps") {
			s := recipe.Step{Do: rapid.SampledFrom(dos).Draw(t, "do"), Baths: rapid.IntRange(0, 3).Draw(t, "baths")}
			if slices.Contains([]string{"degrease", "pickle", "neutralise", "seal"}, s.Do) {
				s.With = substance.Draw(t, "with")
			}
			s.How = rapid.SampledFrom([]string{"", "with vinegar", "no acid", "torch\r\n\x1b[2J", "<script>"}).Draw(t, "how")
			r.Steps = append(r.Steps, s)
		}
		return r
	})
}

// gravest gives the grade of the gravest point, 3 for none.
func gravest(points []Point) int {
	g := 3
	for _, p := range points {
		g = min(g, grade(p.Level))
	}
	return g
}

// Any recipe at all gets a whole review: no panic, each point with code, level, text and
// source, each code once, ranked.
func TestAnyRecipeIsReviewed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := someRecipe().Draw(t, "recipe")
		review, err := Assess(Subject{Recipe: r})
		if err != nil {
			t.Fatal(err)
		}
		wholeness(t, review)
		if (Refused(review.Points) != nil) != review.Stopped() {
			t.Error("Refused and Stopped do not agree")
		}
	})
}

// wholeness is what holds of any review.
func wholeness(t *rapid.T, review Review) {
	seen := map[string]bool{}
	last := 0
	for _, p := range review.Points {
		if p.Code == "" || p.Text == "" || p.Source == "" || p.Level == "" || seen[p.Code] || grade(p.Level) < last {
			t.Fatalf("not whole, not once or not ranked: %+v", p)
		}
		if strings.ContainsAny(p.Code+p.Text+p.Source, "\x1b\n\r") {
			t.Fatalf("control characters in %+v", p)
		}
		if p.Level != Caution && p.Cure == "" {
			t.Fatalf("no cure: %+v", p)
		}
		seen[p.Code], last = true, grade(p.Level)
	}
	if len(review.Emergency) == 0 {
		t.Fatal("no emergency lines")
	}
}

// Whatever the recipe says of its hazards, every point that follows from its substances
// stays, and at no lower level.
func TestHazardsOnlyAdd(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := someRecipe().Draw(t, "recipe")
		bare := *r
		bare.Hazards = recipe.Hazards{}
		full := *r
		line := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{
			"harmless", "no ventilation needed", "down the drain", "acid-sulfide", "none", "never stop", "the bath is kept overnight",
		}))
		full.Hazards = recipe.Hazards{
			Gas: rapid.SliceOfN(line, 0, 3).Draw(t, "gas"), Ventilation: line.Draw(t, "ventilation"),
			PPE: rapid.SliceOfN(line, 0, 3).Draw(t, "ppe"), Disposal: line.Draw(t, "disposal"), Notes: rapid.SliceOfN(line, 0, 3).Draw(t, "notes"),
		}
		without, err := Assess(Subject{Recipe: &bare})
		if err != nil {
			t.Fatal(err)
		}
		with, err := Assess(Subject{Recipe: &full})
		if err != nil {
			t.Fatal(err)
		}
		wholeness(t, with)
		have := codes(with)
		for _, p := range without.Points {
			q, ok := have[p.Code]
			if !ok || grade(q.Level) > grade(p.Level) || !strings.Contains(q.Text, p.Text) {
				t.Fatalf("%s was %q %q, is %q %q", p.Code, p.Level, p.Text, q.Level, q.Text)
			}
		}
		if !slices.Equal(with.Emergency, without.Emergency) {
			t.Fatal("the emergency lines changed")
		}
	})
}

// An acid put into a sulfide bath is stopped, whatever else is there and in what order.
func TestAcidInSulfideAlwaysStops(t *testing.T) {
	var acids, sulfides []string
	for _, s := range reagent.All() {
		switch {
		case s.Banned != "":
		case s.In(reagent.Sulfide):
			sulfides = append(sulfides, s.ID)
		case s.In(reagent.Acid), s.In(reagent.AcidSalt), s.In(reagent.OxidizingAcid):
			acids = append(acids, s.ID)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		r := someRecipe().Draw(t, "recipe")
		r.Bath.Reagents = append(r.Bath.Reagents,
			recipe.Reagent{Substance: rapid.SampledFrom(acids).Draw(t, "acid")},
			recipe.Reagent{Substance: rapid.SampledFrom(sulfides).Draw(t, "sulfide")})
		r.Bath.Reagents = rapid.Permutation(r.Bath.Reagents).Draw(t, "order")
		if gravest(Sequence(r)) != 0 {
			t.Fatal("not stopped")
		}
	})
}

// One rinse more, anywhere, never makes an order graver.
func TestRinsingNeverHurts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := someRecipe().Draw(t, "recipe")
		before := gravest(Sequence(r))
		at := rapid.IntRange(0, len(r.Steps)).Draw(t, "at")
		more := *r
		more.Steps = slices.Insert(slices.Clone(r.Steps), at, recipe.Step{Do: "rinse", Baths: 1})
		if after := gravest(Sequence(&more)); after < before {
			t.Fatalf("a rinse at %d made it graver: %d, was %d", at, after, before)
		}
	})
}
