package recipe

import (
	"fmt"
	"strings"
	"testing"
)

// bad is one change to the good recipe that makes it bad. The mark « stands where
// the finding has to be; text is what it has to quote and what it has to say.
type bad struct{ old, new, text, what, cure string }

// Places in lists of tables are the known trap of the decoder (it names the line
// of the last element), so many cases sit in the second or a later one.
func badImmersed() []bad {
	return []bad{
		// keys
		{"look     =", "«Look     =", "Look", "unknown key Look in the recipe", "write look: keys are in small letters"},
		{"revision = 3", "revision = 3\n«colour = \"x\"", "colour", "unknown key colour in the recipe", "the keys here are"},
		{"max_load =", "«max-load =", "max-load", "unknown key max-load in [bath]", "did you mean max_load?"},
		{"note          = \"last\"", "«notes = \"last\"", "notes", "unknown key notes in [[bath.reagent]] 2", "did you mean note?"},
		{"note = \"keep moving\"", "«Note = \"keep moving\"", "Note", "unknown key Note in [[step]] 3", "write note"},
		{"stop_at =", "«\"stop at\" =", "\"stop at\"", "unknown key stop at in [dip]", "did you mean stop_at?"},
		{"disposal    =", "«dispposal    =", "dispposal", "unknown key dispposal in [hazards]", "did you mean disposal?"},
		{"from = \"3 s\"", "«min = \"3 s\"", "min", "unknown key min in time", "the keys here are: at, from, to"},
		{"[dip]", "[dip]\n«x.y = 1", "x", "unknown key x in [dip]", ""},
		{"[hazards]", "«[extra]\na = 1\n[hazards]", "[extra]", "unknown key extra in the recipe", ""},
		// keys of other steps
		{"note = \"keep moving\"", "«time = \"10 s\"", "time", "a dip step cannot have time", "it may have: how, note"},
		{"time = \"1 min\"", "«with = \"detergent\"", "with", "a rinse step cannot have with", "baths, running"},
		{"how = \"beside the reference piece\"", "how = \"x\"\n«baths = 2", "baths", "inspect step cannot have baths", ""},
		// missing
		{"substance     = \"ammonia\"\n", "", "[[bath.reagent]]", "[[bath.reagent]] 2 has no substance", "write substance"},
		{"concentration = \"10 mL/L\"\n", "", "[[bath.reagent]]", "[[bath.reagent]] 2 has no concentration", "4.5 g/L"},
		{"do   = \"dip\"\n", "", "[[step]]", "[[step]] 3 has no do", "write one of: degrease"},
		{"how = \"beside the reference piece\"\n", "", "[[step]]", "[[step]] 6 has no how", "a step inspect needs how"},
		{"with          = \"sodium-carbonate\"\nconcentration = { at = \"15 g/L\", from = \"10 g/L\", to = \"20 g/L\" }\n", "", "[[step]]", "[[step]] 5 has no with", ""},
		{"ventilation = \"hood\"\n", "", "[hazards]", "[hazards] has no ventilation", "hood"},
		{"gas         = [\"hydrogen sulfide\"]\n", "", "[hazards]", "[hazards] has no gas", "gas = []"},
		{"water    = { at = \"75 C\", from = \"71 C\", to = \"82 C\" }\n", "", "[bath]", "[bath] has no water", "75 C"},
		{"time    = { at = \"10 s\", from = \"3 s\", to = \"30 s\" }\n", "", "[dip]", "[dip] has no time", ""},
		{"time    = { at = \"10 s\", from", "«time    = { from", "", "time has no at", "limits around it"},
		// types
		{"title    = \"Test grey on silver\"", "title    = «7", "7", "title must be text in quotes, not a whole number", ""},
		{"revision = 3", "revision = «\"3\"", "\"3\"", "revision must be a whole number, not text", ""},
		{"revision = 3", "revision = «3.5", "3.5", "revision must be a whole number, not a bare number", ""},
		{"revision = 3", "revision = «nan", "nan", "revision must be a whole number, not nan or inf", ""},
		{"revision = 3", "revision = «-inf", "-inf", "revision must be a whole number, not nan or inf", ""},
		{"revision = 3", "revision = «2024-01-02", "2024-01-02", "revision must be a whole number, not a date or time", ""},
		{"alloys   = [\"sterling-925\", \"fine-999\"]", "alloys   = «\"sterling-925\"", "\"sterling-925\"", "alloys must be a list of texts, not text", ""},
		{"[\"goggles\", \"gloves\"]", "[\"goggles\", «5]", "5", "entry 2 of ppe must be text in quotes, not a whole number", ""},
		{"note          = \"last\"", "source        = «2", "2", "source must be text in quotes, not a whole number", "where the figure is from"},
		{"note          = \"last\"", "note          = «2", "2", "note must be text in quotes, not a whole number", "in words"},
		{"baths = 2", "baths = «2.0", "2.0", "baths must be a whole number", ""},
		{"concentration = \"10 mL/L\"", "concentration = «10", "10", "concentration must be text with a unit, in quotes, not a whole number", "write the unit after the figure"},
		{"concentration = \"10 mL/L\"", "concentration = «nan", "nan", "concentration must be text with a unit, in quotes, not nan or inf", ""},
		{"time = \"1 min\"", "time = «60", "60", "time must be text with a unit, in quotes, not a whole number", ""},
		{"time = \"1 min\"", "running = «\"yes\"", "\"yes\"", "running must be true or false, not text", ""},
		{"from = \"10 g/L\"", "from = «10", "10", "from must be text with a unit", ""},
		{"weakest  = \"50 %\"", "weakest  = «[\"50 %\"]", "[\"50 %\"]", "weakest must be text with a unit, in quotes, not a list", ""},
		{"title    = \"Test grey on silver\"", "title = \"x\"\ncoats = «3", "3", "coats must be a table", "[coats]"},
		// figures and units
		{"concentration = \"10 mL/L\"", "concentration = «\"10 mL\"", "\"10 mL\"", "is a volume", ""},
		{"concentration = \"10 mL/L\"", "concentration = «\"10\"", "\"10\"", "concentration: ", ""},
		{"concentration = \"10 mL/L\"", "concentration = «\"10 % v/v\"", "\"10 % v/v\"", "% v/v", "mL/L"},
		{"concentration = \"10 mL/L\"", "concentration = «\"10 % w/w\"", "\"10 % w/w\"", "by mass of the mixture", "% w/v is 10 g/L"},
		{"concentration = \"10 mL/L\"", "concentration = «\"500 ppm\"", "\"500 ppm\"", "ppm", ""},
		{"concentration = \"10 mL/L\"", "concentration = «\"10 ML/parsec\"", "\"10 ML/parsec\"", "concentration: ", ""},
		{"concentration = \"10 mL/L\"", "concentration = «\"3 oz/gal\"", "\"3 oz/gal\"", "US and imperial", "oz/US gal or oz/imp gal"},
		{"concentration = \"10 mL/L\"", "concentration = «\"0.5 mol/L\"", "\"0.5 mol/L\"", "molar mass", ""},
		{"concentration = \"10 mL/L\"", "concentration = «\"0 mL/L\"", "\"0 mL/L\"", "must be more than 0 and at most ", ""},
		{"concentration = \"10 mL/L\"", "concentration = «\"-3 mL/L\"", "\"-3 mL/L\"", "negative", ""},
		{"concentration = \"10 mL/L\"", "concentration = «\"1001 mL/L\"", "\"1001 mL/L\"", "must be more than 0 and at most 1000 mL/L", ""},
		{"concentration = { at = \"15 g/L\", from = \"10 g/L\", to = \"20 g/L\" }", "concentration = «\"1201 g/L\"", "\"1201 g/L\"", "must be more than 0 and at most 1200 g/L", ""},
		{"concentration = { at = \"15 g/L\", from = \"10 g/L\", to = \"20 g/L\" }", "concentration = «\"15 mL/L\"", "\"15 mL/L\"", "a solid is not measured by volume here", "weigh it"},
		{"\"10 mL/L\"", "{ at = \"10 mL/L\", to = «\"12 g/L\" }", "\"12 g/L\"", "g/L here and mL/L before it", ""},
		{"\nwater = \"60 C\"", "\nwater = «\"60\"", "\"60\"", "water: ", ""},
		{"water = \"60 C\"", "water = «\"60 s\"", "\"60 s\"", "is a time", ""},
		{"water = \"60 C\"", "water = «\"111 C\"", "\"111 C\"", "must be from 0 to 110 C", "check the unit"},
		{"water = \"60 C\"", "water = «\"31 F\"", "\"31 F\"", "must be from 0 to 110 C", ""},
		{"water = \"60 C\"", "water = «\"nan C\"", "\"nan C\"", "water: ", ""},
		{"time = \"1 min\"", "time = «\"31 d\"", "\"31 d\"", "must be more than 0 and at most 2592000 s, 30 days", ""},
		{"time = \"1 min\"", "time = «\"0 s\"", "\"0 s\"", "must be more than 0 and at most ", ""},
		{"from = \"3 s\"", "from = «\"0 s\"", "\"0 s\"", "must be more than 0 and at most ", ""},
		{"max_load = \"2 dm2/L\"", "max_load = «{ at = \"2 dm2/L\", to = \"3 dm2/L\" }", "", "max_load must be text with a unit, in quotes, not a table", ""},
		// what is declared
		{"do   = \"dip\"", "do = \"dip\"\nwarns_of = [«\"vinigar\"]", "\"vinigar\"", "warns_of: unknown substance", "did you mean acetic-acid?"},
		{"do   = \"dip\"", "do = \"dip\"\nwarns_of = [\"vinegar\", «\"acetic acid\"]", "\"acetic acid\"", "names acetic-acid twice", ""},
		{"do   = \"dip\"", "do = \"dip\"\ntools = [\"a\", \"b\", \"c\", \"d\", \"e\", \"f\", \"g\", \"h\", «\"i\"]", "\"i\"", "more than 8", ""},
		// limits, window and order of mixing
		{"works_down_to = \"60 C\"", "works_down_to = «\"72 C\"", "\"72 C\"", "warmer than the coolest water", ""},
		{"works_down_to = \"60 C\"", "works_down_to = «{ at = \"60 C\", from = \"50 C\" }", "", "works_down_to must be text with a unit, in quotes, not a table", ""},
		{"weakest  = \"50 %\"", "weakest  = «\"100 %\"", "\"100 %\"", "weakest: must be more than 0 and at most 0.999 as a share", ""},
		{"weakest  = \"50 %\"", "weakest  = «\"half\"", "\"half\"", "has no number", "10 %"},
		{"max_load_reason = \"pieces touch beyond it\"\n", "", "max_load", "max_load needs max_load_reason beside it", "remove both"},
		{"max_load = \"2 dm2/L\"\n", "", "max_load_reason", "needs max_load beside it", ""},
		{"max_load = \"2 dm2/L\"", "life = \"4 h\"", "life", "unknown key life in [bath]", ""},
		{"window_source = \"common practice, no published source\"\n", "", "window", "window needs window_source beside it", "common practice"},
		{"window  = \"-20 % +35 %\"\n", "", "window_source", "window_source needs window beside it", "10 %"},
		{"\"-20 % +35 %\"", "«\"-20 %\"", "\"-20 %\"", "-20 % is not a window", "10 %"},
		{"\"-20 % +35 %\"", "«\"+20 %\"", "\"+20 %\"", "+20 % is not a window", ""},
		{"\"-20 % +35 %\"", "«\"20 % +35 %\"", "", "is not a window", ""},
		{"\"-20 % +35 %\"", "«\"-20 % +35 % +1 %\"", "", "is not a window", ""},
		{"\"-20 % +35 %\"", "«\"-95 % +35 %\"", "", "at most 90 % shorter", ""},
		{"\"-20 % +35 %\"", "«\"0 %\"", "", "must be more than 0 %", ""},
		{"\"-20 % +35 %\"", "«\"two seconds\"", "", "is not a window", ""},
		{"add  = \"ammonia\"", "add  = «\"borax\"", "\"borax\"", "borax is not in this bath", "water, liver-of-sulfur, ammonia"},
		{"add  = \"ammonia\"", "add  = «\"amonia\"", "\"amonia\"", "amonia is not in this bath", "did you mean ammonia?"},
		{"add  = \"ammonia\"\n", "", "[[bath.mix]]", "[[bath.mix]] 1 has no add", ""},
		{"[[bath.mix]]\nadd = \"liver-of-sulfur\"\n", "", "", "the order of mixing leaves out liver-of-sulfur", "add = \"liver-of-sulfur\""},
		{"part = \"1/3\"", "part = \"1/4\"", "", "the parts of water in the order of mixing make 0.9167, not 1", ""},
		{"part = \"1/3\"", "part = «\"4/3\"", "\"4/3\"", "must be more than 0 and at most 1 as a share", ""},
		{"part = \"1/3\"", "part = «\"0\"", "\"0\"", "must be more than 0 and at most 1 as a share", ""},
		{"add = \"liver-of-sulfur\"", "add = \"liver-of-sulfur\"\n«temperature = \"20 C\"", "temperature", "liver-of-sulfur has a temperature", ""},
		{"temperature = \"25 C\"", "temperature = «\"31 C\"", "\"31 C\"", "hot water drives the ammonia out", "mix it cold"},
		{"temperature = \"25 C\"\n", "", "[[bath.mix]]", "[[bath.mix]] 3 has no temperature", "20 C"},
		{"dips    = 2", "dips    = «0", "0", "dips must be from 1 to 100", ""},
		{"baths = 2", "baths = «6", "6", "baths must be from 1 to 5", ""},
		{"revision = 3", "revision = «10000", "10000", "revision must be from 1 to 9999", ""},
		// ranges
		{"from = \"10 g/L\", to = \"20 g/L\"", "from = \"20 g/L\", to = \"10 g/L\"", "\"15 g/L\"", "concentration is out of order", ""},
		{"at = \"15 g/L\"", "at = «\"9 g/L\"", "\"9 g/L\"", "concentration is out of order", ""},
		{"at = \"15 g/L\"", "at = «\"21 g/L\"", "\"21 g/L\"", "concentration is out of order", ""},
		{"at = \"10 s\", from = \"3 s\", to = \"30 s\"", "at = «\"1 min\", to = \"30 s\"", "\"1 min\"", "time is out of order", ""},
		// names
		{"kind     = \"immersed\"", "kind     = «\"Immersed\"", "\"Immersed\"", "unknown kind Immersed", "did you mean immersed?"},
		{"\"fine-999\"]", "«\"fine-99\"]", "\"fine-99\"", "unknown alloy fine-99", "fine-999"},
		{"\"fine-999\"]", "«\"sterling-925\"]", "\"sterling-925\"", "alloys names sterling-925 twice", ""},
		{"[\"sterling-925\", \"fine-999\"]", "«[]", "[]", "alloys is empty", ""},
		{"[\"goggles\", \"gloves\"]", "«[]", "[]", "ppe is empty", ""},
		{"do   = \"dip\"", "do   = «\"dipp\"", "\"dipp\"", "unknown step dipp", "did you mean dip?"},
		{"substance     = \"ammonia\"", "substance     = «\"amonia\"", "\"amonia\"", "unknown substance", "ammonia"},
		{"with = \"detergent\"", "with = «\"soap flakes of the moon\"", "\"soap flakes of the moon\"", "unknown substance", ""},
		{"form          = \"25 % solution\"", "form          = «\"26 % solution\"", "\"26 % solution\"", "ammonia has no form", "25 % solution"},
		// text
		{"look     = \"even grey\"", "look     = «\"\"", "\"\"", "look is empty", ""},
		{"note = \"keep moving\"", "note = «\"  \"", "\"  \"", "note is empty", ""},
		{"note = \"keep moving\"", "note = «\"a\\u001b[31mred\"", "", "control or invisible character", ""},
		{"note = \"keep moving\"", "note = «\"turned \u202e round\"", "", "control or invisible character", ""},
		{"note = \"keep moving\"", "note = «\"\"\"two\nlines\"\"\"", "\"\"\"two", "control or invisible character", ""},
		{"how = \"beside the reference piece\"", "how = «\"" + strings.Repeat("x", 401) + "\"", "\"" + strings.Repeat("x", 59) + "...", "how is longer than 400 characters", ""},
		{"title    = \"Test grey on silver\"", "title    = «\"" + strings.Repeat("ä", 81) + "\"", "", "title is longer than 80 characters", ""},
		// what belongs together
		{"[hazards]", "«[coats]\nnumber = 1\nspread = \"80 mL/m2\"\n[hazards]", "[coats]", "a recipe of kind immersed has no [coats]", ""},
		{"[hazards]", "[[step]]\ndo = «\"dip\"\n[hazards]", "\"dip\"", "more than one step dip", ""},
		{"do   = \"dip\"", "do   = «\"coat\"", "\"coat\"", "a recipe of kind immersed has no step coat", ""},
		{"[dip]", "[[bath.reagent]]\nsubstance = «\"ammonia\"\nconcentration = \"1 mL/L\"\n[dip]", "\"ammonia\"", "ammonia is in this bath twice", ""},
		{"do   = \"degrease\"\nwith = \"detergent\"", "do   = \"degrease\"\n«concentration = \"2 g/L\"", "concentration", "names no substance", ""},
		// syntax
		{"revision = 3", "revision = 3 «4", "revision = 3 4", "not valid TOML", ""},
		{"dips    = 2", "dips    = 2\n«dips = 3", "dips = 3", "not valid TOML", "remove one of the two"},
		{"[hazards]", "[«dip]\n[hazards]", "[dip]", "not valid TOML", "remove one of the two"},
		{"baths = 2", "baths = «02", "baths = 02", "not valid TOML", ""},
		{"look     = \"even grey\"", "look     = \"«\\quite grey\"", "", "not valid TOML", "backslash twice"},
		// what the decoder lets pass
		{"[bath]\nwater ", "bath.vessel = \"glass\"\n[«bath]\nwater ", "", "already exists", "remove one of the two"},
		{"revision = 3", "revision = «99999999999999999999", "", "not valid TOML", ""},
	}
}

func badBrushed() []bad {
	return []bad{
		{"number = { at = 3, from = 1, to = 5 }", "number = { at = «3, from = 4, to = 2 }", "3", "number is out of order", ""},
		{"number = { at = 3, from = 1, to = 5 }", "number = { at = «3.5, from = 1, to = 5 }", "3.5", "at must be a whole number", ""},
		{"number = { at = 3, from = 1, to = 5 }", "number = «\"3\"", "\"3\"", "number must be a whole number, not text", ""},
		{"number = { at = 3, from = 1, to = 5 }", "number = «51", "51", "number must be from 1 to 50", ""},
		{"spread = \"80 mL/m2\"\n", "", "[coats]", "[coats] has no spread", ""},
		{"spread = \"80 mL/m2\"", "spread = «\"80 mL\"", "\"80 mL\"", "is a volume", ""},
		{"spread = \"80 mL/m2\"", "spread = «\"9 L/m2\"", "\"9 L/m2\"", "must be more than 0 and at most 5000 mL/m2", ""},
		{"wait   = \"30 min\"", "wait   = «\"30 months\"", "\"30 months\"", "wait: ", ""},
		{"bath.water = \"20 C\"", "bath.water = \"20 C\"\nbath.«weakest = \"50 %\"", "", "a brushed recipe has no weakest", ""},
		{"bath.water = \"20 C\"", "bath.water = \"20 C\"\nbath.«max_load = \"2 dm2/L\"", "", "a brushed recipe has no max_load", ""},
		{"[hazards]", "«[dip]\ntime = \"1 s\"\n[hazards]", "[dip]", "a brushed recipe has no [dip]", "[coats]"},
		{"do = \"coat\"", "do = «\"dip\"", "\"dip\"", "a recipe of kind brushed has no step dip", ""},
		{"do = \"coat\"", "do = \"coat\"\n[[step]]\ndo = «\"coat\"", "\"coat\"", "more than one step coat", ""},
		{"ppe         = [\"goggles\"]", "ppe         = «[\"goggles\",\n  [\"x\"]]", "", "entry 2 of ppe must be text in quotes, not a list", ""},
		{"bath.water = \"20 C\"\n[[bath", "bath = { water = \"20 C\" }\n[[«bath", "", "already exists", "remove one of the two"},
		{"kind     = \"brushed\"", "kind     = «\"brush\"", "\"brush\"", "unknown kind brush", "did you mean brushed?"},
	}
}

func TestBadFiles(t *testing.T) {
	for _, group := range []struct {
		base  string
		cases []bad
	}{{good, badImmersed()}, {goodBrushed, badBrushed()}} {
		for _, c := range group.cases {
			t.Run(c.what, func(t *testing.T) {
				text, line, column := change(t, group.base, c.old, c.new)
				r, findings := Decode("x.toml", []byte(text))
				if r != nil || len(findings) == 0 {
					t.Fatal("passed")
				}
				for _, f := range findings {
					if strings.Contains(f.What, c.what) {
						checkFinding(t, f, c, line, column)
						return
					}
				}
				t.Errorf("no finding says %q; got\n%s", c.what, report(findings))
			})
		}
	}
}

func checkFinding(t *testing.T, f Finding, c bad, line, column int) {
	t.Helper()
	if line > 0 && (f.Line != line || f.Column != column) {
		t.Errorf("found at %d:%d, wanted %d:%d\n%s", f.Line, f.Column, line, column, report([]Finding{f}))
	}
	if !strings.HasPrefix(f.Text, c.text) {
		t.Errorf("quotes %q, wanted %q", f.Text, c.text)
	}
	if f.Cure == "" || !strings.Contains(f.Cure, c.cure) {
		t.Errorf("cure %q, wanted %q", f.Cure, c.cure)
	}
	if f.Line == 0 || f.Column == 0 || f.File != "x.toml" {
		t.Errorf("no place: %+v", f)
	}
}

func report(findings []Finding) string {
	var b strings.Builder
	for _, f := range findings {
		fmt.Fprintln(&b, strings.Join(f.Lines(), "\n"))
	}
	return b.String()
}
