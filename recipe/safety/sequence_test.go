package safety

import (
	"slices"
	"strings"
	"testing"

	"hepar/recipe"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// weighed is grams of one substance in its usual form; one that the table does not have
// is known by its id alone.
func weighed(id string, grams float64) []reagent.Amount {
	if s, err := reagent.Find(id); err == nil {
		if stock, err := reagent.NewStock(s, "", "", 0, false); err == nil {
			return []reagent.Amount{stock.Of(grams)}
		}
	}
	return []reagent.Amount{{Stock: reagent.Stock{Substance: reagent.Substance{ID: id}}, Shown: grams}}
}

func gramsPerL(at, from, to float64) recipe.Range[measure.Concentration] {
	return recipe.Range[measure.Concentration]{At: measure.Concentration{PerL: at}, From: measure.Concentration{PerL: from}, To: measure.Concentration{PerL: to}}
}

// bathOf makes a recipe: the bath, then the steps, each written "do", "do with",
// "rinse 2", "rinse running", or any of them with "| how".
func bathOf(bath string, steps ...string) *recipe.Recipe {
	r := &recipe.Recipe{
		Slug: "test", Title: "test", Revision: 1, Kind: recipe.Immersed, Alloys: []string{"sterling-925"}, Source: "made for this test",
		Hazards: recipe.Hazards{Ventilation: "hood", PPE: []string{"splash goggles"}, Disposal: "collect; local rules decide"},
	}
	r.Bath.Water = recipe.Range[measure.Celsius]{At: 60, From: 55, To: 65}
	for _, one := range strings.Split(bath, ",") {
		id, form, _ := strings.Cut(strings.TrimSpace(one), ":")
		id, note, _ := strings.Cut(id, "|")
		r.Bath.Reagents = append(r.Bath.Reagents, recipe.Reagent{
			Substance: strings.TrimSpace(id), Form: form, Note: note,
			Concentration: gramsPerL(5, 4, 5),
		})
	}
	for _, one := range steps {
		text, how, _ := strings.Cut(one, "|")
		f := strings.Fields(text)
		s := recipe.Step{Do: f[0], How: strings.TrimSpace(how), Baths: 1}
		for _, word := range f[1:] {
			switch word {
			case "running":
				s.Running = true
			case "2", "3":
				s.Baths = int(word[0] - '0')
			default:
				s.With = word
			}
		}
		r.Steps = append(r.Steps, s)
	}
	return r
}

// harmless is the gravest level that a harmless order may have.
const harmless = Caution

func TestSequences(t *testing.T) {
	for _, c := range []struct {
		name  string
		r     *recipe.Recipe
		want  Level  // the gravest; "" or caution both pass for harmless
		code  string // of the gravest, where there is one
		about string // the source of the expectation
	}{
		// What must be stopped.
		{"vinegar put into a liver of sulfur bath", bathOf("liver-of-sulfur:gel, acetic-acid:vinegar 5 %", "degrease detergent", "rinse", "dip", "rinse 2", "dry"),
			StopLevel, "acid-sulfide", "a published craft receipt with a spoon of vinegar in the bath; 40 CFR 265 Appendix V 5-A/5-B"},
		{"copper cleaned in salt and vinegar, unrinsed", bathOf("liver-of-sulfur", "degrease acetic-acid|salt and vinegar", "dip", "rinse 2"),
			StopLevel, "acid-before-sulfide", "common practice for copper, no published source; 40 CFR 265 Appendix V"},
		{"bisulfate pickle, unrinsed", bathOf("liver-of-sulfur", "pickle sodium-bisulfate", "dip", "rinse 2"),
			StopLevel, "acid-before-sulfide", "40 CFR 265 Appendix V; drag-in of bisulfate, calculated"},
		{"citric pickle, dried, unrinsed", bathOf("ammonium-sulfide", "pickle citric-acid", "dry", "dip", "rinse"),
			StopLevel, "acid-before-sulfide", "drying leaves the acid on the piece"},
		{"nitric bright dip, unrinsed", bathOf("potassium-sulfide", "pickle nitric-acid", "dip", "rinse"),
			StopLevel, "acid-before-sulfide", "EPA-600/2-80-076, oxidising acids with sulfides"},
		{"oxalic scrub, blasted, unrinsed", bathOf("barium-sulfide", "degrease oxalic-acid", "matte", "dip", "rinse"),
			StopLevel, "acid-before-sulfide", "oxalic acid and pumice before sulfides is shop practice; the rinse is missing"},
		{"ferric chloride and sulfide in one bath", bathOf("sodium-sulfide, ferric-chloride", "dip", "rinse"),
			StopLevel, "acid-salt-sulfide", "ICSC 1499"},
		{"copper nitrate carried into sulfide", bathOf("liver-of-sulfur", "degrease copper-nitrate", "dip", "rinse"),
			StopLevel, "acid-salt-before-sulfide", "acid salts, ICSC 1499"},
		{"chlorate with liver of sulfur", bathOf("liver-of-sulfur, sodium-chlorate", "dip", "rinse 2"),
			StopLevel, "oxidizer-sulfide", "Henley's Twentieth Century Formulas, blue on brass, 2 + 2 per 1000: refused"},
		{"peroxide clean unrinsed before sulfide", bathOf("liver-of-sulfur", "degrease hydrogen-peroxide", "dip", "rinse"),
			StopLevel, "oxidizer-before-sulfide", "ICSC 1047: no contact with oxidising agents"},
		{"sulfide then permanganate, unrinsed", bathOf("liver-of-sulfur", "dip", "neutralise potassium-permanganate", "rinse"),
			StopLevel, "sulfide-before-oxidizer", "ICSC 1047"},
		{"sulfide then pickle, unrinsed", bathOf("liver-of-sulfur", "dip", "pickle sodium-bisulfate", "rinse"),
			StopLevel, "sulfide-before-acid", "common practice: no coloured piece back into pickle"},
		{"sulfide stopped in citric acid", bathOf("liver-of-sulfur", "dip", "neutralise citric-acid", "rinse"),
			StopLevel, "sulfide-before-acid", "40 CFR 265 Appendix V"},
		{"bleach with bisulfate", bathOf("sodium-bisulfate, sodium-hypochlorite", "dip", "rinse"),
			StopLevel, "hypochlorite-acid", "ICSC 0482"},
		{"bleach after pickle, unrinsed", bathOf("sodium-carbonate", "pickle citric-acid", "degrease sodium-hypochlorite", "rinse", "dip"),
			StopLevel, "acid-before-hypochlorite", "ICSC 0482"},
		{"bleach with ammonia", bathOf("ammonia, sodium-hypochlorite", "dip", "rinse"),
			StopLevel, "hypochlorite-ammonia", "ICSC 0482; health department warnings"},
		{"ammoniacal silver kept overnight", bathOf("silver-nitrate, ammonia|stand overnight before use", "dip", "rinse"),
			StopLevel, "silver-salt-ammonia", "histology safety pages: never store"},
		{"nitric and alcohol", bathOf("nitric-acid, ethanol", "dip", "rinse"),
			StopLevel, "oxidizing-acid-fuel", "ICSC 0183"},
		{"aluminium in sulfide", onlyFor(bathOf("liver-of-sulfur", "dip", "rinse 2"), "aluminium"),
			StopLevel, "light-metal-in-alkali", "general chemistry; 40 CFR 265 Appendix V group 1-A with 2-B"},
		{"zinc in caustic", onlyFor(bathOf("sodium-hydroxide", "dip", "rinse 2"), "zinc"),
			StopLevel, "light-metal-in-alkali", "general chemistry"},
		{"mercury before silvering", bathOf("mercury-nitrate", "dip", "rinse"),
			StopLevel, "refused-substance", "refused by family"},
		{"an unknown powder in a sulfide bath", bathOf("liver-of-sulfur, grandfather-s-powder", "dip", "rinse 2"),
			StopLevel, "unknown-with-sulfide", "unknown: the worst of its family"},

		// What must be put right first.
		{"pickle, one plain rinse", bathOf("liver-of-sulfur", "pickle sodium-bisulfate", "rinse", "dip", "rinse 2"),
			CorrectFirst, "acid-before-sulfide", "drag-in through one still rinse, calculated; art-hazard programme page"},
		{"vinegar clean, one plain rinse, wiped", bathOf("liver-of-sulfur", "degrease acetic-acid", "rinse", "dry", "dip", "rinse 2"),
			CorrectFirst, "acid-before-sulfide", "the same"},
		{"sulfide, rinsed, then pickle", bathOf("liver-of-sulfur", "dip", "rinse 3", "pickle sodium-bisulfate", "rinse"),
			StopLevel, "sulfide-before-acid", "the film itself frees gas in pickle; common practice"},
		{"bicarbonate straight after sulfide", bathOf("liver-of-sulfur", "dip", "neutralise sodium-bicarbonate", "rinse"),
			CorrectFirst, "sulfide-before-bicarbonate", "Millero 1988: about 5 % hydrogen sulfide at pH 8.3"},
		{"permanganate clean, one rinse", bathOf("liver-of-sulfur", "degrease potassium-permanganate", "rinse", "dip", "rinse"),
			CorrectFirst, "oxidizer-before-sulfide", "ICSC 1047"},
		{"nitric dip on silver, well rinsed, no sulfide", bathOf("sodium-carbonate", "pickle nitric-acid", "rinse 3", "dip"),
			CorrectFirst, "nitric-on-metal", "ICSC 0183"},
		{"ammoniacal silver, used at once", bathOf("silver-nitrate, ammonia", "degrease detergent", "rinse", "dip", "rinse 2"),
			StopLevel, "silver-salt-ammonia", "histology safety pages: it explodes on standing, refused"},

		// Harmless: no stop and no correct-first.
		{"degrease, rinse, dip, rinse, dry", bathOf("liver-of-sulfur:lump", "degrease detergent", "rinse", "dip", "rinse 2", "dry"), harmless, "", "Workshop Receipts (Spon), oxidised silver"},
		{"with pumice and wax", bathOf("liver-of-sulfur:lump", "degrease|pumice and detergent", "matte|fine pumice", "rinse", "dip", "rinse", "dry", "relieve|wet pumice", "seal carnauba-wax"), harmless, "", "common practice"},
		{"pickle, rinse, soda, rinse, dip", bathOf("liver-of-sulfur", "pickle sodium-bisulfate", "rinse", "neutralise sodium-carbonate", "rinse", "dip", "rinse 2", "dry"), harmless, "", "alkaline rinse before sulfide, common practice"},
		{"pickle, rinse, bicarbonate, rinse, dip", bathOf("liver-of-sulfur", "pickle sodium-bisulfate", "rinse", "neutralise sodium-bicarbonate", "rinse", "dip", "rinse 2", "dry"), harmless, "", "bicarbonate does take up an acid film"},
		{"pickle, two rinses, dip", bathOf("liver-of-sulfur", "pickle citric-acid", "rinse 2", "dip", "rinse 2", "dry"), harmless, "", "cascade rinse"},
		{"pickle, running rinse, dip", bathOf("liver-of-sulfur", "pickle citric-acid", "rinse running", "dip", "rinse running", "dry"), harmless, "", "running rinse, common practice"},
		{"pickle, rinse, rinse as two steps", bathOf("potassium-sulfide", "pickle sulfamic-acid", "rinse", "rinse", "dip", "rinse"), harmless, "", "two rinses"},
		{"pickle, soda, dip", bathOf("liver-of-sulfur", "pickle sodium-bisulfate", "neutralise sodium-carbonate", "dip", "rinse 2"), harmless, "", "an alkaline soak takes the acid away: at most a caution"},
		{"pickle, rinse, caustic degrease, dip", bathOf("liver-of-sulfur", "pickle sodium-bisulfate", "rinse", "degrease sodium-hydroxide", "dip", "rinse 2"), harmless, "", "the same"},
		{"oxalic and pumice, rinsed twice", bathOf("ammonium-sulfide", "degrease oxalic-acid", "rinse 2", "dip", "rinse 2", "dry", "seal lacquer"), harmless, "", "copper trade body sheet on brown finishes"},
		{"liver of sulfur with ammonia", bathOf("liver-of-sulfur, ammonia", "degrease detergent", "rinse", "dip", "rinse 2", "dry"), harmless, "", "Art Metalwork (Payne), copper brown-black"},
		{"liver of sulfur with salt and ammonia", bathOf("liver-of-sulfur, ammonia, sodium-chloride", "dip", "rinse 2"), harmless, "", "common practice"},
		{"sulfide stopped in soda", bathOf("liver-of-sulfur", "degrease detergent", "rinse", "dip", "neutralise sodium-carbonate", "rinse 2", "dry"), harmless, "", "alkaline stop"},
		{"sulfide, rinsed, bicarbonate", bathOf("liver-of-sulfur", "dip", "rinse", "neutralise sodium-bicarbonate", "rinse", "dry"), harmless, "", "idle, but no danger of an acid kind: a caution"},
		{"caustic degrease before sulfide", bathOf("sodium-sulfide", "degrease sodium-hydroxide", "rinse", "dip", "rinse 2"), harmless, "", "alkali with sulfide is no conflict"},
		{"acetone wipe before sulfide", bathOf("liver-of-sulfur", "degrease acetone", "dry", "dip", "rinse 2", "dry", "seal microcrystalline-wax"), harmless, "", "common practice"},
		{"barium sulfide on copper", bathOf("barium-sulfide", "degrease detergent", "rinse", "dip", "rinse 2"), harmless, "", "Art Metalwork (Payne)"},
		{"bisulfate pickle alone", bathOf("sodium-bisulfate", "degrease detergent", "rinse", "dip", "rinse", "neutralise sodium-carbonate", "rinse", "dry"), harmless, "", "common practice"},
		{"citric pickle alone", bathOf("citric-acid:monohydrate", "dip", "rinse 2", "dry"), harmless, "", "common practice"},
		{"copper nitrate green", bathOf("copper-nitrate, ammonium-chloride", "degrease detergent", "rinse", "dip", "dry", "seal carnauba-wax"), harmless, "", "antique green, GSA procedure 0503002S in kind"},
		{"antique green with acetate and carbonate", bathOf("copper-sulfate, ammonium-chloride, calcium-chloride", "degrease detergent", "rinse", "dip", "dry"), harmless, "", "antique greens in kind"},
		{"sulfate green", bathOf("ammonium-sulfate, copper-sulfate, ammonia", "pickle citric-acid", "rinse 2", "dip", "dry"), harmless, "", "copper trade body green"},
		{"ammoniacal copper on brass", onlyFor(bathOf("copper-carbonate, ammonia", "pickle sodium-bisulfate", "rinse", "dip", "rinse 2", "dry"), "brass-c260"), harmless, "", "Henley's Twentieth Century Formulas, brass black"},
		{"copper sulfate and permanganate brown", onlyFor(bathOf("copper-sulfate, potassium-permanganate", "degrease detergent", "rinse", "dip", "rinse", "dry"), "bronze-c220"), harmless, "", "Sdelai Sam 2/1990, 60 + 7.4 g/L"},
		{"words that forbid the acid", bathOf("liver-of-sulfur", "degrease|detergent and brush; no vinegar, no lemon", "rinse", "dip|keep vinegar and pickle away from this bath", "rinse 2|until the smell is gone", "inspect|never back into pickle"), harmless, "", "a warning is no instruction"},
		{"words that look back", bathOf("liver-of-sulfur", "pickle citric-acid", "rinse 2|rinse off the citric acid", "dip|after the vinegar clean is all rinsed away", "rinse"), harmless, "", "a mention is no instruction"},
		{"silver beside aluminium in the list of alloys, soda only", onlyFor(bathOf("detergent", "degrease detergent", "rinse", "dip", "rinse"), "aluminium"), harmless, "", "detergent on aluminium"},
		{"alkaline stop rinse alone", bathOf("sodium-carbonate", "dip", "rinse 2", "dry"), harmless, "", "the stop helper"},
		{"bleach alone, rinsed, no acid near", bathOf("sodium-hypochlorite", "degrease detergent", "rinse", "dip", "rinse 3", "dry"), harmless, "", "no partner"},
		{"steel in soda", onlyFor(bathOf("sodium-carbonate", "dip", "rinse", "dry"), "steel-carbon"), harmless, "", "common practice"},
	} {
		t.Run(c.name, func(t *testing.T) {
			points := Sequence(c.r)
			sound(t, points)
			gravest := harmless
			var codes []string
			for _, p := range points {
				if grade(p.Level) < grade(gravest) {
					gravest = p.Level
				}
				codes = append(codes, string(p.Level)+" "+p.Code)
			}
			if gravest != c.want {
				t.Fatalf("gravest is %q, want %q (%s): %q", gravest, c.want, c.about, codes)
			}
			if c.code != "" && !slices.Contains(codes, string(c.want)+" "+c.code) {
				t.Errorf("no %s at level %s among %q", c.code, c.want, codes)
			}
			err := Refused(points)
			if (err != nil) != (c.want == StopLevel) {
				t.Errorf("Refused gives %v", err)
			}
			if err != nil && (fault.KindOf(err) != fault.Safety || fault.CureOf(err) == "" || strings.Contains(err.Error(), "\n")) {
				t.Errorf("refused as %v, cure %q", err, fault.CureOf(err))
			}
		})
	}
}

// onlyFor sets the alloy.
func onlyFor(r *recipe.Recipe, alloys ...string) *recipe.Recipe { r.Alloys = alloys; return r }

// sound checks what holds of every list of points.
func sound(t testing.TB, points []Point) {
	t.Helper()
	seen := map[string]bool{}
	last := 0
	for _, p := range points {
		if p.Code == "" || p.Text == "" || p.Source == "" || strings.ContainsAny(p.Text+p.Source+p.Code, "\n\t\x1b") {
			t.Errorf("a point wants code, level, text and source in one line each: %+v", p)
		}
		if strings.Trim(p.Code, "abcdefghijklmnopqrstuvwxyz0123456789-") != "" {
			t.Errorf("%q is no kebab code", p.Code)
		}
		if !slices.Contains([]Level{StopLevel, CorrectFirst, Caution}, p.Level) {
			t.Errorf("%s has level %q", p.Code, p.Level)
		}
		if seen[p.Code] {
			t.Errorf("%s stands twice", p.Code)
		}
		if p.Level != Caution && (p.Cure == "" || !strings.Contains(p.Text, sentence(p.Cure))) {
			t.Errorf("%s is %s and its text does not say what to do: %q", p.Code, p.Level, p.Text)
		}
		if grade(p.Level) < last {
			t.Errorf("%s stands after a lesser point", p.Code)
		}
		seen[p.Code], last = true, grade(p.Level)
		if found := Claims(p.Text + ". " + p.Source); len(found) > 0 {
			t.Errorf("%s claims %q: %s", p.Code, found, p.Text)
		}
	}
}
