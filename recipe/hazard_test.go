package recipe

import (
	"fmt"
	"strings"
	"testing"

	"hepar/recipe/strict"
)

// bathOf makes a file whose bath holds the named substances in order. The
// substance of the last stands on line lastLine, column 17.
func bathOf(ids ...string) (text string, lastLine int) {
	var b strings.Builder
	for _, id := range ids {
		fmt.Fprintf(&b, "[[bath.reagent]]\nsubstance     = %q\nconcentration = \"2 g/L\"\n", id)
	}
	head, rest, _ := strings.Cut(good, "[[bath.reagent]]")
	_, tail, _ := strings.Cut(rest, "[dip]") // the order of mixing goes with the reagents
	text = head + b.String() + "[dip]" + tail
	return text, strings.Count(head, "\n") + 3*len(ids) - 1
}

func TestBathsRefused(t *testing.T) {
	for _, c := range []struct {
		ids []string
		say string
	}{
		// An old published receipt for blue on copper and brass has 2 g/L of each.
		{[]string{"liver-of-sulfur", "sodium-chlorate"}, "liver-of-sulfur with sodium-chlorate"},
		{[]string{"sodium-chlorate", "liver-of-sulfur"}, "sodium-chlorate with liver-of-sulfur"},
		{[]string{"liver-of-sulfur", "acetic-acid"}, "hydrogen sulfide"},
		{[]string{"liver-of-sulfur", "ammonia", "sodium-chloride", "citric-acid"}, "liver-of-sulfur with citric-acid"},
		{[]string{"sodium-sulfide", "sodium-bisulfate"}, "sodium-sulfide with sodium-bisulfate"},
		{[]string{"barium-sulfide", "nitric-acid"}, ""},
		{[]string{"potassium-sulfide", "sodium-hypochlorite"}, ""},
		{[]string{"ammonium-sulfide", "ferric-nitrate"}, ""},
		{[]string{"calcium-polysulfide", "hydrogen-peroxide"}, ""},
		{[]string{"sodium-hypochlorite", "ammonia"}, "chloramine"},
		{[]string{"silver-nitrate", "ammonia"}, ""},
		{[]string{"potassium-permanganate", "hydrogen-peroxide"}, ""},
	} {
		t.Run(strings.Join(c.ids, "+"), func(t *testing.T) {
			text, line := bathOf(c.ids...)
			r, findings := Decode("old.toml", []byte(text))
			if r != nil {
				t.Fatal("let through")
			}
			for _, f := range findings {
				if f.Refused && f.Line == line && f.Column == 17 && strings.Contains(f.What, c.say) {
					return
				}
			}
			t.Errorf("no refusal at line %d; got\n%s", line, report(findings))
		})
	}
}

func TestBathsAllowed(t *testing.T) {
	for _, ids := range [][]string{
		{"liver-of-sulfur", "ammonia", "sodium-chloride"}, // the old weak bath for colours
		{"liver-of-sulfur", "sodium-carbonate"},
		{"copper-nitrate", "ammonium-chloride", "calcium-chloride"}, // antique green
		{"copper-sulfate", "potassium-permanganate"},                // light brown on bronze
		{"copper-carbonate", "ammonia"},
	} {
		text, _ := bathOf(ids...)
		if _, findings := Decode("old.toml", []byte(text)); len(findings) > 0 {
			t.Errorf("%v\n%s", ids, report(findings))
		}
	}
}

func TestBannedSubstances(t *testing.T) {
	for _, id := range []string{
		"mercury-chloride", "mercury-nitrate", "arsenic-trioxide", "potassium-cyanide", "sodium-cyanide", "potassium-dichromate",
		"sodium-dichromate", "lead-acetate", "hydrofluoric-acid", "ammonium-bifluoride",
		"potassium-ferricyanide", "mercuric oxide", "Arsenious acid", "sugar of lead", "sodium chromate", "ammonium fluoride",
	} {
		text, line := bathOf("copper-sulfate", id)
		_, findings := Decode("old.toml", []byte(text))
		if len(findings) != 1 || !findings[0].Refused || findings[0].Line != line || !strings.Contains(findings[0].What, "must not be in a recipe: ") {
			t.Errorf("%s\n%s", id, report(findings))
		}
		// in a step as well
		text, line, column := change(t, good, `with = "detergent"`, `with = «"`+id+`"`)
		_, findings = Decode("old.toml", []byte(text))
		if len(findings) != 1 || !findings[0].Refused || findings[0].Line != line || findings[0].Column != column {
			t.Errorf("in a step: %s\n%s", id, report(findings))
		}
	}
}

// A refusal decides the exit code of a check, so it must not be cut off with the
// rest of a long list of findings.
func TestRefusalIsNotLostInACrowd(t *testing.T) {
	crowd := strings.Repeat("[[step]]\ndo = \"dry\"\na = 1\nb = 1\nc = 1\nd = 1\ne = 1\n", 50)
	text := crowd + "[[bath.reagent]]\nsubstance = \"lead-acetate\"\nconcentration = \"1 g/L\"\n"
	_, findings := Decode("old.toml", []byte(text))
	if len(findings) <= strict.MaxFindings || !Findings(findings).Refused() {
		t.Errorf("%d findings, refused %v", len(findings), Findings(findings).Refused())
	}
	if last := findings[len(findings)-1]; !strings.Contains(last.What, "not shown") {
		t.Errorf("the last finding is %q", last.What)
	}
}
