package safety

import (
	"slices"
	"strings"
	"testing"
)

func TestHeard(t *testing.T) {
	for _, c := range []struct {
		text   string
		strict bool
		want   []string
	}{
		{"wipe with vinegar and salt", false, []string{"acetic-acid"}},
		{"Wipe with VINEGAR, until bright", false, []string{"acetic-acid"}},
		{"do not touch, wipe with vinegar", false, []string{"acetic-acid"}},
		{"lemon juice and citric acid", false, []string{"citric-acid"}},
		{"5 % oxalic acid and pumice", false, []string{"oxalic-acid"}},
		{"soak in household bleach", false, []string{"sodium-hypochlorite"}},
		{"add a spoon of vinegar", true, []string{"acetic-acid"}},
		{"no vinegar", false, nil},
		{"no acid, vinegar or lemon", false, nil},
		{"keep vinegar and bleach away", false, nil},
		{"rinse off the citric acid", false, nil},
		{"until no trace of vinegar is left", false, nil},
		{"after the vinegar clean", false, nil},
		{"vinegar would ruin the colour", true, nil},
		{"detergent and a soft brush", false, nil},
		{"", false, nil},
	} {
		if got := heard(c.text, c.strict); !slices.Equal(got, c.want) {
			t.Errorf("%q: %q, want %q", c.text, got, c.want)
		}
	}
}

func TestKept(t *testing.T) {
	for text, want := range map[string]bool{
		"stand overnight before use": true, "keeps for weeks in the dark": true, "bottled and used as wanted": true,
		"never store it": false, "none is kept": false, "made fresh": false, "": false,
	} {
		if got := kept(text); got != want {
			t.Errorf("%q: %v", text, got)
		}
	}
}

func TestPlain(t *testing.T) {
	if got := plain("a\x1b[31mred\x1b[0m\r\nb\u202ec\xff"); got != "a [31mred [0m bc?" {
		t.Errorf("%q", got)
	}
}

func TestSentence(t *testing.T) {
	for in, want := range map[string]string{"": "", "a": "A.", "éclat": "Éclat.", "Done.": "Done.", " x ": "X."} {
		if got := sentence(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
}

// A refusal is one line that names the first stop in full and the others by code.
func TestRefusedIsOneLine(t *testing.T) {
	err := Refused(Sequence(bathOf("liver-of-sulfur, acetic-acid:vinegar 5 %", "pickle sodium-bisulfate", "dip", "rinse")))
	if err == nil {
		t.Fatal("not refused")
	}
	for _, w := range []string{"refused: ", "vinegar 5 %", "liver of sulfur", "[acid-sulfide]", "and acid-before-sulfide"} {
		if !strings.Contains(err.Error(), w) {
			t.Errorf("no %q in %s", w, err)
		}
	}
	if Refused(nil) != nil || Refused([]Point{{Code: "x", Level: Caution}}) != nil {
		t.Error("refused for nothing")
	}
}
