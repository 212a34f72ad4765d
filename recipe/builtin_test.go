package recipe_test

import (
	"testing"

	"hepar/recipe"
	"hepar/recipes"
)

// The built-in recipes have to pass the check that users' own files must pass.
func TestBuiltinRecipesPass(t *testing.T) {
	lib, findings, err := recipe.Load(recipes.FS, "")
	if err != nil {
		t.Fatal(err)
	}
	all, more := lib.All()
	for _, f := range append(findings, more...) {
		for _, line := range f.Lines() {
			t.Error(line)
		}
	}
	// The library spares shipped files the second parser; here they get it.
	for _, r := range all {
		if again, findings := recipe.Decode(r.Slug+".toml", []byte(r.Text)); again == nil || again.Digest != r.Digest {
			t.Errorf("%s reads differently as a user's file: %v", r.Slug, findings)
		}
	}
	if len(all) < 14 {
		t.Errorf("%d built-in recipes, wanted at least fourteen", len(all))
	}
}
