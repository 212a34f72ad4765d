package recipe

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"hepar/recipes"
)

func BenchmarkDecode(b *testing.B) {
	data, err := recipes.FS.ReadFile("silver-black.toml")
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if r, findings := Decode("silver-black.toml", data); r == nil {
			b.Fatal(findings)
		}
	}
}

// thousand makes a folder of a thousand recipes.
func thousand(b *testing.B) string {
	dir := b.TempDir()
	data, err := recipes.FS.ReadFile("silver-black.toml")
	if err != nil {
		b.Fatal(err)
	}
	for i := range 1000 {
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("own-%04d.toml", i)), data, 0o600); err != nil {
			b.Fatal(err)
		}
	}
	return dir
}

// BenchmarkLoad1000 lists a folder of a thousand recipes and reads all of them.
func BenchmarkLoad1000(b *testing.B) {
	dir := thousand(b)
	for b.Loop() {
		lib, findings, err := Load(recipes.FS, dir)
		if err != nil || len(findings) > 0 {
			b.Fatal(findings, err)
		}
		if all, _ := lib.All(); len(all) < 1000 {
			b.Fatal(len(all))
		}
	}
}

// BenchmarkGetOf1000 is what a command does that needs one recipe.
func BenchmarkGetOf1000(b *testing.B) {
	dir := thousand(b)
	for b.Loop() {
		lib, _, err := Load(recipes.FS, dir)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := lib.Get("own-0500"); err != nil {
			b.Fatal(err)
		}
	}
}
