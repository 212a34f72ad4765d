package safety

import (
	"strings"
	"testing"
	"time"
)

// TestSign: nobody signs with a word that is no name, with a slip for a name of the shop file, or as both people.
func TestSign(t *testing.T) {
	shop := []string{"Ilse Tamm", "Marek Oja", "Jaan Pere", "Jaak Pere"}
	for _, c := range []struct {
		by, second string
		people     []string
		says       string // of the error; empty: it passes
	}{
		{"Ilse Tamm", "Marek Oja", nil, ""},
		{"Ilse Tamm", "Marek Oja", shop, ""},
		{"ilse tamm", "", shop, ""},
		{"Runa Fern", "Marek Oja", shop, ""}, // a guest is said, see Unlisted
		{"Jaan Pere", "Jaak Pere", shop, ""}, // two, since the shop has both
		{"Jaan Pere", "Jaak Pere", nil, "one person in two spellings"},
		{"Ilse", "Ilse Tamm", nil, "one person in two spellings"},
		{"Ilsa Tamm", "Ilse Tamm", shop, "and Ilse Tamm is"},
		{"Ilse Tamm", "Marek Oia", shop, "and Marek Oja is"},
		{"Ilse Tamm", "ILSE TAMM", nil, "who does the review"},
		{"I. Tamm", "Ilse Tamm", nil, "one person in two spellings"},
		{"Ilse Tamm", "i tamm", nil, "one person in two spellings"},
		{"M. Tamm", "Ilse Tamm", nil, ""},
		{"Ilse Tamm", "M. Oja", shop, "and Marek Oja is"},
		{"Tim", "Tom", nil, ""},
		{"Anna Tamm", "Enno Tamm", nil, ""},
		{"Ilse  Tam", "ilse tamm", nil, "one person in two spellings"},
		{"y", "Marek Oja", nil, "not the name of a person"},
		{"N", "", nil, "not the name of a person"},
		{"x", "", shop, "not the name of a person"},
		{strings.Repeat("x", 10_000), "", nil, "not the name of a person"},
		{"", "", nil, "not the name of a person"},
		{"Il\x1bse", "", nil, "not the name of a person"},
	} {
		err := Subject{People: c.people, Answers: Answers{Second: c.second}}.Sign(c.by)
		if (err == nil) != (c.says == "") || err != nil && !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q with %q: %v, want %q", c.by, c.second, err, c.says)
		}
	}
	for name, want := range map[string]string{"Runa Fern": "Runa Fern is not among the people of the shop file", "Jan Pere": "is it Jaan Pere?", "ilse tamm": "", "": ""} {
		if got := Unlisted(name, shop); !strings.HasSuffix(got, want) || want == "" && got != "" || Unlisted(name, nil) != "" {
			t.Errorf("%q: %q, want %q", name, got, want)
		}
	}
}

func TestOldSheet(t *testing.T) {
	now := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)
	for day, old := range map[string]bool{"": false, "2026-03-01": false, "2023-03-03": false, "2023-03-01": true, "1990-04-30": true} {
		if got := (Answers{SDS: day}).OldSheet(now); (got != "") != old || old && !strings.Contains(got, "supplier") {
			t.Errorf("%s: %q", day, got)
		}
	}
}

func TestStays(t *testing.T) {
	for at, who := range map[string]string{"marek oja": "Ilse Tamm stays within call", "Ilse Tamm": "", "": ""} {
		if got := Stays(at, "Ilse Tamm", "Marek Oja"); (got != "") != (who != "") || !strings.Contains(got, who) {
			t.Errorf("%s at the bath: %q", at, got)
		}
	}
	if got := Stays("", "Ilse Tamm", ""); got != "" {
		t.Errorf("nobody is second: %q", got)
	}
}
