package journal_test

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"hepar/journal"
	"hepar/journal/journaltest"
	"hepar/recipe/fault"
)

// many gives a journal with n logged batches, one a minute. Every tenth is by
// another recipe, every fourth has rework.
func many(t testing.TB, n int) *journal.Journal {
	t.Helper()
	clock := journaltest.NewClock(time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC))
	j := journaltest.Open(t, filepath.Join(t.TempDir(), "hepar.journal"), journal.Options{Now: clock.Now})
	err := j.Update(func(w *journal.Writer) error {
		for i := range n {
			clock.Add(time.Minute)
			b, r := order(20), journal.Result{Good: 20}
			if i%10 == 0 {
				b.Recipe.Slug = "brown-copper"
			}
			if i%4 == 0 {
				r = journal.Result{Good: 18, Rework: 2, Causes: map[string]int{"patchy": 1}}
			}
			if _, err := w.LogNew(b, r); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// A list longer than a page has each batch once and in order, whatever the filter.
func TestListOverManyPages(t *testing.T) {
	const n = 1000
	j := many(t, n)
	all := numbers(t, j, journal.Filter{Reverse: true})
	if len(all) != n || all[0] != "2026-001" || all[n-1] != "2026-1000" {
		t.Fatalf("%d batches, from %s to %s", len(all), all[0], all[len(all)-1])
	}
	pick := func(which func(i int) bool) (out []string) {
		for i, number := range all {
			if which(i) {
				out = append(out, number)
			}
		}
		return out
	}
	start := time.Date(2026, 3, 2, 8, 1, 0, 0, time.UTC) // of the first batch
	for name, c := range map[string]struct {
		f    journal.Filter
		want []string
	}{
		"by recipe":        {journal.Filter{Recipe: "brown-copper"}, pick(func(i int) bool { return i%10 == 0 })},
		"by two indexes":   {journal.Filter{Recipe: "brown-copper", Result: "rework"}, pick(func(i int) bool { return i%20 == 0 })},
		"by four indexes":  {journal.Filter{Recipe: "antique-black-silver", Result: "rework", Cause: "patchy", State: journal.Logged}, pick(func(i int) bool { return i%4 == 0 && i%10 != 0 })},
		"by none":          {journal.Filter{Recipe: "brown"}, nil},
		"by cause and day": {journal.Filter{Cause: "patchy", From: start.Add(100 * time.Minute), To: start.Add(200 * time.Minute)}, pick(func(i int) bool { return i%4 == 0 && i >= 100 && i < 200 })},
		"by day":           {journal.Filter{From: start.Add(990 * time.Minute)}, pick(func(i int) bool { return i >= 990 })},
		"by text":          {journal.Filter{Text: "ROWING"}, all},
		"by number":        {journal.Filter{Text: "2026-99"}, pick(func(i int) bool { return i >= 989 && i < 999 })},
		"a part":           {journal.Filter{Offset: 300, Limit: 250}, pick(func(i int) bool { return i >= 300 && i < 550 })},
		"a sorted part":    {journal.Filter{Sort: journal.SortNumber, Offset: 990, Limit: 250}, pick(func(i int) bool { return i >= 990 })},
	} {
		t.Run(name, func(t *testing.T) {
			c.f.Reverse = c.f.Sort == "" // oldest first
			if got := numbers(t, j, c.f); !slices.Equal(got, c.want) {
				t.Errorf("got %d: %.100v\nwant %d: %.100v", len(got), got, len(c.want), c.want)
			}
			if c.f.Sort == "" && c.f.Offset == 0 {
				c.f.Reverse = false
				slices.Reverse(c.want)
				if got := numbers(t, j, c.f); !slices.Equal(got, c.want) {
					t.Errorf("newest first: got %d: %.100v\nwant %d: %.100v", len(got), got, len(c.want), c.want)
				}
			}
		})
	}
}

// Sorted by number, the thousandth batch of a year comes after the 999th; where
// batches are alike the order of the journal holds.
func TestSorts(t *testing.T) {
	j := many(t, 1001)
	got := numbers(t, j, journal.Filter{Sort: journal.SortNumber, Reverse: true, Limit: 3})
	if want := []string{"2026-1001", "2026-1000", "2026-999"}; !slices.Equal(got, want) {
		t.Errorf("by number: got %v, want %v", got, want)
	}
	got = numbers(t, j, journal.Filter{Sort: journal.SortYield, Limit: 2})
	if want := []string{"2026-001", "2026-005"}; !slices.Equal(got, want) {
		t.Errorf("by yield: got %v, want %v", got, want)
	}
	got = numbers(t, j, journal.Filter{Sort: journal.SortRecipe, Offset: 899, Limit: 2})
	if want := []string{"2026-1000", "2026-001"}; !slices.Equal(got, want) {
		t.Errorf("by recipe: got %v, want %v", got, want)
	}
}

func TestRefusedLists(t *testing.T) {
	j := many(t, 1)
	now := time.Now()
	for name, f := range map[string]journal.Filter{
		"state": {State: "done"}, "result": {Result: "fine"}, "sort": {Sort: "colour"}, "cause": {Cause: "a;b"}, "limit": {Limit: -1},
		"offset": {Offset: -1}, "dates": {From: now, To: now}, "recipe": {Recipe: "a\x00b"},
	} {
		if _, err := j.Count(f); fault.KindOf(err) != fault.Usage || fault.CureOf(err) == "" {
			t.Errorf("%s: got %v, want it refused with a cure", name, err)
		}
	}
}

func TestFind(t *testing.T) {
	j := journaltest.New(t)
	var all []journal.Batch
	for range 3 {
		all = append(all, create(t, j))
	}
	id, number := all[1].ID, all[1].Number
	year, counted, _ := strings.Cut(number, "-")
	for _, ref := range []string{number, " " + number + "\n", year + "-" + strings.TrimLeft(counted, "0"), id, strings.ToLower(id), id[:20]} {
		if b, err := j.Get(ref); err != nil || b.ID != id {
			t.Errorf("%q: got %s, %v, want %s", ref, b.Number, err, number)
		}
	}
	for ref, say := range map[string]string{
		"": "neither", "2": "neither", "002": "neither", "2026": "neither", id[:5]: "neither", "2026-": "neither", id + "0": "neither",
		"2026-x": "neither", "UUUUUU": "neither", "ZZZZZZ": "neither", "1999-001": "no batch", year + "-004": "no batch",
		"000000": "no batch", id[:6]: "more than one", "../../etc": "neither", "-": "neither",
	} {
		b, err := j.Get(ref)
		if fault.KindOf(err) != fault.Usage || !strings.Contains(fmt.Sprint(err), say) || fault.CureOf(err) == "" {
			t.Errorf("%q: got %s, %v (%q), want %q", ref, b.Number, err, fault.CureOf(err), say)
		}
	}
}
