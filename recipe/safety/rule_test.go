package safety

import (
	"slices"
	"testing"

	"hepar/recipe/reagent"
)

// meeting two substances in one vessel, by the rules of this package.
func together(a, b reagent.Substance) (code string, level Level) {
	x, y := lookup(a.ID, ""), lookup(b.ID, "")
	v := vessel{step: 1, do: "dip", agents: []agent{x, y}}
	var m meetings
	m.meet(x, y, v, v, 0)
	if len(m) == 0 {
		return "", ""
	}
	return m[0].rule.aName + "-" + m[0].rule.bName, m[0].rule.same
}

// Every pair that the list of substances calls grave is a stop here, every other pair of
// that list is at least said. The one exception is a silver bath with ammonia, which has
// a stop of its own when it is kept. Source: 40 CFR 265 Appendix V, ICSC cards and the
// others that stand beside the pairs in package reagent.
func TestRulesCoverThePairs(t *testing.T) {
	all := reagent.All()
	pairs := 0
	for i, a := range all {
		for _, b := range all[i+1:] {
			if a.Banned != "" || b.Banned != "" {
				continue // refused by name
			}
			h, found := reagent.Incompatible(a, b)
			code, level := together(a, b)
			back, again := together(b, a)
			if code != back || level != again {
				t.Errorf("%s with %s is %q %q, the other way about %q %q", a.ID, b.ID, code, level, back, again)
			}
			if !found {
				continue
			}
			pairs++
			if h.Severity >= 4 && level != StopLevel && code != "silver-ammonia" {
				t.Errorf("%s with %s: severity %d (%s), here %q %q", a.ID, b.ID, h.Severity, h.Why, code, level)
			}
			if level == "" {
				t.Errorf("%s with %s: nothing is said (%s)", a.ID, b.ID, h.Why)
			}
		}
	}
	if pairs < 100 {
		t.Errorf("only %d pairs were compared", pairs)
	}
}

// Substances that are used together in published baths must not be kept apart.
func TestNoRuleForPublishedCompany(t *testing.T) {
	for _, c := range []struct{ a, b, source string }{
		{"liver-of-sulfur", "ammonia", "Art Metalwork (Payne): copper brown-black"},
		{"liver-of-sulfur", "sodium-chloride", "common practice, no published source"},
		{"liver-of-sulfur", "sodium-hydroxide", "common practice, no published source"},
		{"ammonium-sulfide", "ammonia", "common practice, no published source"},
		{"copper-nitrate", "ammonium-chloride", "GSA procedure 0503002S, antique green"},
		{"copper-sulfate", "ammonium-sulfate", "copper trade body sheet, green"},
		{"copper-carbonate", "ammonia", "Henley's Twentieth Century Formulas, brass black"},
		{"copper-sulfate", "potassium-permanganate", "Sdelai Sam 2/1990, p. 61"},
		{"acetic-acid", "sodium-chloride", "common practice, no published source"},
	} {
		a, errA := reagent.Find(c.a)
		b, errB := reagent.Find(c.b)
		if errA != nil || errB != nil {
			t.Fatal(errA, errB)
		}
		if code, level := together(a, b); level != "" && level != Caution {
			t.Errorf("%s with %s (%s) is %q %q", c.a, c.b, c.source, code, level)
		}
	}
}

// Each rule is whole, and the codes made of its names are its own.
func TestRulesAreWhole(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range rules() {
		name := r.aName + "-" + r.bName
		if seen[name] || seen[r.bName+"-"+r.aName] {
			t.Errorf("%s stands twice", name)
		}
		seen[name] = true
		if r.why == "" || r.cure == "" || r.source == "" || r.same == "" {
			t.Errorf("%s lacks why, cure, source or level", name)
		}
		for _, levels := range [][3]Level{r.ab, r.ba} {
			g := []int{}
			for _, l := range levels {
				if l == "" {
					g = append(g, 3)
					continue
				}
				g = append(g, grade(l))
			}
			if !slices.IsSorted(g) || g[0] < grade(r.same) {
				t.Errorf("%s: rinsing makes it worse, or drag-in is graver than one vessel: %q", name, levels)
			}
		}
	}
}

func TestGuess(t *testing.T) {
	for id, want := range map[string]reagent.Group{
		"lithium-sulfide": reagent.Sulfide, "tartaric-acid": reagent.Acid, "potassium-bisulfate": reagent.Acid,
		"pool-chlorine": reagent.Hypochlorite, "sodium-persulfate": reagent.Oxidizer, "potassium-nitrate": reagent.Oxidizer,
		"potassium-hydroxide": reagent.Caustic, "ammonium-bromide": reagent.AmmoniumSalt, "perchloric-acid": reagent.OxidizingAcid,
	} {
		a := lookup(id, "")
		if a.known || !a.in(want) {
			t.Errorf("%s: known %v, %q, want %q", id, a.known, a.groups, want)
		}
	}
}

// A sulfide is no alkali that would take an acid away, and an acid is none either.
func TestFamilies(t *testing.T) {
	for _, c := range []struct {
		id                      string
		sour, alkaline, sulfide bool
	}{
		{"ammonium-sulfide", false, false, true}, {"liver-of-sulfur", false, false, true}, {"sodium-carbonate", false, true, false},
		{"sodium-bicarbonate", false, true, false}, {"ammonia", false, true, false}, {"sodium-hydroxide", false, true, false},
		{"citric-acid", true, false, false}, {"copper-nitrate", true, false, false}, {"ammonium-chloride", true, false, false},
		{"selenous-acid", true, false, false}, {"detergent", false, false, false}, {"isopropanol", false, false, false},
	} {
		a := lookup(c.id, "")
		if a.sour() != c.sour || a.alkaline() != c.alkaline || a.sulfide() != c.sulfide {
			t.Errorf("%s: sour %v, alkaline %v, sulfide %v", c.id, a.sour(), a.alkaline(), a.sulfide())
		}
	}
}

func TestListKeepsTheGraver(t *testing.T) {
	var l list
	l.add(Point{Code: "x", Level: Caution, Text: "first"})
	l.add(Point{Code: "y", Level: Caution, Text: "other"})
	l.add(Point{Code: "x", Level: StopLevel, Text: "second"})
	l.add(Point{Code: "x", Level: CorrectFirst, Text: "third"})
	l.add(Point{Code: "x", Level: StopLevel, Text: "fourth"})
	got := l.ranked()
	if len(got) != 2 || got[0].Level != StopLevel || got[0].Text != "Second. Fourth." || got[1].Code != "y" {
		t.Errorf("%+v", got)
	}
}
