package safety

import (
	"strings"
	"testing"
)

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

// What a fresh reader stumbled over, recipe by recipe.
func TestWordsFitTheRecipe(t *testing.T) {
	for _, c := range []struct {
		slug, code string
		with       []string
		without    []string
	}{
		{"medal-two-tone", "sulfide-ph", []string{"only its own alkali", "frees ammonia", "Never lower its pH"}, []string{"every sulfide bath and rinse at pH 10"}},
		{"silver-black", "sulfide-ph", []string{"every sulfide bath and rinse at pH 10"}, []string{"ammonium"}},
		{"green-carbonate", "capture-at-source", []string{"capture at the source"}, nil},
		{"green-carbonate", "gas-ammonia", []string{"is a solid"}, []string{"pour last"}},
		{"green-carbonate", "never-meet-ammonia-bleach", []string{"bleach"}, []string{"silver"}},
		{"brass-black-ammoniacal", "gas-ammonia", []string{"pour last"}, []string{"is a solid"}},
		{"brass-black-ammoniacal", "never-meet-ammonia-bleach", []string{"silver salts"}, nil},
		{"bronze-light-brown", "capture-steam", []string{"steam", "droplets", "permanganate", "copper sulfate"}, nil},
		{"bronze-light-brown", "dust", []string{" and ", "weigh them"}, []string{"weigh it"}},
		{"copper-green-sulfate", "gas-ammonia-alkali", []string{"only when soda", "only with soda", "factor of five"}, nil},
		{"silver-black-brushed", "sulfide-lid", []string{"In the closed jar"}, []string{"lid on this bath"}},
	} {
		text := codes(assess(t, Subject{Recipe: called(t, c.slug)}))[c.code].Text
		for _, w := range c.with {
			if !strings.Contains(text, w) {
				t.Errorf("%s, %s: no %q in %q", c.slug, c.code, w, text)
			}
		}
		for _, w := range c.without {
			if strings.Contains(text, w) {
				t.Errorf("%s, %s: %q in %q", c.slug, c.code, w, text)
			}
		}
	}
	for _, slug := range []string{"green-carbonate", "bronze-light-brown"} {
		if _, ok := codes(assess(t, Subject{Recipe: called(t, slug)}))["ventilation"]; ok {
			t.Errorf("%s has moving air only", slug)
		}
	}
	for _, slug := range []string{"pickle-citric", "pickle-bisulfate"} {
		lines := strings.Join(FirstAid(called(t, slug)), " ")
		if !strings.Contains(lines, "hydrogen sulfide") || !strings.Contains(lines, "get out at once") || !strings.Contains(lines, "Do not go back in") {
			t.Errorf("%s: %s", slug, lines)
		}
	}
	for _, e := range assess(t, Subject{Recipe: called(t, "copper-green-sulfate")}).Gas {
		if e.Gas == "ammonia" && !strings.HasPrefix(e.Scenario, "only with soda") {
			t.Errorf("ammonia as if by itself: %+v", e)
		}
	}
	if got := inAir(999999); !strings.HasPrefix(got, "pure gas") || inAir(120) != "120 ppm" {
		t.Error(got)
	}
	as := []agent{lookup("sodium-sulfide", ""), lookup("nitric-acid", "")}
	if number(as, "wants", "want") != "want" || number(as[:1], "wants", "want") != "wants" {
		t.Error("number")
	}
}
