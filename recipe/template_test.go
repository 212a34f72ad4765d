package recipe

import (
	"errors"
	"strings"
	"testing"

	"hepar/recipe/fault"
	"hepar/recipe/strict"
	"pgregory.net/rapid"
)

// fillings are plausible answers for the keys of the template.
func fillings() map[string][]string {
	return map[string][]string{
		"title": {"Black on copper", "Ä"}, "alloys": {"copper-c110", "fine-999"}, "look": {"black"},
		"source": {"common practice, no published source"}, "water": {"75 C", "167 F", "20 C"},
		"substance": {"liver-of-sulfur", "potassium-sulfide"}, "concentration": {"4.5 g/L", "0.2 % w/v", "1 oz/US gal"},
		"time": {"10 s", "1 min 30 s", "2 h"}, "how": {"soft brush, until water runs off in a sheet"},
		"gas": {"hydrogen sulfide"}, "ventilation": {"hood"}, "ppe": {"goggles"}, "disposal": {"collect and label"},
	}
}

// fill puts an answer into each place of the template.
func fill(text string, pick func(key string, answers []string) string) string {
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		if key, _, ok := strings.Cut(line, "="); ok && strings.Contains(line, strict.Placeholder) && !strings.HasPrefix(line, "#") {
			key = strings.TrimSpace(key)
			lines[i] = strings.Replace(line, strict.Placeholder, pick(key, fillings()[key]), 1)
		}
	}
	return strings.Join(lines, "\n")
}

func TestTemplateFailsOnlyForPlaceholders(t *testing.T) {
	text := string(Template("my-black"))
	want := 0
	for line := range strings.Lines(text) {
		if !strings.HasPrefix(line, "#") {
			want += strings.Count(line, `"`+strict.Placeholder+`"`)
		}
	}
	r, findings := Decode("my-black.toml", []byte(text))
	if r != nil {
		t.Fatal("the empty template passes")
	}
	if len(findings) != want || want < 10 {
		t.Errorf("%d findings for %d strict.Placeholders", len(findings), want)
	}
	for _, f := range findings {
		if !strings.Contains(f.What, "is not filled in") {
			t.Errorf("%s", strings.Join(f.Lines(), "\n"))
		}
	}
	if !strings.HasPrefix(text, "# my-black:") || strings.Contains(text, "SLUG") {
		t.Error("the name is not in the template")
	}
}

func TestTemplatePassesFilledIn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := fill(string(Template("my-black")), func(key string, answers []string) string {
			if len(answers) == 0 {
				t.Fatalf("the template asks for %s, which this test cannot answer", key)
			}
			return rapid.SampledFrom(answers).Draw(t, key)
		})
		r, findings := Decode("my-black.toml", []byte(text))
		if r == nil {
			t.Fatalf("%s\n%s", report(findings), text)
		}
		if r.Slug != "my-black" || r.Revision != 1 {
			t.Fatalf("%+v", r)
		}
	})
}

// The keys that stand in comments have to be right too: taking the marks away in
// front of them must not break the file.
func TestTemplateOptionalKeys(t *testing.T) {
	text := fill(string(Template("my-black")), func(_ string, answers []string) string { return answers[0] })
	lines := strings.Split(text, "\n")
	opened := 0
	for i, line := range lines {
		key, _, isKey := strings.Cut(strings.TrimPrefix(line, "# "), "=")
		key = strings.TrimSpace(key)
		switch key {
		case "plated", "works_down_to", "weakest", "max_load", "max_load_reason", "vessel", "form", "note", "dips", "stop_at", "window", "window_source", "notes", "warns_of":
			if isKey && strings.HasPrefix(line, "# ") {
				lines[i], opened = line[2:], opened+1
			}
		}
	}
	if opened != 16 {
		t.Errorf("%d optional keys in comments, wanted 16", opened)
	}
	// the notes are a list of dots, which is text enough
	if r, findings := Decode("my-black.toml", []byte(strings.Join(lines, "\n"))); r == nil {
		t.Error(report(findings))
	}
	coats := strings.NewReplacer("# [coats] ", "[coats] ", "# number", "number", "# spread", "spread", "# wait ", "wait ",
		"[dip] ", "# [dip]", "time      =", "# time =", `"immersed"`, `"brushed"`, `"dip"`, `"coat"`).Replace(text)
	if r, findings := Decode("my-black.toml", []byte(coats)); r == nil {
		t.Error(report(findings))
	}
}

func TestFromExisting(t *testing.T) {
	r := decodeGood(t, "# an old remark\n"+good)
	text, err := FromExisting(r, "my-grey")
	if err != nil {
		t.Fatal(err)
	}
	got, findings := Decode("my-grey.toml", text)
	if got == nil {
		t.Fatal(report(findings))
	}
	if got.Digest != r.Digest || got.Slug != "my-grey" || got.Revision != r.Revision {
		t.Errorf("digest %s, slug %s, revision %d", got.Digest, got.Slug, got.Revision)
	}
	head, rest, _ := strings.Cut(string(text), "\n")
	if head != "# my-grey: taken from test-grey, revision 3 (Test grey on silver)" || rest != r.Text {
		t.Errorf("head %q", head)
	}
	for _, slug := range []string{"test-grey", "My Grey", "", "../x"} {
		if _, err := FromExisting(r, slug); err == nil || fault.KindOf(err) != fault.Usage || fault.CureOf(err) == "" {
			t.Errorf("%q: %v", slug, err)
		}
	}
}

func TestFindingLines(t *testing.T) {
	f := Finding{File: "a.toml", Line: 2, Column: 5, Text: "x\x1b[31m", What: "wrong\u202e", Cure: "mend it", Refused: true}
	got := strings.Join(f.Lines(), "\n")
	if want := "a.toml:2:5: refused: wrong?\n    x?[31m\n  mend it"; got != want {
		t.Errorf("got %q, wanted %q", got, want)
	}
	if got := (Finding{File: "a.toml", What: "wrong"}).Lines(); len(got) != 1 || got[0] != "a.toml: wrong" {
		t.Errorf("%q", got)
	}
	if (Findings{}).Of("file") != nil {
		t.Error("no findings are an error")
	}
	var fe *fault.Error
	err := Findings{{What: "a"}, f}.Of("file")
	if !errors.As(err, &fe) || fe.Kind != fault.Safety || fe.Cure != "mend it" || !strings.Contains(err.Error(), "wrong? (and 1 more)") {
		t.Errorf("%v", err)
	}
}
