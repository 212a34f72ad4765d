package check

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"hash/maphash"
	"math"
	"slices"
	"strconv"
	"strings"

	"hepar/journal/internal/record"
	"hepar/journal/internal/store"
	"hepar/recipe/fault"
)

// copyFrom is the size in bytes from which Verify reads a copy, so that nobody
// waits for it: a smaller journal is read in a second.
const copyFrom = 64 << 20

// watchEvery is how many events are read before the watcher is told again.
const watchEvery = 1000

// Verify reads the whole journal and returns what is wrong with it in the report.
// An error means that it could not look: there is no file, or somebody holds it.
// Writers wait meanwhile, unless the journal is large. Watch is told from time to
// time how many events were read; it may be nil.
func Verify(f *store.File, watch func(events int)) (Report, error) {
	report := Report{Path: f.Path, Findings: []Finding{}, Missing: []Finding{}, Newer: []Finding{}}
	file, err := f.Hold(false)
	if err != nil {
		return report, err
	}
	info, err := file.Stat()
	if err != nil {
		file.Close()
		return report, f.Explain(err)
	}
	report.Bytes = info.Size()
	read := f
	if report.Bytes > copyFrom && f.Called == "" {
		if copied, err := store.Beside(f.Path, file); err == nil { // else there is no room: the file itself is read
			defer copied.Drop()
			copied.Called, copied.Now, read = f.Path, f.Now, copied
		}
	}
	file.Close()
	found, err := read.Inspect(mostListed, func(tx *store.Tx) error {
		return (&verifier{tx: tx, Report: &report, watch: watch, seed: maphash.MakeSeed(), taken: map[record.ID]uint64{}}).run()
	})
	for _, what := range found {
		report.add("pages", "%s", what)
	}
	if fault.KindOf(err) == fault.Damaged { // what stopped the reading is a finding like the others
		report.add("file", "%v", reasonOf(err))
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
	keys   uint64               // sum of the keys that should be in the index
	taken  map[record.ID]uint64 // by container: sum of what batches took, less what was booked off
}

func (v *verifier) run() error {
	events, digest := v.tx.Head()
	v.events, v.listed = events, make([]uint64, min(events, 1<<32)/64+1)
	v.Format, v.ID, v.Events, v.Head = v.tx.About.Format, v.tx.About.Journal.String(), int(events), hex.EncodeToString(digest)
	if events > 1<<32 {
		v.add("head", "it counts %d events", events)
		return nil
	}
	v.chain(digest)
	v.Batches, v.Containers = v.lists(false), v.lists(true)
	v.unlisted()
	v.index()
	v.bookings()
	v.texts()
	return nil
}

// wrong adds a finding or, in a journal from which events were lost, something missing.
func (v *verifier) wrong(where, format string, args ...any) {
	if v.tx.Salvaging() {
		list(&v.Missing, &v.MoreMissing, where, format, args...)
	} else {
		v.add(where, format, args...)
	}
}

// chain checks that every event is there, whole, and names the one before.
func (v *verifier) chain(last []byte) {
	next, digest := uint64(1), v.tx.ChainStart()
	missing := func(to uint64) {
		if next <= to {
			v.add("chain", "%s", span(next, to)+" missing")
			digest = nil
		}
	}
	for seq, frame := range v.tx.Frames() {
		if seq < next || seq > v.events {
			v.add("chain", "there is an event %d, and the head counts %d", seq, v.events)
			continue
		}
		missing(seq - 1)
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
	missing(v.events)
	if digest != nil && !bytes.Equal(digest, last) {
		v.add("chain", "the head does not name the last event")
	}
}

func span(from, to uint64) string {
	if from == to {
		return "event " + strconv.FormatUint(from, 10) + " is"
	}
	return "events " + strconv.FormatUint(from, 10) + " to " + strconv.FormatUint(to, 10) + " are"
}

// lists replays every batch or container from its events, and returns how many
// there are.
func (v *verifier) lists(stock bool) (count int) {
	what := "batch "
	if stock {
		what = "container "
	}
	for id, places := range v.tx.Lists(stock) {
		count++
		where := what + id.String()
		events, whole := v.eventsOf(where, places)
		switch {
		case !whole:
			v.broken = true
		case stock:
			v.container(where, id, events)
		default:
			v.batch(where, id, events)
		}
	}
	return count
}

func (v *verifier) eventsOf(where string, places store.Places) (events []*record.Event, whole bool) {
	if places.Err != nil {
		v.add(where, "%v", places.Err)
		return nil, false
	}
	whole = true
	for _, seq := range places.Seqs {
		if seq == 0 || seq > v.events || v.listed[seq/64]&(1<<(seq%64)) != 0 {
			v.add(where, "event %d does not exist or stands in two lists", seq)
			whole = false
			continue
		}
		v.listed[seq/64] |= 1 << (seq % 64)
		if e, err := v.event(seq); err != nil {
			v.add(where, "%v", err)
			whole = false
		} else {
			events = append(events, e)
		}
	}
	return events, whole
}

func (v *verifier) event(seq uint64) (*record.Event, error) {
	if v.read++; v.watch != nil && v.read%watchEvery == 0 {
		v.watch(v.read)
	}
	return v.tx.Event(seq)
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

func (v *verifier) batch(where string, id record.ID, events []*record.Event) {
	b := record.Replay(id, events)
	v.checked(where, b.Events, b.Newer)
	if err := b.Fits(); err != nil && (len(b.Newer) == 0 || len(b.Faults) > 0) {
		v.wrong(where, "%v", err)
	}
	v.number(where, b.Number)
	v.expect(id, store.KeysOf(b))
	for _, e := range b.Events {
		for _, u := range e.Uses {
			v.taken[u.Container] += v.use(id, u)
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

func (v *verifier) container(where string, id record.ID, events []*record.Event) {
	c := record.ReplayContainer(id, events)
	v.checked(where, c.Events, c.Newer)
	for _, what := range c.Faults {
		v.wrong(where, "%s", what)
	}
	if len(c.Faults) == 0 && len(c.Newer) == 0 {
		if err := c.Check(); err != nil {
			v.wrong(where, "%v", err)
		}
	}
	v.number(where, c.Number)
	v.expect(id, store.KeysOfContainer(c))
	for _, e := range c.Events {
		if e.Kind != record.StockUsed || !v.tx.Has(e.For) {
			continue
		}
		for _, u := range e.Uses {
			v.taken[id] -= v.use(e.For, u)
		}
	}
}

// number checks that a number will not be given out again.
func (v *verifier) number(where, number string) {
	of, rest, _ := strings.Cut(number, "-")
	if n, err := strconv.ParseUint(rest, 10, 64); err == nil && n > v.tx.Numbers()[of] {
		v.add(where, "its number %s may be given out again", number)
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
		if v.listed[seq/64]&(1<<(seq%64)) != 0 {
			continue
		}
		where := "event " + strconv.FormatUint(seq, 10)
		e, err := v.event(seq)
		switch {
		case err != nil: // the chain has told of it
		case !e.Of.IsZero():
			if !v.broken {
				v.add(where, "it stands in no list of a batch or a container")
			}
		case e.Kind != record.TakenOver && e.Kind != record.Salvaged:
			v.newer(where, "an event of the kind %q", e.Kind)
		default:
			v.checked(where, []*record.Event{e}, nil)
			if e.Source != nil && e.Source.Lost > 0 {
				list(&v.Missing, &v.MoreMissing, where, "%d events could not be salvaged", e.Source.Lost)
			}
			if e.Source != nil && e.Source.Tail {
				list(&v.Missing, &v.MoreMissing, where, "later events may have been lost as well")
			}
		}
	}
}

func (v *verifier) key(k record.Key, id record.ID) uint64 {
	text := append([]byte{byte(k.Tag)}, id[:]...)
	return maphash.Bytes(v.seed, append(text, k.Value...))
}

func (v *verifier) expect(id record.ID, keys []record.Key) {
	for _, k := range keys {
		v.keys += v.key(k, id)
	}
}

// index compares the keys of the index with those that follow from the batches.
func (v *verifier) index() {
	sum, whole := uint64(0), true
	v.tx.Keys(func(k record.Key, id record.ID, err error) bool {
		if whole = err == nil; !whole {
			v.add("index", "%v", err)
		}
		sum += v.key(k, id)
		return whole
	})
	if whole && sum != v.keys && !v.broken {
		v.compareKeys()
	}
}

// compareKeys finds the keys that are missing or too many. It is only called where
// there are some.
func (v *verifier) compareKeys() {
	keysOf := func(id record.ID, stock bool) []record.Key {
		events, err := v.tx.EventsOf(id, stock)
		switch {
		case err != nil || len(events) == 0:
			return nil
		case stock:
			return store.KeysOfContainer(record.ReplayContainer(id, events))
		}
		return store.KeysOf(record.Replay(id, events))
	}
	for _, stock := range []bool{false, true} {
		for id := range v.tx.Lists(stock) {
			for _, k := range keysOf(id, stock) {
				if !v.tx.Marked(k, id) {
					v.add("index", "%s is not found under %q (%c)", id, k.Value, k.Tag)
				}
			}
		}
	}
	v.tx.Keys(func(k record.Key, id record.ID, _ error) bool {
		if !slices.Contains(append(keysOf(id, false), keysOf(id, true)...), k) {
			v.add("index", "%s is found under %q (%c) and should not be", id, k.Value, k.Tag)
		}
		return true
	})
}

// texts checks that each recipe and sheet is the one that its digest names.
func (v *verifier) texts() {
	for sum := range v.tx.Blobs {
		if _, err := v.tx.Blob(sum); err != nil {
			v.add("text "+hex.EncodeToString(sum[:min(4, len(sum))]), "%v", err)
		}
	}
}
