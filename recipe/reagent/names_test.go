package reagent_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"hepar/recipe/outside"
	"hepar/recipe/reagent"
)

func TestNamed(t *testing.T) {
	for text, want := range map[string]string{
		"":                                    "",
		"a soft brush and warm water":         "",
		"wipe with vinegar":                   "acetic-acid:vinegar@10",
		"Wipe with VINEGAR, then lemon juice": "acetic-acid:VINEGAR@10 citric-acid:lemon juice@24",
		"lemon-juice":                         "citric-acid:lemon-juice@0",
		"no acid, vinegar or lemons":          "acid:acid@3 acetic-acid:vinegar@9 citric-acid:lemons@20",
		"from hydrogen sulfide to silver sulphides": "",
		"acid-free paper, two acids, a pickle":      "acid:acids@21 acid:pickle@30",
		"killed spirits of salt":                    "zinc-chloride:killed spirits of salt@0",
		"spirits of salt, aqua fortis":              "hydrochloric-acid:spirits of salt@0 nitric-acid:aqua fortis@17",
		"salt and washing soda":                     "sodium-chloride:salt@0 sodium-carbonate:washing soda@9",
		"bicarbonate of soda; bicarb":               "sodium-bicarbonate:bicarbonate of soda@0 sodium-bicarbonate:bicarb@21",
		"Liver of sulphur":                          "liver-of-sulfur:Liver of sulphur@0",
		"condys crystals":                           "potassium-permanganate:condys crystals@0",
		"Condy's crystals":                          "potassium-permanganate:Condy's crystals@0",
		"copper (II) sulfate":                       "copper-sulfate:copper (II) sulfate@0",
		"oxygen bleach, not bleach":                 "sodium-percarbonate:oxygen bleach@0 sodium-hypochlorite:bleach@19",
		"asphalt, saltings, cola-coloured, colas":   "phosphoric-acid:cola@19 phosphoric-acid:colas@34",
		"café: méths, vinegar":                      "ethanol:méths@7 acetic-acid:vinegar@15",
		"VINAIGRE, Ｖｉｎｅｇａｒ, vine\u0301gar":          "acetic-acid:Ｖｉｎｅｇａｒ@10 acetic-acid:vine\u0301gar@33",
		"vinegar\x1b[31m\xffbleach":                 "acetic-acid:vinegar@0 sodium-hypochlorite:bleach@13",
		"let it dry, acid comes later":              "acid:acid@12",
		"nitrates":                                  "",
		"turps or meths":                            "turpentine:turps@0 ethanol:meths@9",
	} {
		var list []string
		for _, m := range reagent.Named(text) {
			list = append(list, fmt.Sprintf("%s:%s@%d", m.ID, m.Name, m.Offset))
			if !strings.HasPrefix(text[m.Offset:], m.Name) {
				t.Errorf("%q: %+v does not stand at its offset", text, m)
			}
		}
		if got := strings.Join(list, " "); got != want {
			t.Errorf("%q\n got %s\nwant %s", text, got, want)
		}
	}
}

// The names that a maker is likely to write, and what each is.
func TestHouseholdNames(t *testing.T) {
	for name, id := range map[string]string{
		"vinegar": "acetic-acid", "lemon juice": "citric-acid", "cola": "phosphoric-acid", "alum": "alum", "sal ammoniac": "ammonium-chloride",
		"cream of tartar": "potassium-bitartrate", "descaler": "sulfamic-acid", "bleach": "sodium-hypochlorite", "tarnish dip": "silver-dip",
		"ferric chloride": "ferric-chloride", "pickle": "acid", "acid": "acid", "solvents": "solvent", "dry acid": "sodium-bisulfate", "household ammonia": "ammonia", "linseed oil": "linseed-oil",
		"white spirit": "white-spirit", "spirits of salt": "hydrochloric-acid", "aqua fortis": "nitric-acid", "oil of vitriol": "sulfuric-acid",
		"washing soda": "sodium-carbonate", "baking soda": "sodium-bicarbonate", "hartshorn": "ammonia", "blue vitriol": "copper-sulfate",
		"verdigris": "copper-acetate", "lunar caustic": "silver-nitrate", "potash": "potassium-carbonate", "lye": "sodium-hydroxide",
		"hypo": "sodium-thiosulfate", "peroxide": "hydrogen-peroxide", "meths": "ethanol", "battery acid": "sulfuric-acid", "saltpetre": "potassium-nitrate",
		"brimstone": "sulfur", "corrosive sublimate": "mercury-chloride", "sugar of lead": "lead-acetate", "turps": "turpentine", "borax": "borax",
	} {
		if got := reagent.Named("some " + name + ", please"); len(got) != 1 || got[0].ID != id {
			t.Errorf("%s: %+v, want %s", name, got, id)
		}
	}
}

// Names of the trade mean what others say they mean, by registry number.
func TestTradeNamesAreWhatOthersSay(t *testing.T) {
	t.Parallel()
	for _, row := range rows(t, "trade_names.csv") {
		id, err := reagent.Called(row["name"])
		if err != nil {
			t.Errorf("%s: %v", row["name"], err)
			continue
		}
		s := must[reagent.Substance](t)(reagent.Find(id))
		numbers := s.CAS
		for _, f := range s.Forms {
			numbers += " " + f.CAS
		}
		got := "none"
		for _, cas := range strings.Fields(row["cas"]) {
			if slices.Contains(strings.Fields(numbers), cas) {
				got = row["cas"]
			}
		}
		outside.Text(t, row["name"]+", registry number", row["evidence"], row["cas"], got)
	}
}
