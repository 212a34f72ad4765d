package recipe

import (
	_ "embed" // for the template
	"fmt"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/strict"
)

//go:embed template.toml
var template string

// Template returns a commented recipe file for a new finish. It passes the check once
// every FILL IN is replaced.
func Template(slug string) []byte { return []byte(strings.ReplaceAll(template, "SLUG", slug)) }

// FromExisting returns the text of a recipe as the start of a new one, under a comment
// that names the old one. It returns a usage error if slug cannot name a recipe or is the
// name of r itself.
func FromExisting(r *Recipe, slug string) ([]byte, error) {
	if !ValidSlug(slug) {
		return nil, fault.Usagef("%q cannot be the name of a recipe", strict.Excerpt(slug)).Try("use small letters, digits and hyphens, at most 64")
	}
	if slug == r.Slug {
		return nil, fault.Usagef("the new recipe has the name of the old one, %s", slug).Try("choose another name")
	}
	head := fmt.Sprintf("# %s: taken from %s, revision %d (%s)\n", slug, r.Slug, r.Revision, strict.Excerpt(r.Title))
	return []byte(head + r.Text), nil
}
