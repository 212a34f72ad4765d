package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// order lists the rooms: each may import only those before it.
var order = []string{
	"hepar/recipe/fault", "hepar/recipe/outside", "hepar/recipe/measure", "hepar/recipe/paper", "hepar/recipe/metal", "hepar/recipe/reagent",
	"hepar/recipe/strict", "hepar/recipe", "hepar/recipes",
	"hepar/recipe/bath/heat", "hepar/recipe/bath/kinetics", "hepar/recipe/bath/rinse", "hepar/recipe/bath/yield", "hepar/recipe/bath/coupon",
	"hepar/recipe/bath/job", "hepar/recipe/bath/plan", "hepar/recipe/bath", "hepar/recipe/run", "hepar/recipe/bath/page", "hepar/recipe/safety/gas", "hepar/recipe/safety", "hepar/recipe/safety/page", "hepar/recipe/safety/waste", "hepar/recipe/safety/label",
	"hepar/recipe/shop",
	"hepar/journal/internal/record", "hepar/journal/internal/store", "hepar/journal/internal/query", "hepar/journal/internal/check", "hepar/journal/internal/keep", "hepar/journal/internal/exchange", "hepar/journal", "hepar/journal/journaltest", "hepar/journal/demo", "hepar/cmd/hepar/bench", "hepar/cmd/hepar/tablet", "hepar/cmd/hepar",
}

// goFiles returns the paths of all Go files, from this folder.
func goFiles(t *testing.T) []string {
	t.Helper()
	var files []string
	err := filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && strings.HasPrefix(d.Name(), ".") && d.Name() != ".." && d.Name() != "../.." {
			return filepath.SkipDir
		}
		if strings.HasSuffix(path, ".go") {
			files = append(files, path)
		}
		return nil
	})
	if err != nil || len(files) < 50 {
		t.Fatalf("found only %d files: %v", len(files), err)
	}
	return files
}

// TestImportsRunOneWay checks the order of the rooms, and that packages print nothing.
func TestImportsRunOneWay(t *testing.T) {
	for _, file := range goFiles(t) {
		rel, _ := filepath.Rel("../..", file)
		room := "hepar/" + filepath.ToSlash(filepath.Dir(rel))
		at := slices.Index(order, room)
		if at < 0 {
			t.Errorf("%s: the room %s has no place in the order", rel, room)
			continue
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		test := strings.HasSuffix(rel, "_test.go")
		for _, imp := range parsed.Imports {
			path, _ := strconv.Unquote(imp.Path.Value)
			other := slices.Index(order, path)
			if strings.HasPrefix(path, "hepar") && other < 0 {
				t.Errorf("%s imports %s, which has no place in the order", rel, path)
			}
			if !test && other > at {
				t.Errorf("%s imports %s, which comes later in the order", rel, path)
			}
		}
		if room == "hepar/cmd/hepar" || test {
			continue
		}
		text, _ := os.ReadFile(file)
		for _, bad := range []string{"fmt.Print(", "fmt.Println(", "fmt.Printf(", "os.Stdout", "os.Stderr", "os.Exit(", "log.Fatal"} {
			if strings.Contains(string(text), bad) {
				t.Errorf("%s: %s: a package prints nothing and ends nothing", rel, bad)
			}
		}
	}
}

// TestTopLevel checks the names at the top level.
func TestTopLevel(t *testing.T) {
	allowed := []string{"cmd", "recipe", "journal", "recipes", "testdata", "go.mod", "go.sum", "README.md", "DEVELOPERS.md"}
	entries, err := os.ReadDir("../..")
	if err != nil {
		t.Fatal(err)
	}
	for _, entry := range entries {
		if !strings.HasPrefix(entry.Name(), ".") && !slices.Contains(allowed, entry.Name()) {
			t.Errorf("%s does not belong at the top level", entry.Name())
		}
	}
}
