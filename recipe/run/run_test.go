package run

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/bath/job"
	"hepar/recipe/bath/plan"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipes"
)

var noon = time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)

// planned is the sheet of a recipe for discs of 34 by 2.5 mm in a dish of two litres.
func planned(t testing.TB, slug, alloy string, pieces, perLoad int, heat plan.Heat) (*bath.Sheet, *recipe.Recipe) {
	t.Helper()
	library, _, err := recipe.Load(recipes.FS, "")
	if err != nil {
		t.Fatal(err)
	}
	r, err := library.Get(slug)
	if err != nil {
		t.Fatal(err)
	}
	a, err := metal.Find(alloy)
	if err != nil {
		t.Fatal(err)
	}
	piece, err := metal.New("disc", a, metal.Dimensions{Diameter: 34, Thickness: 2.5})
	if err != nil {
		t.Fatal(err)
	}
	o := bath.Order{Recipe: r, Asked: plan.Asked{Kinds: []job.Kind{{Piece: piece, Pieces: pieces}}, PerLoad: perLoad, Volume: 2, Heat: heat}, Shop: bath.DefaultShop()}
	s, err := bath.Prepare(o)
	if err != nil {
		t.Fatal(err)
	}
	return s, r
}

// bench is a run with somebody at it.
type bench struct {
	t interface {
		Helper()
		Fatal(...any)
	}
	sheet   *bath.Sheet
	recipe  *recipe.Recipe
	entries []Entry
	now     time.Time
	keys    int
}

func (b *bench) run() *Run { return New(b.sheet, b.recipe, measure.Metric, b.entries) }

// write adds an entry as the journal would: refused where it cannot follow.
func (b *bench) write(e Entry) error {
	b.keys++
	e.Key, e.At, e.By = fmt.Sprintf("entry-%04d", b.keys), b.now, "Ilse Tamm"
	if err := b.run().Check(e); err != nil {
		return err
	}
	b.entries = append(b.entries, e)
	return nil
}

func (b *bench) must(e Entry) {
	b.t.Helper()
	if err := b.write(e); err != nil {
		b.t.Fatal(err)
	}
}

// obey does what the step asks.
func (b *bench) obey(s Step) {
	b.t.Helper()
	switch s.Do {
	case Mix:
		b.must(Entry{Do: Mixed})
	case Read:
		at := s.At
		b.must(Entry{Do: Read, Temperature: &at})
	case Act:
		b.must(Entry{Do: Acted, Action: s.Action, Event: s.Event})
	case Coat:
		b.must(Entry{Do: Out, Load: s.Load, Pieces: s.Pieces})
	case Dip:
		if s.Open == nil {
			b.must(Entry{Do: In, Load: s.Load, Pieces: s.Pieces})
		}
		b.now = b.now.Add(time.Duration(s.Time) * time.Second)
		b.must(Entry{Do: Out, Load: s.Load, Pieces: s.Pieces, Time: &s.Time})
	}
}

func TestRunFollowsTheSheet(t *testing.T) {
	for _, c := range []struct {
		slug, alloy string
		heat        plan.Heat
	}{
		{"silver-black", "sterling-925", plan.Heat{}},
		{"silver-black", "sterling-925", plan.Heat{Kind: plan.Plate, Watts: 300}},
		{"pickle-citric", "sterling-925", plan.Heat{}},
		{"green-sulfate-spray", "copper-c110", plan.Heat{}},
	} {
		sheet, r := planned(t, c.slug, c.alloy, 48, 6, c.heat)
		b := &bench{t: t, sheet: sheet, recipe: r, now: noon}
		var order []string
		waits := 0
		for range 500 {
			s := b.run().Next(b.now)
			if s.Do == Result {
				break
			}
			if s.Do == Wait {
				b.now = b.now.Add(time.Duration(s.Time) * time.Second)
				waits++
				continue
			}
			order = append(order, s.Do)
			b.obey(s)
			b.now = b.now.Add(20 * time.Second)
		}
		log := b.run()
		_, pieces, of := log.Dipped()
		if pieces != 48 || of != 48 || log.Next(b.now).Do != Result {
			t.Errorf("%s, heat %s: %d of %d pieces after %v", c.slug, c.heat.Kind, pieces, of, order)
		}
		if c := sheet.Coats; c != nil && c.WaitS > 20 && waits != c.Number-1 {
			t.Errorf("%s: %d waits between %d coats", r.Slug, waits, c.Number)
		}
		if sheet.Coats == nil {
			if len(log.Loads()) != len(sheet.Loads) || order[0] != Mix || order[1] != Read {
				t.Errorf("%s: %d loads, the sheet has %d; order %v", c.slug, len(log.Loads()), len(sheet.Loads), order)
			}
			acted := 0
			for _, what := range order {
				if what == Act {
					acted++
				}
			}
			if acted != len(sheet.Events) {
				t.Errorf("%s: %d actions, the sheet has %d", c.slug, acted, len(sheet.Events))
			}
		}
	}
}

// TestDipFollowsTheReading compares the time at a measured temperature with the law by
// hand: exp(38000/8.314463 x (1/T - 1/T0)), T0 of the sheet's own load.
func TestDipFollowsTheReading(t *testing.T) {
	sheet, r := planned(t, "silver-black", "sterling-925", 12, 6, plan.Heat{})
	b := &bench{t: t, sheet: sheet, recipe: r, now: noon}
	b.must(Entry{Do: Mixed})
	l := sheet.Loads[0]
	before := measure.Celsius(l.BeforeC)
	b.must(Entry{Do: Read, Temperature: &before})
	if got := b.run().Next(b.now).Time; math.Abs(float64(got)-float64(l.DipS)) > 1 {
		t.Errorf("at the temperature of the sheet the dip is %g s, the sheet has %d s", float64(got), l.DipS)
	}
	colder := before - 10
	b.must(Entry{Do: Read, Temperature: &colder})
	middle := l.TemperatureC + 273.15
	want := (float64(l.DipS)+2)*math.Exp(38000/8.314463*(1/(middle-10)-1/middle)) - 2
	if got := float64(b.run().Next(b.now).Time); math.Abs(got-want) > 1.5 {
		t.Errorf("10 K colder the dip is %g s, want %.1f s", got, want)
	}
	b.now = b.now.Add(18 * time.Minute)
	if s := b.run().Next(b.now); s.Do != Read {
		t.Errorf("after 18 min the step is %s, want a reading", s.Do)
	}
}

func TestBathThatDoesNotDo(t *testing.T) {
	sheet, r := planned(t, "silver-black", "sterling-925", 12, 6, plan.Heat{})
	for _, c := range []struct {
		at   measure.Celsius
		want string
		cure string
	}{{75, "", ""}, {85, "", ""}, {95, "hot", ""}, {25, "long", plan.FreshBath}} {
		b := &bench{t: t, sheet: sheet, recipe: r, now: noon}
		b.must(Entry{Do: Mixed})
		b.must(Entry{Do: Read, Temperature: &c.at})
		s := b.run().Next(b.now)
		if s.Wrong != c.want {
			t.Errorf("at %g C: wrong is %q, want %q", float64(c.at), s.Wrong, c.want)
		}
		sheet.Run.Transfer = plan.ByHand
		if byHand := b.run().Next(b.now); byHand.Wrong == "" && !slices.Contains(byHand.Lines, bath.OneByOne) || slices.Contains(s.Lines, bath.OneByOne) {
			t.Errorf("by hand: %q; together: %q", byHand.Lines, s.Lines)
		}
		sheet.Run.Transfer = plan.Together
		if hotter := strings.Contains(strings.Join(s.Lines, " "), "hotter than the 82 C of the recipe"); hotter != (c.at == 85) {
			t.Errorf("at %g C: %q", float64(c.at), s.Lines)
		}
		var cures []string
		for _, choice := range s.First {
			if choice.Word != "" {
				cures = append(cures, choice.Word)
			}
		}
		if c.cure == "" && len(cures) > 0 || c.cure != "" && (len(cures) == 0 || cures[0] != c.cure) {
			t.Errorf("at %g C: the cures are %v", float64(c.at), cures)
		}
		if c.cure == plan.FreshBath {
			b.must(Entry{Do: Acted, Action: plan.FreshBath})
			if s := b.run().Next(b.now); s.Do != Read || s.Bath != 2 {
				t.Errorf("after a fresh bath: %s in bath %d, want a reading in bath 2", s.Do, s.Bath)
			}
			if n, one := b.run().Baths, b.run().Amounts()[0].Shown; n != 2 || math.Abs(one-sheet.Bath.Reagents[0].Amount().Shown) > 1e-9 {
				t.Errorf("%d baths of %g", n, one)
			}
			if doses := b.run().Doses(); len(doses) == 0 || math.Abs(doses[0].Amount-2*sheet.Bath.Reagents[0].Amount().Shown) > 1e-9 {
				t.Errorf("two baths took %v", doses)
			}
		}
	}
}

// TestReadingAfterASlip: what was misread is not what the bath should be at.
func TestReadingAfterASlip(t *testing.T) {
	sheet, r := planned(t, "silver-black", "sterling-925", 12, 6, plan.Heat{})
	b := &bench{t: t, sheet: sheet, recipe: r, now: noon}
	b.must(Entry{Do: Mixed})
	before := measure.Celsius(sheet.Loads[0].BeforeC)
	for reads, want := range map[measure.Celsius]string{8: "the plan has " + b.run().whole(before) + ", the last reading was 8 C", before - 2: "it should be about " + b.run().whole(before-2)} {
		b.must(Entry{Do: Read, Temperature: &reads})
		if s := b.run().Reading(b.run().Next(b.now)); !strings.HasSuffix(s.Lines[0], want) {
			t.Errorf("after a reading of %g C: %q, want %q", float64(reads), s.Lines, want)
		}
	}
}

// TestPiecesThatStayBehind: what a load leaves goes with the next that has room, or into one more load, which may be left
// out; not where the run was written down afterwards.
func TestPiecesThatStayBehind(t *testing.T) {
	sheet, r := planned(t, "silver-black", "sterling-925", 17, 6, plan.Heat{}) // 6, 5, 6
	for _, c := range []struct {
		name   string
		in     []int // pieces put in, in turn; 0: as proposed; -1: left out
		timed  bool
		pieces []int // proposed
	}{
		{"as planned", []int{0, 0, 0}, true, []int{6, 5, 6}},
		{"room in a later load", []int{5, 0, 0}, true, []int{6, 6, 6}},
		{"one more load", []int{4, 0, 0, 0}, true, []int{6, 6, 6, 1}},
		{"twice one more", []int{0, 0, 2, 1, 0}, true, []int{6, 5, 6, 4, 3}},
		{"the load more is left out", []int{4, 0, 0, -1}, true, []int{6, 6, 6, 1}},
		{"a planned load is left out", []int{0, -1, 0}, true, []int{6, 5, 6}},
		{"written down afterwards", []int{4, 0, 0}, false, []int{6, 5, 6}},
	} {
		b := &bench{t: t, sheet: sheet, recipe: r, now: noon}
		b.must(Entry{Do: Mixed})
		var got []int
		for _, n := range append(c.in, 0) {
			b.must(Entry{Do: Read})
			s := b.run().Next(b.now)
			if s.Do != Dip {
				break
			}
			got = append(got, s.Pieces)
			if n == 0 {
				n = s.Pieces
			}
			if n < 0 {
				b.must(Entry{Do: Skipped, Load: s.Load})
				continue
			}
			if c.timed {
				b.must(Entry{Do: In, Load: s.Load, Pieces: n})
			}
			b.must(Entry{Do: Out, Load: s.Load, Pieces: n})
		}
		if !slices.Equal(got, c.pieces) || b.run().Next(b.now).Do != Result {
			t.Errorf("%s: proposed %v, want %v; then %s", c.name, got, c.pieces, b.run().Next(b.now).Do)
		}
	}
}

func TestEntriesThatCannotFollow(t *testing.T) {
	sheet, r := planned(t, "silver-black", "sterling-925", 12, 6, plan.Heat{})
	cold, hot, none, long := measure.Celsius(-5), measure.Celsius(200), measure.Seconds(0), measure.Seconds(1e6)
	b := &bench{t: t, sheet: sheet, recipe: r, now: noon}
	b.must(Entry{Do: Mixed})
	b.must(Entry{Do: In, Load: 1, Pieces: 6})
	for name, e := range map[string]Entry{
		"a word that is none":    {Do: "dance"},
		"colder than ice":        {Do: Read, Temperature: &cold},
		"hotter than a bath":     {Do: Read, Temperature: &hot},
		"no time":                {Do: Out, Load: 1, Pieces: 6, Time: &none},
		"longer than a day":      {Do: Out, Load: 1, Pieces: 6, Time: &long},
		"no load":                {Do: Out, Pieces: 6},
		"no pieces":              {Do: Out, Load: 1},
		"another load in":        {Do: In, Load: 2, Pieces: 6},
		"another load out":       {Do: Out, Load: 2, Pieces: 6},
		"again what was not":     {Do: Again, Load: 2},
		"skip of nothing":        {Do: Skipped},
		"undo of what is not":    {Do: Undone, Undoes: "nothing-here"},
		"more pieces than exist": {Do: Out, Load: 1, Pieces: 2_000_000},
	} {
		if err := b.write(e); err == nil {
			t.Errorf("%s passed", name)
		}
	}
	b.must(Entry{Do: Out, Load: 1, Pieces: 6})
	if err := b.write(Entry{Do: Out, Load: 1, Pieces: 6}); err == nil {
		t.Error("the same load twice passed")
	}
	b.must(Entry{Do: Again, Load: 1})
	if s := b.run().Next(b.now); s.Load != 1 {
		t.Errorf("dipped again, the next load is %d", s.Load)
	}
	b.must(Entry{Do: In, Load: 1, Pieces: 6})
	b.must(Entry{Do: Out, Load: 1, Pieces: 6})
}

// TestALoadThatTheSheetDoesNotHave, and an action: the run goes on, and both can be undone.
func TestALoadThatTheSheetDoesNotHave(t *testing.T) {
	sheet, r := planned(t, "silver-black", "sterling-925", 12, 6, plan.Heat{})
	b := &bench{t: t, sheet: sheet, recipe: r, now: noon}
	b.must(Entry{Do: Mixed})
	b.must(Entry{Do: Acted, Action: plan.FreshBath, Event: 99})
	b.must(Entry{Do: In, Load: 99, Pieces: 1})
	if s := b.run().Next(b.now); s.Load != 99 || len(s.First) == 0 {
		t.Errorf("the step is %+v", s)
	}
	b.must(Entry{Do: Undone, Undoes: b.run().Last.Key})
	if s := b.run().Next(b.now); s.Load != 1 {
		t.Errorf("after it was undone the load is %d", s.Load)
	}
}

// TestInterruptionsLoseNothing drives a run with random interruptions, undone entries,
// skips, fresh baths and standing baths: each load comes out once, the order of the sheet
// holds, and the run ends.
func TestInterruptionsLoseNothing(t *testing.T) {
	sheet, r := planned(t, "silver-black", "sterling-925", 60, 5, plan.Heat{Kind: plan.Plate, Watts: 300})
	rapid.Check(t, func(t *rapid.T) {
		b := &bench{t: t, sheet: sheet, recipe: r, now: noon}
		skipped := 0
		for i := 0; ; i++ {
			if i > 2000 {
				t.Fatal("the run does not end")
			}
			s := b.run().Next(b.now)
			if s.Do == Result {
				break
			}
			b.now = b.now.Add(time.Duration(rapid.IntRange(1, 400).Draw(t, "s")) * time.Second)
			what := rapid.IntRange(0, 19).Draw(t, "what")
			if i > 400 {
				what = 9
			}
			switch what {
			case 0: // whoever was there is gone; another one reads the journal again
				continue
			case 1:
				if last := b.run().Last; last != nil && last.Do != Out {
					b.must(Entry{Do: Undone, Undoes: last.Key})
				}
			case 2:
				b.must(Entry{Do: Paused})
			case 3:
				if s.Do == Dip && s.Open == nil {
					b.must(Entry{Do: Skipped, Load: s.Load, Note: "the pieces are not here"})
					skipped++
				}
			case 4:
				if s.Do == Dip && s.Open == nil {
					b.must(Entry{Do: Acted, Action: plan.FreshBath})
				}
			case 5: // in, and nobody wrote it out
				if s.Do == Dip && s.Open == nil {
					b.must(Entry{Do: In, Load: s.Load, Pieces: s.Pieces})
				}
			default:
				if s.Do == Dip && (s.Time < 1 || math.IsNaN(float64(s.Time))) {
					t.Fatalf("load %d: a dip of %g s", s.Load, float64(s.Time))
				}
				b.obey(s)
			}
		}
		had, last := map[int]bool{}, 0
		for _, e := range b.run().Loads() {
			if had[e.Load] || e.Load < last {
				t.Fatalf("load %d came out twice or too late", e.Load)
			}
			had[e.Load], last = true, e.Load
		}
		undone := 0 // a skip that was undone comes back as a load
		for _, e := range b.run().Entries {
			if e.Do == Skipped && e.Load > 0 {
				undone++
			}
		}
		if len(had)+undone != len(sheet.Loads) {
			t.Fatalf("%d loads out and %d skipped, the sheet has %d", len(had), undone, len(sheet.Loads))
		}
	})
}

func TestRestDropsWithTheBath(t *testing.T) {
	sheet, r := planned(t, "silver-black", "sterling-925", 60, 5, plan.Heat{})
	b := &bench{t: t, sheet: sheet, recipe: r, now: noon}
	b.must(Entry{Do: Mixed})
	at := measure.Celsius(70)
	b.must(Entry{Do: Read, Temperature: &at})
	var rest []Step
	for _, s := range b.run().Next(b.now).Ahead {
		if s.Do == Dip {
			rest = append(rest, s)
		}
	}
	if len(rest) != len(sheet.Loads) {
		t.Fatalf("%d loads are left of %d", len(rest), len(sheet.Loads))
	}
	for i := 1; i < len(rest); i++ {
		if rest[i].Bath == rest[i-1].Bath && (rest[i].At > rest[i-1].At || rest[i].Time < rest[i-1].Time) {
			t.Errorf("load %d: %g C, %g s after %g C, %g s", rest[i].Load, float64(rest[i].At), float64(rest[i].Time), float64(rest[i-1].At), float64(rest[i-1].Time))
		}
	}
}

// TestAPlateHoldsTheBath: a plate that gives what the bath loses keeps it where it was read;
// a weaker one slows the cooling; without one it cools as the sheet says.
func TestAPlateHoldsTheBath(t *testing.T) {
	cool := func(heat plan.HeatKind, watts float64) measure.Celsius {
		s := &bath.Sheet{Run: &bath.RunLine{AmbientC: 20, Course: plan.Course{StartC: 75, HoldingWatts: 300, CoolingPerMin: 2, Heat: heat, HeatW: watts}}}
		return New(s, nil, measure.Metric, nil).cooled(75, 5*time.Minute)
	}
	none, weak, strong := cool(plan.NoHeat, 0), cool(plan.Plate, 150), cool(plan.Plate, 500)
	if none < 65 || none > 67 || weak < none+3 || weak > 74 || strong != 75 || cool(plan.Thermostat, 300) != 75 {
		t.Errorf("after five minutes: %v without heat, %v on 150 W, %v on 500 W", none, weak, strong)
	}
}

// TestAnOutNeedsItsIn: a hand that counts a load writes it out only after it went in, whatever page or
// screen stands there; an entry sent again is let pass, and a run written down afterwards has no in.
func TestAnOutNeedsItsIn(t *testing.T) {
	sheet, r := planned(t, "silver-black", "sterling-925", 12, 4, plan.Heat{})
	b := &bench{t: t, sheet: sheet, recipe: r, now: noon}
	out := func(load int, key string) error {
		return b.run().Follows(Entry{Key: key, Do: Out, Load: load, Pieces: 4})
	}
	b.must(Entry{Do: Mixed})
	if err := out(1, "not-yet-in"); err == nil || !strings.Contains(err.Error(), "load 1 is not written down as in") {
		t.Errorf("before it went in: %v", err)
	}
	b.must(Entry{Do: In, Load: 1, Pieces: 4})
	if err := b.run().Follows(Entry{Key: "in-by-another", Do: In, Load: 1, Pieces: 4}); err == nil {
		t.Error("a load that is in went in again")
	}
	if err := b.run().Follows(*b.run().Last); err != nil {
		t.Errorf("in, sent again: %v", err)
	}
	if err := out(1, "came-out-1"); err != nil {
		t.Errorf("while it is in: %v", err)
	}
	if err := out(2, "came-out-2"); err == nil {
		t.Error("another load than the one that is in passed")
	}
	b.must(Entry{Do: Out, Load: 1, Pieces: 4})
	if err := out(2, "came-out-2"); err == nil {
		t.Error("the next load came out and never went in")
	}
	if err := out(1, b.run().Last.Key); err != nil {
		t.Errorf("sent again: %v", err)
	}
	b.must(Entry{Do: Out, Load: 2, Pieces: 4}) // --done
}

// TestDoubt: a reading far from where the bath is expected is asked for again, before it is written down.
func TestDoubt(t *testing.T) {
	sheet, r := planned(t, "silver-black", "sterling-925", 12, 4, plan.Heat{})
	b := &bench{t: t, sheet: sheet, recipe: r, now: noon}
	doubt := func(c measure.Celsius) bool { return b.run().Doubt(Entry{Do: Read, Temperature: &c}, b.now) != "" }
	b.must(Entry{Do: Mixed})
	start := sheet.Start()
	for c, want := range map[measure.Celsius]bool{7: true, start: false, start - 15: false, start - 25: true, 109: true} {
		if doubt(c) != want {
			t.Errorf("%g C in a bath of %g C: asked is %v", float64(c), float64(start), !want)
		}
	}
	b.must(Entry{Do: Read, Temperature: &start})
	b.now = b.now.Add(3 * time.Hour)
	if doubt(30) || !doubt(start) {
		t.Error("a bath that has stood for three hours is expected warm")
	}
	if b.run().Doubt(Entry{Do: Read}, b.now) != "" || b.run().Doubt(Entry{Do: In, Load: 1, Pieces: 4}, b.now) != "" {
		t.Error("what has no reading is doubted")
	}
}

// TestHotWaterThinsTheBath: pouring from the kettle says how much and what is left of the strength, the
// dip is longer by the law of the sheet, the old reading is gone, and where the bath would fall below its
// weakest it is not offered. The share is that of the energy balance: (79-70)/(95-70).
func TestHotWaterThinsTheBath(t *testing.T) {
	sheet, r := planned(t, "silver-black", "sterling-925", 12, 4, plan.Heat{Kind: plan.Kettle, Liters: 1})
	start, kettle := sheet.Start(), bath.DefaultShop().HotWater
	pour := func(at measure.Celsius) (b *bench, c Choice) {
		b = &bench{t: t, sheet: sheet, recipe: r, now: noon}
		b.must(Entry{Do: Mixed})
		b.must(Entry{Do: Read, Temperature: &at})
		s := b.run().Next(b.now)
		s.Wrong, s.At = "long", at
		for _, c := range b.run().cures(s) {
			if c.Word == plan.PourHot {
				return b, c
			}
		}
		return b, Choice{}
	}
	for _, at := range []measure.Celsius{7, 25, 40, 50} {
		if _, c := pour(at); c.Entry != nil {
			t.Errorf("at %g C hot water is offered: %s", float64(at), c.Text)
		}
	}
	b, c := pour(start - 9)
	if c.Entry == nil {
		t.Fatal("hot water is not offered 9 K below the start")
	}
	share := float64(9 / (kettle - start + 9))
	left := fmt.Sprintf("%.0f %% of the strength is left", 100*(1-share))
	if !strings.Contains(c.Text, left) || !strings.Contains(c.Text, " L, pour in") && !strings.Contains(c.Text, " mL, pour in") {
		t.Errorf("the choice is %q, want %q and the volume", c.Text, left)
	}
	if text := strings.Join(c.Lines, "\n"); !strings.Contains(text, "! NO ACID") || !strings.Contains(text, "1. ladle out") {
		t.Errorf("what is read before it: %q", text)
	}
	full, waste := b.run().dipTime(sheet.Loads[0], start), b.run().Waste()
	b.must(*c.Entry)
	s := b.run().Next(b.now)
	if s.Do != Read || s.Why != "" || math.Abs(float64(s.At-start)) > 0.1 {
		t.Errorf("after pouring: %s, %q, %g C", s.Do, s.Why, float64(s.At))
	}
	if more := float64(b.run().Waste() - waste); math.Abs(more-share*sheet.Bath.VolumeL) > 1e-6 {
		t.Errorf("what was ladled out makes %g L more waste, want %g L", more, share*sheet.Bath.VolumeL)
	}
	thin := b.run().dipTime(sheet.Loads[0], start)
	order := sheet.Run.Law.Order
	if want := (float64(full)+2)*math.Pow(1-share, -order) - 2; math.Abs(float64(thin)-want) > 1.5 {
		t.Errorf("the dip is %g s in a bath of %.0f %%, want %.1f s; %g s in a full one", float64(thin), 100*(1-share), want, float64(full))
	}
	b.must(Entry{Do: Acted, Action: plan.FreshBath})
	if again := b.run().dipTime(sheet.Loads[0], start); again != full {
		t.Errorf("in a fresh bath the dip is %g s, want %g s", float64(again), float64(full))
	}
}

// TestWhatStands: once the bath is mixed each step carries what could kill and when the bath is waste,
// pauses and the result too; a fresh bath is read about before it is written down.
func TestWhatStands(t *testing.T) {
	sheet, r := planned(t, "silver-black", "sterling-925", 12, 4, plan.Heat{})
	b := &bench{t: t, sheet: sheet, recipe: r, now: noon}
	if s := b.run().Next(b.now); len(s.Stand) > 0 {
		t.Errorf("before mixing: %q", s.Stand)
	}
	end := noon.Add(time.Duration(float64(sheet.BathLife()) * float64(time.Second))).Format("15:04")
	for range 30 {
		s := b.run().Next(b.now)
		if text := strings.Join(s.Stand, " "); s.Do != Mix && (!strings.Contains(text, "NO ACID NEAR THIS BATH") || !strings.Contains(text, "discard the bath at "+end)) {
			t.Fatalf("at %s: %q", s.Head, text)
		}
		for _, c := range append(s.Others, s.First...) {
			if c.Entry != nil && c.Entry.Action == plan.FreshBath && !strings.Contains(strings.Join(c.Lines, " "), "NO ACID") {
				t.Errorf("%s: a fresh bath is one tap: %q", c.Text, c.Lines)
			}
		}
		if s.Do == Result {
			if !strings.Contains(strings.Join(s.Lines, " "), "empty the bath") {
				t.Errorf("at the end: %q", s.Lines)
			}
			if late := b.run().Next(b.now.Add(24 * time.Hour)); !strings.Contains(strings.Join(late.Stand, " "), "DISCARD THE BATH") {
				t.Errorf("a day later: %q", late.Stand)
			}
			return
		}
		b.obey(s)
	}
	t.Fatal("the run does not end")
}

// TestBandFollowsTheBath: the range of a load is that of the sheet where the bath is as planned, and moves
// little by little as the bath cools, also where the seconds are rounded up.
func TestBandFollowsTheBath(t *testing.T) {
	sheet, r := planned(t, "silver-black", "sterling-925", 12, 4, plan.Heat{})
	l := sheet.Loads[0]
	at := func(c float64) (low, high int) {
		b := &bench{t: t, sheet: sheet, recipe: r, now: noon}
		b.must(Entry{Do: Mixed})
		reads := measure.Celsius(c)
		b.must(Entry{Do: Read, Temperature: &reads})
		if _, err := fmt.Sscanf(b.run().Next(b.now).Band, "dip-time range %d to %d s", &low, &high); err != nil {
			t.Fatal(err)
		}
		return low, high
	}
	if low, high := at(l.BeforeC); low != l.LowS || high != l.HighS {
		t.Errorf("as planned: %d to %d s, the sheet has %d to %d s", low, high, l.LowS, l.HighS)
	}
	_, last := at(l.BeforeC)
	for c := l.BeforeC; c > l.BeforeC-10; c -= 0.2 {
		if _, high := at(c); high < last || high > last+1 {
			t.Errorf("at %.1f C the range ends at %d s, after %d s", c, high, last)
		} else {
			last = high
		}
	}
}

// TestALongDip: a load that was in too long is not offered as too light.
func TestALongDip(t *testing.T) {
	sheet, r := planned(t, "silver-black", "sterling-925", 12, 4, plan.Heat{})
	for took, again := range map[measure.Seconds]bool{3: true, 10: true, 30: false} {
		b := &bench{t: t, sheet: sheet, recipe: r, now: noon}
		time := measure.Seconds(10)
		b.must(Entry{Do: Mixed})
		b.must(Entry{Do: Read})
		b.must(Entry{Do: In, Load: 1, Pieces: 4, Time: &time})
		b.must(Entry{Do: Out, Load: 1, Pieces: 4, Time: &took})
		s := b.run().Next(b.now)
		if got := slices.ContainsFunc(s.Others, func(c Choice) bool { return c.Word == "again" }); got != again {
			t.Errorf("after %g s of 10: again is offered: %v", float64(took), got)
		}
		if dark := strings.Contains(strings.Join(s.Lines, " "), "too dark"); dark == again {
			t.Errorf("after %g s of 10: %q", float64(took), s.Lines)
		}
		for _, do := range []string{plan.PourHot, plan.FreshBath, plan.Reheat, plan.Strengthen, plan.ChangeRinse, "waited"} {
			if text := (Entry{Do: Acted, Action: do}).Text(); strings.Contains(text, "-") {
				t.Errorf("%s is said as %q", do, text)
			}
		}
	}
}

// TestTimesOfAPageAlone: the pairs for a reading without a connection are the dips that the run gives.
func TestTimesOfAPageAlone(t *testing.T) {
	sheet, r := planned(t, "silver-black", "sterling-925", 12, 4, plan.Heat{})
	b := &bench{t: t, sheet: sheet, recipe: r, now: noon}
	b.must(Entry{Do: Mixed})
	ahead := b.run().Next(b.now).Ahead
	if len(ahead) == 0 || len(ahead[0].Times) < 4 {
		t.Fatalf("ahead: %+v", ahead)
	}
	for _, pair := range ahead[0].Times {
		b := &bench{t: t, sheet: sheet, recipe: r, now: noon}
		b.must(Entry{Do: Mixed})
		at := measure.Celsius(pair[0])
		b.must(Entry{Do: Read, Temperature: &at})
		if s := b.run().Next(b.now); s.Wrong != "" || float64(s.Time) != pair[1] {
			t.Errorf("at %g C: %g s without a connection, %g s with one (%s)", pair[0], pair[1], float64(s.Time), s.Why)
		}
	}
}

// TestALowReadingIsReadAgainFirst: a reading well below every load of the sheet may be a slip: before a remedy,
// which takes reagent and time, it is read again.
func TestALowReadingIsReadAgainFirst(t *testing.T) {
	sheet, r := planned(t, "silver-black", "sterling-925", 12, 4, plan.Heat{Kind: plan.Kettle})
	for below, again := range map[measure.Celsius]bool{4: false, 14: true, 40: true} {
		b := &bench{t: t, sheet: sheet, recipe: r, now: noon}
		at := measure.Celsius(sheet.Run.LowestC) - below
		b.must(Entry{Do: Mixed})
		b.must(Entry{Do: Read, Temperature: &at})
		cures := b.run().cures(b.run().Next(b.now))
		if got := cures[0].Ask == AskTemperature; got != again {
			t.Errorf("%g K below: the first answer is %q", float64(below), cures[0].Text)
		}
	}
}
