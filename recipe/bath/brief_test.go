package bath

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"hepar/recipe"
	"hepar/recipe/bath/job"
	"hepar/recipe/bath/plan"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
)

// runOf is a sheet with so many loads in each bath, a fresh bath between, and dips that
// rise by a second with each load of a bath.
func runOf(loads ...int) *Sheet {
	s := &Sheet{Pieces: 1, Run: &RunLine{}, Match: &plan.Match{Verdict: plan.ShouldMatch}}
	n := 0
	for i, count := range loads {
		if i > 0 {
			s.Events = append(s.Events, EventLine{Event: plan.Event{AfterLoad: n, Do: plan.FreshBath}, Note: measure.Say("fresh bath")})
		}
		for k := range count {
			n++
			s.Loads = append(s.Loads, plan.Load{Number: n, Pieces: 12, Bath: i + 1, TemperatureC: 75 - 2*float64(k), DipS: 8 + k, LowS: 4, HighS: 16})
		}
	}
	return s
}

func rowTexts(s *Sheet) (all []string) {
	for _, r := range s.rows(measure.Metric) {
		if r.Action != "" {
			all = append(all, "do")
			continue
		}
		all = append(all, strings.TrimSpace(r.Loads+": "+r.Dip))
	}
	return all
}

func TestRowsFold(t *testing.T) {
	same := runOf(4)
	for i := range same.Loads {
		same.Loads[i].DipS, same.Loads[i].TemperatureC = 8, 75
	}
	other := runOf(3, 3)
	other.Loads[4].Pieces = 11
	strengthened := runOf(3, 3)
	strengthened.Events = append(strengthened.Events, EventLine{Event: plan.Event{AfterLoad: 5, Do: plan.Strengthen}, Note: measure.Say("add")})
	for _, c := range []struct {
		name  string
		sheet *Sheet
		want  string
	}{
		{"a second bath goes as the first", runOf(6, 6), "1: 8 s, 2: 9 s, 3: 10 s, 4: 11 s, 5: 12 s, 6: 13 s, do, 7 to 12: as 1 to 6"},
		{"three baths", runOf(3, 3, 3), "1: 8 s, 2: 9 s, 3: 10 s, do, 4 to 6: as 1 to 3, do, 7 to 9: as 1 to 3"},
		{"a shorter second bath", runOf(3, 2), "1: 8 s, 2: 9 s, 3: 10 s, do, 4: 8 s, 5: 9 s"},
		{"another number of pieces", other, "1: 8 s, 2: 9 s, 3: 10 s, do, 4: 8 s, 5: 9 s, 6: 10 s"},
		{"something done between", strengthened, "1: 8 s, 2: 9 s, 3: 10 s, do, 4: 8 s, 5: 9 s, do, 6: 10 s"},
		{"neighbours that are alike", same, "1 to 4: 8 s"},
	} {
		if got := strings.Join(rowTexts(c.sheet), ", "); got != c.want {
			t.Errorf("%s: %s\nwant %s", c.name, got, c.want)
		}
	}
}

// TestTimesThatNobodyKnows: beside a time stands whether it is known for such a bath, and a
// formula has no two signs in a row.
func TestTimesThatNobodyKnows(t *testing.T) {
	signs := regexp.MustCompile(`[-+x/] -\d|[+(] ?-\d[^)]*\^`)
	for _, c := range []struct {
		recipe string
		start  measure.Celsius
		known  bool
	}{{"bronze-light-brown", 62, false}, {"bronze-light-brown", 100, false}, {"bronze-light-brown", 94, true}, {"silver-black", 62, true}, {"silver-black", 90, true}} {
		r := master(t, c.recipe)
		s := sheet(t, Order{Recipe: r, Asked: plan.Asked{Kinds: []job.Kind{{Piece: piece(t, r.Alloys[0], "disc", metal.Dimensions{Diameter: 24, Thickness: 1.6}), Pieces: 10}}, Volume: 5, Start: c.start}})
		if band := s.Brief(r, measure.Metric).Rows[0].Band; (band == "not known") == c.known || band == "" {
			t.Errorf("%s at %g C: may take %q", c.recipe, float64(c.start), band)
		}
		for _, step := range s.Working {
			if signs.MatchString(step.Numbers) {
				t.Errorf("%s at %g C: %s", c.recipe, float64(c.start), step.Numbers)
			}
		}
	}
}

// TestEveryLoadAndEventIsInTheRows, whatever is folded.
func TestEveryLoadAndEventIsInTheRows(t *testing.T) {
	each(t, func(r *recipe.Recipe, s *Sheet) {
		b := s.Brief(r, measure.Metric)
		actions, next := 0, 1
		for _, row := range b.Rows {
			if row.Action != "" {
				actions++
				continue
			}
			from, to := 0, 0
			if n, _ := fmt.Sscanf(row.Loads, "%d to %d", &from, &to); n == 1 {
				to = from
			}
			if from != next {
				t.Errorf("%s: row %q follows load %d", r.Slug, row.Loads, next-1)
			}
			next = to + 1
		}
		if next-1 != len(s.Loads) || actions != len(s.Events) {
			t.Errorf("%s: rows hold %d loads and %d actions, the sheet %d and %d", r.Slug, next-1, actions, len(s.Loads), len(s.Events))
		}
		if len(b.Capitals) != 2 || len(b.Steps) != len(r.Steps) || len(b.Pour) != len(s.Bath.Pour) || b.Verdict == "" {
			t.Errorf("%s: %d capitals, %d of %d steps, %d of %d pour lines, verdict %q", r.Slug, len(b.Capitals), len(b.Steps), len(r.Steps), len(b.Pour), len(s.Bath.Pour), b.Verdict)
		}
		for _, line := range append(b.Steps, b.Capitals...) {
			if len(line) > 80 {
				t.Errorf("%s: %q is longer than 80 columns", r.Slug, line)
			}
		}
	})
}
