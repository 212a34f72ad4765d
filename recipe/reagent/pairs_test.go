package reagent_test

import (
	"fmt"
	"slices"
	"testing"

	"hepar/recipe/outside"
	"hepar/recipe/reagent"
)

const appendixV = "40 CFR 265 Appendix V, groups 5-A and 5-B (spent cyanide and sulfide solutions with acids)"

func TestPairsThatMustNotMeet(t *testing.T) {
	const memory = "general chemistry, from memory"
	for _, c := range []struct {
		a, b, gas string
		severity  int
		source    string
	}{
		{"liver-of-sulfur", "sulfuric-acid", "hydrogen sulfide", 5, appendixV},
		{"liver-of-sulfur", "sodium-bisulfate", "hydrogen sulfide", 5, appendixV},
		{"liver-of-sulfur", "acetic-acid", "hydrogen sulfide", 5, appendixV},
		{"sodium-sulfide", "citric-acid", "hydrogen sulfide", 5, appendixV},
		{"ammonium-sulfide", "nitric-acid", "hydrogen sulfide", 5, appendixV},
		{"barium-sulfide", "selenous-acid", "hydrogen sulfide", 5, appendixV},
		{"liver-of-sulfur", "ferric-chloride", "hydrogen sulfide", 4, "ILO ICSC 1499, by analogy with 40 CFR 265 Appendix V"},
		{"liver-of-sulfur", "ammonium-chloride", "hydrogen sulfide", 4, "ILO ICSC 1499, by analogy with 40 CFR 265 Appendix V"},
		{"liver-of-sulfur", "copper-nitrate", "hydrogen sulfide", 4, "ILO ICSC 1499, by analogy with 40 CFR 265 Appendix V"},
		{"liver-of-sulfur", "sodium-chlorate", "sulfur dioxide", 4, "INCHEM ICSC 1047"},
		{"sodium-sulfide", "potassium-permanganate", "sulfur dioxide", 4, "INCHEM ICSC 1047"},
		{"sodium-sulfide", "hydrogen-peroxide", "sulfur dioxide", 4, "INCHEM ICSC 1047"},
		{"liver-of-sulfur", "sodium-hypochlorite", "hydrogen sulfide", 5, memory},
		{"liver-of-sulfur", "sodium-bicarbonate", "hydrogen sulfide", 3, "share at pH 8.3 from Millero et al. 1988"},
		{"sodium-hypochlorite", "acetic-acid", "chlorine", 5, "INCHEM ICSC 0482"},
		{"sodium-hypochlorite", "sodium-bisulfate", "chlorine", 5, "INCHEM ICSC 0482"},
		{"sodium-hypochlorite", "ferric-chloride", "chlorine", 4, memory},
		{"sodium-hypochlorite", "ammonia", "chloramine", 5, "health department text"},
		{"sodium-hypochlorite", "ammonium-sulfate", "chloramine", 5, "health department text"},
		{"sodium-hypochlorite", "hydrogen-peroxide", "", 4, "health department text"},
		{"sodium-hypochlorite", "acetone", "chloroform", 4, memory},
		{"sulfuric-acid", "sodium-hydroxide", "", 3, "40 CFR 265 Appendix V, groups 1-A and 1-B"},
		{"silver-nitrate", "ammonia", "", 5, "histology laboratory safety pages"},
		{"silver-nitrate", "ethanol", "", 4, "historical text on fulminate"},
		{"nitric-acid", "isopropanol", "nitrogen dioxide", 5, "EPA-600/2-80-076; INCHEM ICSC 0183"},
		{"nitric-acid", "lacquer", "nitrogen dioxide", 5, "EPA-600/2-80-076; INCHEM ICSC 0183"},
		{"potassium-permanganate", "ethanol", "", 4, memory},
		{"potassium-permanganate", "hydrogen-peroxide", "", 4, memory},
		{"potassium-permanganate", "hydrochloric-acid", "chlorine", 5, memory},
		{"potassium-permanganate", "sulfuric-acid", "", 5, memory},
		{"hydrogen-peroxide", "acetone", "", 5, "local authority list"},
		{"sodium-thiosulfate", "hydrochloric-acid", "sulfur dioxide", 3, memory},
		{"ammonium-chloride", "sodium-hydroxide", "ammonia", 3, memory},
		{"potassium-chlorate", "sulfuric-acid", "chlorine dioxide", 5, memory},
		{"potassium-chlorate", "sulfur", "", 5, memory},
		{"potassium-cyanide", "citric-acid", "hydrogen cyanide", 5, appendixV},
	} {
		for _, pair := range [][2]string{{c.a, c.b}, {c.b, c.a}} {
			h := reagent.Gravest(find(t, pair[0]).Groups, find(t, pair[1]).Groups)
			if h.Severity == 0 {
				t.Errorf("%s and %s may meet", pair[0], pair[1])
				continue
			}
			outside.Text(t, pair[0]+" with "+pair[1], c.source, fmt.Sprintf("%s, %d", c.gas, c.severity), fmt.Sprintf("%s, %d", h.Gas, h.Severity))
		}
	}
}

// TestPairsThatRecipesUse holds the mixtures of published and common recipes: a
// false alarm here would refuse honest work.
func TestPairsThatRecipesUse(t *testing.T) {
	for _, bath := range [][]string{
		{"copper-sulfate", "potassium-permanganate"},
		{"ammonia", "copper-carbonate"},
		{"ammonia", "copper-nitrate"},
		{"ammonium-sulfate", "copper-sulfate", "ammonia"},
		{"copper-nitrate", "ammonium-chloride", "calcium-chloride"},
		{"copper-nitrate", "zinc-chloride"},
		{"copper-nitrate", "ferric-nitrate", "bismuth-nitrate"},
		{"copper-sulfate", "ammonium-chloride"},
		{"ammonium-chloride", "ammonium-carbonate"},
		{"ammonium-chloride", "sodium-chloride", "ammonia", "copper-sulfate"},
		{"sodium-chloride", "ferric-chloride", "copper-acetate", "ammonium-chloride"},
		{"selenous-acid", "copper-sulfate", "nitric-acid"},
		{"liver-of-sulfur", "ammonia", "sodium-chloride"},
		{"liver-of-sulfur", "sodium-carbonate"},
		{"liver-of-sulfur", "sodium-hydroxide"},
		{"ammonium-sulfide", "ammonia"},
		{"liver-of-sulfur", "ammonium-sulfide", "barium-sulfide"},
		{"liver-of-sulfur", "detergent", "pumice", "carnauba-wax"},
		{"acetic-acid", "sodium-chloride"},
		{"citric-acid", "sodium-carbonate"},
		{"sodium-bisulfate", "sodium-bicarbonate"},
		{"sodium-thiosulfate", "sodium-hypochlorite"},
		{"copper-sulfate", "sulfuric-acid"},
	} {
		for i, a := range bath {
			for _, b := range bath[i+1:] {
				if h := reagent.Gravest(find(t, a).Groups, find(t, b).Groups); h.Severity > 2 {
					t.Errorf("%s and %s: %s", a, b, h.Why)
				}
			}
		}
	}
}

func TestPairsAreSound(t *testing.T) {
	tags := []string{reagent.Opened, reagent.PartlyOpened, reagent.FromMemory}
	seen := map[reagent.Group]bool{}
	for i, p := range reagent.Pairs() {
		name := fmt.Sprintf("%s with %s", p.A, p.B)
		if p.Severity < 2 || p.Severity > 5 || p.Carried < 0 || p.Carried > p.Severity || p.Why == "" || p.Cure == "" || p.Source == "" || !slices.Contains(tags, p.Evidence) {
			t.Errorf("%s: %+v", name, p)
		}
		for _, q := range reagent.Pairs()[:i] {
			if p.A == q.A && p.B == q.B || p.A == q.B && p.B == q.A {
				t.Errorf("%s stands twice", name)
			}
		}
		seen[p.A], seen[p.B] = true, true
	}
	// Neutral substances meet anything without a word. Copper salts stand in the pairs of
	// metal salts. What a heavy metal must not meet follows from its other groups.
	harmless := []reagent.Group{reagent.Neutral, reagent.CopperSalt, reagent.HeavyMetal}
	for _, s := range reagent.All() {
		for _, g := range s.Groups {
			if !seen[g] && !slices.Contains(harmless, g) {
				t.Errorf("%s: group %q is in no pair and is not declared harmless", s.ID, g)
			}
		}
	}
	reagent.Pairs()[0].Severity = 0
	if reagent.Pairs()[0].Severity == 0 {
		t.Error("a caller changed the pairs")
	}
}

func TestMeetingsOfGroups(t *testing.T) {
	for _, c := range []struct {
		a, b     reagent.Group
		severity int
	}{
		{reagent.Sulfide, reagent.Acid, 5},
		{reagent.Acid, reagent.Sulfide, 5},
		{reagent.OxidizingAcid, reagent.Metal, 4},
		{reagent.Sulfide, reagent.Ammonia, 0},
		{reagent.Oxidizer, reagent.Solvent, 0}, // only some of them
	} {
		got := 0
		if all := reagent.Meetings([]reagent.Group{c.a}, []reagent.Group{c.b}); len(all) > 0 {
			got = all[0].Severity
		}
		if got != c.severity {
			t.Errorf("%s and %s: %d, want %d", c.a, c.b, got, c.severity)
		}
	}
}

// TestEverySulfideRefusesAcidAndOxidizer runs over the whole table, so that a
// substance added later cannot slip through. This rule is what the tool exists for.
func TestEverySulfideRefusesAcidAndOxidizer(t *testing.T) {
	for _, a := range reagent.All() {
		for _, b := range reagent.All() {
			if !a.In(reagent.Sulfide) || b.In(reagent.Sulfide) {
				continue
			}
			p := reagent.Gravest(a.Groups, b.Groups)
			if b.In(reagent.Acid) && (p.Severity != 5 || p.Gas != "hydrogen sulfide") {
				t.Errorf("%s and %s: %+v", a.ID, b.ID, p)
			}
			other := slices.ContainsFunc([]reagent.Group{reagent.OxidizingAcid, reagent.AcidSalt, reagent.Oxidizer, reagent.Hypochlorite}, b.In)
			if other && p.Severity < reagent.Forbidden {
				t.Errorf("%s and %s: %+v", a.ID, b.ID, p)
			}
		}
	}
}
