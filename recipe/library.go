package recipe

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"hepar/recipe/fault"
	"hepar/recipe/strict"
)

// Library knows where every recipe is: the built-in ones and those in the
// folders of the user. It holds names only; a recipe is parsed when it is asked
// for. It is safe for use by several goroutines.
type Library struct {
	builtin fs.FS
	entries map[string][]string // slug to places; more than one is a clash
	slugs   []string
}

// BuiltinFile is what stands for the file of a built-in recipe.
const BuiltinFile = "built-in"

// ValidSlug tells whether s may name a recipe: a to z, 0 to 9 and hyphens, at
// most 64 characters, not beginning with a hyphen.
func ValidSlug(s string) bool {
	if s == "" || len(s) > 64 || s[0] == '-' {
		return false
	}
	for _, c := range []byte(s) {
		if (c < 'a' || c > 'z') && (c < '0' || c > '9') && c != '-' {
			return false
		}
	}
	return true
}

// Load looks up the names of the built-in recipes (files *.toml at the top of
// builtin, which may be nil) and of those in the folders. A folder that does not
// exist is passed over. Findings are files whose name is no slug and names that
// stand in two places; neither can be got, all others can. The error says that a
// folder cannot be read.
func Load(builtin fs.FS, dirs ...string) (*Library, []Finding, error) {
	l := &Library{builtin: builtin, entries: map[string][]string{}}
	var findings []Finding
	if builtin != nil {
		names, err := fs.Glob(builtin, "*.toml")
		if err != nil {
			return nil, nil, fault.Failuref("the built-in recipes cannot be listed").Because(err)
		}
		for _, name := range names {
			slug := strings.TrimSuffix(name, ".toml")
			l.entries[slug] = append(l.entries[slug], BuiltinFile)
		}
	}
	var seen []string
	for _, dir := range dirs {
		if dir == "" || slices.Contains(seen, filepath.Clean(dir)) {
			continue
		}
		seen = append(seen, filepath.Clean(dir))
		found, err := l.folder(dir)
		if err != nil {
			return nil, nil, err
		}
		findings = append(findings, found...)
	}
	for slug, places := range l.entries {
		l.slugs = append(l.slugs, slug)
		if len(places) > 1 {
			findings = append(findings, clash(slug, places))
		}
	}
	slices.Sort(l.slugs)
	slices.SortStableFunc(findings, func(a, b Finding) int { return strings.Compare(a.File, b.File) })
	return l, findings, nil
}

func (l *Library) folder(dir string) ([]Finding, error) {
	files, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fileKind().Unreadable(dir, err)
	}
	var findings []Finding
	for _, file := range files {
		slug, isTOML := strings.CutSuffix(file.Name(), ".toml")
		if !isTOML || file.IsDir() || strings.HasPrefix(slug, ".") {
			continue
		}
		path := filepath.Join(dir, file.Name())
		if !ValidSlug(slug) {
			findings = append(findings, badName(path))
			continue
		}
		l.entries[slug] = append(l.entries[slug], path)
	}
	return findings, nil
}

func badName(path string) Finding {
	return Finding{File: path, Text: strict.Excerpt(filepath.Base(path)), What: "the file name cannot be the name of a recipe",
		Cure: "rename it: small letters, digits and hyphens, at most 64, then .toml"}
}

func clash(slug string, places []string) Finding {
	other := "the built-in recipe"
	if places[0] != BuiltinFile {
		other = places[0]
	}
	return Finding{File: places[len(places)-1], Text: slug,
		What: fmt.Sprintf("two recipes are called %s: this file and %s", slug, other),
		Cure: "rename one of the files; neither is used until then"}
}

// Slugs gives the names of all recipes in alphabetical order, without opening any.
func (l *Library) Slugs() []string { return slices.Clone(l.slugs) }

// Where gives the file of a recipe, or "built-in"; "" for an unknown name.
func (l *Library) Where(slug string) string {
	if places := l.entries[slug]; len(places) > 0 {
		return places[len(places)-1]
	}
	return ""
}

// Get reads and decodes one recipe, and no other. An unknown name is a usage
// error that names those nearest to it; a recipe with findings gives the error of
// [strict.Findings.Of], from which [FindingsOf] brings them back.
func (l *Library) Get(slug string) (*Recipe, error) {
	places := l.entries[slug]
	switch len(places) {
	case 0:
		err := fault.Usagef("there is no recipe %q", strict.Excerpt(slug))
		if near := fault.NearestN(slug, l.slugs, 3); len(near) > 0 {
			return nil, err.Try("did you mean %s? hepar recipe list names them all", strings.Join(near, " or "))
		}
		return nil, err.Try("hepar recipe list names them all")
	case 1:
	default:
		return nil, Findings{clash(slug, places)}.Of("recipe")
	}
	r, findings, err := l.read(slug, places[0])
	if err != nil {
		return nil, err
	}
	return r, Findings(findings).Of("recipe")
}

func (l *Library) read(slug, path string) (*Recipe, []Finding, error) {
	if path != BuiltinFile {
		return Read(path)
	}
	name := slug + ".toml"
	data, err := fs.ReadFile(l.builtin, name)
	if err != nil {
		return nil, nil, fileKind().Unreadable(name, err)
	}
	kind := fileKind()
	kind.Shipped = true
	r, findings := decode(kind, name, data)
	if r != nil {
		r.File, r.Builtin = BuiltinFile, true
	}
	return r, findings, nil
}

// All reads every recipe. It gives the sound ones in alphabetical order and, in
// the same order, what is wrong with the others.
func (l *Library) All() ([]*Recipe, []Finding) {
	recipes := make([]*Recipe, len(l.slugs))
	faults := make([][]Finding, len(l.slugs))
	var next atomic.Int64
	var workers sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(l.slugs)) {
		workers.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= len(l.slugs) {
					return
				}
				recipes[i], faults[i] = l.one(l.slugs[i])
			}
		})
	}
	workers.Wait()
	recipes = slices.DeleteFunc(recipes, func(r *Recipe) bool { return r == nil })
	return recipes, slices.Concat(faults...)
}

func (l *Library) one(slug string) (*Recipe, []Finding) {
	places := l.entries[slug]
	if len(places) > 1 {
		return nil, []Finding{clash(slug, places)}
	}
	r, findings, err := l.read(slug, places[0])
	if err != nil {
		findings = append(findings, Finding{File: places[0], What: err.Error(), Cure: fault.CureOf(err)})
	}
	return r, findings
}
