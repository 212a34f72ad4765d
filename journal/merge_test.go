package journal_test

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hepar/journal"
	"hepar/journal/journaltest"
	"hepar/recipe/fault"
)

// bench is a journal with a clock of its own.
func bench(t testing.TB, name string, start time.Time) *journal.Journal {
	t.Helper()
	now := start
	return journaltest.Open(t, filepath.Join(t.TempDir(), name+".journal"), journal.Options{
		By: "Person " + name, Now: func() time.Time { now = now.Add(time.Minute); return now },
	})
}

func merged(t interface {
	Helper()
	Fatalf(string, ...any)
}, into, from *journal.Journal) journal.MergeReport {
	t.Helper()
	report, err := into.Merge(from.Path(), journal.MergeOptions{})
	if err != nil {
		t.Fatalf("merge: %v", err)
	}
	return report
}

func TestMerge(t *testing.T) {
	start := time.Date(2026, 3, 9, 8, 0, 0, 0, time.FixedZone("", 3600))
	a, b := bench(t, "a", start), bench(t, "b", start.Add(time.Hour))
	history(t, a)
	book(t, a)
	one := create(t, b)
	if r := merged(t, b, a); r.New == 0 || r.Same+r.Further+len(r.Conflicts) > 0 {
		t.Errorf("%+v", r)
	}
	if r := merged(t, a, b); r.New != 1 || r.Same == 0 || len(r.Conflicts) > 0 {
		t.Errorf("%+v", r)
	}
	// Both gave out 2026-001: nobody is shown the wrong one.
	for _, j := range []*journal.Journal{a, b} {
		_, err := j.Get("2026-001")
		if fault.KindOf(err) != fault.Usage || !strings.Contains(err.Error(), "2 batches of different benches") {
			t.Errorf("2026-001: %v", err)
		}
		long := "2026-001-" + one.ID[22:]
		if got, err := j.Get(long); err != nil || got.ID != one.ID || got.Number != long {
			t.Errorf("%s: %v, %s", long, err, got.Number)
		}
	}
	next := create(t, b)
	if _, err := a.Get(next.Number); err == nil {
		t.Errorf("the next number after a merge is %s", next.Number)
	}
	// What happened at one bench goes further at the other.
	if _, err := b.Review("2026-002", journal.Acknowledgement{Digest: order(1).Recipe.Digest}); err != nil {
		t.Fatal(err)
	}
	if r := merged(t, a, b); r.Further != 1 || r.New != 1 {
		t.Errorf("%+v", r)
	}
	// Both change the same batch: both keep all events and say so.
	if _, err := a.Amend("2026-003", "good", "42", "one more", ""); err != nil {
		t.Fatal(err)
	}
	if _, err := b.Amend("2026-003", "shade", "brown", "by daylight", ""); err != nil {
		t.Fatal(err)
	}
	r := merged(t, a, b)
	if len(r.Conflicts) != 1 || !r.Conflicts[0].Merged || len(r.Conflicts[0].Here) != 1 || len(r.Conflicts[0].There) != 1 || r.Conflicts[0].There[0].By != "Person b" {
		t.Errorf("%+v", r)
	}
	if r := merged(t, b, a); len(r.Conflicts) != 0 || r.Further != 1 {
		t.Errorf("the other way: %+v", r)
	}
	if x, y := viewOf(t, a), viewOf(t, b); !slices.Equal(x, y) {
		t.Errorf("the two are not the same:\n%s\n%s", strings.Join(x, "\n"), strings.Join(y, "\n"))
	}
	for _, j := range []*journal.Journal{a, b} {
		if r := merged(t, a, b); r.Events != 0 {
			t.Errorf("again: %+v", r)
		}
		report, err := j.Verify()
		if err != nil || !report.Sound() {
			t.Errorf("%v, %+v", err, report.Findings)
		}
	}
}

// viewOf gives all a journal says of its batches, in the order of their ids.
func viewOf(t testing.TB, j *journal.Journal) []string {
	t.Helper()
	lines := strings.Split(strings.TrimSpace(withoutShelf(exportOf(t, j, journal.JSONLines, journal.Filter{Frozen: true}))), "\n")
	slices.Sort(lines)
	return lines
}

func TestMergeRefuses(t *testing.T) {
	j := full(t)
	was := exportOf(t, j, journal.JSONLines, journal.Filter{Frozen: true})
	damaged := tampered(t, journal.Restate)
	for name, c := range map[string]struct {
		path string
		kind fault.Kind
	}{
		"itself":        {j.Path(), fault.Usage},
		"nothing":       {filepath.Join(t.TempDir(), "none"), fault.Failure},
		"a damaged one": {damaged.Path(), fault.Damaged},
	} {
		if _, err := j.Merge(c.path, journal.MergeOptions{}); fault.KindOf(err) != c.kind || fault.CureOf(err) == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
	other := elsewhereWithOne(t)
	if r, err := j.Merge(other.Path(), journal.MergeOptions{DryRun: true}); err != nil || r.New != 1 || !r.DryRun {
		t.Errorf("a trial: %v, %+v", err, r)
	}
	if exportOf(t, j, journal.JSONLines, journal.Filter{Frozen: true}) != was {
		t.Error("a refused merge or a trial changed something")
	}
}

// bothLogged gives a batch that two benches dipped, logged and had signed off, each
// twice, and what merging them said.
func bothLogged(t *testing.T) (*journal.Journal, journal.Batch, journal.MergeReport) {
	t.Helper()
	start := time.Date(2026, 3, 9, 8, 0, 0, 0, time.FixedZone("", 3600))
	a, b := bench(t, "a", start), bench(t, "b", start.Add(time.Hour))
	number := create(t, a).Number
	must := func(_ journal.Batch, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	must(a.Amend(number, "pieces", "60", "more came", ""))
	merged(t, b, a)
	for j, good := range map[*journal.Journal]int{a: 42, b: 40} {
		for _, points := range [][]string{{"gas"}, {"gas", "lye"}} {
			must(j.Review(number, journal.Acknowledgement{Digest: order(1).Recipe.Digest, Points: points}))
		}
		must(j.Dip(number, journal.DipRecord{Loads: []journal.DipLoad{{Pieces: good}}}, journal.Gate{}))
		must(j.LogWith(number, journal.Result{Good: good, Reject: 1, Causes: map[string]int{"patchy": 1}, Temperature: celsius(71.5), Time: seconds(11), Shade: "brown", Note: "in haste"}, journal.LogOptions{}))
		must(j.SignOff(number, "Runa", "looked at ten"))
		must(j.Amend(number, "shade", "dark brown", "by daylight", ""))
		must(j.SignOff(number, "Runa", "looked at all"))
	}
	r := merged(t, a, b)
	got, err := a.Get(number)
	must(got, err)
	return a, got, r
}

// Where both benches dipped and logged the same batch, what the one said is not lost
// behind what the other said: it is told with the event, and survives an export.
func TestMergeTellsBothResults(t *testing.T) {
	a, got, r := bothLogged(t)
	if len(r.Conflicts) != 1 || !r.Conflicts[0].Merged {
		t.Fatalf("%+v", r)
	}
	for _, side := range []struct {
		events []journal.Event
		good   int
	}{{r.Conflicts[0].Here, 42}, {r.Conflicts[0].There, 40}} {
		if !slices.ContainsFunc(side.events, func(e journal.Event) bool { return e.Result != nil && e.Result.Good == side.good }) {
			t.Errorf("the conflict does not tell the result of %d good: %+v", side.good, side.events)
		}
	}
	if got.Result.Good != 40 || got.State != journal.Logged || len(got.Dip.Loads) != 2 {
		t.Errorf("the batch as it stands: %+v, %+v", got.Result, got.Dip)
	}
	told := 0
	for _, e := range got.Events {
		if e.Result != nil {
			told++
			if e.Result.Good != 42 || e.Result.Causes["patchy"] != 1 || e.Result.Shade != "brown" {
				t.Errorf("the result before: %+v", e.Result)
			}
		}
	}
	if told != 1 {
		t.Errorf("%d results are told with their events, want the one before the last", told)
	}
	text := exportOf(t, a, journal.JSONLines, journal.Filter{Frozen: true})
	other := elsewhere(t)
	imported(t, other, text, journal.ImportOptions{Format: journal.JSONLines})
	if again := exportOf(t, other, journal.JSONLines, journal.Filter{Frozen: true}); again != text {
		t.Errorf("exported again:\n%s\nwant\n%s", again, text)
	}
}

// Benches that work each for itself and merge now and then, in any order, end
// with the same batches: merging is idempotent, commutative and associative.
func TestMergeProperties(t *testing.T) {
	fewerRuns(t, 20)
	dir, n, conflicts := t.TempDir(), 0, 0
	defer func() {
		if conflicts == 0 {
			t.Error("no batch was changed at both sides: the test proves nothing")
		}
		t.Logf("%d batches were changed at both sides", conflicts)
	}()
	rapid.Check(t, func(t *rapid.T) {
		n++
		now := time.Date(2026, 1, 5, 8, 0, 0, 0, time.FixedZone("", 3600))
		var benches []*journal.Journal
		open := func(name string) *journal.Journal {
			j := journal.At(filepath.Join(dir, fmt.Sprint(n), name), journal.Options{By: "Person " + name, Now: func() time.Time { return now }})
			if err := j.Init(); err != nil {
				t.Fatal(err)
			}
			return j
		}
		for i := range 3 {
			benches = append(benches, open(fmt.Sprint(i)))
		}
		for range 2 { // something that all benches have from the start
			if _, err := benches[0].LogNew(order(20), journal.Result{Good: 9, Reject: 1}); err != nil {
				t.Fatal(err)
			}
		}
		merged(t, benches[1], benches[0])
		merged(t, benches[2], benches[1])
		for range rapid.IntRange(3, 14).Draw(t, "steps") {
			now = now.Add(time.Duration(rapid.IntRange(-90, 400).Draw(t, "minutes")) * time.Minute)
			work(t, benches[rapid.IntRange(0, 2).Draw(t, "bench")], benches)
		}
		a, b, c := benches[0], benches[1], benches[2]
		// (a + b) + c and c + (b + a), and each once more.
		left, right, inner := open("left"), open("right"), open("inner")
		for _, from := range []*journal.Journal{a, b, c, a, c} {
			conflicts += len(merged(t, left, from).Conflicts)
		}
		merged(t, inner, b)
		merged(t, inner, a)
		merged(t, right, c)
		merged(t, right, inner)
		if r := merged(t, right, left); r.New+r.Further+len(r.Conflicts)+r.Events != 0 {
			t.Fatalf("the other order gave something new: %+v", r)
		}
		want := lines(t, left)
		// What is exported of it makes the same journal elsewhere.
		again := open("again")
		if report, err := again.Import(strings.NewReader(strings.Join(want, "\n")), journal.ImportOptions{Format: journal.JSONLines}); err != nil || report.New != report.Rows {
			t.Fatalf("its own export is not taken: %v, %+v\n%s", err, report, strings.Join(want, "\n"))
		}
		if got := lines(t, again); !slices.Equal(got, want) {
			t.Fatalf("exported again: got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
		if report, err := again.Verify(); err != nil || !report.Sound() {
			t.Fatalf("%v, %+v", err, report.Findings)
		}
		for _, j := range []*journal.Journal{right, inner, a, b, c} {
			merged(t, j, left)
			if r := merged(t, j, left); r.Events != 0 {
				t.Fatalf("a second merge took over %d events", r.Events)
			}
			if got := lines(t, j); !slices.Equal(got, want) {
				t.Fatalf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
			}
			if report, err := j.Verify(); err != nil || !report.Sound() {
				t.Fatalf("%v, %+v", err, report.Findings)
			}
		}
	})
}

// work does something at a bench, as far as it can be done.
func work(t *rapid.T, j *journal.Journal, all []*journal.Journal) {
	var numbers []string
	for b, err := range j.List(journal.Filter{Brief: true}) {
		if err != nil {
			t.Fatal(err)
		}
		numbers = append(numbers, b.Number)
	}
	what := rapid.SampledFrom([]string{"create", "create", "log new", "review", "log", "amend", "amend", "amend", "withdraw", "photo", "dip", "sign", "merge", "merge"}).Draw(t, "what")
	if len(numbers) == 0 && what != "merge" {
		what = "create"
	}
	number := ""
	if len(numbers) > 0 {
		number = rapid.SampledFrom(numbers).Draw(t, "number")
	}
	var err error
	switch what {
	case "create":
		_, err = j.Create(order(rapid.IntRange(1, 20).Draw(t, "pieces")))
	case "log new":
		_, err = j.LogNew(order(10), journal.Result{Good: rapid.IntRange(1, 10).Draw(t, "good"), Reject: 1, Causes: map[string]int{"patchy": 1}})
	case "review":
		_, err = j.Review(number, journal.Acknowledgement{Points: []string{"gas"}})
	case "log":
		_, err = j.LogWith(number, journal.Result{Good: 1}, journal.LogOptions{WithoutReview: "a trial"})
	case "amend":
		field := rapid.SampledFrom([]string{"good", "note", "pieces", "order"}).Draw(t, "field")
		_, err = j.Amend(number, field, fmt.Sprint(rapid.IntRange(1, 9).Draw(t, "value")), "counted again", "")
	case "withdraw":
		_, err = j.Withdraw(number, "a mistake", "")
	case "dip":
		_, err = j.Dip(number, journal.DipRecord{Loads: []journal.DipLoad{{Pieces: 1, Note: "first"}}}, journal.Gate{WithoutReview: "a trial"})
	case "sign":
		_, err = j.SignOff(number, rapid.SampledFrom([]string{"Runa", "Ilse"}).Draw(t, "who"), "looked through")
	case "photo":
		_, err = j.AddPhoto(number, journal.Photo{Path: "x.jpg", Bytes: 1, SHA256: strings.Repeat("ab", 32)})
	case "merge":
		other := all[rapid.IntRange(0, 2).Draw(t, "from")]
		if other != j {
			merged(t, j, other)
		}
	}
	if k := fault.KindOf(err); err != nil && k != fault.Usage && k != fault.Failure && k != fault.Safety {
		t.Fatalf("%s: %v", what, err)
	}
}

func lines(t *rapid.T, j *journal.Journal) []string {
	var out strings.Builder
	if _, err := j.Export(&out, journal.JSONLines, journal.Filter{Frozen: true}); err != nil {
		t.Fatal(err)
	}
	all := strings.Split(strings.TrimSpace(out.String()), "\n")
	slices.Sort(all)
	return all
}
