package journal_test

import (
	"bytes"
	"compress/flate"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hepar/journal"
	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/journal/journaltest"
	"hepar/recipe/fault"
)

func merged(t testing.TB, j *journal.Journal, other *journal.Journal) journal.MergeReport {
	t.Helper()
	r, err := j.Merge(other.Path(), journal.ImportOptions{By: "Mikko Raun"})
	if err != nil {
		t.Fatalf("merge: %v; %+v", err, r)
	}
	return r
}

// tells is all that a journal says of batches and shelf.
func tells(t testing.TB, j *journal.Journal) string {
	if there, err := j.Exists(); err == nil && !there {
		return ""
	}
	return exported(t, j, journal.JSONLines, true) + shelf(t, j)
}

func TestMergeKeepsTheEventsOfBoth(t *testing.T) {
	j := busyBench(t)
	other := journaltest.New(t)
	if r := merged(t, other, j); r.New != 6 || r.Containers != 1 || len(r.Conflicts) != 0 {
		t.Errorf("the report is %+v", r)
	}
	if got, want := tells(t, other), tells(t, j); got != want {
		t.Errorf("merged:\n%s\nwant\n%s", got, want)
	}
	batch := must[journal.Batch](t)
	batch(j.Amend("2026-001", "note", "theirs", "asked", "Ilse Tamm"))
	batch(other.Amend("2026-001", "good", "59", "counted", "Mikko Raun"))
	r := merged(t, other, j)
	if r.Further != 1 || len(r.Conflicts) != 1 || !r.Conflicts[0].Merged || len(r.Conflicts[0].Here) != 1 || len(r.Conflicts[0].There) != 1 {
		t.Errorf("both changed: %+v", r)
	}
	if b := batch(other.Get("2026-001")); b.Good != 59 || b.Result.Note != "theirs" {
		t.Errorf("the batch is %+v", b.Result)
	}
	before := contents(t, other)
	if r := merged(t, other, j); r.Events != 0 || r.Same != 6 || !bytes.Equal(before, contents(t, other)) {
		t.Errorf("the second time: %+v", r)
	}
}

// TestMergeInAnyOrder holds that a merge is idempotent, commutative and associative:
// three benches with whatever happened at each say the same in the end.
func TestMergeInAnyOrder(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		dir, err := os.MkdirTemp(t.TempDir(), "benches")
		if err != nil {
			t.Fatal(err)
		}
		clock := newClock(time.Date(2026, 3, 9, 9, 30, 0, 0, bench))
		open := func(name string) *journal.Journal {
			return journal.At(filepath.Join(dir, name), journal.Options{Now: clock.Now, By: "Ilse Tamm"})
		}
		benches := []*journal.Journal{open("a"), open("b"), open("c")}
		act := func(n int) {
			for range n {
				j := benches[rapid.IntRange(0, 2).Draw(rt, "bench")]
				clock.Add(time.Duration(rapid.IntRange(-5, 3600_000).Draw(rt, "ms")) * time.Millisecond)
				ref := fmt.Sprint(rapid.IntRange(1, 4).Draw(rt, "batch"))
				switch rapid.IntRange(0, 7).Draw(rt, "what") {
				case 0, 1:
					_, err = j.Create(tokens(), []byte(`{"a":1}`))
				case 2:
					_, err = j.Log(ref, journal.Result{Good: 50, Rework: 2}, journal.LogOptions{WithoutReview: "trial"})
				case 3:
					_, err = j.Amend(ref, "good", fmt.Sprint(rapid.IntRange(1, 60).Draw(rt, "good")), "counted", "")
				case 4:
					_, err = j.Withdraw(ref, "mistake", "")
				case 5:
					_, err = j.AddContainer(journal.ContainerPlan{Substance: "liver-of-sulfur", Unit: "g", Amount: 500}, "")
				case 6:
					_, err = j.Use(journal.Use{Number: "S-1", Amount: 2, Unit: "g"}, ref, "")
				case 7:
					_, err = j.ChangeContainer("S-1", "lot", fmt.Sprint("L", rapid.IntRange(0, 2).Draw(rt, "lot")), "misread", "")
				}
				if k := fault.KindOf(err); err != nil && k != fault.Usage && k != fault.Failure {
					rt.Fatal(err)
				}
			}
		}
		merge := func(into, from *journal.Journal) {
			if there, _ := from.Exists(); !there {
				return
			}
			if r, err := into.Merge(from.Path(), journal.ImportOptions{}); err != nil {
				rt.Fatalf("%v, %+v", err, r)
			}
		}
		act(rapid.IntRange(0, 10).Draw(rt, "first"))
		merge(benches[1], benches[0]) // so that they have batches in common
		merge(benches[2], benches[1])
		act(rapid.IntRange(0, 12).Draw(rt, "then"))
		copyOf := func(j *journal.Journal, name string) *journal.Journal {
			if there, _ := j.Exists(); there {
				if err := os.WriteFile(filepath.Join(dir, name), contents(t, j), 0o600); err != nil {
					t.Fatal(err)
				}
			}
			return open(name)
		}
		var said []string
		for _, order := range [][]int{{0, 1, 2}, {2, 1, 0}, {1, 2, 0, 2, 1}} {
			into := copyOf(benches[order[0]], fmt.Sprint("m", order))
			for _, from := range order[1:] {
				merge(into, benches[from])
			}
			said = append(said, tells(t, into))
			journaltest.Sound(t, into)
		}
		left := copyOf(benches[1], "left") // (b + c) into a
		merge(left, benches[2])
		into := copyOf(benches[0], "right")
		merge(into, left)
		said = append(said, tells(t, into))
		back := open("back") // exported and taken back
		if text := tells(t, into); text != "" {
			if r, err := back.Import(strings.NewReader(text), journal.ImportOptions{Format: journal.JSONLines}); err != nil {
				rt.Fatalf("%v, %+v\n%s", err, r, text)
			}
		}
		said = append(said, tells(t, back))
		journaltest.Sound(t, back)
		for i := range said {
			if said[i] != said[0] {
				rt.Fatalf("order %d says\n%s\nand the first\n%s", i, said[i], said[0])
			}
		}
	})
}

// TestAnEventFromTheFuture holds that what a newer build wrote is kept byte by byte
// on every way, shown, and never mistaken.
func TestAnEventFromTheFuture(t *testing.T) {
	j, _ := at(t)
	batch := must[journal.Batch](t)
	b := batch(j.LogNew(tokens(), journal.Result{Good: 60}, journal.LogOptions{WithoutReview: "for the test"}))
	var raws [][]byte
	err := j.Update(func(tx *journal.Tx) error {
		id := func() []byte { i := tx.NewID(); return i[:] }
		stamp := journal.StampOf(tx.Now)
		for _, e := range []any{
			record.Event{ID: tx.NewID(), Of: b.ID, Kind: record.Amended, At: journal.StampOf(tx.Now), By: "Ilse Tamm", Field: "moon-phase", New: "55 %"}, // a field
			map[int]any{1: id(), 2: b.ID[:], 3: "polished", 4: stamp, 6: "Ilse Tamm", 77: map[string]any{"wheel": "cotton", "turns": 1400}},              // a kind
			map[int]any{1: id(), 2: b.ID[:], 3: record.Logged, 4: stamp, 13: map[int]any{1: 58, 9: stamp, 40: 55.5, 41: []any{"a", []byte{7}}}},          // keys
		} { // that are not known
			body, err := record.Marshal(e)
			if err != nil {
				return err
			}
			raws = append(raws, body)
			ev, err := record.Decode(body)
			if err != nil {
				return err
			}
			tx.Append(ev)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	holds := func(j *journal.Journal, where string) {
		t.Helper()
		got := batch(j.Get("last"))
		if got.Good != 58 || len(got.Events) != 5 {
			t.Errorf("%s: %d good, %d events", where, got.Good, len(got.Events))
		}
		for _, want := range []string{`"moon-phase"`, `"polished"`, "cotton", "55.5"} {
			if !strings.Contains(strings.Join(got.Newer, "\n"), want) {
				t.Errorf("%s: %s is not shown: %q", where, want, got.Newer)
			}
		}
		for i, raw := range raws {
			if again := must[[]byte](t)(record.Encode(got.Events[2+i])); !bytes.Equal(again, raw) {
				t.Errorf("%s: event %d is stored as %x and was %x", where, i, again, raw)
			}
		}
		if err := got.Ready(got.Created.Time(), ""); err == nil {
			t.Errorf("%s: it may be dipped", where)
		}
	}
	holds(j, "here")
	second, third := journaltest.New(t), journaltest.New(t)
	text := exported(t, j, journal.JSONLines, true)
	imported(t, second, journal.JSONLines, text)
	holds(second, "imported")
	if r := imported(t, second, journal.JSONLines, text); r.Same != 1 {
		t.Errorf("again: %+v", r)
	}
	merged(t, third, second)
	holds(third, "merged")
	if got := exported(t, third, journal.JSONLines, true); got != text {
		t.Errorf("it came back as\n%s\nand was\n%s", got, text)
	}
	exported(t, third, journal.CSV, false)

	// A newer build may say more of a batch than this one knows; an older may not be told otherwise.
	imported(t, journaltest.New(t), journal.JSONLines, strings.Replace(text, `"number"`, `"moon_phase":55.5,"number"`, 1))
	fourth := journaltest.New(t)
	refusedBy(t, fourth, journal.JSONLines, strings.Replace(text, `cotton`, `felt`, 1), "events does not agree")
}

// TestHostileLines holds that a file from elsewhere is refused with a line and in
// bounded memory.
func TestHostileLines(t *testing.T) {
	j := busyBench(t)
	lines := strings.SplitAfter(exported(t, j, journal.JSONLines, true), "\n")
	first, second := lines[0], lines[1]
	var one, two map[string]any
	for text, to := range map[string]*map[string]any{first: &one, second: &two} {
		if err := json.Unmarshal([]byte(text), to); err != nil {
			t.Fatal(err)
		}
	}
	id := one["id"].(string)
	edit := func(old, new string) string {
		if !strings.Contains(first, old) {
			t.Fatalf("the line has no %s", old)
		}
		return strings.Replace(first, old, new, 1)
	}
	other := journaltest.New(t)
	causes := `"causes":{"spots":2`
	for name, c := range map[string]struct{ text, want string }{
		"no JSON":               {"spots\n", "not JSON"},
		"two objects":           {"{} {}\n", "more than one value"},
		"a list":                {"[]\n", "not a batch"},
		"no events":             {"{}\n", "no events"},
		"cut":                   {first[:len(first)-40] + "\n", "not JSON"},
		"deep":                  {strings.Repeat("[", 100_000) + "\n", "64 levels deep"},
		"a key twice":           {edit(`"state":`, `"state":"planned","state":`), `"state" is there twice`},
		"a key of an event":     {edit(`"kind":"created"`, `"kind":"created","colour":1`), "colour"},
		"another case":          {edit(`"pieces":60`, `"Pieces":60`), "Pieces"},
		"a derived value":       {edit(`"state":"logged"`, `"state":"planned"`), "state does not agree"},
		"a count":               {edit(`"good":60`, `"good":59`), "good does not agree"},
		"a huge number":         {edit(`"pieces":60`, `"pieces":1e999`), "pieces"},
		"a control character":   {strings.ReplaceAll(first, "Saltholm", `Salt\u001b[2Jholm`), "control character"},
		"a bidi mark":           {strings.ReplaceAll(first, "Saltholm", `Salt\u202eholm`), "control character"},
		"a foreign id":          {strings.ReplaceAll(first, id, "01ARZ3NDEKTSV4RRFFQ69G5FAV"), "does not match the time"},
		"an id too late":        {edit(one["events"].([]any)[1].(map[string]any)["id"].(string), "7ZZZZZZZZZZZZZZZZZZZZZZZZZ"), "year"},
		"the events of another": {edit(`"of":"`+id, `"of":"`+two["id"].(string)), "belongs to another batch"},
		"an event twice":        {edit(one["events"].([]any)[1].(map[string]any)["id"].(string), one["events"].([]any)[0].(map[string]any)["id"].(string)), "twice"},
		"another recipe text":   {edit(`title = \"Token black\"`, `title = \"Token brown\"`), "recipe_sha256"},
		"another sheet":         {edit(`"figures"`, `"Figures"`), "sheet_sha256"},
		"many causes":           {strings.Replace(first, causes, causes+manyCauses(200_000), 1), "causes"},
		"ten million causes":    {strings.Replace(first, causes, causes+manyCauses(10_000_000), 1), "longer than 8 MiB"},
		"below zero":            {strings.ReplaceAll(first, `"spots":2`, `"spots":-2`), "spots"},
	} {
		t.Run(name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			refusedBy(t, other, journal.JSONLines, first+c.text, c.want)
			runtime.ReadMemStats(&after)
			if grown := after.HeapSys - before.HeapSys; after.HeapSys > before.HeapSys && grown > 512<<20 {
				t.Errorf("it took %d MiB", grown>>20)
			}
		})
	}
	if there, _ := other.Exists(); there {
		if n := must[int](t)(count(other, journal.Filter{})); n != 0 {
			t.Errorf("%d batches were taken over", n)
		}
	}
	// A pipe that never ends is read as a bounded stream.
	endless := func(b byte) io.Reader { return io.MultiReader(strings.NewReader(`"`), &repeat{b, 1 << 31}) }
	for _, format := range []string{journal.JSONLines, journal.CSV} {
		if _, err := other.Import(endless('x'), journal.ImportOptions{Format: format}); err == nil {
			t.Errorf("%s: an endless row was imported", format)
		}
	}
}

type repeat struct {
	b    byte
	left int
}

func (r *repeat) Read(p []byte) (int, error) {
	if r.left -= len(p); r.left < 0 {
		return 0, fmt.Errorf("it was read to its end")
	}
	for i := range p {
		p[i] = r.b
	}
	return len(p), nil
}

func manyCauses(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, `,"c%d":1`, i)
	}
	return b.String()
}

// TestARecipeTextMustMatchItsDigest: a text that another one was put in place of
// would keep its review.
func TestARecipeTextMustMatchItsDigest(t *testing.T) {
	text, err := os.ReadFile("../recipes/silver-black.toml")
	if err != nil {
		t.Fatal(err)
	}
	j, _ := at(t)
	p := tokens()
	p.Recipe.Text, p.Recipe.Digest = string(text), "sha256:"+strings.Repeat("0", 64)
	must[journal.Batch](t)(j.Create(p, nil))
	other := journaltest.New(t)
	refusedBy(t, other, journal.JSONLines, exported(t, j, journal.JSONLines, true), "recipe_digest")
	if _, err := other.Merge(j.Path(), journal.ImportOptions{}); err == nil || !strings.Contains(err.Error(), "recipe_digest") {
		t.Errorf("merged: %v", err)
	}
}

func TestMergeRefusesWhatIsNoJournal(t *testing.T) {
	j := busyBench(t)
	dir := t.TempDir()
	plain := filepath.Join(dir, "letter.txt")
	if err := os.WriteFile(plain, bytes.Repeat([]byte("words "), 9000), 0o600); err != nil {
		t.Fatal(err)
	}
	fifo := filepath.Join(dir, "pipe")
	paths := []string{dir, plain, filepath.Join(dir, "nothing"), j.Path(), os.DevNull}
	if mkfifo(fifo) == nil {
		paths = append(paths, fifo)
	}
	before := contents(t, j)
	for _, path := range paths {
		if r, err := j.Merge(path, journal.ImportOptions{}); err == nil || fault.CureOf(err) == "" {
			t.Errorf("%s: %v, %+v", filepath.Base(path), err, r)
		}
	}
	if !bytes.Equal(contents(t, j), before) {
		t.Error("the journal changed")
	}
}

// TestABombIsNotUnpacked: a text of some MiB that says it is small, or that it is
// 1.5 GB, is refused by its length.
func TestABombIsNotUnpacked(t *testing.T) {
	var packed bytes.Buffer
	w, err := flate.NewWriter(&packed, flate.BestSpeed)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := io.Copy(w, io.LimitReader(&repeat{0, 1 << 40}, 300<<20)); err != nil {
		t.Fatal(err)
	}
	_ = w.Close()
	sum := sha256.Sum256([]byte("anything"))
	for _, length := range []int{1 << 10, record.MaxSheet, 1500 << 20, -2} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, err := store.Blob{SHA256: sum[:], Length: length, Data: packed.Bytes()}.Content()
		runtime.ReadMemStats(&after)
		if err == nil || after.TotalAlloc-before.TotalAlloc > 16<<20 {
			t.Errorf("length %d: %v, %d MiB", length, err, (after.TotalAlloc-before.TotalAlloc)>>20)
		}
	}
}

func TestSameIDWithOtherWordsStaysAsItIsHere(t *testing.T) {
	j := busyBench(t)
	b := must[journal.Batch](t)(j.Get("2026-005"))
	other, _ := at(t)
	err := other.Update(func(tx *journal.Tx) error {
		e := *b.Events[0]
		plan := *e.Plan
		plan.Alloy, plan.TextSHA, plan.SheetSHA = "copper", nil, nil
		e.Plan = &plan
		tx.Append(&e)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	before := tells(t, j)
	r := merged(t, j, other)
	if len(r.Conflicts) != 1 || r.Conflicts[0].Merged || r.Events != 0 || tells(t, j) != before {
		t.Errorf("%+v", r)
	}
	refusedBy(t, j, journal.JSONLines, exported(t, other, journal.JSONLines, true), "differs there")
	kept, err := j.Import(strings.NewReader(exported(t, other, journal.JSONLines, true)), journal.ImportOptions{Format: journal.JSONLines, KeepHere: true})
	if err != nil || len(kept.Conflicts) != 1 || tells(t, j) != before {
		t.Errorf("keep here: %v, %+v", err, kept)
	}
}

// TestImportAgreesWithTheShelf: what a batch took from a container on this shelf is
// booked there too, or nothing is taken over.
func TestImportAgreesWithTheShelf(t *testing.T) {
	j := busyBench(t)
	text, jars := exported(t, j, journal.JSONLines, true), shelf(t, j)
	other := journaltest.New(t)
	refusedBy(t, other, journal.JSONLines, jars, "do not match the batches")
	imported(t, other, journal.JSONLines, text)
	imported(t, other, journal.JSONLines, jars)
	if got := tells(t, other); got != text+jars {
		t.Error("it is not the same")
	}
}
