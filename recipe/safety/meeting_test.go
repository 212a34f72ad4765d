package safety

import (
	"testing"

	"hepar/recipe/reagent"
)

// together returns what the review says of two substances in one vessel.
func together(a, b reagent.Substance) (code string, level Level) {
	x, y := lookup(a.ID, ""), lookup(b.ID, "")
	v := vessel{step: 1, do: "dip", agents: []agent{x, y}}
	var m meetings
	m.meet(x, y, v, v, 0)
	var l list
	m.tell(&l)
	if points := l.ranked(); len(points) > 0 {
		return points[0].Code, points[0].Level
	}
	return "", ""
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

func TestGuess(t *testing.T) {
	for id, want := range map[string]reagent.Group{
		"lithium-sulfide": reagent.Sulfide, "malic-acid": reagent.Acid, "potassium-bisulfate": reagent.Acid,
		"pool-chlorine": reagent.Hypochlorite, "sodium-persulfate": reagent.Oxidizer, "sodium-nitrate": reagent.Nitrate,
		"lithium-hydroxide": reagent.Caustic, "ammonium-bromide": reagent.AmmoniumSalt, "perchloric-acid": reagent.OxidizingAcid,
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
