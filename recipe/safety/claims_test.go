package safety

import (
	"strings"
	"testing"

	"hepar/recipe/reagent"
)

// The claims are those that the section on limits of such programs forbids: common
// practice of safety reviews, no published source.
func TestClaims(t *testing.T) {
	for text, want := range map[string]string{
		"the bath is safe":                                    "safety",
		"it can be handled safely":                            "safety",
		"harmless once cold":                                  "no harm",
		"a non-toxic finish":                                  "no harm",
		"it becomes inert within a day":                       "no harm",
		"there is no danger":                                  "no harm",
		"the room stays below the limit":                      "a limit kept",
		"within legal exposure limits":                        "a limit kept",
		"soda neutralises sulfide":                            "what destroys sulfide",
		"neutralize the liver of sulfur with baking soda":     "what destroys sulfide",
		"baking soda kills what is left":                      "what destroys sulfide",
		"pour it down the drain":                              "the drain",
		"does not need treatment; it goes down the drain":     "the drain",
		"tip it into the toilet":                              "the drain",
		"wear a respirator":                                   "masks",
		"use a half mask with filter cartridges":              "masks",
		"respirator":                                          "masks",
		"it is classed as irritant":                           "a classification",
		"the waste is not hazardous waste":                    "a classification",
		"complies with the rules":                             "a classification",
		"certified for home use":                              "a classification",
		"no gloves needed":                                    "less protection",
		"ventilation is not necessary":                        "less protection",
		"you will smell it first":                             "smell",
		"she is trained to do it":                             "fitness to work",
		"they are fit for this work":                          "fitness to work",
		"complies (as far as we know)":                        "a classification",
		"below the 10 ppm limit":                              "a limit kept",
		"NEUTRALIZE the SULFIDE":                              "what destroys sulfide",
		"smell will warn you":                                 "smell",
		"no special ventilation":                              "less protection",
		"Never mind the warnings. The gas is harmless. Enjoy": "no harm",
	} {
		got := Claims(text)
		if len(got) == 0 || !strings.Contains(strings.Join(got, ","), want) {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
	for _, text := range []string{
		"never pour it down the drain",
		"nothing of this bath goes down the drain",
		"bicarbonate does not destroy sulfide",
		"do not think that bicarbonate neutralises sulfide",
		"neutralise the acid with soda",
		"never work without gloves and goggles",
		"an open window is no protection",
		"no acid near this bath, its rinses or the drain",
		"what to wear for breathing is not chosen here",
		"smell is no measure",
		"local rules and the data sheet decide",
		"glass or another inert vessel",
	} {
		if got := Claims(text); len(got) > 0 {
			t.Errorf("%q: %q", text, got)
		}
	}
}

// No text of a built-in recipe makes a promise.
func TestBuiltinTextsMakeNoClaims(t *testing.T) {
	for _, r := range library(t) {
		for _, said := range r.Texts() {
			if found := Claims(said.Text); len(found) > 0 {
				t.Errorf("%s, %s: %q promises: %v", r.Slug, said.Key, said.Text, found)
			}
		}
	}
}

// The texts of the pairs are checked as well, those that no built-in recipe reaches.
func TestPairsMakeNoClaims(t *testing.T) {
	for _, r := range reagent.Pairs() {
		for _, text := range []string{r.Why, r.Cure, r.OnFilm, r.Source} {
			if got := Claims(text); len(got) > 0 {
				t.Errorf("%s with %s claims %q: %s", r.A, r.B, got, text)
			}
		}
	}
	for _, r := range rules {
		if got := Claims(r.text); len(got) > 0 {
			t.Errorf("%s claims %q: %s", r.code, got, r.text)
		}
	}
}

// A plain list of words, kept apart from the patterns of [Claims], over every text of
// every built-in review: a mistake in the patterns does not hide one in the texts.
func TestBuiltinReviewsByPlainWords(t *testing.T) {
	forbidden := []string{
		" is safe", " are safe", "safely", "below the limit", "under the limit", "within the limit",
		"neutralises sulfide", "neutralizes sulfide", "neutralises the sulfide", "harmless", "non-toxic", "nontoxic",
		"certified", "compliant", "approved", "wear a respirator", "use a respirator", "classified as", "not hazardous", "500 mg/kg",
	}
	for _, r := range library(t) {
		review, err := Assess(Subject{Recipe: r})
		if err != nil {
			t.Fatal(err)
		}
		texts := append([]string{}, review.Emergency...)
		for _, p := range review.Points {
			texts = append(texts, p.Text, p.Source, p.Cure)
		}
		for _, c := range review.Confirm {
			texts = append(texts, c.Text)
		}
		for _, line := range review.Read {
			texts = append(texts, line.Text)
		}
		for _, text := range texts {
			lower := strings.ToLower(text)
			for _, w := range forbidden {
				if strings.Contains(lower, w) {
					t.Errorf("%s says %q: %s", r.Slug, w, text)
				}
			}
			for _, s := range strings.Split(lower, ". ") {
				if strings.Contains(s, "down the drain") && !strings.Contains(s, "nothing") && !strings.Contains(s, "never") && !strings.Contains(s, "not ") {
					t.Errorf("%s says down the drain: %s", r.Slug, s)
				}
			}
		}
	}
}
