package check

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"errors"
	"fmt"
	"hash/maphash"
	"math"
	"os"
	"strconv"
	"strings"

	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// mostListed is how many entries a list of a report has; the rest are only counted.
const mostListed = 200

// Finding is one thing that is wrong with a journal, or lost of it.
type Finding struct {
	Where string `json:"where"` // the pages, an event, a batch
	What  string `json:"what"`
}

// Content says what a journal holds.
type Content struct {
	ID      string `json:"id"` // of the journal
	Events  int    `json:"events"`
	Batches int    `json:"batches"`
	Head    string `json:"head"` // SHA-256 of the last event: whoever noted it can tell later that nothing before it was changed
}

// Report is what Verify found.
type Report struct {
	Path   string `json:"path"`
	Format int    `json:"format"`
	Content
	Bytes      int64     `json:"bytes"` // size of the file
	Containers int       `json:"containers"`
	Findings   []Finding `json:"findings"`
	More       int       `json:"more"` // findings beyond those listed

	Missing     []Finding `json:"missing"` // what was lost before the journal was salvaged: no fault of this file
	MoreMissing int       `json:"more_missing"`
	Newer       []Finding `json:"newer"` // what a newer hepar wrote and this one does not understand
	MoreNewer   int       `json:"more_newer"`
}

// Sound says that nothing is wrong.
func (r Report) Sound() bool { return len(r.Findings) == 0 }

// Err returns nil for a sound journal, and else a fault of kind Damaged.
func (r Report) Err() error {
	if r.Sound() {
		return nil
	}
	f := r.Findings[0]
	return fault.Damagedf("the journal %s is not sound: %s: %s (%d findings)", r.Path, f.Where, f.What, len(r.Findings)+r.More).
		Try("write nothing more to it: copy the file, then restore the last backup or run 'hepar journal salvage'")
}

func (r *Report) add(where, format string, args ...any) {
	list(&r.Findings, &r.More, where, format, args...)
}

func (r *Report) missing(where, format string, args ...any) {
	list(&r.Missing, &r.MoreMissing, where, format, args...)
}

func (r *Report) newer(where, format string, args ...any) {
	list(&r.Newer, &r.MoreNewer, where, format, args...)
}

// list adds an entry to a list that has an end. What comes from a file is cleaned.
func list(to *[]Finding, more *int, where, format string, args ...any) {
	if len(*to) == mostListed {
		*more++
		return
	}
	*to = append(*to, Finding{Where: measure.Clean(where), What: measure.Clean(fmt.Sprintf(format, args...))})
}

// watchEvery is how many events are read before the watcher is told again.
const watchEvery = 1000

// Verify reads the whole journal and returns what is wrong with it in the report.
// An error means that it could not look: there is no file, or somebody holds it.
// Writers wait meanwhile. Watch is told from time to time how many events were read;
// it may be nil.
func Verify(f *store.File, watch func(events int)) (Report, error) {
	report := Report{Path: f.Path, Findings: []Finding{}, Missing: []Finding{}, Newer: []Finding{}}
	info, err := os.Stat(f.Path)
	if err != nil {
		return report, f.Explain(err)
	}
	report.Bytes = info.Size()
	err = f.View(func(tx *store.Tx) error {
		(&verifier{tx: tx, Report: &report, watch: watch, seed: maphash.MakeSeed(), taken: map[record.ID]uint64{}}).run()
		return nil
	})
	if fault.KindOf(err) == fault.Damaged { // what stopped the reading is a finding like the others
		report.add("file", "%v", cmp.Or(errors.Unwrap(err), err)) // without the sentence that names the file
		err = nil
	}
	return report, err
}

// verifier checks the content of a journal whose pages are sound.
type verifier struct {
	tx *store.Tx
	*Report
	watch func(int)
	read  int // events

	events uint64
	listed []uint64             // a bit for each event that stands in a list
	broken bool                 // a list could not be read: what follows from it is not known
	seed   maphash.Seed         // of the sums: two sets of the same sum are the same
	keys   uint64               // sum of the keys that should be in the index, less those that are
	taken  map[record.ID]uint64 // by container: sum of what batches took, less what was booked off
}

func (v *verifier) run() {
	events, digest := v.tx.Head()
	v.events, v.listed = events, make([]uint64, min(events, 1<<32)/64+1)
	v.Format, v.ID, v.Events, v.Head = v.tx.About.Format, v.tx.About.Journal.String(), int(events), hex.EncodeToString(digest)
	if events > 1<<32 {
		v.add("head", "it counts %d events", events)
		return
	}
	v.chain(digest)
	v.Batches, v.Containers = v.lists(false), v.lists(true)
	v.unlisted()
	v.index()
	v.bookings()
	v.texts()
}

// wrong adds a finding or, in a journal from which events were lost, something missing.
func (v *verifier) wrong(where, format string, args ...any) {
	if v.tx.Salvaging() {
		v.missing(where, format, args...)
	} else {
		v.add(where, format, args...)
	}
}

// chain checks that every event is there, whole, and names the one before.
func (v *verifier) chain(last []byte) {
	next, digest := uint64(1), v.tx.About.ChainStart()
	gap := func(to uint64) {
		if next == to {
			v.add("chain", "event %d is missing", next)
		} else if next < to {
			v.add("chain", "events %d to %d are missing", next, to)
		}
		if next <= to {
			digest = nil
		}
	}
	for seq, frame := range v.tx.Frames() {
		if seq < next || seq > v.events {
			v.add("chain", "there is an event %d, and the head counts %d", seq, v.events)
			continue
		}
		gap(seq - 1)
		next = seq + 1
		link, err := store.LinkOf(seq, frame)
		if err != nil {
			v.add("chain", "%v", err)
			digest = nil
			continue
		}
		if digest != nil && !bytes.Equal(link.Prev, digest) {
			v.add("chain", "event %d does not follow from the event before", seq)
		}
		sum := sha256.Sum256(frame)
		digest = sum[:]
	}
	gap(v.events)
	if digest != nil && !bytes.Equal(digest, last) {
		v.add("chain", "the head does not name the last event")
	}
}

// lists replays every batch or container from its events, and returns how many
// there are.
func (v *verifier) lists(stock bool) (count int) {
	what := "batch "
	if stock {
		what = "container "
	}
	hurt := func(where string, err error) {
		if err != nil {
			v.add(where, "%v", err)
			v.broken = true
		}
	}
	hurt(what+"list", store.Try(func() {
		for id := range v.tx.Listed(stock) {
			count++
			where := what + id.String()
			hurt(where, store.Try(func() {
				events := v.tx.EventsOf(id, stock)
				store.Must(v.tick(events))
				v.replayed(where, id, events, stock)
			}))
		}
	}))
	return count
}

// tick ticks events off, of which each stands in one list.
func (v *verifier) tick(events []*record.Event) error {
	for _, e := range events {
		if v.ticked(e.Seq) {
			return fmt.Errorf("event %d stands in two lists", e.Seq)
		}
		v.listed[e.Seq/64] |= 1 << (e.Seq % 64)
		if v.read++; v.watch != nil && v.read%watchEvery == 0 {
			v.watch(v.read)
		}
	}
	return nil
}

func (v *verifier) ticked(seq uint64) bool { return v.listed[seq/64]&(1<<(seq%64)) != 0 }

func (v *verifier) replayed(where string, id record.ID, events []*record.Event, stock bool) {
	r := record.ReplayAs(id, events, stock)
	past := r.Past()
	v.checked(where, events, past.Newer)
	if err := r.Fits(); err != nil && (len(past.Newer) == 0 || len(past.Faults) > 0) {
		v.wrong(where, "%v", err)
	}
	year, rest, _ := strings.Cut(r.Short(), "-")
	if n, err := strconv.ParseUint(rest, 10, 64); err == nil && n > v.tx.Numbers()[year] {
		v.add(where, "its number %s may be given out again", r.Short())
	}
	for _, k := range r.Keys() {
		v.keys += v.key(k, id)
	}
	for _, e := range events {
		for _, u := range e.Uses {
			if !stock {
				v.taken[u.Container] += v.use(id, u)
			} else if e.Kind == record.StockUsed && v.tx.Has(e.For) {
				v.taken[id] -= v.use(e.For, u)
			}
		}
		if e.Plan == nil {
			continue
		}
		for what, sum := range map[string]record.Digest{"text of its recipe": e.Plan.TextSHA, "sheet": e.Plan.SheetSHA} {
			if len(sum) > 0 && !v.tx.HasBlob(sum) {
				v.wrong(where, "the %s is missing", what)
			}
		}
	}
}

// checked checks events one by one. A newer hepar may have had other limits.
func (v *verifier) checked(where string, events []*record.Event, newer []string) {
	for i, e := range events {
		if err := e.Check(); err != nil && len(newer) == 0 {
			v.add(where, "event %d: %v", e.Seq, err)
		} else if err != nil {
			v.newer(where, "event %d: %v", e.Seq, err)
		}
		if i > 0 && events[i-1].ID == e.ID {
			v.add(where, "two events have the id %s", e.ID)
		}
	}
	for _, what := range newer {
		v.newer(where, "%s", what)
	}
}

// use returns the sum of an amount that a batch took.
func (v *verifier) use(batch record.ID, u record.Use) uint64 {
	text := binary.BigEndian.AppendUint64(batch.Bytes(), math.Float64bits(u.Amount))
	return maphash.Bytes(v.seed, append(text, u.Unit...))
}

// bookings checks that what batches say they took off this shelf was booked off,
// and the other way round.
func (v *verifier) bookings() {
	for id, left := range v.taken {
		if left != 0 && !v.broken && v.tx.HasContainer(id) {
			v.wrong("container "+id.String(), "what was booked off it is not what batches took from it")
		}
	}
}

// unlisted looks at the events that stand in no list: those of the journal.
func (v *verifier) unlisted() {
	for seq := uint64(1); seq <= v.events; seq++ {
		if v.ticked(seq) {
			continue
		}
		where := "event " + strconv.FormatUint(seq, 10)
		var e *record.Event
		_ = store.Try(func() { e = v.tx.Event(seq) })
		switch {
		case e == nil: // the chain has told of it
		case !e.Of.IsZero():
			if !v.broken {
				v.add(where, "it stands in no list of a batch or a container")
			}
		case e.Kind != record.TakenOver && e.Kind != record.Salvaged:
			v.newer(where, "an event of the kind %q", e.Kind)
		default:
			v.checked(where, []*record.Event{e}, nil)
			if e.Source != nil && e.Source.Lost > 0 {
				v.missing(where, "%d events could not be salvaged", e.Source.Lost)
			}
			if e.Source != nil && e.Source.Tail {
				v.missing(where, "later events may have been lost as well")
			}
		}
	}
}

func (v *verifier) key(k record.Key, id record.ID) uint64 {
	text := append([]byte{byte(k.Tag)}, id[:]...)
	return maphash.Bytes(v.seed, append(text, k.Value...))
}

// index compares the keys of the index with those that follow from the batches and
// containers.
func (v *verifier) index() {
	err := store.Try(func() {
		for e := range v.tx.Keys() {
			v.keys -= v.key(e.Key, e.ID)
		}
	})
	if err != nil {
		v.add("index", "%v", err)
	} else if v.keys != 0 && !v.broken {
		v.add("index", "its keys are not those that follow from the batches and containers")
	}
}

// texts checks that each recipe and sheet is the one that its digest names.
func (v *verifier) texts() {
	for sum := range v.tx.Blobs {
		if err := store.Try(func() { v.tx.Blob(sum) }); err != nil {
			v.add("text "+hex.EncodeToString(sum[:min(4, len(sum))]), "%v", err)
		}
	}
}
