package page

import (
	"html"
	"regexp"
	"strings"
	"testing"
	"time"

	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/bath/job"
	"hepar/recipe/bath/plan"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipes"
)

func medals(t *testing.T) (*bath.Sheet, *recipe.Recipe) {
	t.Helper()
	library, _, err := recipe.Load(recipes.FS, "")
	if err != nil {
		t.Fatal(err)
	}
	r, err := library.Get("silver-black")
	if err != nil {
		t.Fatal(err)
	}
	alloy, err := metal.Find("sterling-925")
	if err != nil {
		t.Fatal(err)
	}
	piece, err := metal.New("disc", alloy, metal.Dimensions{Diameter: 34, Thickness: 2.5})
	if err != nil {
		t.Fatal(err)
	}
	s, err := bath.Prepare(bath.Order{Recipe: r, Asked: plan.Asked{Kinds: []job.Kind{{Piece: piece, Pieces: 240}}, Vessel: plan.Vessel{Length: 250, Width: 180, Height: 60}, Transfer: plan.ByHand}})
	if err != nil {
		t.Fatal(err)
	}
	return s, r
}

// TestPageHasAllOfTheSheet: every pour line, load, action and step of the brief sheet, in
// both systems of units.
func TestPageHasAllOfTheSheet(t *testing.T) {
	s, r := medals(t)
	for _, u := range []measure.System{measure.Metric, measure.US} {
		page, err := Sheet(s, r, Options{Number: "2026-014", Order: "club medals", Last: []string{"last time too light"}, Units: u})
		if err != nil {
			t.Fatal(err)
		}
		text := html.UnescapeString(string(page))
		plain := regexp.MustCompile(`<[^>]*>`).ReplaceAllString(text, "")
		b := s.Brief(r, u)
		want := append(append([]string{b.Title, b.Verdict, b.Bath, "2026-014", "club medals", "last time too light", "stop at " + r.Dip.StopAt, "Discard the bath by the end of the plan, " + u.Time(s.BathLife()) + " after mixing.", "250 mm"}, b.Pour...), b.Capitals...)
		for _, step := range r.Steps {
			step.How = ""
			want = append(want, bath.ShortStep(step, u))
		}
		for _, row := range b.Rows {
			if row.Action != "" {
				want = append(want, row.Action)
			} else {
				want = append(want, row.Loads+row.Pieces+row.Dip+row.Band+row.At)
			}
		}
		if u == measure.Metric { // what is in the tubs, and what keeps waste and rework apart
			want = append(want, "rinse in 2 tubs, 2.02 L each: cold clean water, at once, moving", "keep this water with the sulfide waste",
				"30.4 g in 2.02 L", "rework without pickle: polish off, or strip it (recipe silver-strip)")
		}
		for _, line := range want {
			if !strings.Contains(plain, line) {
				t.Errorf("the page lacks %q", line)
			}
		}
		if strings.Contains(text, `class="more">; keep this water`) || strings.Contains(text, `class="more">; rework`) {
			t.Error("a sheet without room leaves out what keeps waste or rework apart")
		}
		due := 0
		for _, row := range b.Rows { // one for each load, one for an action
			due += max(row.Count, 1)
		}
		if boxes := strings.Count(text, `class="box"`); boxes != due {
			t.Errorf("%d boxes to tick, want %d", boxes, due)
		}
		if strings.Count(text, "<svg") != 2 {
			t.Errorf("%d drawings, want the curve and the code", strings.Count(text, "<svg"))
		}
	}
}

// TestTimesOfTheBath: a sheet that is printed after mixing has its times, another has blanks.
func TestTimesOfTheBath(t *testing.T) {
	s, r := medals(t)
	if s.BathLife() != 45*60 {
		t.Fatalf("the plan takes %g s", s.BathLife())
	}
	for says, mixed := range map[string]time.Time{
		"mixed at ______ discard by ______":                          {},
		"mixed 2 Mar 2026 23:40, discard by <b>3 Mar 2026 00:25</b>": time.Date(2026, 3, 2, 23, 40, 0, 0, time.UTC),
	} {
		page, err := Sheet(s, r, Options{Mixed: mixed})
		if err != nil || !strings.Contains(string(page), says) {
			t.Errorf("the page does not say %q (%v)", says, err)
		}
	}
}

// TestPageLoadsNothing from outside and runs nothing but its own script.
func TestPageLoadsNothing(t *testing.T) {
	s, r := medals(t)
	page, err := Sheet(s, r, Options{Number: "2026-014"})
	if err != nil {
		t.Fatal(err)
	}
	for _, bad := range []string{`(?i)\ssrc=`, `(?i)<link`, `(?i)@import`, `(?i)url\(`, `(?i)https?://`, `(?i)\son[a-z]+=`} {
		if found := regexp.MustCompile(bad).FindString(strings.ReplaceAll(string(page), "http://www.w3.org/2000/svg", "")); found != "" {
			t.Errorf("the page holds %q", found)
		}
	}
	if n := strings.Count(strings.ToLower(string(page)), "<script"); n != 1 || !strings.Contains(string(page), script) {
		t.Errorf("%d scripts, not the one of the page", n)
	}
}

// TestHostileTextStaysText in every field that comes from a file or a flag.
func TestHostileTextStaysText(t *testing.T) {
	const bad = `</title><script>alert(1)</script><img src=x onerror=alert(1)>"'&`
	s, r := medals(t)
	hostile := *r
	dip := *r.Dip
	dip.StopAt = bad
	hostile.Title, hostile.Dip = bad, &dip
	hostile.Steps = append([]recipe.Step{{Do: "rinse", How: bad[:40]}}, r.Steps...)
	s.Kinds = []bath.KindLine{{Name: bad, Pieces: 1}}
	s.Bath.Pour[0].Text = bad
	page, err := Sheet(s, &hostile, Options{Number: bad[:30], Order: bad, Last: []string{bad}})
	if err != nil {
		t.Fatal(err)
	}
	text := string(page)
	if strings.Count(text, "<script") > 1 || strings.Contains(text, "<img") {
		t.Error("markup of a text gets into the page")
	}
	if n := strings.Count(text, "&lt;script"); n < 5 {
		t.Errorf("the text itself is there %d times only", n)
	}
}

func TestPageOfABrushedFinish(t *testing.T) {
	library, _, err := recipe.Load(recipes.FS, "")
	if err != nil {
		t.Fatal(err)
	}
	r, err := library.Get("green-antique-35")
	if err != nil {
		t.Fatal(err)
	}
	alloy, err := metal.Find("copper-c110")
	if err != nil {
		t.Fatal(err)
	}
	piece, err := metal.New("bar", alloy, metal.Dimensions{Length: 500, Width: 400, Thickness: 1})
	if err != nil {
		t.Fatal(err)
	}
	s, err := bath.Prepare(bath.Order{Recipe: r, Asked: plan.Asked{Kinds: []job.Kind{{Piece: piece, Pieces: 1}}}})
	if err != nil {
		t.Fatal(err)
	}
	page, err := Sheet(s, r, Options{Letter: true})
	if err != nil || !strings.Contains(string(page), "coats") || !strings.Contains(string(page), "8.5in 11in") || strings.Contains(string(page), "<table") || strings.Contains(string(page), "<svg") {
		t.Errorf("%v\n%s", err, page)
	}
}

// TestWarningsStandOnThePaper: what is to be read before starting is on the wall as well.
func TestWarningsStandOnThePaper(t *testing.T) {
	s, r := medals(t)
	s.Warnings = append(s.Warnings, plan.Warning{Code: "test", Note: measure.Say("Thick glass <cracks> under water of ", measure.Celsius(95), ".")})
	s.Run.Transfer = plan.ByHand
	page, err := Sheet(s, r, Options{})
	if err != nil || !strings.Contains(string(page), "! Thick glass &lt;cracks&gt; under water of 95 C.") || !strings.Contains(string(page), bath.OneByOne) {
		t.Errorf("the warning, or the order by hand, is not on the page (%v)", err)
	}
}
