package journal_test

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"hepar/journal"
	"hepar/recipe/fault"
)

// summed adds up batches one by one, as anybody would with a list in hand.
func summed(t *testing.T, j *journal.Journal, f journal.Filter, key func(b journal.Batch) []string) map[string]journal.Group {
	t.Helper()
	out := map[string]journal.Group{}
	for b, err := range j.List(f) {
		if err != nil {
			t.Fatal(err)
		}
		for _, k := range key(b) {
			g := out[k]
			if g.Causes == nil {
				g.Causes = map[string]int{}
			}
			g.Key = k
			g.Batches++
			if b.State == journal.Withdrawn {
				g.Withdrawn++
			}
			if r := b.Result; b.State == journal.Logged {
				g.Logged++
				g.Pieces, g.Spares, g.Missing = g.Pieces+b.Pieces, g.Spares+b.Spares, g.Missing+b.Missing()
				g.Good, g.Rework, g.Reject = g.Good+r.Good, g.Rework+r.Rework, g.Reject+r.Reject
				for c, n := range r.Causes {
					g.Causes[c] += n
				}
				add := func(m *journal.Mean, x float64) {
					m.Least, m.Most = cmp.Or(m.Least, x), cmp.Or(m.Most, x)
					m.Mean = (m.Mean*float64(m.N) + x) / float64(m.N+1)
					m.Least, m.Most, m.N = min(m.Least, x), max(m.Most, x), m.N+1
				}
				if r.Temperature != nil {
					add(&g.Celsius, float64(*r.Temperature))
				}
				if r.Time != nil {
					add(&g.Seconds, float64(*r.Time))
				}
			}
			out[k] = g
		}
	}
	return out
}

func TestSum(t *testing.T) {
	j := large(t, 1200)
	for _, number := range []string{"2018-003", "2018-700"} {
		if _, err := j.Withdraw(number, "a mistake", ""); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := j.Amend("2018-004", "good", "3", "counted again", "Runa Fern"); err != nil {
		t.Fatal(err)
	}
	day := time.Date(2018, 1, 2, 10, 0, 0, 0, time.UTC)
	for _, f := range []journal.Filter{
		{}, {Recipe: "recipe-7"}, {Cause: "too-light"}, {From: day, To: day.Add(5 * time.Hour)}, {Since: day, Until: day.Add(time.Hour)}, {Kind: "dip"},
		{Kind: "immersed"}, {By: "person 3", Result: "rework"}, {Text: "rowing", State: journal.Withdrawn},
	} {
		for by, key := range map[string]func(b journal.Batch) []string{
			"":               func(journal.Batch) []string { return []string{""} },
			journal.ByRecipe: func(b journal.Batch) []string { return []string{b.Recipe.Slug} },
			journal.ByKind:   func(b journal.Batch) []string { return []string{b.Recipe.Kind} },
			journal.ByAlloy:  func(b journal.Batch) []string { return []string{b.Alloy} },
			journal.ByMonth:  func(b journal.Batch) []string { return []string{b.Created.Format("2006-01")} },
			journal.ByYear:   func(b journal.Batch) []string { return []string{b.Created.Format("2006")} },
			journal.ByState:  func(b journal.Batch) []string { return []string{string(b.State)} },
			journal.ByPerson: func(b journal.Batch) (names []string) {
				for _, e := range b.Events {
					if e.By != "" && !slices.Contains(names, e.By) && (f.By == "" || f.By == strings.ToLower(e.By)) {
						names = append(names, e.By)
					}
				}
				return names
			},
		} {
			want := summed(t, j, f, key)
			if by == "" && len(want) == 0 {
				want[""] = journal.Group{Causes: map[string]int{}}
			}
			got, err := j.Sum(f, by)
			if err != nil {
				t.Fatal(err)
			}
			var keys []string
			for _, g := range got {
				keys = append(keys, g.Key)
				w := want[g.Key]
				if math.Abs(g.Celsius.Mean-w.Celsius.Mean) > 1e-9 || math.Abs(g.Seconds.Mean-w.Seconds.Mean) > 1e-9 {
					t.Errorf("%+v by %q: %s: means %v and %v, want %v and %v", f, by, g.Key, g.Celsius, g.Seconds, w.Celsius, w.Seconds)
				}
				g.Celsius.Mean, g.Seconds.Mean, w.Celsius.Mean, w.Seconds.Mean = 0, 0, 0, 0
				if fmt.Sprintf("%+v", g) != fmt.Sprintf("%+v", w) {
					t.Errorf("%+v by %q:\n got %+v\nwant %+v", f, by, g, w)
				}
			}
			if len(got) != len(want) || by != journal.ByState && !slices.Equal(keys, slices.Sorted(maps.Keys(want))) {
				t.Errorf("%+v by %q: groups %v, want %v", f, by, keys, slices.Sorted(maps.Keys(want)))
			}
		}
	}
	if _, err := j.Sum(journal.Filter{}, "moon"); fault.KindOf(err) != fault.Usage {
		t.Errorf("by the moon: %v", err)
	}
	if _, err := j.Sum(journal.Filter{Since: day, Until: day}, ""); fault.KindOf(err) != fault.Usage {
		t.Errorf("an end before the beginning: %v", err)
	}
}

// A great many small steps do not wear off the last digits of a mean.
func TestSumKeepsDigits(t *testing.T) {
	j := elsewhere(t)
	report, err := j.ImportBatches(func(yield func(journal.Batch, error) bool) {
		for i := range 4000 {
			b := order(10)
			b.Sheet, b.Created, b.Result, b.State = nil, time.Date(2026, 1, 1, 0, 0, i, 0, time.UTC), &journal.Result{Good: 1, Temperature: celsius(0.1)}, journal.Logged
			if i%2 == 1 {
				b.Result.Temperature = celsius(999.9)
			}
			if !yield(b, nil) {
				return
			}
		}
	}, journal.ImportOptions{})
	if err != nil || report.New != 4000 {
		t.Fatalf("%v, %+v", err, report)
	}
	got, err := j.Sum(journal.Filter{}, "")
	if err != nil || got[0].Celsius.Mean != 500 || got[0].Celsius.N != 4000 {
		t.Errorf("%v, %+v", err, got)
	}
}
