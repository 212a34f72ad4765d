package recipe

import (
	_ "embed" // for the template
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/strict"
)

// Library knows where every recipe is. It holds names only and parses a recipe when it is
// asked for, so a bad file stops only those who ask for it.
type Library struct {
	builtin  fs.FS
	files    map[string]string // by name: the file of the user, or [BuiltinFile]
	replaces map[string]bool   // names of the user's that a built-in one has too
}

// BuiltinFile stands for the file of a built-in recipe.
const BuiltinFile = "built-in"

// ValidSlug reports whether s may name a recipe: 1 to 64 of a to z, 0 to 9 and -, no - first.
func ValidSlug(s string) bool {
	return s != "" && len(s) <= 64 && s[0] != '-' && strings.Trim(s, "abcdefghijklmnopqrstuvwxyz0123456789-") == ""
}

// Load looks up the names of the built-in recipes (*.toml at the top of builtin, which may be
// nil) and of the user's, whose folder may be "" or missing. The user's counts before a
// built-in one of its name, see [Library.Replaces]. Findings are files whose name cannot be
// that of a recipe. The error means that the folder cannot be read.
func Load(builtin fs.FS, dir string) (*Library, []Finding, error) {
	l := &Library{builtin, map[string]string{}, map[string]bool{}}
	if builtin != nil {
		names, _ := fs.Glob(builtin, "*.toml") // the pattern is sound
		for _, name := range names {
			l.files[strings.TrimSuffix(name, ".toml")] = BuiltinFile
		}
	}
	files, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, nil, file.Unreadable(dir, err)
	}
	var findings []Finding
	for _, entry := range files {
		slug, isTOML := strings.CutSuffix(entry.Name(), ".toml")
		path := filepath.Join(dir, entry.Name())
		switch {
		case !isTOML || entry.IsDir() || strings.HasPrefix(slug, "."):
		case !ValidSlug(slug):
			findings = append(findings, badName(path))
		default:
			l.files[slug], l.replaces[slug] = path, l.files[slug] != ""
		}
	}
	return l, findings, nil
}

func badName(path string) Finding {
	return Finding{File: path, Text: strict.Excerpt(filepath.Base(path)), What: "the file name cannot be the name of a recipe",
		Cure: "rename it: small letters, digits and hyphens, at most 64, then .toml"}
}

// Slugs returns the names of all recipes in alphabetical order, without opening any.
func (l *Library) Slugs() []string { return slices.Sorted(maps.Keys(l.files)) }

// Where returns the file of a recipe, or [BuiltinFile]; "" for an unknown name.
func (l *Library) Where(slug string) string { return l.files[slug] }

// Replaces reports whether a recipe is the user's and a built-in one has the same name.
func (l *Library) Replaces(slug string) bool { return l.replaces[slug] }

// Get reads and decodes one recipe, and no other. An unknown name is an error of kind Usage
// that names the nearest; findings are the error of [strict.Findings.Of].
func (l *Library) Get(slug string) (*Recipe, error) {
	if l.Where(slug) == "" {
		if strings.HasSuffix(slug, ".toml") {
			return nil, fault.Usagef("%q is a file, and a recipe goes by its name", strict.Excerpt(slug)).Try("name its folder with --recipes, and the recipe without .toml")
		}
		return nil, fault.Usagef("there is no recipe %q", strict.Excerpt(slug)).Try("%slist all recipes: hepar recipe list", strict.Meant(slug, l.Slugs()))
	}
	r, findings, err := l.read(slug)
	if err != nil {
		return nil, err
	}
	return r, Findings(findings).Of("recipe")
}

func (l *Library) read(slug string) (*Recipe, []Finding, error) {
	if path := l.files[slug]; path != BuiltinFile {
		return Read(path)
	}
	name := slug + ".toml"
	data, err := fs.ReadFile(l.builtin, name)
	if err != nil {
		return nil, nil, file.Unreadable(name, err)
	}
	r, findings := decode(name, data, false)
	if r != nil {
		r.File, r.Builtin = BuiltinFile, true
	}
	return r, findings, nil
}

// All reads every recipe and returns, by name, the sound ones and what is wrong with the
// others.
func (l *Library) All() (recipes []*Recipe, findings []Finding) {
	for _, slug := range l.Slugs() {
		r, wrong, err := l.read(slug)
		switch {
		case err != nil:
			findings = append(findings, Finding{File: l.Where(slug), What: err.Error(), Cure: fault.CureOf(err)})
		case r != nil:
			recipes = append(recipes, r)
		}
		findings = append(findings, wrong...)
	}
	return recipes, findings
}

// For returns the names of the recipes that colour an alloy.
func (l *Library) For(alloy string) (slugs []string) {
	all, _ := l.All()
	for _, r := range all {
		if slices.Contains(r.Alloys, alloy) && r.Kind != Pickle && r.Kind != Stop {
			slugs = append(slugs, r.Slug)
		}
	}
	return slugs
}

//go:embed template.toml
var template string

// Template returns a recipe file to fill in, which passes once every FILL IN is replaced.
func Template(slug string) []byte { return []byte(strings.ReplaceAll(template, "SLUG", slug)) }

// FromExisting returns the text of a recipe as the start of a new one, under a comment that
// names the old one. A slug that cannot name a recipe, or names r, is an error of kind Usage.
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
