package journal_test

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"hepar/journal"
	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/recipe/fault"
)

// busyBook fills a journal with some of everything.
func busyBook(t testing.TB, j *journal.Journal, rounds int) {
	t.Helper()
	for n := range rounds {
		p := tokens()
		p.Order, p.Text = fmt.Sprintf("order %d", n), fmt.Sprintf("title = \"Token black\"\nrevision = %d\n", n%3)
		if n%4 == 3 {
			p.Slug = "fernholm-copper-brown"
		}
		jar := must[journal.Container](t)(j.AddContainer(journal.ContainerPlan{Substance: "liver-of-sulfur", Unit: journal.UnitGrams, Amount: 500, Lot: fmt.Sprintf("K%d", n%5)}, ""))
		b := must[journal.Batch](t)(j.Create(p, fmt.Appendf(nil, `{"schema":1,"for":%d}`, n)))
		must[journal.Batch](t)(j.Review(b.Number, journal.Review{Digest: p.Digest, Points: []string{"ventilation"}}))
		must[journal.Batch](t)(dipped(j, b.Number, "", "", []journal.Use{{Number: jar.Number, Amount: 8.5, Unit: "g"}}, journal.Load{Pieces: 30}, journal.Load{Pieces: 33}))
		if n%5 == 4 {
			continue
		}
		must[journal.Batch](t)(j.Log(b.Number, journal.Result{Good: 60, Rework: 1 + n%2, Reject: n % 2, Causes: map[string]int{"spots": 1 + n%2}}, journal.LogOptions{By: "Marek Oja", WithoutReview: "a test"}))
		must[journal.Batch](t)(j.AddWaste(b.Number, journal.Waste{Liters: 1.5, Container: fmt.Sprintf("W-%d", n%3)}))
		must[journal.Batch](t)(j.Amend(b.Number, "order", "Ferry Museum", "wrong club", "Runa Fern"))
		must[journal.Batch](t)(j.AddPhoto(b.Number, journal.Photo{Path: "photos/a.jpg", SHA256: bytes.Repeat([]byte{byte(n)}, 32), Bytes: 9}))
		must[journal.Batch](t)(j.SignOff(b.Number, "Aino Kask", ""))
		must[journal.Container](t)(j.Use(journal.Use{Number: jar.Number, Amount: 1, Unit: "g"}, b.Number, ""))
		if n%4 == 1 {
			must[journal.Batch](t)(j.Withdraw(b.Number, "entered twice", ""))
		}
		must[journal.Container](t)(j.ChangeContainer(jar.Number, "place", "shelf 2", "moved", ""))
	}
}

// filters are the lists that are compared.
var filters = []journal.Filter{
	{Frozen: true}, {Reverse: true, Limit: 3}, {Recipe: "fernholm-copper-brown"}, {By: "Marek Oja"}, {Lot: "k2"}, {State: journal.Dipped},
	{Waste: "W-1"}, {Result: "rework"}, {Text: "ferry"}, {Sort: "number"},
}

// listed returns a list as text.
func listed(j *journal.Journal, f journal.Filter) (string, error) {
	var out bytes.Buffer
	for b, err := range j.List(f) {
		if err != nil {
			return "", err
		}
		if err := json.NewEncoder(&out).Encode(b); err != nil {
			return "", err
		}
	}
	return out.String(), nil
}

// everything returns all that is in a journal as text.
func everything(j *journal.Journal) (string, error) {
	text, err := listed(j, filters[0])
	if err != nil {
		return "", err
	}
	all, err := j.ListContainers(journal.ContainerFilter{Empty: true})
	if err != nil {
		return "", err
	}
	more, err := json.Marshal(all)
	return text + string(more), err
}

// original is a sound journal and what is known of it before it is damaged.
type original struct {
	data   []byte // the pages in use
	page   int
	frames map[uint64][]byte // of the events, as they are stored
	text   string
	lists  []string
	shelf  string
	number string
	get    string
}

func toDamage(t testing.TB, j *journal.Journal) *original {
	t.Helper()
	must[journal.CompactReport](t)(j.Compact()) // no unused end, whose loss would be none
	busyBook(t, j, 2)                           // and pages that were freed
	return readOriginal(t, j)
}

func readOriginal(t testing.TB, j *journal.Journal) *original {
	t.Helper()
	o := &original{page: os.Getpagesize(), frames: framesOf(t, j.Path()), number: "2026-003"}
	o.data = must[[]byte](t)(os.ReadFile(j.Path()))
	// The number of pages in use stands in the header: at byte 40 of the newer one,
	// behind the head of the page.
	used, txid := uint64(0), uint64(0)
	for _, at := range []int{16, o.page + 16} {
		if n := binary.NativeEndian.Uint64(o.data[at+48:]); n > txid {
			used, txid = binary.NativeEndian.Uint64(o.data[at+40:]), n
		}
	}
	o.data = o.data[:int(used)*o.page]
	o.text = must[string](t)(everything(j))
	for _, f := range filters {
		o.lists = append(o.lists, must[string](t)(listed(j, f)))
	}
	o.get = jsonOf(must[journal.Batch](t)(j.Get(o.number)))
	o.shelf = jsonOf(must[[]journal.Container](t)(j.ListContainers(journal.ContainerFilter{Empty: true})))
	return o
}

func jsonOf(v any) string { text, _ := json.Marshal(v); return string(text) }

// framesOf returns the frames of all events of a journal.
func framesOf(t testing.TB, path string) map[uint64][]byte {
	t.Helper()
	all := map[uint64][]byte{}
	if err := store.Open(path, 0, nil).View(func(tx *store.Tx) error {
		for seq, frame := range tx.Frames() {
			all[seq] = bytes.Clone(frame)
		}
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	return all
}

// disguised is a damage that no read of a few pages can see: a page that was written
// long ago lies whole, with its number, in the place of a later one. Verify sees it.
const disguised = "with its number"

// hurt returns the file with the n-th damage: cut at each page, each page zeroed,
// then by chance.
func (o *original) hurt(n int, chance *rand.Rand) ([]byte, string) {
	out, pages := bytes.Clone(o.data), len(o.data)/o.page
	over := func(a, b int) { copy(out[a*o.page:(a+1)*o.page], o.data[b*o.page:(b+1)*o.page]) }
	switch {
	case n < pages:
		return out[:n*o.page], fmt.Sprintf("cut at page %d", n)
	case n < 2*pages:
		clear(out[(n-pages)*o.page : (n-pages+1)*o.page])
		return out, fmt.Sprintf("page %d zeroed", n-pages)
	case n == 2*pages:
		over(0, 1)
		return out, "header 1 written over header 0"
	case n == 2*pages+1:
		over(1, 0)
		return out, "header 0 written over header 1"
	}
	at := chance.IntN(len(out))
	switch chance.IntN(10) {
	case 0, 1: // the head of a page, which the store trusts most
		at = at/o.page*o.page + chance.IntN(32)
		fallthrough
	case 2, 3, 4:
		bit := byte(1) << chance.IntN(8)
		out[at] ^= bit
		return out, fmt.Sprintf("bit %#x flipped at byte %d of page %d", bit, at%o.page, at/o.page)
	case 5: // a write that did not reach the disk whole
		to := min(len(out), at+chance.IntN(600))
		clear(out[at:to])
		return out, fmt.Sprintf("bytes %d to %d zeroed", at, to)
	case 6:
		a, b := 2+chance.IntN(pages-2), 2+chance.IntN(pages-2)
		over(a, b)
		return out, fmt.Sprintf("page %d written over page %d", b, a)
	case 7:
		a, b := 2+chance.IntN(pages-2), 2+chance.IntN(pages-2)
		over(a, b)
		over(b, a)
		return out, fmt.Sprintf("pages %d and %d swapped", a, b)
	case 8:
		a, b := 2+chance.IntN(pages-2), 2+chance.IntN(pages-2)
		over(a, b)
		copy(out[a*o.page:a*o.page+8], o.data[a*o.page:])
		return out, fmt.Sprintf("page %d written over page %d %s", b, a, disguised)
	}
	text := "pages zeroed:"
	for range 2 + chance.IntN(4) {
		p := chance.IntN(pages)
		clear(out[p*o.page : (p+1)*o.page])
		text += fmt.Sprint(" ", p)
	}
	return out, text
}

// TestDamage damages a journal in every way. No call ends in a panic, hangs or
// returns a wrong list; what verify calls sound is whole; salvage saves every event
// whose bytes are intact.
func TestDamage(t *testing.T) {
	dir := t.TempDir()
	clock := time.Date(2026, 3, 9, 9, 30, 0, 0, bench)
	source := journal.At(filepath.Join(dir, "source.journal"), journal.Options{By: "Ilse Tamm", Now: func() time.Time { clock = clock.Add(time.Second); return clock }})
	busyBook(t, source, 14)
	o := toDamage(t, source)
	seed := rand.Uint64()
	chance := rand.New(rand.NewPCG(seed, 0))
	path, into := filepath.Join(dir, "hepar.journal"), filepath.Join(dir, "saved.journal")
	count := map[string]int{}
	total := 2*len(o.data)/o.page + 2 + *damages
	for n := range total {
		data, what := o.hurt(n, chance)
		what = fmt.Sprintf("seed %d: %s", seed, what)
		_ = os.Remove(path)
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		late := time.AfterFunc(time.Minute, func() { panic("hangs: " + what) })
		o.check(t, what, path, count)
		o.salvage(t, what, path, into, data, count)
		late.Stop()
		if t.Failed() {
			t.FailNow()
		}
	}
	if count["unsound"] == 0 || count["lost"] == 0 || count["saved"] == 0 {
		t.Errorf("%v: the test proves nothing", count)
	}
	t.Logf("%d damages of %d pages and %d events: %v", total, len(o.data)/o.page, len(o.frames), count)
}

// TestLostWrites undoes the writing of some pages of the last change, as a disk may
// that loses power. Every list is right or an error, and verify finds it.
func TestLostWrites(t *testing.T) {
	dir := t.TempDir()
	source := journal.At(filepath.Join(dir, "source.journal"), journal.Options{By: "Ilse Tamm", Now: func() time.Time { return time.Date(2026, 3, 9, 9, 30, 0, 0, bench) }})
	busyBook(t, source, 9)
	seed := rand.Uint64()
	chance := rand.New(rand.NewPCG(seed, 0))
	path, into := filepath.Join(dir, "hepar.journal"), filepath.Join(dir, "saved.journal")
	count := map[string]int{}
	for n := range max(6, *damages/60) {
		before := must[[]byte](t)(os.ReadFile(source.Path()))
		b := must[journal.Batch](t)(source.Get("last"))
		switch n % 6 {
		case 0:
			must[journal.Batch](t)(source.Create(tokens(), []byte(`{"schema":1}`)))
		case 1:
			must[journal.Batch](t)(source.Review(b.Number, journal.Review{Digest: b.Digest}))
		case 2:
			must[journal.Batch](t)(dipped(source, b.Number, "", "", []journal.Use{{Number: "S-1", Amount: 1, Unit: "g"}}, journal.Load{Pieces: 9}))
		case 3:
			must[journal.Batch](t)(source.Log(b.Number, journal.Result{Good: 60}, journal.LogOptions{}))
		case 4:
			must[journal.Batch](t)(source.Amend(b.Number, "order", fmt.Sprint("order ", n), "a test", ""))
		case 5:
			must[journal.Container](t)(source.ChangeContainer("S-1", "lot", fmt.Sprint("K9", n), "misread", ""))
		}
		o := readOriginal(t, source)
		before = append(before, make([]byte, max(0, len(o.data)-len(before)))...)
		var written []int
		for p := 2; p < len(o.data)/o.page; p++ {
			if !bytes.Equal(before[p*o.page:(p+1)*o.page], o.data[p*o.page:(p+1)*o.page]) {
				written = append(written, p)
			}
		}
		lost := [][]int{written}
		for _, p := range written {
			lost = append(lost, []int{p})
		}
		for range 3 {
			if some := slices.DeleteFunc(slices.Clone(written), func(int) bool { return chance.IntN(2) == 0 }); len(some) > 0 {
				lost = append(lost, some)
			}
		}
		for _, pages := range lost {
			data := bytes.Clone(o.data)
			for _, p := range pages {
				copy(data[p*o.page:(p+1)*o.page], before[p*o.page:(p+1)*o.page])
			}
			_ = os.Remove(path)
			if err := os.WriteFile(path, data, 0o600); err != nil {
				t.Fatal(err)
			}
			what := fmt.Sprintf("seed %d: a change of kind %d, of whose pages %v those %v were not written", seed, n%6, written, pages)
			found := count["unsound"]
			o.check(t, what, path, count)
			if count["unsound"] == found {
				t.Errorf("%s: verify finds nothing", what)
			}
			o.salvage(t, what, path, into, data, count)
			if t.Failed() {
				t.FailNow()
			}
		}
	}
	t.Log(count)
}

// check compares what is read of a damaged file with the original.
func (o *original) check(t *testing.T, what, path string, count map[string]int) {
	t.Helper()
	j := journal.At(path, journal.Options{Wait: -1, Now: func() time.Time { return time.Date(2026, 3, 10, 9, 0, 0, 0, bench) }})
	report, err := j.Verify()
	sound := err == nil && report.Sound()
	if !sound {
		count["unsound"]++
	}
	compare := func(call, got, want string, err error) {
		if err == nil && got != want && !sound && strings.Contains(what, disguised) {
			count["only verify sees it"]++
		} else if err == nil && got != want {
			t.Errorf("%s: %s is wrong, without an error (verify: %v)", what, call, report.Findings)
		}
		if err != nil && (sound || fault.CureOf(err) == "") {
			t.Errorf("%s: %s: %v; verify says sound: %v", what, call, err, sound)
		}
		if err != nil {
			count["refused"]++
		}
	}
	for i, f := range filters {
		got, err := listed(j, f)
		compare(fmt.Sprintf("the list of %+v", f), got, o.lists[i], err)
	}
	b, err := j.Get(o.number)
	compare("get", jsonOf(b), o.get, err)
	all, err := j.ListContainers(journal.ContainerFilter{Empty: true})
	compare("the shelf", jsonOf(all), o.shelf, err)
}

// salvage salvages a damaged file and compares what is saved with the original.
func (o *original) salvage(t *testing.T, what, path, into string, data []byte, count map[string]int) {
	t.Helper()
	intact := map[uint64][]byte{}
	for seq, frame := range o.frames {
		if bytes.Contains(data, frame) {
			intact[seq] = frame
		}
	}
	_ = os.Remove(into)
	report, err := journal.At(path, journal.Options{Wait: -1}).Salvage(into)
	if err != nil {
		if len(intact) > 0 || fault.KindOf(err) != fault.Damaged || fault.CureOf(err) == "" {
			t.Errorf("%s: salvage: %v, with %d events intact", what, err, len(intact))
		}
		count["nothing left"]++
		return
	}
	if !report.Verified.Sound() {
		t.Errorf("%s: the salvaged journal is not sound: %v", what, report.Verified.Findings)
	}
	saved := map[string]bool{}
	for _, frame := range framesOf(t, into) {
		saved[string(bodyOf(t, frame))] = true
	}
	for seq, frame := range intact {
		if !saved[string(bodyOf(t, frame))] {
			t.Errorf("%s: event %d is intact and was not saved", what, seq)
		}
	}
	if report.Events != len(intact) {
		t.Errorf("%s: %d events saved, and %d are intact", what, report.Events, len(intact))
	}
	count["saved"] += len(intact)
	count["lost"] += len(o.frames) - len(intact)
	if lost := len(o.frames) - len(intact); int(report.LostEvents) != lost && !report.TailLost {
		t.Errorf("%s: salvage counts %d lost events of %d", what, report.LostEvents, lost)
	}
	if got, err := everything(journal.At(into, journal.Options{})); report.Whole() && (err != nil || got != o.text) {
		t.Errorf("%s: salvage says that nothing is lost, and something is: %v, %s", what, err, difference(got, o.text))
	} else if err != nil {
		t.Errorf("%s: the salvaged journal cannot be read: %v", what, err)
	}
	if !report.Whole() && len(report.Verified.Missing) == 0 {
		t.Errorf("%s: the salvaged journal does not say what it lacks: %+v", what, report)
	}
}

// difference returns where two texts part.
func difference(got, want string) string {
	at := 0
	for at < min(len(got), len(want)) && got[at] == want[at] {
		at++
	}
	from := max(0, at-100)
	return fmt.Sprintf("got %q, want %q", got[from:min(len(got), at+100)], want[from:min(len(want), at+100)])
}

// bodyOf returns the stored form of an event.
func bodyOf(t testing.TB, frame []byte) []byte {
	t.Helper()
	var link store.Link
	found, err := store.Unframe(frame)
	if err == nil {
		err = record.Unmarshal(found.Body, &link)
	}
	if err != nil {
		t.Fatal(err)
	}
	return link.Body
}
