package reagent_test

import (
	"strings"
	"testing"

	"hepar/recipe/fault"
	"hepar/recipe/reagent"
)

// The codes are those of CLP, Regulation (EC) No 1272/2008 Annex III, from memory; what a
// code asks for is a choice on the side of caution.
func TestProducts(t *testing.T) {
	lacquer := reagent.Product{Name: "Nordlack 12", Families: []string{"solvent"}, State: "liquid", Codes: []string{"H225", "H319"}, Signal: "Danger", SDS: "2025-03-01"}
	s, err := lacquer.Substance()
	if err != nil || s.ID != "nordlack-12" || !s.In(reagent.Solvent) || !s.In(reagent.Fuel) || len(s.Forms) != 1 || !s.Forms[0].Liquid {
		t.Errorf("%+v, %v", s, err)
	}
	salts := reagent.Product{Name: "Fernholm black", Families: []string{"sulfide"}, Codes: []string{"H314", "EUH031"}, Gas: "hydrogen sulfide", SDS: "2025-03-01"}
	s, err = salts.Substance()
	if most := find(t, "sodium-sulfide").GasGramsPerGram; err != nil || s.Forms[0].GasUpper < most || s.GasGramsPerGram < most {
		t.Errorf("a sulfide of unknown strength frees %v g/g, want %v at least: %v", s.GasGramsPerGram, most, err)
	}
	for _, bad := range []struct {
		change func(p *reagent.Product)
		what   string
		cure   string
	}{
		{func(p *reagent.Product) { p.Name = "Vinegar" }, "is a name of acetic-acid", "use acetic-acid"},
		{func(p *reagent.Product) { p.Name = "sodium cyanide solution" }, "must not be in a recipe", "without it"},
		{func(p *reagent.Product) { p.Name = "---" }, "not the name", "label"},
		{func(p *reagent.Product) { p.Families = []string{"varnish"} }, "not a family", "solvent"},
		{func(p *reagent.Product) { p.Families = []string{"cyanide"} }, "not a family", "solvent"},
		{func(p *reagent.Product) { p.Families = []string{"neutral"} }, "H225 says that it burns", "fuel"},
		{func(p *reagent.Product) { p.Families = []string{"neutral", "solvent"} }, "neutral and", "stands alone"},
		{func(p *reagent.Product) { p.Codes = []string{"H272"} }, "feeds a fire", "oxidizer"},
		{func(p *reagent.Product) { p.Codes = []string{"EUH031"} }, "poisonous gas", "sulfide"},
		{func(p *reagent.Product) { p.Codes = []string{"H330"} }, "kill", "without it"},
		{func(p *reagent.Product) { p.Codes = []string{"H260"} }, "water", "without it"},
		{func(p *reagent.Product) { p.Families, p.Codes = []string{"sulfide"}, nil }, "needs the gas", "gas_with_acid"},
	} {
		p := lacquer
		bad.change(&p)
		_, err := p.Substance()
		if err == nil || !strings.Contains(err.Error(), bad.what) || !strings.Contains(fault.CureOf(err), bad.cure) {
			t.Errorf("%+v: %v; %s", p, err, fault.CureOf(err))
		}
	}
}
