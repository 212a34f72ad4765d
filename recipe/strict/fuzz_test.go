package strict

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/BurntSushi/toml"
)

// readAll asks a table for everything in it, by every reader there is.
func readAll(t Table, depth int) {
	for key := range t.content {
		t.Text(key, 20, true, "cure")
		t.Whole(key, 0, 9, 0, true)
		t.Number(key, 0, 9, false)
		t.Flag(key)
		t.List(key, 20, true, false, "cure")
		Figure(t, key, "1 g", func(string) (float64, error) { return 1, nil })
		if in, ok := t.Sub(key, "["+key+"]"); ok && depth < MaxDepth && t.Count() < MaxFindings {
			readAll(in, depth+1)
		}
		for _, in := range t.Subs(key, "[["+key+"]]") {
			if depth < MaxDepth && t.Count() < MaxFindings {
				readAll(in, depth+1)
			}
		}
	}
	t.Missing("none", "cure")
	t.Only("none")
}

// FuzzDecode reads anything at all. Every finding has a place inside the file and nothing
// in it that acts on a terminal; every key of the content has a place; what passes is TOML.
func FuzzDecode(f *testing.F) {
	for _, seed := range []string{"", "a = 1\n[b]\nc = { at = \"1 g\", d = [1, [2]] }\n[[e]]\nf.g = true\n[[e]]\n", "a.b = 1\n[a]\nc = 2\n", "a = \"\\u001b\"\r\n", "ä = 'ö' # x\n"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		k := invented()
		passes := k.Decode("x.toml", data, func(Table) {})
		for _, one := range append(k.Decode("x.toml", data, func(root Table) { readAll(root, 0) }), passes...) {
			checkPlace(t, one, data)
		}
		src := &source{kind: k, name: "x.toml", data: data}
		if src.notText() != nil {
			return
		}
		root, deep := locate(data)
		if deep >= 0 {
			return // said; and the file may nest too deeply for another parser
		}
		var content map[string]any
		if _, err := toml.Decode(string(data), &content); err != nil && len(passes) == 0 {
			t.Fatalf("nothing is reported: %v", err)
		} else if err == nil {
			checkTree(t, content, root)
		}
	})
}

func checkPlace(t *testing.T, f Finding, data []byte) {
	if f.What == "" || f.Cure == "" || strings.HasPrefix(f.What, "could not be read") {
		t.Fatalf("finding %+v", f)
	}
	for _, line := range f.Lines() {
		if strings.ContainsFunc(line, Hidden) || !utf8.ValidString(line) {
			t.Fatalf("unprintable: %q", line)
		}
	}
	if f.Line == 0 {
		return
	}
	lines := bytes.Split(data, []byte("\n"))
	if f.Line > len(lines) || f.Column < 1 || f.Column > utf8.RuneCount(lines[f.Line-1])+1 {
		t.Fatalf("no such place: %+v", f)
	}
}

// checkTree sees to it that every key and item of the content has its place.
func checkTree(t *testing.T, v any, p *Place) {
	if p == nil {
		t.Fatal("a key without a place")
	}
	switch v := v.(type) {
	case map[string]any:
		for key, inner := range v {
			checkTree(t, inner, p.children[key])
		}
	case []map[string]any:
		if len(v) != len(p.items) {
			t.Fatalf("%d tables, %d places", len(v), len(p.items))
		}
		for i, inner := range v {
			checkTree(t, inner, p.items[i])
		}
	case []any:
		if len(v) != len(p.items) {
			t.Fatalf("%d items, %d places", len(v), len(p.items))
		}
		for i, inner := range v {
			checkTree(t, inner, p.items[i])
		}
	}
}
