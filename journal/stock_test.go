package journal_test

import (
	"math"
	"strings"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"hepar/journal"
	"hepar/journal/journaltest"
	"hepar/recipe/fault"
)

func TestRefusedContainers(t *testing.T) {
	j := journaltest.New(t)
	good := journal.Container{Substance: "liver of sulfur", AmountG: 100, LeftG: 40}
	for name, spoil := range map[string]func(c *journal.Container){
		"no substance":       func(c *journal.Container) { c.Substance = " " },
		"no amount":          func(c *journal.Container) { c.AmountG, c.LeftG = 0, 0 },
		"less than nothing":  func(c *journal.Container) { c.AmountG = -1 },
		"no number of grams": func(c *journal.Container) { c.AmountG = 0; c.LeftG = 0; c.AmountML = math.NaN() },
		"endless grams":      func(c *journal.Container) { c.AmountG = 1e300 },
		"more left":          func(c *journal.Container) { c.LeftG = 101 },
		"in g and mL":        func(c *journal.Container) { c.AmountML = 1 },
		"the 30th of Feb":    func(c *journal.Container) { c.Opened = "2026-02-30" },
		"a US date":          func(c *journal.Container) { c.Expires = "03/09/2026" },
		"the year 1066":      func(c *journal.Container) { c.Received = "1066" },
		"an escape":          func(c *journal.Container) { c.Observed = "yellow\x1b[2J" },
		"a long lot":         func(c *journal.Container) { c.Lot = strings.Repeat("x", 201) },
		"a line break":       func(c *journal.Container) { c.SDS.Place = "a\nb" },
	} {
		c := good
		spoil(&c)
		if _, err := j.AddContainer(c); fault.KindOf(err) != fault.Usage || fault.CureOf(err) == "" {
			t.Errorf("%s: got %v (%q), want it refused with a cure", name, err, fault.CureOf(err))
		}
	}
	c, err := j.AddContainer(good)
	if err != nil || c.Number != "S-001" || c.LeftG != 40 {
		t.Errorf("after all refusals: %+v, %v", c, err)
	}
}

func TestChangeContainer(t *testing.T) {
	j := journaltest.New(t)
	if _, err := j.AddContainer(journal.Container{Substance: "liver of sulfur", Lot: "K-1", AmountG: 100}); err != nil {
		t.Fatal(err)
	}
	if _, err := j.AddContainer(journal.Container{Substance: "ammonia", AmountML: 500}); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		ref, field, value, reason string
		done                      bool
		text                      string // of the event: old>new
	}{
		{"S-001", "lot", "K-2", "", false, ""},
		{"S-001", "lot", "K-2", "misread", true, "K-1>K-2"},
		{"S-001", "lot", "K-2", "misread", false, ""},
		{"S-001", "supplier", "Fernholm", "", true, ">Fernholm"}, // nothing stood there: no reason asked for
		{"S-001", "supplier", "Saltholm", "", false, ""},
		{"S-001", "opened", "2026-02-01", "", true, ">2026-02-01"},
		{"S-001", "opened", "1.2.2026", "", false, ""},
		{"S-001", "expires", "2027", "", true, ">2027"},
		{"S-001", "expires", "", "", true, "2027>"},
		{"S-001", "observed", "pale", "", true, ">pale"},
		{"S-001", "observed", "pale", "", true, "pale>pale"}, // seen again
		{"S-001", "left", "2 oz", "weighed", true, "100 g>56.699046 g"},
		{"S-001", "left", "20 mL", "weighed", false, ""},
		{"S-001", "left", "-1 g", "weighed", false, ""},
		{"S-001", "left", "101 g", "weighed", false, ""},
		{"S-001", "amount", "50 g", "read the label", false, ""}, // less than is left
		{"S-001", "amount", "0.25 kg", "read the label", true, "100 g>250 g"},
		{"S-002", "left", "0.3 L", "seen", true, "500 mL>300 mL"},
		{"S-002", "sds", "green folder", "", true, ">green folder"},
		{"S-002", "sds-revised", "2024-05", "", true, ">2024-05"},
		{"S-002", "sds-looked-at", "2026-03-01", "", true, ">2026-03-01"},
		{"S-002", "place", "by the window", "", true, ">by the window"},
		{"S-002", "note", "smells\nless", "", true, ">smells\nless"},
		{"S-002", "form", "25 %", "", true, ">25 %"},
		{"S-002", "received", "2026-01-01", "", true, ">2026-01-01"},
		{"S-002", "substance", "", "why", false, ""},
		{"S-002", "substance", "ammonia water", "better said", true, "ammonia>ammonia water"},
		{"S-002", "number", "S-009", "why", false, ""},
		{"S-003", "place", "x", "", false, ""},
		{"", "place", "x", "", false, ""},
	} {
		got, err := j.ChangeContainer(c.ref, c.field, c.value, c.reason, "Uwe Stern")
		if (err == nil) != c.done || err != nil && (fault.KindOf(err) != fault.Usage || fault.CureOf(err) == "") {
			t.Errorf("%s %s = %q because %q: got %v (%q), want done = %v", c.ref, c.field, c.value, c.reason, err, fault.CureOf(err), c.done)
			continue
		}
		if err != nil {
			continue
		}
		if e := got.Events[len(got.Events)-1]; e.Kind != journal.StockChanged || e.Old+">"+e.New != c.text || e.By != "Uwe Stern" || e.Reason != c.reason {
			t.Errorf("%s %s = %q: the event is %+v", c.ref, c.field, c.value, e)
		}
	}
	if _, err := j.Empty("S-001", "", ""); err != nil {
		t.Fatal(err)
	}
	if _, err := j.Empty("S-001", "", ""); err == nil {
		t.Error("emptied twice")
	}
	if c, err := j.ChangeContainer("S-001", "left", "5 g", "some was in the lid", ""); err != nil || c.Empty() || c.LeftG != 5 {
		t.Errorf("put back to use: %+v, %v", c, err)
	}
}

// A date of a month counts to the end of the month.
func TestExpires(t *testing.T) {
	at := func(month time.Month, day int) time.Time { return time.Date(2026, month, day, 12, 0, 0, 0, time.UTC) }
	for _, c := range []struct {
		expires journal.Date
		at      time.Time
		over    bool
	}{
		{"", at(1, 1), false}, {"2026-03-09", at(3, 9), false}, {"2026-03-09", at(3, 10), true},
		{"2026-03", at(3, 31), false}, {"2026-03", at(4, 1), true}, {"2026", at(12, 31), false}, {"2025", at(1, 1), true},
	} {
		if got := (journal.Container{Expires: c.expires}).Expired(c.at); got != c.over {
			t.Errorf("%q at %s: got %v", c.expires, c.at.Format(time.DateOnly), got)
		}
	}
}

func TestShelf(t *testing.T) {
	j := journaltest.New(t)
	if s, err := j.Shelf("soda"); err != nil || len(s.Containers) != 0 {
		t.Errorf("before there is a journal: %+v, %v", s, err)
	}
	if there, err := j.Exists(); there || err != nil {
		t.Error("looking made a journal")
	}
	for _, c := range []journal.Container{
		{Substance: "Soda", Lot: "a", AmountG: 0.1}, {Substance: "soda", Lot: "b", AmountG: 0.2}, {Substance: "soda", Lot: "A", AmountG: 7}, {Substance: "salt", Lot: "a", AmountG: 9},
	} {
		if _, err := j.AddContainer(c); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := j.Empty("S-003", "", ""); err != nil {
		t.Fatal(err)
	}
	if s, err := j.Shelf("SODA"); err != nil || s.Grams != 0.3 || s.ML != 0 || len(s.Containers) != 2 {
		t.Errorf("got %+v, %v", s, err)
	}
	for name, c := range map[string]struct {
		f journal.ContainerFilter
		n int
	}{
		"in use": {journal.ContainerFilter{}, 3}, "all": {journal.ContainerFilter{Empty: true}, 4},
		"of a lot": {journal.ContainerFilter{Lot: "A"}, 2}, "of a lot, all": {journal.ContainerFilter{Lot: "a", Empty: true}, 3},
	} {
		if got, err := j.ListContainers(c.f); err != nil || len(got) != c.n {
			t.Errorf("%s: %d, %v, want %d", name, len(got), err, c.n)
		}
	}
	if _, err := j.Shelf(" "); fault.KindOf(err) != fault.Usage {
		t.Errorf("of nothing: %v", err)
	}
	// What is taken again and again adds up to the last grain.
	for range 3 {
		if _, err := j.AddContainer(journal.Container{Substance: "copper", AmountG: 0.3}); err != nil {
			t.Fatal(err)
		}
	}
	for range 3 {
		if _, err := j.Use(journal.Use{Container: "S-005", Grams: 0.1}, "", ""); err != nil {
			t.Error(err)
		}
	}
	if c, err := j.Container("S-005"); err != nil || c.LeftG != 0 {
		t.Errorf("left %v, %v", c.LeftG, err)
	}
}

// What was changed behind the back of the journal in the new records is found.
func TestVerifyFindsTamperedStock(t *testing.T) {
	containers := []byte("containers")
	for name, c := range map[string]struct {
		fn   func(tx *bolt.Tx) error
		want string
	}{
		"a flipped bit": {func(tx *bolt.Tx) error {
			k, v := first(tx.Bucket(containers))
			v[len(v)/2] ^= 1
			return tx.Bucket(containers).Put(k, v)
		}, "checksum"},
		"a container dropped": {func(tx *bolt.Tx) error {
			k, _ := first(tx.Bucket(containers))
			return tx.Bucket(containers).Delete(k)
		}, "head says"},
		"more left than its events say": {journal.Refill, "do not lead to it"},
		"a number lost": {func(tx *bolt.Tx) error {
			return tx.Bucket([]byte("numbers")).Delete([]byte("S-001"))
		}, "does not lead to it"},
		"a number too many": {func(tx *bolt.Tx) error {
			_, v := first(tx.Bucket([]byte("numbers")))
			return tx.Bucket([]byte("numbers")).Put([]byte("S-099"), v)
		}, "beyond the last"},
		"a batch that forgets what it took": {journal.ForgetUse, "does not say that it used it"},
		"an index entry lost": {func(tx *bolt.Tx) error {
			b := tx.Bucket([]byte("index"))
			k, _ := b.Cursor().Seek([]byte("lk-"))
			return b.Delete(k)
		}, "missing from the index"},
		"the bucket lost": {func(tx *bolt.Tx) error { return tx.DeleteBucket(containers) }, "bucket is missing"},
	} {
		t.Run(name, func(t *testing.T) {
			j := journal.At(t.TempDir()+"/hepar.journal", journal.Options{By: "Ilka Brandt"})
			book(t, j)
			if report, err := j.Verify(); err != nil || !report.Sound() || report.Containers != 2 {
				t.Fatalf("before: %v, %+v", err, report)
			}
			if err := journal.Tamper(j.Path(), c.fn); err != nil {
				t.Fatal(err)
			}
			report, err := j.Verify()
			if err != nil {
				t.Fatal(err)
			}
			text := ""
			for _, f := range report.Findings {
				text += f.Where + ": " + f.What + "\n"
			}
			if !strings.Contains(text, c.want) {
				t.Errorf("verify found\n%swant %q", text, c.want)
			}
		})
	}
}
