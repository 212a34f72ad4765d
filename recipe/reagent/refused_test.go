package reagent_test

import (
	"strings"
	"testing"

	"hepar/recipe/reagent"
)

func TestRefusedWords(t *testing.T) {
	for word, family := range map[string]string{
		"mercury-chloride": "mercury", "Mercuric nitrate": "mercury", "corrosive sublimate": "mercury", "HgCl2": "mercury",
		"arsenic trioxide": "arsenic", "arsenious acid": "arsenic", "White ARSENIC": "arsenic", "As2O3": "arsenic",
		"potassium-cyanide": "cyanide", "potassium ferricyanide": "cyanide", "yellow prussiate of potash": "cyanide", "KCN": "cyanide", "K3Fe(CN)6": "cyanide",
		"potassium dichromate": "chromate", "bichromate of potash": "chromate", "lead chromate": "chromate", "CrO3": "chromate",
		"lead-acetate": "lead", "sugar of lead": "lead", "Lead": "lead", "red_lead": "lead", "Pb3O4": "lead", "litharge": "lead",
		"hydrofluoric-acid": "fluoride", "ammonium bifluoride": "fluoride", "sodium fluoride": "fluoride", "HF": "fluoride",
	} {
		why, banned := reagent.Refused(word)
		if !banned || !strings.Contains(why, family) {
			t.Errorf("%q: %v, %q; want %s", word, banned, why, family)
		}
	}
	for _, word := range []string{
		"", "liver-of-sulfur", "leaded-glass", "lead-free solder", "misleading", "copper-chloride",
		"chromatic", "cyan ink", "neoprene or fluoroelastomer", "alum", "sodium selenite",
	} {
		if why, banned := reagent.Refused(word); banned {
			t.Errorf("%q is refused: %s", word, why)
		}
	}
}

// TestBannedAndRefusedAgree: every banned entry is known by its words, and no
// other entry is.
func TestBannedAndRefusedAgree(t *testing.T) {
	for _, s := range reagent.All() {
		for _, word := range []string{s.ID, s.Name} {
			if _, banned := reagent.Refused(word); banned != (s.Banned != "") {
				t.Errorf("%q: refused %v, banned %q", word, banned, s.Banned)
			}
		}
		for _, word := range s.Names {
			if why, banned := reagent.Refused(word); banned && s.Banned != why {
				t.Errorf("%s, called %q, is refused", s.ID, word)
			}
		}
	}
}

func TestCASNumbers(t *testing.T) {
	for number, want := range map[string]bool{
		"7732-18-5": true, "58-08-2": true, "39365-88-3": true, // water, caffeine, liver of sulfur
		"7732-18-4": false, "7723-18-5": false, // a digit wrong, two swapped
		"": false, "-": false, "--": false, "7732185": false, "7732-18-55": false, "a732-18-5": false, "07732-18-5": false,
		"7732-1８-5": false, "12345678-18-5": false, "7732-18-": false, " 7732-18-5": false,
	} {
		if got := validCAS(number); got != want {
			t.Errorf("ValidCAS(%q) = %v", number, got)
		}
	}
}

func TestStatements(t *testing.T) {
	if text, ok := reagent.Statement("EUH031"); !ok || !strings.Contains(text, "acids") {
		t.Errorf("EUH031: %q", text)
	}
	for _, code := range []string{"", "H999", "h314", "H314 "} {
		if text, ok := reagent.Statement(code); ok || text != "" {
			t.Errorf("%q: %q", code, text)
		}
	}
}
