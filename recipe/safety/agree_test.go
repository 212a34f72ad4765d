package safety

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"hepar/recipe"
	"hepar/recipe/reagent"
)

// TestCheckAndReviewAgree puts every two substances of the table into one bath. The
// check of the recipe refuses the pair exactly where the review stops it.
func TestCheckAndReviewAgree(t *testing.T) {
	file, err := os.ReadFile("../../recipes/silver-black.toml")
	if err != nil {
		t.Fatal(err)
	}
	head, rest, found := strings.Cut(string(file), "[[bath.reagent]]")
	at := strings.Index(rest, "\n[")
	if !found || at < 0 {
		t.Fatal("the recipe has no bath to exchange")
	}
	one := func(id string) string {
		return fmt.Sprintf("[[bath.reagent]]\nsubstance = %q\nconcentration = \"2 g/L\"\n", id)
	}
	var list []reagent.Substance
	for _, s := range reagent.All() {
		if s.Banned == "" {
			list = append(list, s)
		}
	}
	refused := 0
	for i, a := range list {
		for _, b := range list[i+1:] {
			_, findings := recipe.Decode("pair.toml", []byte(head+one(a.ID)+one(b.ID)+rest[at:]))
			check := recipe.Findings(findings).Refused()
			review := slices.ContainsFunc(Sequence(bathOf(a.ID+","+b.ID)), func(p Point) bool { return p.Level == StopLevel })
			if check != review {
				t.Errorf("%s with %s: the check refuses it: %v; the review stops it: %v", a.ID, b.ID, check, review)
			}
			if check {
				refused++
			}
		}
	}
	if refused < 100 {
		t.Errorf("only %d pairs are refused", refused)
	}
}

// TestNoListsByID looks for ids of substances in the code of the review. A substance is
// judged by the groups and facts of its literal: an id here is a list that a new
// substance is missing from. The few below are defaults, not lists.
func TestNoListsByID(t *testing.T) {
	defaults := map[string][]string{
		"drag.go":     {"sodium-bisulfate"},                                 // the pickle that is assumed
		"firstaid.go": {"liver-of-sulfur", "nitric-acid", "sodium-sulfide"}, // where no recipe is known
		"vessel.go":   {"detergent"},
	}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		source, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range reagent.All() {
			if strings.HasSuffix(file, "_test.go") || !strings.Contains(s.ID, "-") && s.ID != "detergent" || slices.Contains(defaults[file], s.ID) {
				continue
			}
			if strings.Contains(string(source), `"`+s.ID+`"`) {
				t.Errorf("%s names %s: use a group or a field of the substance", file, s.ID)
			}
		}
	}
}
