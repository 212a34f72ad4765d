package safety

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"hepar/recipe"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/reagent"
)

func gramsPerL(at, from, to float64) recipe.Range[measure.Concentration] {
	return recipe.Range[measure.Concentration]{At: measure.Concentration{PerL: at}, From: measure.Concentration{PerL: from}, To: measure.Concentration{PerL: to}}
}

// bathOf makes a recipe of a bath ("liver-of-sulfur, ammonia") and steps parted by
// semicolons: "pickle citric-acid @pot +basket", "rinse 2", "rinse running", "degrease acetone
// warm", "dip".
func bathOf(bath string, more ...string) *recipe.Recipe {
	steps := strings.Join(more, ";")
	r := &recipe.Recipe{
		Slug: "test", Title: "test", Revision: 1, Kind: recipe.Immersed, Alloys: []string{"sterling-925"}, Source: "made for this test",
		Hazards: recipe.Hazards{Ventilation: "hood", PPE: []string{"splash goggles"}, Disposal: "collect; local rules decide"},
	}
	r.Bath.Water = recipe.Range[measure.Celsius]{At: 20, From: 15, To: 25}
	for _, one := range strings.Split(bath, ",") {
		id, form, _ := strings.Cut(strings.TrimSpace(one), ":")
		r.Bath.Reagents = append(r.Bath.Reagents, recipe.Reagent{Substance: id, Form: form, Concentration: gramsPerL(5, 4, 5)})
	}
	for _, one := range strings.Split(steps, ";") {
		f := strings.Fields(one)
		if len(f) == 0 {
			continue
		}
		s := recipe.Step{Do: f[0], Baths: 1}
		for _, word := range f[1:] {
			switch {
			case word == "running":
				s.Running = true
			case word == "warm":
				s.HasWater, s.Water = true, recipe.Range[measure.Celsius]{At: 50, From: 50, To: 50}
			case word == "2" || word == "3":
				s.Baths = int(word[0] - '0')
			case word[0] == '@':
				s.In = word[1:]
			case word[0] == '+':
				s.Tools = append(s.Tools, word[1:])
			default:
				s.With = word
			}
		}
		r.Steps = append(r.Steps, s)
	}
	return r
}

// sequences are orders of work in pairs that differ in one step: the first must be
// stopped, the second must not. full is the full rinse: two rinses, an alkaline stop,
// one rinse more.
const full = "rinse 2; neutralise sodium-carbonate; rinse;"

var sequences = []struct{ name, bath, danger, harmless, code, source string }{
	{"pickle, then sulfide", "liver-of-sulfur", "pickle sodium-bisulfate; dip", "pickle sodium-bisulfate;" + full + "dip", "acid-before-sulfide", appendixV},
	{"pickle, one rinse, sulfide", "liver-of-sulfur", "pickle sodium-bisulfate; rinse; dip", "pickle sodium-bisulfate;" + full + "dip", "acid-before-sulfide", appendixV},
	{"pickle, two rinses without soda, sulfide", "liver-of-sulfur", "pickle sodium-bisulfate; rinse 2; dip", "pickle sodium-bisulfate;" + full + "dip", "acid-before-sulfide", appendixV},
	{"vinegar, soda and one rinse", "liver-of-sulfur", "degrease acetic-acid; neutralise sodium-carbonate; rinse; dip", "degrease acetic-acid;" + full + "dip", "acid-before-sulfide", appendixV},
	{"citric acid before ammonium sulfide", "ammonium-sulfide", "pickle citric-acid; rinse running; dip", "pickle citric-acid;" + full + "dip", "acid-before-sulfide", appendixV},
	{"descaler before sodium sulfide", "sodium-sulfide", "degrease sulfamic-acid; rinse 3; dip", "degrease sulfamic-acid;" + full + "dip", "acid-before-sulfide", "ICSC 1047 (sodium sulfide)"},
	{"nitric acid before sulfide", "liver-of-sulfur", "pickle nitric-acid; rinse 2; dip", "pickle nitric-acid;" + full + "dip", "acid-before-sulfide", "ICSC 0183; " + appendixV},
	{"sulfide, then pickle", "liver-of-sulfur", "dip; rinse 2; pickle sodium-bisulfate", "pickle sodium-bisulfate;" + full + "dip; rinse 2", "sulfide-before-acid", practice + "; " + appendixV},
	{"sulfide, full rinse, then pickle", "liver-of-sulfur", "dip;" + full + "pickle citric-acid", "dip;" + full + "relieve", "sulfide-before-acid", practice},
	{"sulfide, dried, then citric acid", "liver-of-sulfur", "dip; rinse 2; dry; pickle citric-acid", "dip; rinse 2; dry; relieve", "sulfide-before-acid", practice},
	{"brightening dip after the colour", "barium-sulfide", "dip; rinse 3; pickle sulfuric-acid", "dip; rinse 3; seal microcrystalline-wax", "sulfide-before-acid", appendixV},
	{"vinegar in the bath", "liver-of-sulfur, acetic-acid", "dip", "degrease detergent; dip", "acid-sulfide", appendixV},
	{"citric acid in the bath", "sodium-sulfide, citric-acid", "dip", "dip; rinse 2", "acid-sulfide", appendixV},
	{"ferric chloride in the bath", "liver-of-sulfur, ferric-chloride", "dip", "dip; rinse", "acid-salt-sulfide", "ICSC 1499; by analogy with " + appendixV},
	{"bleach in the bath", "liver-of-sulfur, sodium-hypochlorite", "dip", "dip; rinse 2", "hypochlorite-sulfide", "Prudent Practices (National Academies)"},
	{"bleach before sulfide", "liver-of-sulfur", "degrease sodium-hypochlorite; dip", "degrease sodium-hypochlorite; rinse 2; dip", "hypochlorite-before-sulfide", "Prudent Practices (National Academies)"},
	{"bleach on pickled pieces", "sodium-bisulfate", "dip; degrease sodium-hypochlorite", "dip; rinse 2; degrease detergent", "acid-before-hypochlorite", "ICSC 0482"},
	{"bleach and ammonia", "ammonia, sodium-hypochlorite", "dip", "dip; rinse", "hypochlorite-ammonia", "ICSC 0482; health department text"},
	{"ammonia on bleached pieces", "ammonia, copper-sulfate", "degrease sodium-hypochlorite; dip", "degrease sodium-hypochlorite; rinse 2; dip", "hypochlorite-before-ammonia", "ICSC 0482"},
	{"bleach in a pickle", "citric-acid, sodium-hypochlorite", "dip", "dip; rinse", "hypochlorite-acid", "ICSC 0482"},
	{"peroxide in the sulfide", "liver-of-sulfur, hydrogen-peroxide", "dip", "dip; rinse", "oxidizer-sulfide", "ICSC 1047"},
	{"permanganate before sulfide", "liver-of-sulfur", "degrease potassium-permanganate; dip", "degrease potassium-permanganate; rinse 2; dip", "oxidizer-before-sulfide", "ICSC 1047"},
	{"chlorate in the sulfide", "sodium-sulfide, potassium-chlorate", "dip", "dip; rinse", "oxidizer-sulfide", "ICSC 1047"},
	{"chlorate with acid", "potassium-chlorate, hydrochloric-acid", "dip", "dip; rinse", "chlorate-acid", chemistry},
	{"permanganate with hydrochloric acid", "potassium-permanganate, hydrochloric-acid", "dip", "dip; rinse", "permanganate-hydrochloric-acid", chemistry},
	{"peroxide with acetone", "hydrogen-peroxide, acetone", "dip", "dip; rinse", "peroxide-ketone", "local authority list of incompatible substances"},
	{"nitric acid with wax remover", "nitric-acid, white-spirit", "dip", "dip; rinse", "oxidizing-acid-fuel", "EPA-600/2-80-076"},
	{"silver nitrate in ammonia", "silver-nitrate, ammonia", "dip", "dip; rinse", "silver-salt-ammonia", "histology laboratory safety pages"},
	{"silver nitrate with alcohol", "silver-nitrate, ethanol", "dip", "dip; rinse", "silver-salt-alcohol", "historical text on fulminates"},
	{"one pot for pickle and bath", "liver-of-sulfur", "pickle citric-acid @pot;" + full + "dip @pot", "pickle citric-acid @jar;" + full + "dip @pot", "on-thing-acid-before-sulfide", appendixV},
	{"one basket on both sides", "liver-of-sulfur", "pickle citric-acid +basket; rinse 2; neutralise sodium-carbonate; rinse; dip +basket", "pickle citric-acid +basket; rinse 2 +basket; neutralise sodium-carbonate +basket; rinse +basket; dip +basket", "on-thing-acid-before-sulfide", appendixV},
	{"tongs from the pickle", "liver-of-sulfur", "pickle citric-acid +tongs;" + full + "dip +tongs", "pickle citric-acid +tongs;" + full + "dip +hooks", "on-thing-acid-before-sulfide", appendixV},
	{"sulfide pot used for acid", "liver-of-sulfur", "dip @pot; rinse 2; dry; degrease citric-acid @pot", "dip @pot; rinse 2; dry; degrease detergent @pot", "before", appendixV},
	{"the stop turned into acid", "liver-of-sulfur", "dip; rinse; neutralise citric-acid", "dip; rinse; neutralise sodium-carbonate", "sulfide-before-acid", appendixV},
	{"soda, and no rinse behind it", "liver-of-sulfur", "pickle citric-acid; rinse 3; neutralise sodium-carbonate; dip", "pickle citric-acid;" + full + "dip", "acid-before-sulfide", "common practice, no source"},
	{"acid with bicarbonate carried on", "liver-of-sulfur", "pickle citric-acid; rinse 2; neutralise sodium-bicarbonate; dip", "pickle citric-acid;" + full + "dip", "bicarbonate-before-sulfide", "Millero 1988: about 5 % hydrogen sulfide at pH 8.3"},
	{"bicarbonate in the bath", "liver-of-sulfur, sodium-bicarbonate", "dip", "dip; rinse", "bicarbonate-sulfide", "Millero 1988: about 5 % hydrogen sulfide at pH 8.3"},
	{"bicarbonate straight behind the bath", "liver-of-sulfur", "dip; neutralise sodium-bicarbonate", "dip; rinse; neutralise sodium-bicarbonate", "sulfide-before-bicarbonate", "Millero 1988"},
	{"a sulfide ground under acid salts", "copper-nitrate", "neutralise liver-of-sulfur; rinse 2; dip", "neutralise liver-of-sulfur;" + full + "dip", "sulfide-before-acid-salt", "GSA procedure 0503002S: the ground is rinsed and stopped before the green"},
	{"acid salts carried into sulfide", "liver-of-sulfur", "degrease copper-nitrate; rinse 2; dip", "degrease copper-nitrate;" + full + "dip", "acid-salt-before-sulfide", "by analogy with ICSC 1499"},
	{"silver nitrate carried into ammonia", "ammonia", "degrease silver-nitrate; dip", "degrease silver-nitrate; rinse; dip", "silver-salt-before-ammonia", "histology laboratory safety pages"},
	{"acetone wipe before nitric acid", "nitric-acid", "degrease acetone; dip", "degrease acetone; rinse; dip", "fuel-before-oxidizing-acid", "INCHEM ICSC 0183"},
	{"alcohol on permanganate", "potassium-permanganate", "dip; degrease ethanol", "dip; rinse; degrease ethanol", "strong-oxidizer-before-fuel", chemistry},
	{"permanganate behind the sulfide", "liver-of-sulfur", "dip; neutralise potassium-permanganate", "dip; rinse 2; neutralise potassium-permanganate", "sulfide-before-oxidizer", "INCHEM ICSC 1047"},
	{"one rinse tub behind acid and sulfide", "liver-of-sulfur", "pickle citric-acid; rinse 2 @tub; neutralise sodium-carbonate; rinse; dip; rinse 2 @Tub", "pickle citric-acid; rinse 2 @tub; neutralise sodium-carbonate; rinse; dip; rinse 2 @trough", "on-thing-acid-before-sulfide", "pulp mill case of 2002; 40 CFR 403.5"},
	{"a pot rinsed without soda", "liver-of-sulfur", "pickle citric-acid @pot; rinse 3 @pot; neutralise sodium-carbonate; rinse; dip @pot", "pickle citric-acid @pot; rinse 2 @pot; neutralise sodium-carbonate @pot; rinse @pot; dip @pot", "on-thing-acid-before-sulfide", "pulp mill case of 2002"},
	{"acetone warmed", "copper-sulfate", "degrease acetone warm; rinse; dip", "degrease acetone; rinse; dip", "solvent-warm", "ICSC card of acetone, from memory"},
	{"acetone on hot metal", "liver-of-sulfur", "heat; degrease acetone; rinse; dip", "heat; wait; degrease acetone; rinse; dip", "solvent-hot", chemistry},
	{"white spirit in the ultrasonic", "liver-of-sulfur", "degrease white-spirit +ultrasonic; rinse; dip", "degrease detergent +ultrasonic; rinse; dip", "solvent-ultrasonic", chemistry},
	{"sulfide in an aluminium pan", "liver-of-sulfur", "dip @aluminium-pan", "dip @glass-dish", "metal-vessel", chemistry},
	{"caustic in a galvanised tub", "sodium-hydroxide", "dip @galvanised-tub", "dip @plastic-tub", "metal-vessel", chemistry},
	{"copper salts in a zinc tray", "copper-sulfate", "dip @zinc-tray", "dip @glass-tray", "metal-vessel", chemistry},
	{"a substance nobody knows", "liver-of-sulfur", "degrease blue-powder; rinse; dip", "degrease detergent; rinse; dip", "unknown-substance", practice},
	{"a cyanide", "liver-of-sulfur", "degrease potassium-cyanide; rinse 2; dip", "degrease detergent; rinse 2; dip", "refused-substance", practice},
}

func stops(points []Point) (codes []string) {
	for _, p := range points {
		if p.Level == Stop {
			codes = append(codes, p.Code)
		}
	}
	return codes
}

// TestSequences goes through eighty orders of work: not one that is dangerous passes, not
// one that is harmless is stopped.
func TestSequences(t *testing.T) {
	n := 0
	for _, s := range sequences {
		got := stops(Sequence(bathOf(s.bath, s.danger)))
		if !slices.ContainsFunc(got, func(code string) bool { return strings.Contains(code, s.code) }) {
			t.Errorf("%s passes: %q with %q stops %v, want %s (%s)", s.name, s.bath, s.danger, got, s.code, s.source)
		}
		bath := s.bath
		if first, _, two := strings.Cut(bath, ","); two && s.danger != s.harmless { // the danger is in the bath: the twin leaves it out
			bath = first
		}
		if got := stops(Sequence(bathOf(bath, s.harmless))); len(got) > 0 {
			t.Errorf("the harmless twin of %s is stopped: %q with %q: %v", s.name, bath, s.harmless, got)
		}
		n += 2
	}
	if n < 80 {
		t.Errorf("only %d orders of work", n)
	}
}

// TestPairsAtAnyDistance makes orders of work from the table of pairs: every two that may
// not meet, in one bath, on the pieces at any distance, on a tool, in a vessel used again,
// in a rinse tub, in the waste; and the harmless twin of each, with the full rinse and
// things of its own.
func TestPairsAtAnyDistance(t *testing.T) {
	var all []reagent.Substance
	for _, s := range reagent.All() {
		if s.Banned == "" {
			all = append(all, s)
		}
	}
	fillers := []string{"dry", "inspect", "matte", "wait", "relieve"}
	bad, good, n := 0, 0, 0
	check := func(what, bath, steps string, stopped bool) {
		t.Helper()
		got := stops(Sequence(bathOf(bath, steps)))
		if len(got) > 0 != stopped {
			t.Errorf("%s: %q with %q stops %v", what, bath, steps, got)
		}
		if bad++; !stopped {
			bad, good = bad-1, good+1
		}
	}
	const clean = "rinse 2; neutralise sodium-carbonate; rinse 2;"
	for _, a := range all {
		for _, b := range all {
			pair := reagent.Gravest(a.Groups, b.Groups)
			if a.ID == b.ID || !forbids(pair) {
				continue
			}
			what := a.ID + ", " + b.ID
			check(what+" in one bath", a.ID+", "+b.ID, "dip", true)
			check(what+" apart", b.ID, "dip", false)
			if pair.Carried == 0 || pair.Severity < reagent.Forbidden && pair.Carried < 3 {
				continue // carried on, a trace of it does no harm
			}
			n++
			first, far := "degrease "+a.ID, strings.Join(fillers[:n%len(fillers)], ";")
			film := between(pair, agent{groups: a.Groups}, agent{groups: b.Groups}, true).never
			check(what+" carried", b.ID, first+";"+far+";dip", true)
			check(what+" rinsed", b.ID, first+";"+far+";"+clean+"dip", film)
			if film {
				continue
			}
			check(what+" in one pot", b.ID, first+" @pot;"+clean+"dip @pot", true)
			check(what+" in two pots", b.ID, first+" @pot;"+clean+"dip @crock", false)
			check(what+" on one tool", b.ID, first+" +tongs;"+clean+"dip +tongs", true)
			check(what+" on two tools", b.ID, first+" +tongs;"+clean+"dip +hooks", false)
			check(what+" in one tub", b.ID, first+"; rinse 2 @tub;"+clean+"dip; rinse 2 @tub", true)
			check(what+" in two tubs", b.ID, first+"; rinse 2 @tub;"+clean+"dip; rinse 2 @trough", false)
			s := Subject{Recipe: bathOf(b.ID, first+";"+clean+"dip"), Shared: []string{"waste"}}
			if got := assess(t, s).Stops(); !slices.Contains(got, "shared-waste") {
				t.Errorf("%s in one waste: stops %v", what, got)
			}
		}
	}
	if bad < 2000 || good < 1500 {
		t.Errorf("only %d dangerous and %d harmless orders of work", bad, good)
	}
}

// TestNoCureIsAHazard: what a point offers must not bring in what makes the harm.
func TestNoCureIsAHazard(t *testing.T) {
	for _, p := range reagent.Pairs() {
		for _, cure := range []string{p.Cure, p.OnFilm} {
			for _, m := range reagent.Named(cure) {
				s, err := reagent.Find(m.ID)
				if err != nil {
					continue
				}
				clause := strings.ToLower(cure[strings.LastIndexAny(cure[:m.Offset], ";:")+1 : m.Offset])
				denied := slices.ContainsFunc([]string{"no ", "never ", "out ", "keep ", "apart", "after an ", "leave ", "separate", "pickle before", "it has no place"}, func(word string) bool { return strings.Contains(clause+" ", word) })
				for _, g := range []reagent.Group{p.A, p.B} {
					for _, met := range reagent.Meetings(s.Groups, []reagent.Group{g}) {
						if met.Severity >= reagent.Forbidden && !denied {
							t.Errorf("%s with %s: the cure %q brings in %s: %s", p.A, p.B, cure, s.ID, met.Why)
						}
					}
				}
			}
		}
	}
	for _, s := range sequences {
		for _, p := range Sequence(bathOf(s.bath, s.danger)) {
			if p.Cure == "" || p.Source == "" || p.Text == "" {
				t.Errorf("%s: a point without a cure or a source: %+v", s.name, p)
			}
		}
	}
}

// library is the built-in recipes.
func library(t testing.TB) []*recipe.Recipe {
	t.Helper()
	l := builtin(t)
	var out []*recipe.Recipe
	for _, slug := range l.Slugs() {
		r, err := l.Get(slug)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, r)
	}
	return out
}

// contradictions are pairs of lines that may not stand together in one review.
var contradictions = [][2]string{
	{"ph-falls", "own-alkali"},      // raise the pH; alkali frees ammonia
	{"waste-sulfide", "waste-acid"}, // drums that never held acid; used pickle
	{"nitric", "waste-sulfide"},
	{"bleach", "ammonia"},
}

// unsaid are pairs of sayings that may not stand together in one review.
var unsaid = [][2]string{
	{`(?i)with moving air`, `(?i)capture at the source is on`},
	{`(?i)vessel open|wide open|no lid`, `(?i)lid on|covered|cover it|kept closed`},
	{`Eyes: rinse at once, 15 minutes`, `Eyes: rinse at once, 30 minutes`},
	{`(?i)never mouth to mouth`, `(?i)(start|give|begin) mouth`},
	{`(?i)alkali in it frees ammonia`, `(?i)washing soda does|with washing soda`},
	{`(?i)water first`, `(?i)ammonia first`},
	{`(?i)ammonia goes in cold, last`, `(?i)ammonia .*(goes in )?first`},
	{`(?i)spread flat outdoors`, `(?i)rags .* closed metal can`},
	{`(?i)closed container|cap on tight`, `(?i)vented cap|cap is vented|cap on loosely`},
	{`(?i)open (the )?window`, `(?i)window fan is no capture`},
	{`(?i)dry pumice|blast with sand`, `(?i)work wet|No sand`},
	{`(?i)enamel.*(soaks|takes up)`, `(?i)enamel`},
	{`(?i)smell (warns|tells)`, `(?i)smell is no detector`},
}

// TestReviewsAreRead: every review of every recipe, with persons and pieces, has at most
// ten confirmations of at most 25 words, three lines of emergency, at most 40 lines of 80
// columns to read, at most 650 words in all, and no two lines that contradict each other.
func TestReviewsAreRead(t *testing.T) {
	for _, r := range library(t) {
		for _, persons := range [][]Person{nil, {{Name: "Ilse Tamm", NoSmell: true, Pregnant: true, Lungs: true, New: true}}} {
			for _, alloy := range append([]string{""}, r.Alloys...) {
				s := Subject{Recipe: r, Persons: persons}
				if a, err := metal.Find(alloy); err == nil {
					s.Alloy = &a
				}
				review, err := Assess(s)
				if err != nil {
					t.Fatalf("%s: %v", r.Slug, err)
				}
				if got := review.Stops(); len(got) > 0 {
					t.Errorf("%s is stopped: %v", r.Slug, got)
				}
				words := 0
				count := func(text string) int { n := len(strings.Fields(text)); words += n; return n }
				if len(review.Emergency) != 3 {
					t.Errorf("%s: %d lines of emergency", r.Slug, len(review.Emergency))
				}
				for _, line := range review.Emergency {
					count(line)
				}
				if n := len(review.Confirm); n > MostConfirmations || n < 4 {
					t.Errorf("%s: %d confirmations", r.Slug, n)
				}
				for _, c := range review.Confirm {
					if n := count(c.Text); n > 25 || c.Source == "" {
						t.Errorf("%s: %s has %d words: %s", r.Slug, c.Code, n, c.Text)
					}
				}
				lines, had := 0, map[string]bool{}
				for _, line := range review.Read {
					count(line.Text)
					lines += 1 + (len(line.Text)+3)/77
					if had[line.Code] = true; line.Source == "" {
						t.Errorf("%s: %s has no source", r.Slug, line.Code)
					}
				}
				if lines > 40 || words > 650 {
					t.Errorf("%s: %d lines to read, %d words", r.Slug, lines, words)
				}
				var said []string
				said = append(said, review.Emergency...)
				for _, q := range review.Confirm {
					said = append(said, q.Text)
				}
				for _, line := range review.Read {
					said = append(said, line.Text)
				}
				for _, pair := range unsaid {
					one, other := regexp.MustCompile(pair[0]), regexp.MustCompile(pair[1])
					if i, j := slices.IndexFunc(said, one.MatchString), slices.IndexFunc(said, other.MatchString); i >= 0 && j >= 0 {
						t.Errorf("%s: %q stands beside %q", r.Slug, said[i], said[j])
					}
				}
				for _, pair := range contradictions {
					if had[pair[0]] && had[pair[1]] {
						t.Errorf("%s: %s and %s contradict each other", r.Slug, pair[0], pair[1])
					}
				}
			}
		}
	}
}

// TestGuards: capture, company, pH, temperature and what is shared or held inside.
func TestGuards(t *testing.T) {
	sulfide := func(change func(*Subject)) Subject {
		s := Subject{Recipe: bathOf("liver-of-sulfur", "dip; rinse 2")}
		change(&s)
		return s
	}
	for name, c := range map[string]struct {
		subject Subject
		stop    string
	}{
		"as it should be":                        {sulfide(func(s *Subject) { s.PH, s.Capture, s.Second, s.MeterPPM = 10.5, "hood", "Marek Oja", 5 }), ""},
		"pH of 3":                                {sulfide(func(s *Subject) { s.PH = 3 }), "sulfide-ph"},
		"pH of 9":                                {sulfide(func(s *Subject) { s.PH = 9 }), "sulfide-ph"},
		"no capture":                             {sulfide(func(s *Subject) { s.Capture = "none" }), "no-capture"},
		"meter too late":                         {sulfide(func(s *Subject) { s.MeterPPM = 50 }), "meter-late"},
		"ammonia alarm at 100 ppm":               {Subject{Recipe: bathOf("ammonia", "dip"), Answers: Answers{MeterPPM: 100}}, "meter-late"},
		"brown fume alarm at 10 ppm":             {Subject{Recipe: bathOf("nitric-acid", "dip"), Answers: Answers{MeterPPM: 10}}, "meter-late"},
		"alone":                                  {sulfide(func(s *Subject) { s.Persons = []Person{{Name: "Ilse", Alone: true}} }), "alone"},
		"shared rinse":                           {sulfide(func(s *Subject) { s.Shared = []string{"rinse"} }), "shared-rinse"},
		"shared waste":                           {sulfide(func(s *Subject) { s.Shared = []string{"waste"} }), "shared-waste"},
		"shared tongs":                           {sulfide(func(s *Subject) { s.Shared = []string{"tongs"} }), "shared-tongs"},
		"plated ware":                            {sulfide(func(s *Subject) { s.With = []string{"plate"} }), "plate-not-for-recipe"},
		"warm ammonium sulfide":                  {Subject{Recipe: bathOf("ammonium-sulfide", "dip"), BathC: 60}, "hot-ammonium-sulfide"},
		"bleach and ammonia in one waste":        {Subject{Recipe: bathOf("ammonia", "dip; rinse 2; degrease sodium-hypochlorite"), Shared: []string{"waste"}}, "shared-waste"},
		"hollow pieces through acid and sulfide": {Subject{Recipe: bathOf("liver-of-sulfur", "pickle citric-acid;"+full+"dip"), With: []string{"hollow"}}, "trapped-acid-sulfide"},
		"a pickle before, by its own recipe":     {Subject{Recipe: bathOf("liver-of-sulfur", "dip"), Before: []*recipe.Recipe{bathOf("citric-acid", "dip; rinse")}}, "acid-before-sulfide"},
		"ammonia without capture":                {Subject{Recipe: bathOf("ammonia, copper-sulfate", "dip"), Answers: Answers{Capture: "none"}}, "no-capture"},
	} {
		r, err := Assess(c.subject)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		got := r.Stops()
		if c.stop == "" && len(got) > 0 || c.stop != "" && !slices.Contains(got, c.stop) {
			t.Errorf("%s: stops %v, want %q", name, got, c.stop)
		}
		if err := Refused(r.Points); (err != nil) != (len(got) > 0) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestAnswers: what is typed is read strictly, and a review says what it lacks.
func TestAnswers(t *testing.T) {
	s := Subject{Recipe: bathOf("liver-of-sulfur", "dip; rinse 2")}
	r, err := Assess(s)
	if err != nil || !slices.Equal(r.Lacking(), []string{"capture", "meter", "second", "sds", "ph"}) {
		t.Fatalf("it lacks %v (%v)", r.Lacking(), err)
	}
	for ask, texts := range map[string][]string{
		"ph": {"", "0", "15", "ten", "10:1"}, "capture": {"", "window", "hod"}, "meter": {"", "-5", "5000000", "x"},
		"second": {"", "x", "y", "No", "ok", "7 8"}, "sds": {"", "yesterday", "2031-01-01", "1980-01-01"},
	} {
		for _, text := range texts {
			if err := s.Answer(ask, text, today); err == nil {
				t.Errorf("%s %q passed", ask, text)
			}
		}
	}
	for ask, text := range map[string]string{"ph": "10,5", "capture": "Hood", "meter": "5 ppm", "second": "Marek Oja", "sds": "2025-04-30"} {
		if err := s.Answer(ask, text, today); err != nil {
			t.Errorf("%s %q: %v", ask, text, err)
		}
	}
	if r, err = Assess(s); err != nil || len(r.Lacking()) > 0 || len(r.Stops()) > 0 || r.AirflowM3H == nil {
		t.Errorf("it lacks %v, stops %v (%v)", r.Lacking(), r.Stops(), err)
	}
	s.PH = 0
	if r, _ := Assess(s); r.AirflowM3H != nil {
		t.Error("without a measured pH it promises an airflow")
	}
}

// TestGasByTheShelfForm: the same sulfide weighed in another form frees the same gas.
func TestGasByTheShelfForm(t *testing.T) {
	gas := func(form string, grams float64) float64 {
		s, err := reagent.Find("sodium-sulfide")
		if err != nil {
			t.Fatal(err)
		}
		stock, err := reagent.NewStock(s, form, "", 0, false)
		if err != nil {
			t.Fatal(err)
		}
		r, err := Assess(Subject{Recipe: bathOf("sodium-sulfide", "dip"), Bath: 1, Reagents: []reagent.Amount{stock.Of(grams)}})
		if err != nil || len(r.Gas) == 0 {
			t.Fatal(err)
		}
		return *estimated(t, r, "acid-all").RoomPPM
	}
	hydrate, dry := gas("nonahydrate", 20), gas("anhydrous", 20*78.0445/240.18)
	if hydrate == 0 || hydrate/dry > 1.01 || hydrate/dry < 0.99 {
		t.Errorf("20 g of nonahydrate: %g ppm; the same anhydrous: %g ppm", hydrate, dry)
	}
}
