package strict

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hepar/recipe/fault"
)

func invented() Kind {
	return Kind{Name: "list of tubs", Sample: "hepar tubs", Missing: "write one", Further: "a further tub begins with [[tub]]"}
}

// lines gives each finding as one line, without its file.
func lines(findings []Finding) []string {
	var out []string
	for _, f := range findings {
		out = append(out, fmt.Sprintf("%d:%d %s", f.Line, f.Column, f.What))
	}
	return out
}

func TestTableNotesEachFaultAtItsPlace(t *testing.T) {
	for _, c := range []struct {
		name, text string
		read       func(Table)
		want       []string
	}{
		{"number", "a = 3\nb = 2.5\nc = \"x\"\nd = 11\ne = nan\nf = 0\n", func(r Table) {
			for _, key := range []string{"a", "b", "c", "d", "e", "f", "g"} {
				v, ok := r.Number(key, 0, 10, true)
				if want := key < "c"; ok != want || v > 10 || math.IsNaN(v) && ok {
					t.Errorf("%s: %v %v", key, v, ok)
				}
			}
		}, []string{"3:5 c must be a plain number, not text", "4:5 d must be more than 0 and at most 10", "5:5 e is not a plain decimal number", "6:5 f must be more than 0 and at most 10"}},
		{"figure", "\"ä\" = \"1\"\nb = 3\nc = \"\"\n", func(r Table) {
			for _, key := range []string{"ä", "b", "c", "none"} {
				if _, ok := Figure(r, key, "3 g", func(string) (float64, error) { return 0, fault.Usagef("no").Try("yes") }); ok {
					t.Errorf("%s passed", key)
				}
			}
		}, []string{"1:7 ä: no", "2:5 b must be text with a unit, in quotes, not a whole number", "3:5 c is empty"}},
		{"infinite figure", "a = \"1\"\n", func(r Table) {
			if _, ok := Figure(r, "a", "3 g", func(string) (float64, error) { return math.Inf(1), nil }); ok {
				t.Error("passed")
			}
		}, []string{"1:5 a: a is not a figure"}},
		{"tables", "[[tub]]\nname = \"a\"\n  [[tub]]\nnme = \"b\"\n[x]\n", func(r Table) {
			r.Only("tub")
			for i, tub := range r.Subs("tub", "[[tub]]") {
				tub.Only("name")
				if want := []int{1, 3}[i]; tub.LineOf("") != want {
					t.Errorf("line %d, wanted %d", tub.LineOf(""), want)
				}
				tub.AtKey(tub.At, "", "here")
			}
			if _, ok := r.Sub("none", "[none]"); ok {
				t.Error("a table that is not there")
			}
		}, []string{"1:1 here", "3:3 here", "4:1 unknown key nme in [[tub]] 2", "5:1 unknown key x in the list of tubs"}},
		{"kinds", "a = 1\n[b]\nc = true\nd = [1]\n", func(r Table) {
			b, ok := r.Sub("b", "[b]")
			if !ok || !Is[map[string]any](r, "b") || Is[map[string]any](r, "a") || !Is[int64](r, "a") || !Is[bool](b, "c") || Is[bool](b, "d") || b.LineOf("d") != 4 {
				t.Error("kinds are mistaken")
			}
			if r.Count() != 0 {
				t.Error("findings out of nowhere")
			}
			r.Add(Finding{What: "of the file"})
		}, []string{"0:0 of the file"}},
		{"not decimal", "a = 0x10\nb = 1_000\nc = 1e3\nd = 0o7\ne = -inf\nf = +2.50 # no_remark\ng = { h = 1_0 }\n", func(r Table) {
			for _, key := range []string{"a", "b", "c", "d", "e", "f"} {
				if v, ok := r.Number(key, -10, 10_000, false); ok != (key == "f") {
					t.Errorf("%s: %v %v", key, v, ok)
				}
			}
			g, _ := r.Sub("g", "g")
			if n := r.Whole("a", 0, 99, 7, false) + g.Whole("h", 0, 99, 7, false); n != 14 {
				t.Errorf("%d", n)
			}
		}, []string{"1:5 a is not a plain decimal number", "1:5 a is not a plain decimal number", "2:5 b is not a plain decimal number", "3:5 c is not a plain decimal number",
			"4:5 d is not a plain decimal number", "5:5 e is not a plain decimal number", "7:11 g.h is not a plain decimal number"}},
		{"twice", "a = 1\na = 2\n", func(Table) { t.Error("read") }, []string{"2:1 not valid TOML: toml: key a is already defined"}},
	} {
		got := lines(invented().Decode("tubs.toml", []byte(c.text), c.read))
		if c.name == "twice" && len(got) == 1 && strings.HasPrefix(got[0], "2:1 not valid TOML") {
			continue
		}
		if strings.Join(got, "\n") != strings.Join(c.want, "\n") {
			t.Errorf("%s:\n%s\nwanted\n%s", c.name, strings.Join(got, "\n"), strings.Join(c.want, "\n"))
		}
	}
}

// The words of a file's kind are in every message that speaks of the file.
func TestKindNamesTheFile(t *testing.T) {
	k := invented()
	nothing := func(Table) {}
	for text, want := range map[string]string{
		strings.Repeat("#", MaxSize+1): "too large for a list of tubs",
		"\x00":                         "save the list of tubs as plain text",
		"a = " + strings.Repeat("[", 17) + strings.Repeat("]", 17): "too deeply for a list of tubs (more than 16 levels)",
		"a = 1\na = 2": "a further tub begins with [[tub]]",
	} {
		findings := k.Decode("x.toml", []byte(text), nothing)
		if len(findings) != 1 || !strings.Contains(findings[0].What+findings[0].Cure, want) {
			t.Errorf("%.20q: %+v, wanted %q", text, findings, want)
		}
	}
	dir := t.TempDir()
	for path, want := range map[string]string{dir: "a device or a directory, not a list of tubs file", filepath.Join(dir, "none.toml"): "no such file"} {
		if _, err := k.ReadFile(path); err == nil || !strings.Contains(err.Error(), want) || fault.CureOf(err) == "" {
			t.Errorf("%v, wanted %q", err, want)
		}
	}
	path := filepath.Join(dir, "tubs.toml")
	if err := os.WriteFile(path, []byte("a = 1\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if data, err := k.ReadFile(path); err != nil || string(data) != "a = 1\n" {
		t.Errorf("%q %v", data, err)
	}
	if got := (Kind{Name: "shop file"}).file(); got != "shop file" {
		t.Errorf("called %q", got)
	}
}

func TestFindingsOfAKind(t *testing.T) {
	f := Findings{{File: "x", What: "wrong", Cure: "mend it"}, {File: "x", What: "worse", Cure: "stop", Refused: true}}
	if err := f.Of("shop file"); err.Error() != "the shop file is refused: x: refused: worse (and 1 more)" || fault.KindOf(err) != fault.Safety || fault.CureOf(err) != "stop" {
		t.Errorf("%v", err)
	}
	if err := f[:1].Of("file"); err.Error() != "the file does not pass its check: x: wrong" || !errors.As(err, new(Findings)) {
		t.Errorf("%v", err)
	}
	if Findings(nil).Of("file") != nil {
		t.Error("no findings are an error")
	}
}

// A reader that breaks is a finding, not a crash.
func TestPanicIsCaught(t *testing.T) {
	findings := invented().Decode("x.toml", nil, func(Table) { panic("at the bench") })
	if len(findings) != 1 || !strings.Contains(findings[0].What, "at the bench") || findings[0].Cure == "" {
		t.Errorf("%+v", findings)
	}
}
