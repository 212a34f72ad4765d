package safety

import (
	"slices"
	"strings"
	"testing"

	"hepar/recipe"
	"hepar/recipe/outside"
	"hepar/recipe/safety/gas"
)

// gravestOf gives the gravest level of points, caution for none, and all codes with it.
func gravestOf(points []Point) (Level, []string) {
	level := harmless
	var codes []string
	for _, p := range points {
		if grade(p.Level) < grade(level) {
			level = p.Level
		}
		codes = append(codes, string(p.Level)+" "+p.Code)
	}
	return level, codes
}

func called(t testing.TB, slug string) *recipe.Recipe {
	t.Helper()
	for _, r := range builtins(t) {
		if r.Slug == slug {
			return r
		}
	}
	t.Fatalf("no recipe %s", slug)
	return nil
}

// as gives a recipe another name, so that two made for a test can be told apart.
func as(slug string, r *recipe.Recipe) *recipe.Recipe { r.Slug, r.Title = slug, slug; return r }

func TestJoinedRecipes(t *testing.T) {
	get := func(slug string) *recipe.Recipe { return called(t, slug) }
	bare := func() *recipe.Recipe { return as("bare-pickle", bathOf("sodium-bisulfate", "dip")) }
	black := func() *recipe.Recipe { return as("bare-black", bathOf("liver-of-sulfur", "dip")) }
	for _, c := range []struct {
		name    string
		recipes []*recipe.Recipe
		want    Level
		code    string
		about   string
	}{
		{"a pickle without a rinse, then sulfide", []*recipe.Recipe{bare(), black()}, StopLevel, "acid-before-sulfide", "40 CFR 265 Appendix V; drag-in"},
		{"sulfide without a rinse, then a pickle", []*recipe.Recipe{black(), bare()}, StopLevel, "sulfide-before-acid", "common practice: no coloured piece into pickle"},
		{"sulfide, rinsed, then the pickle for the next colour", []*recipe.Recipe{get("silver-black"), get("pickle-bisulfate")}, StopLevel, "sulfide-before-acid", "the film frees gas in acid; common practice"},
		{"sulfide, rinsed, then the citric pickle", []*recipe.Recipe{get("silver-black"), get("pickle-citric")}, StopLevel, "sulfide-before-acid", "the film frees gas in acid; common practice"},
		{"sulfide, then a nitric dip", []*recipe.Recipe{get("silver-black"), as("nitric", bathOf("nitric-acid", "dip", "rinse 3"))}, StopLevel, "sulfide-before-acid", "EPA-600/2-80-076"},
		{"bleach bath straight after a pickle", []*recipe.Recipe{bare(), as("bleach", bathOf("sodium-hypochlorite", "dip", "rinse 3"))}, StopLevel, "acid-before-hypochlorite", "ICSC 0482"},
		{"ammoniacal copper, then bleach", []*recipe.Recipe{as("amm", bathOf("ammonia, copper-carbonate", "dip")), as("bleach", bathOf("sodium-hypochlorite", "dip", "rinse 3"))}, StopLevel, "ammonia-before-hypochlorite", "ICSC 0482"},
		{"nitrate green carried into sulfide", []*recipe.Recipe{as("green", bathOf("copper-nitrate", "dip")), black()}, StopLevel, "acid-salt-before-sulfide", "ICSC 1499"},
		{"one rinse in the middle", []*recipe.Recipe{as("pickle", bathOf("sodium-bisulfate", "dip", "rinse")), black()}, CorrectFirst, "acid-before-sulfide", "one still rinse"},
		{"rinsed in the same water", []*recipe.Recipe{as("pickle", bathOf("citric-acid", "dip", "rinse 2", "neutralise sodium-carbonate", "rinse 2")), as("black", bathOf("liver-of-sulfur", "dip", "rinse 2|in the same water as after the pickle"))}, StopLevel, "shared-rinse", "rinses of their own; 40 CFR 265 Appendix V"},
		{"spent sulfide into the acid waste", []*recipe.Recipe{as("black", bathOf("liver-of-sulfur", "dip", "rinse 2|pour it into the acid waste drum afterwards"))}, StopLevel, "shared-waste", "university guidance: sulfide apart from acid waste"},

		{"pickle, silver black", []*recipe.Recipe{get("pickle-bisulfate"), get("silver-black")}, harmless, "", "Workshop Receipts (Spon); rinsed and neutralised"},
		{"citric pickle, silver black, stop", []*recipe.Recipe{get("pickle-citric"), get("silver-black"), get("stop-soda")}, harmless, "", "common practice"},
		{"pickle, stop, silver black, stop", []*recipe.Recipe{get("pickle-bisulfate"), get("stop-soda"), get("silver-black"), get("stop-soda")}, harmless, "", "two pots, common practice"},
		{"pickle, copper brown", []*recipe.Recipe{get("pickle-citric"), get("copper-brown-black")}, harmless, "", "Art Metalwork (Payne)"},
		{"pickle, plated black", []*recipe.Recipe{get("pickle-citric"), get("silver-black-plate")}, harmless, "", "common practice"},
		{"pickle, brass black", []*recipe.Recipe{get("pickle-bisulfate"), get("brass-black-ammoniacal")}, harmless, "", "Henley's Twentieth Century Formulas"},
		{"pickle, green", []*recipe.Recipe{get("pickle-citric"), get("copper-green-sulfate")}, harmless, "", "copper trade body green"},
		{"pickle alone, and nothing", []*recipe.Recipe{nil, get("pickle-bisulfate"), nil}, harmless, "", "common practice"},
		{"stop after sulfide", []*recipe.Recipe{get("silver-black"), get("stop-soda")}, harmless, "", "alkaline stop"},
		{"sulfide waste named as it should be", []*recipe.Recipe{as("black", bathOf("liver-of-sulfur", "pickle citric-acid", "rinse 2", "dip", "rinse 2|keep this water with the sulfide waste, never in the acid waste", "inspect|same lamp, same tray of pieces"))}, harmless, "", "a warning is no instruction"},
		{"the same pot of tongs is no vessel of both", []*recipe.Recipe{as("black", bathOf("liver-of-sulfur", "dip|for the same time each", "rinse 2|in the same way as before", "inspect|beside the same reference"))}, harmless, "", "no acid in the work"},
	} {
		t.Run(c.name, func(t *testing.T) {
			points := SequenceOf(c.recipes...)
			sound(t, points)
			got, codes := gravestOf(points)
			if got != c.want {
				t.Fatalf("gravest is %q, want %q (%s): %q", got, c.want, c.about, codes)
			}
			if c.code != "" && !slices.Contains(codes, string(c.want)+" "+c.code) {
				t.Errorf("no %s among %q", c.code, codes)
			}
		})
	}
	if len(SequenceOf()) != 0 || len(SequenceOf(nil)) != 0 {
		t.Error("points of nothing")
	}
}

// One recipe by itself is judged alike by both functions.
func TestSequenceOfOneIsSequence(t *testing.T) {
	for _, r := range builtins(t) {
		a, b := Sequence(r), SequenceOf(r)
		if !slices.Equal(a, b) {
			t.Errorf("%s: %d and %d points", r.Slug, len(a), len(b))
		}
	}
}

func TestJoinedNames(t *testing.T) {
	points := SequenceOf(called(t, "pickle-bisulfate"), called(t, "stop-soda"), called(t, "silver-black"), called(t, "stop-soda"))
	text, two := "", false
	for _, p := range points {
		text += p.Text
		two = two || p.Code == "two-stop-pots"
	}
	if !strings.Contains(text, "step 3 (dip) of pickle-bisulfate") || !strings.Contains(text, "of silver-black") || !two {
		t.Errorf("vessels do not say whose they are: %s", text)
	}
}

// Helpers before and after are part of a review.
func TestHelpersAreReviewed(t *testing.T) {
	s := Subject{Recipe: called(t, "silver-black"), Before: []*recipe.Recipe{called(t, "pickle-bisulfate")}, After: []*recipe.Recipe{called(t, "stop-soda")}, Bath: 2, MetalArea: 2700, DragOutMLM2: 81.5, Room: gas.Room{VolumeM3: 32, AirChangesPerHour: 4}}
	r := assess(t, s)
	have := codes(r)
	for code, words := range map[string]string{"never-meet-sulfide": "sodium bisulfate in step 3 (dip) of pickle-bisulfate", "not-alone": "acid and sulfide", "acid-drag-in": "mg of hydrogen sulfide", "substance-sodium-bisulfate": "pickle-bisulfate"} {
		if !strings.Contains(have[code].Text, words) {
			t.Errorf("%s: %s", code, have[code].Text)
		}
	}
	if len(r.Gas) == 0 || r.Gas[0].Scenario[:14] != "the bath as pl" {
		t.Errorf("the bath estimated is not that of the recipe: %+v", r.Gas)
	}
	s.Before = []*recipe.Recipe{as("bare", bathOf("sodium-bisulfate", "dip"))}
	s.Recipe = as("black", bathOf("liver-of-sulfur", "dip", "rinse 2"))
	if !assess(t, s).Stopped() {
		t.Error("a helper's unrinsed acid before the sulfide is not stopped")
	}
}

// What acid is dragged in: 27 dm2 with 81.5 mL/m2 is 22 mL; at 100 g/L of bisulfate
// 0.833 mmol/mL, one mol of gas for each.
func TestDragIn(t *testing.T) {
	const source = "plating handbook drag-out 2 gal/1000 ft2, from memory; NaHSO4 120.05 g/mol, one mol of gas for each, computed"
	r := bathOf("liver-of-sulfur", "pickle sodium-bisulfate", "rinse 2", "dip", "rinse 2")
	r.Steps[0].Concentration = gramsPerL(100, 100, 100)
	s := Subject{Recipe: r, MetalArea: 2700, DragOutMLM2: 81.5, Bath: 2, Reagents: weighed("liver-of-sulfur", 10)}
	review := assess(t, s)
	outside.Check(t, "27 dm2 of unrinsed pieces from 100 g/L of bisulfate into sulfide, mg of hydrogen sulfide", source, 0.2700*81.5/1000*100/120.054*34.076*1000, estimated(t, review, "drag-in-unrinsed").FreedG*1000, 2)
	// Each of two tubs of 2 L thins 22 mL ninety-two times.
	thin := (2000 + 22.005) / 22.005
	outside.Check(t, "the same after two rinses of 2 L, mg", source+"; two dilutions of 1:92, computed", 624.6/thin/thin, estimated(t, review, "drag-in-rinsed").FreedG*1000, 0.001)
	if text := codes(review)["acid-drag-in"].Text; !strings.Contains(text, "620 mg") || !strings.Contains(text, "22 mL") || !strings.Contains(text, "factor of five") {
		t.Errorf("the point says %s", text)
	}
	s.With = []string{"hollow"}
	review = assess(t, s)
	if slices.ContainsFunc(review.Gas, func(e gas.Estimate) bool { return e.Code == "drag-in-rinsed" }) || !strings.Contains(codes(review)["acid-drag-in"].Text, "count with the whole") {
		t.Error("a rinse is trusted with hollow pieces")
	}
	// No more gas than the bath holds.
	s.Reagents = weighed("liver-of-sulfur", 0.1)
	if got := estimated(t, assess(t, s), "drag-in-unrinsed").FreedG; got > 0.1*0.1954*1.01 {
		t.Errorf("%v g from 0.1 g of liver of sulfur", got)
	}
	for name, s := range map[string]Subject{
		"no acid": {Recipe: bathOf("liver-of-sulfur", "dip", "rinse 2")}, "no sulfide": {Recipe: bathOf("copper-carbonate", "pickle citric-acid", "rinse", "dip")},
		"acid after": {Recipe: bathOf("liver-of-sulfur", "dip", "rinse 2", "pickle citric-acid")},
	} {
		if _, ok := codes(assess(t, s))["acid-drag-in"]; ok {
			t.Errorf("%s: drag-in is reckoned", name)
		}
	}
}

// A coloured piece in acid is stopped in a review as well, however well it was rinsed, and
// the cure is to rub the film off or to pickle first; what ships by itself is not stopped.
func TestFilmInAcidIsStopped(t *testing.T) {
	for _, helper := range []string{"pickle-citric", "pickle-bisulfate"} {
		r := assess(t, Subject{Recipe: called(t, "silver-black"), After: []*recipe.Recipe{called(t, helper)}})
		p := codes(r)["sulfide-before-acid"]
		if p.Level != StopLevel || !strings.Contains(p.Cure, "pickle before colouring") || !strings.Contains(p.Cure, "rubbed off") {
			t.Errorf("%s: %+v", helper, p)
		}
	}
	for _, r := range builtins(t) {
		if assess(t, Subject{Recipe: r}).Stopped() {
			t.Errorf("%s is stopped by itself", r.Slug)
		}
	}
}
