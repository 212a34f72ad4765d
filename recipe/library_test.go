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
	lib, findings, err := Load(counting{builtinFS("silver-a", "silver-b"), &opened}, own)
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
	own := folder(t, map[string]string{"silver-a.toml": strings.Replace(good, "revision = 3", "revision = 4", 1), "Bad Name.toml": good,
		"acid.toml": strings.NewReplacer(`"ammonia"`, `"citric-acid"`, `"25 % solution"`, `"anhydrous"`).Replace(good)})
	lib, findings, err := Load(builtinFS("silver-a", "silver-b"), own)
	if err != nil {
		t.Fatal(err)
	}
	if got := report(findings); len(findings) != 1 || !strings.Contains(got, "the file name cannot be the name of a recipe") {
		t.Errorf("findings:\n%s", got)
	}
	if r, err := lib.Get("silver-a"); err != nil || r.Builtin || r.Revision != 4 || !lib.Replaces("silver-a") {
		t.Errorf("the user's recipe does not replace the built-in one: %+v %v", r, err)
	}
	if lib.Replaces("silver-b") || lib.Replaces("acid") || lib.Replaces("none") {
		t.Error("a recipe replaces what it does not replace")
	}
	for _, c := range []struct {
		slug, say, cure string
		kind            fault.Kind
	}{
		{"silver-bb", `no recipe "silver-bb"`, "did you mean silver-b", fault.Usage},
		{"nothing-like-it-at-all", "no recipe", "recipe list", fault.Usage},
		{"", "no recipe", "recipe list", fault.Usage},
		{"../silver-b", "no recipe", "", fault.Usage},
		{"acid", "citric-acid", "separate", fault.Safety},
	} {
		r, err := lib.Get(c.slug)
		if r != nil || err == nil {
			t.Errorf("%q was found", c.slug)
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
	if lib.Where("silver-b") != BuiltinFile || lib.Where("acid") != filepath.Join(own, "acid.toml") || lib.Where("none") != "" {
		t.Error("Where is wrong")
	}
	if all, wrong := lib.All(); len(all) != 2 || len(wrong) != 2 {
		t.Errorf("%d sound recipes, %d findings", len(all), len(wrong))
	}
	if lib, findings, err := Load(builtinFS("silver-a"), filepath.Join(own, "not-there")); err != nil || findings != nil || len(lib.Slugs()) != 1 {
		t.Errorf("no folder: %v %v", findings, err)
	}
	if _, _, err := Load(nil, filepath.Join(own, "acid.toml")); err == nil {
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
