package journal_test

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"hepar/journal"
	"hepar/journal/journaltest"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// years fills a journal with random work over several years, in one transaction.
// What it does is always allowed. It draws from chance alone: a draw from rapid may
// end in a panic, which a transaction takes for damage.
func years(t rapid.TB, j *journal.Journal, clock *journaltest.Clock, chance *rand.Rand) {
	err := j.Update(func(w *journal.Writer) error {
		var shelf []journal.Container
		for i := range 1 + chance.IntN(4) {
			c, err := w.AddContainer(journal.Container{Substance: "liver of sulfur", Lot: fmt.Sprintf("K-%d", i), AmountG: 1e6, By: person(chance), Opened: "2024-02"})
			if err != nil {
				return err
			}
			shelf = append(shelf, c)
		}
		uses := func() (all []journal.Use) {
			for range chance.IntN(3) {
				c := shelf[chance.IntN(len(shelf))]
				all = append(all, journal.Use{Container: c.Number, Grams: measure.Grams(1+chance.IntN(400)) / 10})
			}
			return all
		}
		for range 5 + chance.IntN(36) {
			clock.Add(time.Duration(chance.Int64N(int64(90*24*time.Hour))) - time.Hour)
			if err := life(w, clock.Now(), uses, chance); err != nil {
				return err
			}
			if chance.IntN(7) == 0 {
				c := shelf[chance.IntN(len(shelf))]
				if _, err := w.ChangeContainer(c.Number, "lot", fmt.Sprintf("N-%d", chance.Uint32()), "misread", person(chance)); err != nil {
					return err
				}
			}
		}
		if chance.IntN(2) == 0 {
			_, err := w.Empty(shelf[0].Number, "gone flat", person(chance))
			return err
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func person(chance *rand.Rand) string {
	return one(chance, "", "Ilka Brandt", "Tomas Reh", "Uwe Stern")
}

func one(chance *rand.Rand, of ...string) string { return of[chance.IntN(len(of))] }

// life is that of one batch, as far as it comes.
func life(w *journal.Writer, now time.Time, uses func() []journal.Use, chance *rand.Rand) error {
	maybe := func(string) bool { return chance.IntN(3) == 0 }
	plan := order(1 + chance.IntN(60))
	plan.Recipe.Slug = one(chance, "black", "brown", "blue")
	plan.Alloy = one(chance, "", "fine-999", "sterling-925")
	plan.By, plan.Note = person(chance), one(chance, "", "for the museum", "Tür an Tür", "=1+1")
	plan.Sheet = nil
	if maybe("sheet") {
		plan.Sheet = []byte(fmt.Sprintf(`{"pieces":%d,"text":%q}`, plan.Pieces, strings.Repeat("warm the bath; ", chance.IntN(41))))
	}
	if maybe("in the past") {
		plan.Created = now.Add(-time.Duration(chance.Int64N(int64(800 * 24 * time.Hour))))
	}
	result := journal.Result{Good: plan.Pieces - 1, Rework: chance.IntN(2), Reject: chance.IntN(2)}
	if result.Reject > 0 {
		result.Causes = map[string]int{"patchy": 1}
	}
	if result.Good+result.Rework+result.Reject == 0 {
		result.Good = 1
	}
	if maybe("measured") {
		result.Temperature, result.Time, result.Shade = celsius(20+70*chance.Float64()), seconds(1+900*chance.Float64()), "deep"
	}
	if maybe("at once") {
		_, err := w.LogNew(plan, result)
		return err
	}
	b, err := w.Create(plan)
	if err != nil {
		return err
	}
	if maybe("reviewed") {
		digest := one(chance, "sha256:6c1f", "sha256:"+strings.Repeat("0a", 32))
		if _, err := w.Review(b.Number, journal.Acknowledgement{By: person(chance), Digest: digest, Points: []string{"gas", "acid"}}); err != nil {
			return err
		}
	}
	if maybe("dipped") {
		dip := journal.DipRecord{By: person(chance), Used: uses(), Loads: []journal.DipLoad{{Pieces: 1, Temperature: celsius(70.5), Note: "slower"}}}
		if _, err := w.Dip(b.Number, dip, journal.Gate{WithoutReview: "the screen was broken"}); err != nil {
			return err
		}
	}
	if maybe("more taken") {
		for _, u := range uses() {
			if _, err := w.Use(u, b.Number, person(chance)); err != nil {
				return err
			}
		}
	}
	if maybe("photo") {
		if _, err := w.AddPhoto(b.Number, journal.Photo{Path: "photos/tray.jpg", SHA256: strings.Repeat("ab", 32), Bytes: 120_000, Taken: now, By: person(chance)}); err != nil {
			return err
		}
	}
	if maybe("waste") {
		v := journal.Waste{VolumeL: 2.5, Container: "Drum 1", By: person(chance), Contents: []journal.WastePart{{What: "silver", MilligramsPerLiter: 4.2, Source: "estimate"}}}
		if _, err := w.AddWaste(b.Number, v); err != nil {
			return err
		}
	}
	if maybe("never finished") {
		return nil
	}
	if _, err := w.LogWith(b.Number, result, journal.LogOptions{By: "Ilka Brandt", WithoutReview: "found after the fact"}); err != nil {
		return err
	}
	if maybe("signed off") {
		if _, err := w.SignOff(b.Number, "Jonna Falk", "counted again"); err != nil {
			return err
		}
	}
	if maybe("amended") {
		if _, err := w.Amend(b.Number, "shade", one(chance, "blue-black", "brown"), "seen by daylight", person(chance)); err != nil {
			return err
		}
	}
	if maybe("withdrawn") {
		_, err := w.Withdraw(b.Number, "order cancelled", person(chance))
		return err
	}
	return nil
}

// format1 gives a journal of random work, the same as a file of format 1 in a
// folder of its own, and what both tell.
func format1(t rapid.TB, dir string, seed uint64) (path string, lines []string) {
	clock := journaltest.NewClock(time.Date(2023, 11, 5, 8, 0, 0, 0, time.FixedZone("", 3600)))
	now := journal.At(filepath.Join(dir, "now.journal"), journal.Options{By: "Ilka Brandt", Now: func() time.Time { clock.Add(time.Millisecond / 3); return clock.Now() }})
	chance := rand.New(rand.NewPCG(seed, 1))
	years(t, now, clock, chance)
	lines = tells(t, now)
	path = filepath.Join(dir, "hepar.journal")
	if err := journal.WriteFormat1(now.Path(), path, chance); err != nil {
		t.Fatal(err)
	}
	return path, lines
}

// tells gives all that a journal tells, both event by event and as it is exported.
func tells(t rapid.TB, j *journal.Journal) []string {
	lines, err := journal.Telling(j)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if _, err := j.Export(&out, journal.JSONLines, journal.Filter{Frozen: true, Reverse: true}); err != nil {
		t.Fatal(err)
	}
	return append(lines, out.String())
}

// differ tells two journals apart by the first line that is not the same.
func differ(got, want []string) string {
	for i := range max(len(got), len(want)) {
		a, b := slices.Concat(got, []string{"nothing"})[min(i, len(got))], slices.Concat(want, []string{"nothing"})[min(i, len(want))]
		if a != b {
			return fmt.Sprintf("got\n%s\nwant\n%s", a, b)
		}
	}
	return ""
}

// Whatever work there was in a journal of format 1, its upgrade tells the same.
func TestUpgradeOfRandomWork(t *testing.T) {
	fewerRuns(t, 15)
	dir, n := t.TempDir(), 0
	rapid.Check(t, func(t *rapid.T) {
		n++
		own := filepath.Join(dir, fmt.Sprint(n))
		if err := os.Mkdir(own, 0o700); err != nil {
			t.Fatal(err)
		}
		path, want := format1(t, own, rapid.Uint64().Draw(t, "seed"))
		before, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		j := journal.At(path, journal.Options{})
		if _, err := j.Count(journal.Filter{}); err == nil || !strings.Contains(err.Error(), "older hepar") {
			t.Fatalf("before the upgrade: %v", err)
		}
		report, err := j.Upgrade()
		if err != nil {
			t.Fatal(err)
		}
		if found, err := j.Verify(); err != nil || !found.Sound() || len(found.Missing) > 0 {
			t.Fatalf("%+v, %v", found, err)
		}
		if text := differ(tells(t, j), want); text != "" {
			t.Fatal(text)
		}
		if kept, err := os.ReadFile(report.Kept); err != nil || !bytes.Equal(kept, before) {
			t.Fatalf("the old file was not kept as it was (%v)", err)
		}
	})
}

// A damaged file of format 1 is refused, or what comes of it is right. In any case
// it stays as it was.
func TestUpgradeOfDamagedFiles(t *testing.T) {
	times := max(1, *damages/10) // of each of five files
	count := map[bool]int{}
	for seed := range uint64(5) {
		path, want := format1(t, t.TempDir(), seed)
		sound := bytesOf(t, path)
		chance := rand.New(rand.NewPCG(seed, 2))
		for range times {
			hurt := bytes.Clone(sound)
			what := hurtFile(&hurt, chance)
			if err := os.WriteFile(path, hurt, 0o600); err != nil {
				t.Fatal(err)
			}
			j := journal.At(path, journal.Options{})
			report, err := j.Upgrade()
			count[err == nil]++
			if err != nil {
				if fault.CureOf(err) == "" || strings.Contains(err.Error(), ".new-") {
					t.Fatalf("%s: %v (%q)", what, err, fault.CureOf(err))
				}
				if after, err := os.ReadFile(path); err != nil || !bytes.Equal(after, hurt) {
					t.Fatalf("%s: the file was changed (%v)", what, err)
				}
				continue
			}
			if found, err := j.Verify(); err != nil || !found.Sound() {
				t.Fatalf("%s: %+v, %v", what, found, err)
			}
			if text := differ(tells(t, j), want); text != "" {
				t.Fatalf("%s: %s", what, text)
			}
			if kept, err := os.ReadFile(report.Kept); err != nil || !bytes.Equal(kept, hurt) {
				t.Fatalf("%s: the old file was not kept as it was (%v)", what, err)
			}
			if err := os.Remove(report.Kept); err != nil {
				t.Fatal(err)
			}
		}
	}
	t.Logf("%d damages refused, %d upgraded as they were", count[false], count[true])
	if count[false] == 0 || count[true] == 0 {
		t.Error("damages were all refused, or none")
	}
}

// hurtFile damages a file in some way and says how.
func hurtFile(data *[]byte, chance *rand.Rand) string {
	d := *data
	at := chance.IntN(len(d))
	switch chance.IntN(5) {
	case 0:
		*data = d[:at]
		return fmt.Sprintf("cut at %d", at)
	case 1:
		page := at &^ 4095
		clear(d[page:min(page+4096, len(d))])
		return fmt.Sprintf("page at %d zeroed", page)
	case 2:
		from := chance.IntN(len(d)) &^ 4095
		copy(d[at&^4095:], bytes.Clone(d[from:min(from+4096, len(d))]))
		return fmt.Sprintf("page at %d written over that at %d", from, at&^4095)
	}
	n := 1 + chance.IntN(3)
	for range n {
		d[chance.IntN(len(d))] ^= 1 << chance.IntN(8)
	}
	return fmt.Sprintf("%d bits flipped", n)
}
