package recipe

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"hepar/recipe/reagent"
	"pgregory.net/rapid"
)

func TestVesselToolsAndWarnings(t *testing.T) {
	text := strings.NewReplacer(
		"do   = \"dip\"", "do  = \"dip\"\nin = \"black pot\"\ntools = [\"basket\", \"tongs\"]\nwarns_of = [\"Lemon juice\", \"acids\"]",
		`warns_of    = ["acid"]`, `warns_of = ["acid", "vinegar"]`,
		"kind     = \"immersed\"", "kind     = \"immersed\"\nwarns_of = [\"bleach\"]",
		"note          = \"last\"", "note = \"last\"\nwarns_of = [\"cola\"]",
		"how  = \"under the hood\"", "how  = \"under the hood\"\nwarns_of = [\"solvents\"]",
	).Replace(good)
	r := decodeGood(t, text)
	dip := r.Steps[slices.IndexFunc(r.Steps, func(s Step) bool { return s.Do == "dip" })]
	if dip.In != "black pot" || !slices.Equal(dip.Tools, []string{"basket", "tongs"}) {
		t.Errorf("%+v", dip)
	}
	for _, c := range []struct {
		got  []string
		want string
	}{
		{dip.WarnsOf, "citric-acid acid"}, {r.Hazards.WarnsOf, "acid acetic-acid"}, {r.WarnsOf, "sodium-hypochlorite"},
		{r.Bath.Reagents[1].WarnsOf, "phosphoric-acid"}, {r.Bath.Mix[0].WarnsOf, "solvent"},
	} {
		if got := strings.Join(c.got, " "); got != c.want {
			t.Errorf("got %s, wanted %s", got, c.want)
		}
	}
	for _, c := range [][2]string{{"black pot", "other pot"}, {`"tongs"`, `"wire"`}, {"Lemon juice", "vinegar"}, {`"acid", "vinegar"`, `"acid"`}, {`["bleach"]`, `[]`}, {`["cola"]`, `[]`}, {"solvents", "acetone"}} {
		if decodeGood(t, strings.Replace(text, c[0], c[1], 1)).Digest == r.Digest {
			t.Errorf("the digest does not see %s", c[0])
		}
	}
}

// withText puts a text under a key of the good recipe, which has no acid in it.
func withText(key, text string) string {
	line := key + " = " + strconv.Quote(text)
	for old, put := range map[string]string{
		"title": "title    = \"Test grey on silver\"", "look": "look     = \"even grey\"", "stop_at": "stop_at = \"grey\"", "disposal": "disposal    = \"collect and label\"",
	} {
		if key == old {
			return strings.Replace(good, put, line, 1)
		}
	}
	switch key {
	case "notes":
		return strings.Replace(good, "\"no acid near it\"", "\"no acid near it\", "+strconv.Quote(text), 1)
	case "bath note":
		return strings.Replace(good, "\"last\"", strconv.Quote(text), 1)
	case "bath source":
		return strings.Replace(good, "note          = \"last\"", "source = "+strconv.Quote(text), 1)
	case "mix how":
		return strings.Replace(good, "\"under the hood\"", strconv.Quote(text), 1)
	case "vessel":
		return strings.Replace(good, "[bath]", "[bath]\n"+line, 1)
	case "note":
		return strings.Replace(good, "\"keep moving\"", strconv.Quote(text), 1)
	}
	return strings.Replace(good, "\"soft brush\"", strconv.Quote(text), 1) // how of the step degrease
}

var textKeys = []string{"title", "look", "stop_at", "disposal", "notes", "bath note", "bath source", "mix how", "vessel", "note", "how"}

// Every phrase brings an acid, or bleach, to a recipe that declares none.
func TestUndeclaredPhrases(t *testing.T) {
	for phrase, name := range map[string]string{
		"keep adding vinegar":                                      "vinegar",
		"squeeze half a lemon in":                                  "lemon",
		"a splash of pickle":                                       "pickle",
		"top up with muriatic":                                     "muriatic",
		"drop in a denture tablet":                                 "denture tablet",
		"a dash of Cider Vinegar does no harm":                     "Cider Vinegar",
		"brighten it with a sour cream-of-tartar paste":            "cream-of-tartar",
		"until it fizzes, then more cola":                          "cola",
		"one capful of spirits of salt":                            "spirits of salt",
		"never without a few drops of aqua fortis":                 "aqua fortis",
		"oil of vitriol by the drop":                               "oil of vitriol",
		"swish through the dry acid":                               "dry acid",
		"kettle descaler, a sachet":                                "kettle descaler",
		"do not forget the tarnish dip":                            "tarnish dip",
		"a pinch of sour salt":                                     "sour salt",
		"after the bath, citric for a minute":                      "citric",
		"wipe it over with pickle juice":                           "pickle juice",
		"battery acid, ten drops":                                  "battery acid",
		"no water: lime juice instead":                             "lime juice",
		"crush a vitamin C into it":                                "vitamin C",
		"buttermilk overnight":                                     "buttermilk",
		"ketchup works as well":                                    "ketchup",
		"rust remover, wiped on":                                   "rust remover",
		"vin\u00e9gar":                                             "vin\u00e9gar",
		"finish in thick bleach":                                   "thick bleach",
		"a rinse in toilet cleaner lifts the last of it":           "toilet cleaner",
		"not acid, but":                                            "acid",
		"touch up with metal polish and quench in ferric chloride": "metal polish",
	} {
		for _, key := range textKeys {
			if (name == "acid" || name == "pickle") && (key == "notes" || key == "disposal") { // acid is declared there
				continue
			}
			if key == "title" && len(phrase) > 80 {
				continue
			}
			_, findings := Decode("test-grey.toml", []byte(withText(key, phrase)))
			i := slices.IndexFunc(findings, func(f Finding) bool { return f.Text == name })
			if i < 0 {
				t.Errorf("%s = %q: %s", key, phrase, report(findings))
				continue
			}
			f := findings[i]
			if !strings.Contains(f.What, "not declared") || !strings.Contains(f.Cure, "warns_of = [") || !strings.Contains(f.Cure, "with") && !strings.Contains(f.Cure, "[[bath.reagent]]") {
				t.Errorf("%s = %q: %v", key, phrase, f.Lines())
			}
			if line := strings.Split(withText(key, phrase), "\n")[f.Line-1]; !strings.HasPrefix(string([]rune(line)[f.Column-1:]), name) {
				t.Errorf("%s = %q: the finding stands at %d:%d", key, phrase, f.Line, f.Column)
			}
		}
	}
}

// What names nothing, or only what the recipe uses or what is in no pair, passes.
func TestTextsThatNameNothing(t *testing.T) {
	for _, text := range []string{
		"a soft brush and warm water", "hydrogen sulfide comes off", "hot soapy water, then salt and pumice", "acid-free tissue",
		"the liver of sulfur must be fresh", "ammonia goes in first", "asphalt, saltings, colander", "pickled herring is for lunch", "it turns lemon yellow",
		"the tarnish is even", "oxidised silver, waiting for relief", "a basket of titanium", "Grüße, 黒い, чёрный",
	} {
		for _, key := range textKeys {
			if _, findings := Decode("test-grey.toml", []byte(withText(key, text))); len(findings) > 0 {
				t.Errorf("%s = %q: %s", key, text, report(findings))
			}
		}
	}
}

// Both cures that a finding offers make it go away.
func TestBothCuresHold(t *testing.T) {
	bad := strings.Replace(good, "\"soft brush\"", "\"soft brush, a little vinegar\"", 1)
	if _, findings := Decode("test-grey.toml", []byte(bad)); len(findings) != 1 || findings[0].Cure != `add with = "acetic-acid" if this step uses it; or add warns_of = ["vinegar"] beside it if the text only warns of it` {
		t.Error(report(findings))
	}
	for _, cure := range []string{`warns_of = ["vinegar"]`, `with = "acetic-acid"`} {
		text := strings.Replace(bad, "with = \"detergent\"", cure, 1)
		if r, findings := Decode("test-grey.toml", []byte(text)); r == nil {
			t.Errorf("%s: %s", cure, report(findings))
		}
	}
	// a warning in one step is none in another
	elsewhere := strings.Replace(bad, "do   = \"dip\"", "do = \"dip\"\nwarns_of = [\"vinegar\"]", 1)
	if r, _ := Decode("test-grey.toml", []byte(elsewhere)); r != nil {
		t.Error("the warning of one step covers another")
	}
	// a group is no leave for its members
	group := strings.Replace(bad, "with = \"detergent\"", `warns_of = ["acid"]`, 1)
	if r, _ := Decode("test-grey.toml", []byte(group)); r != nil {
		t.Error("warns_of acid covers vinegar")
	}
}

func TestMisspeltNamesAreOffered(t *testing.T) {
	for text, want := range map[string]string{
		"a spoon of vinager": "do you mean vinegar?", "vineger, ten drops": "do you mean vinegar?", "muriatik, a little": "do you mean muriatic?",
		"lye or tartarik": "do you mean tartaric?", "buttermlik overnight": "do you mean buttermilk?", "descalar": "do you mean descaler?",
		"spirit of sallt": "do you mean spirit of salt?", "aqwa fortis": "do you mean aqua fortis?",
	} {
		_, findings := Decode("test-grey.toml", []byte(withText("how", text)))
		if !slices.ContainsFunc(findings, func(f Finding) bool { return strings.HasSuffix(f.What, want) }) {
			t.Errorf("%q: %s", text, report(findings))
		}
	}
}

// Every name of every substance, in any text of a recipe, in capitals or in the plural,
// is found unless it is declared.
func TestEveryNameMustBeDeclared(t *testing.T) {
	all := reagent.All()
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(all).Draw(t, "substance")
		name := rapid.SampledFrom(append([]string{s.ID, s.Name}, s.Names...)).Draw(t, "name")
		written := rapid.SampledFrom([]string{name, strings.ToUpper(name), strings.ReplaceAll(name, " ", "-"), strings.ReplaceAll(name, "sulf", "sulph")}).Draw(t, "written")
		text := rapid.SampledFrom([]string{"", "some ", "no ", "keep on with ", "(5 %) "}).Draw(t, "before") + written + rapid.SampledFrom([]string{"", ".", ", then wait", "; never"}).Draw(t, "after")
		key := rapid.SampledFrom(textKeys).Draw(t, "key")
		_, findings := Decode("test-grey.toml", []byte(withText(key, text)))
		declared := reagent.Inert(s.ID) || slices.Contains([]string{"liver-of-sulfur", "ammonia", "sodium-carbonate"}, s.ID)
		if declared != (len(findings) == 0) {
			t.Fatalf("%s = %q: %s", key, text, report(findings))
		}
	})
}

// A vessel of aluminium or zinc in a text must be declared too: as warned of, or as the
// vessel or tool of a step, which the review then looks at.
func TestUndeclaredVessels(t *testing.T) {
	for _, name := range []string{"aluminium", "Aluminum", "zinc", "galvanised"} {
		for _, key := range textKeys {
			text := withText(key, "an old "+name+" pan will do")
			_, findings := Decode("test-grey.toml", []byte(text))
			if i := slices.IndexFunc(findings, func(f Finding) bool { return f.Text == name }); i < 0 || !strings.Contains(findings[i].Cure, "add in or tools") || !strings.Contains(findings[i].Cure, "warns_of") {
				t.Errorf("%s: %s: %s", key, name, report(findings))
			}
		}
	}
	text := withText("vessel", "an old aluminium pan")
	decodeGood(t, strings.Replace(text, "do   = \"dip\"", "do   = \"dip\"\nin   = \"aluminium pan\"", 1))
	decodeGood(t, strings.Replace(text, "kind     = \"immersed\"", "kind     = \"immersed\"\nwarns_of = [\"zinc\"]", 1))
}
