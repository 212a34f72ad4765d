package recipe

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"testing/fstest"

	"hepar/recipe/fault"
)

// counting counts how many files of it are opened by name.
type counting struct {
	fs.FS
	opened *atomic.Int64
}

func (c counting) Open(name string) (fs.File, error) {
	if name != "." {
		c.opened.Add(1)
	}
	return c.FS.Open(name)
}

func builtinFS(slugs ...string) fstest.MapFS {
	m := fstest.MapFS{}
	for _, s := range slugs {
		m[s+".toml"] = &fstest.MapFile{Data: []byte(good)}
	}
	return m
}

func folder(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func TestLibraryParsesOnlyWhatIsAsked(t *testing.T) {
	var opened atomic.Int64
	own := folder(t, map[string]string{"own-green.toml": goodBrushed, "broken.toml": "title =", "notes.txt": "x", ".hidden.toml": "x"})
	lib, findings, err := Load(counting{builtinFS("silver-a", "silver-b"), &opened}, own, filepath.Join(own, "not-there"), own)
	if err != nil || len(findings) > 0 {
		t.Fatal(findings, err)
	}
	if got := strings.Join(lib.Slugs(), " "); got != "broken own-green silver-a silver-b" {
		t.Errorf("slugs %s", got)
	}
	if n := opened.Load(); n != 0 {
		t.Errorf("listing opened %d files", n)
	}
	r, err := lib.Get("silver-b")
	if err != nil {
		t.Fatal(err)
	}
	if n := opened.Load(); n != 1 {
		t.Errorf("getting one recipe opened %d files", n)
	}
	if !r.Builtin || r.File != BuiltinFile || r.Slug != "silver-b" || r.Text != good {
		t.Errorf("builtin %v, file %s, slug %s", r.Builtin, r.File, r.Slug)
	}
	if r, err = lib.Get("own-green"); err != nil || r.Builtin || r.File != filepath.Join(own, "own-green.toml") {
		t.Errorf("own recipe: %+v %v", r, err)
	}
	all, bad := lib.All()
	if len(all) != 3 || len(bad) != 1 || !strings.Contains(bad[0].File, "broken.toml") {
		t.Errorf("%d recipes, findings:\n%s", len(all), report(bad))
	}
}

func TestLibraryErrors(t *testing.T) {
	one := folder(t, map[string]string{"silver-a.toml": good, "both.toml": good, "Bad Name.toml": good, "acid.toml": strings.NewReplacer(`"ammonia"`, `"citric-acid"`, `"25 % solution"`, `"anhydrous"`).Replace(good)})
	two := folder(t, map[string]string{"both.toml": good})
	lib, findings, err := Load(builtinFS("silver-a", "silver-b"), one, two)
	if err != nil {
		t.Fatal(err)
	}
	got := report(findings)
	for _, say := range []string{
		"two recipes are called silver-a: this file and the built-in recipe",
		"two recipes are called both: this file and " + filepath.Join(one, "both.toml"),
		"the file name cannot be the name of a recipe",
	} {
		if !strings.Contains(got, say) {
			t.Errorf("no finding says %q", say)
		}
	}
	if len(findings) != 3 {
		t.Errorf("findings:\n%s", got)
	}
	for _, c := range []struct {
		slug, say, cure string
		kind            fault.Kind
	}{
		{"silver-a", "two recipes are called silver-a", "rename", fault.Failure}, // no override, either way
		{"both", "two recipes", "rename", fault.Failure},
		{"silver-bb", `no recipe "silver-bb"`, "did you mean silver-b", fault.Usage},
		{"nothing-like-it-at-all", "no recipe", "recipe list", fault.Usage},
		{"", "no recipe", "recipe list", fault.Usage},
		{"../silver-b", "no recipe", "", fault.Usage},
		{"acid", "citric-acid", "separate", fault.Safety},
	} {
		r, err := lib.Get(c.slug)
		if r != nil || err == nil {
			t.Errorf("%q was got", c.slug)
			continue
		}
		if !strings.Contains(err.Error(), c.say) || !strings.Contains(fault.CureOf(err), c.cure) || fault.KindOf(err) != c.kind {
			t.Errorf("%q: %v (kind %d); %s", c.slug, err, fault.KindOf(err), fault.CureOf(err))
		}
	}
	_, err = lib.Get("acid")
	if back := FindingsOf(err); len(back) != 2 || !Findings(back).Refused() {
		t.Errorf("findings behind the error: %v", back)
	}
	if FindingsOf(nil) != nil {
		t.Error("findings of no error")
	}
	if lib.Where("silver-b") != BuiltinFile || lib.Where("acid") != filepath.Join(one, "acid.toml") || lib.Where("none") != "" {
		t.Error("Where is wrong")
	}
	all, _ := lib.All()
	if len(all) != 1 {
		t.Errorf("%d sound recipes", len(all))
	}
	if _, _, err := Load(nil, filepath.Join(one, "acid.toml")); err == nil {
		t.Error("a file went for a folder")
	}
}

func TestSlugs(t *testing.T) {
	for s, want := range map[string]bool{
		"a": true, "silver-black": true, "9-carat": true, strings.Repeat("a", 64): true,
		"": false, "-a": false, "A": false, "a b": false, "a_b": false, "ä": false, "a.b": false, "a/b": false, "..": false, strings.Repeat("a", 65): false,
	} {
		if ValidSlug(s) != want {
			t.Errorf("ValidSlug(%q) is %v", s, !want)
		}
	}
	_, findings := Decode("My Recipe.toml", []byte(good))
	if len(findings) != 1 || !strings.Contains(findings[0].Cure, "rename") {
		t.Errorf("file name\n%s", report(findings))
	}
}
