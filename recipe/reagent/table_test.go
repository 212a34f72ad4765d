package reagent_test

import (
	"errors"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"hepar/recipe/fault"
	"hepar/recipe/reagent"
)

func find(t testing.TB, id string) reagent.Substance {
	t.Helper()
	s, err := reagent.Find(id)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func form(t testing.TB, id, name string) reagent.Form {
	t.Helper()
	f, err := find(t, id).Form(name)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestFormsThatRecipesName(t *testing.T) {
	for id, names := range map[string][]string{
		"liver-of-sulfur":    {"lump", "gel", "liquid"},
		"sodium-sulfide":     {"nonahydrate", "flake", "anhydrous"},
		"ammonium-sulfide":   {"20 % solution"},
		"ammonia":            {"25 % solution", "28 % solution", "10 % solution"},
		"sodium-carbonate":   {"anhydrous", "monohydrate", "decahydrate"},
		"sodium-bisulfate":   {"anhydrous", "monohydrate"},
		"citric-acid":        {"anhydrous", "monohydrate"},
		"acetic-acid":        {"glacial", "vinegar 5 %"},
		"copper-nitrate":     {"trihydrate", "hemipentahydrate"},
		"copper-sulfate":     {"pentahydrate", "anhydrous"},
		"copper-carbonate":   {"basic"},
		"calcium-chloride":   {"anhydrous", "dihydrate"},
		"hydrogen-peroxide":  {"3 %", "30 %"},
		"sodium-thiosulfate": {"pentahydrate"},
	} {
		for i, name := range names {
			f := form(t, id, name)
			if byCase := form(t, id, " "+strings.ToUpper(name)); byCase != f {
				t.Errorf("%s: %q in capitals is another form", id, name)
			}
			if standard := form(t, id, ""); i == 0 && standard != f {
				t.Errorf("%s: the default form is %q, want %q", id, standard.Name, name)
			}
		}
	}
	_, err := find(t, "liver-of-sulfur").Form("powder")
	if err == nil || fault.KindOf(err) != fault.Usage || !strings.Contains(fault.CureOf(err), `"gel"`) {
		t.Errorf("unknown form: %v, cure %q", err, fault.CureOf(err))
	}
	if _, err := (reagent.Substance{ID: "x"}).Form(""); err == nil {
		t.Error("a substance without forms gave one")
	}
}

// TestTableIsSound is the integrity test of the whole table.
func TestTableIsSound(t *testing.T) {
	tags := []string{reagent.Opened, reagent.PartlyOpened, reagent.FromMemory}
	names := map[string]string{}
	numbers := map[string]string{}
	for _, s := range reagent.All() {
		if s.Name == "" || s.Source == "" || s.Storage == "" || s.Gloves == "" || len(s.Groups) == 0 || len(s.Hazards) == 0 || len(s.Names) == 0 {
			t.Errorf("%s: a field is empty: %+v", s.ID, s)
		}
		if strings.Contains(s.Source, "from memory") && s.Evidence == reagent.Opened {
			t.Errorf("%s: its source is from memory, and it counts as opened", s.ID)
		}
		if !slices.Contains(tags, s.Evidence) {
			t.Errorf("%s: evidence %q", s.ID, s.Evidence)
		}
		if s.Signal != "" && s.Signal != "Warning" && s.Signal != "Danger" {
			t.Errorf("%s: signal word %q", s.ID, s.Signal)
		}
		if (s.Signal == "") != (len(s.HCodes) == 0) {
			t.Errorf("%s: signal %q with codes %v", s.ID, s.Signal, s.HCodes)
		}
		for _, code := range s.HCodes {
			if _, ok := reagent.Statement(code); !ok {
				t.Errorf("%s: unknown code %s", s.ID, code)
			}
		}
		if !slices.IsSorted(s.HCodes[:countH(s.HCodes)]) {
			t.Errorf("%s: codes out of order: %v", s.ID, s.HCodes)
		}
		if !validCAS(s.CAS) && (s.CAS != "" || s.NoCAS == "") {
			t.Errorf("%s: CAS %q is none, by its check digit or its form, and no reason for none is given", s.ID, s.CAS)
		}
		if other, ok := numbers[s.CAS]; ok && s.CAS != "" {
			t.Errorf("%s and %s share CAS %s", s.ID, other, s.CAS)
		}
		numbers[s.CAS] = s.ID
		for _, name := range append([]string{s.ID, s.Name}, s.Names...) {
			key := strings.ReplaceAll(strings.ReplaceAll(strings.ToLower(name), "-", " "), "sulph", "sulf")
			if other, ok := names[key]; ok && other != s.ID {
				t.Errorf("%s and %s are both called %q", s.ID, other, name)
			}
			if name == "" || name != strings.ToLower(name) {
				t.Errorf("%s: the name %q is not in lower case", s.ID, name)
			}
			if found := reagent.Named(name); len(found) != 1 || found[0].ID != s.ID || found[0].Name != name {
				t.Errorf("%s is not found by its name %q: %+v", s.ID, name, found)
			}
			names[key] = s.ID
		}
		for _, line := range append([]string{s.Storage, s.Gloves, s.Source, s.Banned}, s.Hazards...) {
			if strings.ContainsAny(line, "\n\t\x1b<>") || strings.HasSuffix(line, ".") {
				t.Errorf("%s: line %q", s.ID, line)
			}
		}
		if s.In(reagent.Sulfide) && (s.GasWithAcid != "hydrogen sulfide" || !slices.Contains(s.HCodes, "EUH031") || s.GasGramsPerGram == 0) {
			t.Errorf("%s: a sulfide that does not say what acid does to it", s.ID)
		}
		for _, g := range []reagent.Group{reagent.Sulfide, reagent.Hypochlorite, reagent.Thiosulfate, reagent.Cyanide, reagent.Carbonate} {
			if s.In(g) && s.GasWithAcid == "" {
				t.Errorf("%s: a %s that does not name the gas acid frees", s.ID, g)
			}
		}
		checkForms(t, s)
		checkGroupsByFormula(t, s)
	}
	if len(names) < 250 {
		t.Errorf("the table knows %d names, want 250 at least", len(names))
	}
}

// checkGroupsByFormula holds the groups of a substance to what its formulas say: poisonous
// metals, and carbonates.
//
// Metals: the list of compounds that 40 CFR 261.24 (As, Ba, Cd, Cr, Pb, Hg, Se, Ag) and
// 40 CFR 122 appendix D table III (Sb, Cu, Ni, Tl, Zn) name as toxic, from memory; Mn, Bi and Co
// are left to the SDS.
func checkGroupsByFormula(t *testing.T, s reagent.Substance) {
	t.Helper()
	poisonous := regexp.MustCompile(`(As|Ba|Cd|Cr|Pb|Hg|Se|Ag|Sb|Cu|Ni|Tl|Zn)([^a-z]|$)`)
	carbonate := regexp.MustCompile(`CO3`)
	for _, f := range s.Forms {
		if poisonous.MatchString(f.Formula) && !s.In(reagent.HeavyMetal) {
			t.Errorf("%s: %s and not of the group %q", s.ID, f.Formula, reagent.HeavyMetal)
		}
		if carbonate.MatchString(f.Formula) != s.In(reagent.Carbonate) && f.Formula != "" {
			t.Errorf("%s: %s and the group %q do not agree", s.ID, f.Formula, reagent.Carbonate)
		}
		if s.In(reagent.Carbonate) && s.GasGramsPerGram == 0 {
			t.Errorf("%s: a carbonate without the gas that acid frees from a gram", s.ID)
		}
	}
}

func countH(codes []string) int {
	n := 0
	for n < len(codes) && strings.HasPrefix(codes[n], "H") {
		n++
	}
	return n
}

func checkForms(t *testing.T, s reagent.Substance) {
	t.Helper()
	seen := map[string]bool{}
	for _, f := range s.Forms {
		if f.Name == "" || f.Source == "" || seen[f.Name] {
			t.Errorf("%s: form %+v", s.ID, f)
		}
		seen[f.Name] = true
		if f.CAS != "" && !validCAS(f.CAS) {
			t.Errorf("%s %s: CAS %q", s.ID, f.Name, f.CAS)
		}
		for _, x := range []float64{f.MassPercent, float64(f.Density), float64(f.BulkDensity), f.GasUpper, f.GasExpected} {
			if math.IsNaN(x) || math.IsInf(x, 0) || x < 0 {
				t.Errorf("%s %s: figure %g", s.ID, f.Name, x)
			}
		}
		if f.GasExpected > f.GasUpper || f.GasUpper > s.GasGramsPerGram || f.GasUpper >= 1 {
			t.Errorf("%s %s: gas %g of %g, substance %g", s.ID, f.Name, f.GasExpected, f.GasUpper, s.GasGramsPerGram)
		}
		if (f.GasUpper > 0) && s.GasWithAcid == "" {
			t.Errorf("%s %s: a yield of no gas", s.ID, f.Name)
		}
		if f.StrengthUnknown && (f.MassPercent != 0 || f.Formula != "") {
			t.Errorf("%s %s: unknown strength with a strength", s.ID, f.Name)
		}
		if f.Liquid && !f.StrengthUnknown && (f.Density < 0.7 || f.Density > 1.9 || f.MassPercent == 0) {
			t.Errorf("%s %s: density %g, %g %%", s.ID, f.Name, float64(f.Density), f.MassPercent)
		}
		if f.Formula != "" && reagent.MolarMass(f.Formula) == 0 {
			t.Errorf("%s %s: the formula %q cannot be read", s.ID, f.Name, f.Formula)
		}
	}
	if len(s.Forms) == 0 {
		t.Errorf("%s has no form", s.ID)
	}
}

func TestFindTellsTheNearest(t *testing.T) {
	for word, want := range map[string]string{
		"livr-of-sulfur":  "liver-of-sulfur",
		"liver of sulfur": "liver-of-sulfur",
		"liver":           "liver-of-sulfur",
		"baking soda":     "sodium-bicarbonate",
		"Cupric Nitrate":  "copper-nitrate",
		"cooper-sulphate": "copper-sulfate",
		"sal_ammoniac":    "ammonium-chloride",
		"LIVER-OF-SULFUR": "liver-of-sulfur",
	} {
		_, err := reagent.Find(word)
		var e *fault.Error
		if !errors.As(err, &e) || e.Kind != fault.Usage || !strings.Contains(e.Cure, want) {
			t.Errorf("Find(%q): %v, cure %q, want %s in it", word, err, fault.CureOf(err), want)
		}
	}
	if _, err := reagent.Find("black tea"); strings.Contains(fault.CureOf(err), "barium") { // black ash is barium sulfide
		t.Errorf("a poison is proposed for tea: %s", fault.CureOf(err))
	}
	for _, word := range []string{"", "x", "\x1b[31m", strings.Repeat("liver", 1000)} {
		_, err := reagent.Find(word)
		if err == nil || fault.CureOf(err) == "" || len(err.Error()) > 200 || strings.Contains(err.Error(), "\x1b") {
			t.Errorf("Find(%.20q): %v", word, err)
		}
	}
}

func TestAllIsACopy(t *testing.T) {
	reagent.All()[0].ID = "changed"
	if reagent.All()[0].ID == "changed" {
		t.Error("a caller changed the table")
	}
}

func BenchmarkFind(b *testing.B) {
	for b.Loop() {
		if _, err := reagent.Find("liver-of-sulfur"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFindUnknown(b *testing.B) {
	for b.Loop() {
		if _, err := reagent.Find("livr-of-sulphur"); err == nil {
			b.Fatal("found")
		}
	}
}
