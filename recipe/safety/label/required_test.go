package label

import (
	"slices"
	"strings"
	"testing"

	"hepar/recipe/outside"
)

// What must stand on a label, each with the rule that asks for it. The want column is
// the element as it should be printed; it is looked for in the drawing itself.
func TestRequiredElements(t *testing.T) {
	const (
		hazcom  = "29 CFR 1910.1200(f)(6)(ii)"
		shipped = "29 CFR 1910.1200(f)(1)"
		clp     = "CLP Article 17(1)"
		sat     = "40 CFR 262.15(a)(5)"
		central = "40 CFR 262.16(b)(6)(i)"
		checks  = "review checklist of finishing baths, common practice, no published source"
	)
	jar, tank, drum := container(t, jar("liver-of-sulfur")), bath(t, tank()), waste(t, drum())
	big := mm(148, 105)
	for _, c := range []struct {
		label        Label
		what, source string
		want         string
	}{
		{jar, "product identifier", hazcom, "Liver of sulfur"},
		{jar, "general hazards in words", hazcom, "Causes severe skin burns and eye damage (H314)"},
		{jar, "where the full information is", hazcom, "SDS red folder by the door"},
		{jar, "signal word", shipped + "(ii)", "DANGER"},
		{jar, "hazard statement", shipped + "(iii)", "Very toxic to aquatic life (H400)"},
		{jar, "identifier: name", clp + "(d), 18(2)", "Liver of sulfur"},
		{jar, "identifier: number", clp + "(d), 18(2)", "CAS 39365-88-3"},
		{jar, "signal word", clp + "(f)", "DANGER"},
		{jar, "hazard statement", clp + "(g)", "Causes severe skin burns and eye damage"},
		{jar, "supplemental information", clp + "(i), 25", "Contact with acids liberates toxic gas (EUH031)"},
		{jar, "who decides", checks, "take the codes from your own SDS"},
		{jar, "lot", checks, "Lot 4711"},
		{jar, "opened", checks, "Opened 12 Mar 2026"},
		{tank, "product identifier", hazcom, "Blue-black on silver"},
		{tank, "contents", hazcom, "Liver of sulfur 4.5 g/L"},
		{tank, "general hazards in words", hazcom, "Causes severe skin burns and eye damage"},
		{tank, "recipe and revision", "21 CFR 211.188 (batch record), by analogy", "recipe silver-black revision 3"},
		{tank, "batch", "21 CFR 211.188 (batch record), by analogy", "batch 2026-014"},
		{tank, "mixed, by whom", checks, "Mixed 12 Mar 2026 12:00 by Ilse Tamm"},
		{tank, "discard time", checks, "DISCARD BY (END OF THE PLAN) 12 Mar 2026 16:00"},
		{tank, "acid kept away", "40 CFR 265 Appendix V, 5-A and 5-B", "NO ACID"},
		{drum, "the words", sat + "(i)", "Hazardous Waste"},
		{drum, "indication of the hazards, in words", sat + "(ii)", "Causes severe skin burns and eye damage"},
		{drum, "the words", central + "(A)", "Hazardous Waste"},
		{drum, "start of accumulation", central + "(C)", "ACCUMULATION START 12 Mar 2026"},
		{drum, "contents", checks, "Contents: Spent liver of sulfur bath and its rinses"},
		{drum, "volume", checks, "VOLUME 3 L of 5 L"},
		{drum, "kept apart from", "40 CFR 265 Appendix V, 5-A and 5-B", "Keep apart from acids"},
		{drum, "drain", "40 CFR 403.5(b), by analogy", "Never pour it down a drain"},
		{jar, "what it is not", checks, "Workplace label, own drawing; not a supplier label"},
		{drum, "closed", "40 CFR 262.15(a)(4)", "Keep closed"},
		{drum, "who decides", checks, "Ask your local authority"},
	} {
		drawing := print(t, c.label, big)
		got := "nothing of the kind"
		if strings.Contains(parse(t, drawing).text, c.want) {
			got = c.want
		}
		outside.Text(t, c.label.Kind+" label: "+c.what, c.source, c.want, got)
	}
	// Pictograms are drawn, one for each that the codes call for.
	for _, l := range []Label{jar, tank, drum} {
		var got []string
		for _, line := range parse(t, print(t, l, big)).lines {
			if name, ok := strings.CutPrefix(line, "symbol: "); ok {
				got = append(got, name)
			}
		}
		outside.Text(t, l.Kind+" label: pictograms of liver of sulfur", clp+"(e); shared with CLP Annex VI 016-007-00-7 (potassium polysulfides), from memory", "corrosion environment", strings.Join(got, " "))
	}
}

// A bath without a life has a frame to write the discard time into, and waste carries the
// words that its place asks for.
func TestWords(t *testing.T) {
	w := drum()
	w.Words = "Waste chemicals"
	if text := strings.Join(waste(t, w).Text(), " "); !strings.Contains(text, w.Words) || strings.Contains(text, "Hazardous") {
		t.Error(text)
	}
	b := tank()
	b.Life = 0
	if lines := parse(t, print(t, bath(t, b), mm(148, 105))).lines; !slices.Contains(lines, "name: DISCARD AT") || slices.ContainsFunc(lines, func(s string) bool { return strings.HasPrefix(s, "value: ") }) {
		t.Error(lines)
	}
}
