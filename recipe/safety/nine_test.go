package safety

import (
	"encoding/json"
	"go/parser"
	"go/token"
	"os"
	"slices"
	"strings"
	"testing"

	"hepar/recipe"
	"hepar/recipe/metal"
	"hepar/recipe/safety/gas"
)

// everyReview reviews every built-in recipe in several rooms, with several persons,
// pieces, shops and limits, and some recipes that are none of ours.
func everyReview(t *testing.T, look func(name string, s Subject, r Review)) {
	t.Helper()
	own := []gas.Override{{Gas: gas.HydrogenSulfide, List: "insurer", PPM: 0.8, Reason: "asked for by the insurer"}, {Gas: gas.Ammonia, List: "ACGIH TLV-TWA", PPM: 30, Reason: "the older edition hangs on the wall"}}
	everybody := []Person{{Name: "Mirja Holm", NoSmell: true, Pregnant: true}, {Name: "Tilo Brandt", Lungs: true, New: true}, {Alone: true}}
	variants := []Subject{
		{},
		{Room: gas.Room{VolumeM3: 5, AirChangesPerHour: 0.2}, PH: 9, Bath: 4, Lid: true, MetalArea: 3000, Persons: everybody},
		{Room: gas.Room{VolumeM3: 32, AirChangesPerHour: 4}, PH: 10.5, Bath: 2, BathC: 70, SurfaceCM2: 280, DragOutMLM2: 80, MetalArea: 2700, Limits: own, With: Withs()},
		{Room: gas.Room{VolumeM3: 400, AirChangesPerHour: 8, Hood: true}, PH: 7.5, Bath: 20, Shared: Shares(), Persons: everybody[:1]},
		{Before: []*recipe.Recipe{called(t, "pickle-bisulfate")}, After: []*recipe.Recipe{called(t, "stop-soda")}, Bath: 3, MetalArea: 900, With: []string{"hollow"}, Persons: everybody[1:]},
	}
	list := builtins(t)
	for _, bath := range []string{"sodium-hypochlorite, ammonia", "nitric-acid", "silver-nitrate, ammonia", "grandfather-s-powder", "sodium-thiosulfate", "ammonium-sulfide", "barium-sulfide", "selenous-acid", "mercury-nitrate", "liver-of-sulfur, acetic-acid:vinegar 5 %"} {
		list = append(list, as("made "+bath, bathOf(bath, "degrease detergent", "pickle sodium-bisulfate|iron tongs, same rinse as before", "rinse", "dip", "rinse 2", "neutralise sodium-bicarbonate")))
	}
	for _, r := range list {
		for i, s := range variants {
			s.Recipe = r
			s.Reagents = nil
			if i%2 == 1 && len(r.Bath.Reagents) > 0 {
				s.Reagents = weighed(r.Bath.Reagents[0].Substance, 12)
			}
			if i == 2 {
				s.Alloy = &metal.Alloy{Name: "zinc", Family: "zinc"}
			}
			review, err := Assess(s)
			if err != nil {
				t.Fatalf("%s, variant %d: %v", r.Slug, i, err)
			}
			look(r.Slug, s, review)
		}
	}
}

// texts gives every text of a review, each string of its JSON.
func texts(t *testing.T, r Review) []string {
	data, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	var tree any
	if err := json.Unmarshal(data, &tree); err != nil {
		t.Fatal(err)
	}
	var list []string
	var walk func(any)
	walk = func(x any) {
		switch x := x.(type) {
		case string:
			list = append(list, x)
		case []any:
			for _, y := range x {
				walk(y)
			}
		case map[string]any:
			for _, y := range x {
				walk(y)
			}
		}
	}
	walk(tree)
	return list
}

// The nine things that a program of this kind must not claim, over all that this room
// can print: no compliance tool (1), nothing is called safe by a model (2), no choice of
// respirator and no medical advice (3), no treatment of sulfide by neutralising (4), no
// lesser protection (5), missing data not hidden (6), no limit without name, figure,
// averaging time, source and date (7), nothing sent anywhere (8), nobody certified (9).
// Common practice for safety reviews, no published source.
func TestNinePoints(t *testing.T) {
	forbidden := []string{
		"compliant", "complies", "compliance", "classified as", "legally", "is permitted", "no permit is", "no permit needed", "not hazardous", // 1
		" safely", "below the limit", "under the limit", "within the limit", "harmless", "no danger", "no risk", "non-toxic", // 2
		"respirator", "cartridge", "gas mask", "dust mask", "antidote", "give oxygen", "inhaler", "medicine", "you will smell", // 3
		"neutralises the sulfide", "neutralise the sulfide", "neutralize sulfide", "destroys sulfide", "add baking soda", "500 mg/kg", // 4
		"not needed", "unnecessary", "optional", "gloves are enough", "spectacles are enough", // 5
		"certif", "is trained", "are trained", "fit to work", "fit for work", "qualified", "old enough", // 9
	}
	reviews := 0
	everyReview(t, func(name string, s Subject, r Review) {
		reviews++
		sound(t, r.Points)
		for _, text := range texts(t, r) {
			lower := strings.ToLower(text)
			for _, w := range forbidden {
				if strings.Contains(lower, w) {
					t.Errorf("%s says %q: %s", name, w, text)
				}
			}
			if strings.Contains(strings.ReplaceAll(lower, "safe work australia", ""), "safe ") || strings.HasSuffix(lower, "safe") {
				t.Errorf("%s says safe: %s", name, text)
			}
			if found := Claims(text); len(found) > 0 {
				t.Errorf("%s claims %q: %s", name, found, text)
			}
			for _, clause := range split(text, ".;") {
				words := tokens(clause)
				treats := anyWord(words, "add", "adds", "adding", "pour", "treat", "treats", "kill", "kills", "destroy", "destroys", "render", "renders", "stir")
				if strings.Contains(clause, "bicarbonate") && strings.Contains(clause, "sulfide") && treats && !anyWord(words, "not", "never", "away", "no") {
					t.Errorf("%s offers bicarbonate for sulfide: %s", name, clause)
				}
				if strings.Contains(clause, "down the drain") && !anyWord(tokens(clause), "nothing", "never", "not") {
					t.Errorf("%s says down the drain: %s", name, clause)
				}
			}
		}
		checkEstimates(t, name, r)
		checkLimits(t, name, r)
		last := r.Points[len(r.Points)-1]
		if last.Code != "who-decides" || !strings.Contains(last.Text, "data sheets and your local authority decide") {
			t.Errorf("%s does not end with who decides: %+v", name, last)
		}
		have := codes(r)
		if !strings.Contains(have["ppe"].Text, "small quantity is no reason to wear less") || !strings.Contains(have["sds"].Text, "UNKNOWN - treat as the worst known family") {
			t.Errorf("%s: %s %s", name, have["ppe"].Text, have["sds"].Text)
		}
		if strings.Contains(name, "grandfather") && !strings.Contains(have["unknown-substance"].Text, "UNKNOWN") {
			t.Errorf("%s hides what is unknown", name)
		}
	})
	if reviews < 150 {
		t.Errorf("only %d reviews", reviews)
	}
	for name, e := range map[string][]string{"first aid": FirstAid(nil), "headings": SDSHeadings(), "withs": Withs(), "verify": {gas.Verify, gas.CaptureOnly, gas.CaptureToo}} {
		for _, text := range e {
			if found := Claims(text); len(found) > 0 {
				t.Errorf("%s claims %q: %s", name, found, text)
			}
		}
	}
}

// checkEstimates sees to it that no estimate stands without its factor, its caution and
// what it rests on.
func checkEstimates(t *testing.T, name string, r Review) {
	t.Helper()
	for _, e := range r.Gas {
		if e.Factor != 5 || e.Note != gas.Verify || e.RoomLowPPM > e.RoomPPM || e.RoomHighPPM < e.RoomPPM {
			t.Errorf("%s: %+v", name, e)
		}
	}
	if len(r.Inputs) < 4 || r.Note != gas.Verify {
		t.Errorf("%s does not list what its estimates rest on", name)
	}
	for _, in := range r.Inputs {
		if in.Source == "" || in.Name == "" {
			t.Errorf("%s: %+v", name, in)
		}
	}
	for _, p := range r.Points {
		if p.Code == "smell-is-no-detector" || p.Code == "gas-meter" || p.Code == "limit-own" || strings.HasPrefix(p.Code, "recipe-") {
			continue // published thresholds and limits, no estimates
		}
		if strings.Contains(p.Text, " ppm") && !(strings.Contains(p.Text, "factor of five") && strings.Contains(p.Text, "verify with a meter") && strings.Contains(p.Text, "smell is no detector")) {
			t.Errorf("%s: %s gives ppm without its caution: %s", name, p.Code, p.Text)
		}
	}
}

// checkLimits sees to it that a limit never stands without name, figure, averaging time,
// source and date.
func checkLimits(t *testing.T, name string, r Review) {
	t.Helper()
	for _, l := range r.Limits {
		if l.List == "" || !(l.Value > 0) || l.Unit == "" || l.Averaging == "" || l.Source == "" || l.Date == "" || l.Kind == gas.Own && l.Reason == "" {
			t.Errorf("%s: %+v", name, l)
		}
	}
	for _, g := range r.GramsToLimit {
		if g.Limit == "" || !(g.PPM > 0) || g.Averaging == "" || g.Source == "" || g.Date == "" || g.Note != gas.Verify {
			t.Errorf("%s: %+v", name, g)
		}
	}
	lists := []string{"insurer"}
	for _, l := range gas.Limits("") {
		if !slices.Contains(lists, l.List) && l.List != "" {
			lists = append(lists, l.List)
		}
	}
	for _, p := range r.Points {
		for _, list := range lists {
			at := strings.Index(p.Text, list+" ")
			comma := strings.Index(p.Text, list+", ")
			if at < 0 && comma < 0 || strings.HasPrefix(p.Code, "recipe-") || p.Code == "limit-own" && strings.Contains(p.Text, "reason: ") {
				continue
			}
			rest := p.Text[max(at, comma)+len(list):]
			if !strings.Contains(rest, " ppm (") || !strings.Contains(p.Source, list+": ") || !strings.Contains(p.Source, "read") && !strings.Contains(p.Source, "shop keeps") {
				t.Errorf("%s: %s names %s without all that belongs to it: %s | %s", name, p.Code, list, p.Text, p.Source)
			}
		}
	}
}

// Nothing here can send, store or start anything.
func TestNothingLeavesThisRoom(t *testing.T) {
	for _, dir := range []string{".", "gas"} {
		files, err := os.ReadDir(dir)
		if err != nil {
			t.Fatal(err)
		}
		seen := 0
		for _, f := range files {
			if !strings.HasSuffix(f.Name(), ".go") || strings.HasSuffix(f.Name(), "_test.go") {
				continue
			}
			seen++
			tree, err := parser.ParseFile(token.NewFileSet(), dir+"/"+f.Name(), nil, parser.ImportsOnly)
			if err != nil {
				t.Fatal(err)
			}
			for _, i := range tree.Imports {
				path := strings.Trim(i.Path.Value, `"`)
				if path == "os" || path == "net" || strings.HasPrefix(path, "net/") || strings.HasPrefix(path, "os/") || path == "io" || path == "syscall" || path == "regexp" {
					t.Errorf("%s/%s imports %s", dir, f.Name(), path)
				}
			}
		}
		if seen < 5 {
			t.Errorf("only %d files in %s", seen, dir)
		}
	}
}
