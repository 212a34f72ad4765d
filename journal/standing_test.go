package journal

import (
	"bytes"
	"math"
	"path/filepath"
	"reflect"
	"slices"
	"testing"

	bolt "go.etcd.io/bbolt"
	"pgregory.net/rapid"
)

func drawStamp(t *rapid.T, name string) stamp {
	return stampAt(rapid.Int64Range(32e9, 7e12).Draw(t, name), rapid.IntRange(-900, 900).Draw(t, name+" offset"))
}

func drawID(t *rapid.T, name string, ms int64) id {
	i := boundary(uint64(ms), 0)
	copy(i[6:], rapid.SliceOfN(rapid.Byte(), 10, 10).Draw(t, name))
	return i
}

// How a batch stands is read as it was written, and no single flipped bit gets by.
func TestStanding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		created := drawStamp(t, "created")
		b := batchRecord{
			ID:    drawID(t, "id", created.millis()+rapid.Int64Range(0, 1e9).Draw(t, "earlier")),
			State: rapid.SampledFrom(States()).Draw(t, "state"), Twin: rapid.Bool().Draw(t, "twin"),
			Plan: planRecord{
				Number: rapid.SampledFrom([]string{"2026-001", "1999-1000", "2200-99999999"}).Draw(t, "number"), Created: created,
				Recipe: rapid.SliceOfN(rapid.Byte(), 8, 8).Draw(t, "recipe"), Alloy: rapid.StringN(0, 90, 200).Draw(t, "alloy"),
				Pieces: rapid.IntRange(0, maxPieces).Draw(t, "pieces"), Spares: rapid.IntRange(0, 300).Draw(t, "spares"),
			},
			Events: rapid.SliceOfN(rapid.Uint64Range(1, math.MaxInt64), 1, 5).Draw(t, "events"),
		}
		if rapid.Bool().Draw(t, "with result") {
			figure := func(name string) *float64 {
				if !rapid.Bool().Draw(t, "with "+name) {
					return nil
				}
				x := rapid.OneOf(rapid.Float64Range(-1e6, 1e6), rapid.Map(rapid.IntRange(-5000, 90000), func(n int) float64 { return float64(n) / 100 })).Draw(t, name)
				return &x
			}
			b.Result = &resultRecord{Good: 3, Rework: rapid.IntRange(0, 9).Draw(t, "rework"), Celsius: figure("celsius"), Seconds: figure("seconds"), At: drawStamp(t, "at")}
			if n := rapid.IntRange(0, 3).Draw(t, "causes"); n > 0 {
				b.Result.Causes = rapid.MapOfN(rapid.StringN(1, 30, 90), rapid.IntRange(1, 300), n, n).Draw(t, "cause")
			}
		}
		if rapid.Bool().Draw(t, "with sheet") {
			b.Plan.Sheet = []byte("12345678")
		}
		record := b.sealStanding()
		got, err := decodeBatch(b.ID, record)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(*got, b) {
			t.Fatalf("got %+v\nwant %+v", *got, b)
		}
		var generic map[int]any // it is CBOR as any reader takes it
		if err := decoder().Unmarshal(record[1:len(record)-checksumSize], &generic); err != nil {
			t.Fatal(err)
		}
		other := b.ID
		other[15]++
		if _, err := decodeBatch(other, record); err == nil {
			t.Fatal("it was read under another id")
		}
		at := rapid.IntRange(0, len(record)*8-1).Draw(t, "bit")
		record[at/8] ^= 1 << (at % 8)
		if _, err := decodeBatch(b.ID, record); err == nil {
			t.Fatalf("bit %d flipped was not seen", at)
		}
	})
}

// What an event leaves out follows from the rest.
func TestLeanEvent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		times := []stamp{drawStamp(t, "clock"), drawStamp(t, "time"), drawStamp(t, "other")}
		when := func(name string) stamp { return rapid.SampledFrom(times).Draw(t, name) }
		who := func(name string) string { return rapid.SampledFrom([]string{"", "Ilka", "Tomas"}).Draw(t, name) }
		e := &eventRecord{
			Seq: rapid.Uint64().Draw(t, "seq"), ID: drawID(t, "id", times[rapid.IntRange(0, 1).Draw(t, "ms")].millis()),
			Kind: rapid.SampledFrom(kinds()).Draw(t, "kind"), At: when("at"), By: who("by"), Reason: who("reason"),
		}
		if !ofNone(e.Kind) {
			e.Batch = rapid.SampledFrom([]id{e.ID, drawID(t, "batch", 5e11)}).Draw(t, "which")
		}
		if w := when("written"); w != e.At {
			e.Written = &w
		}
		switch rapid.IntRange(0, 3).Draw(t, "part") {
		case 1:
			e.Plan = &planRecord{Number: "2026-001", Created: when("created"), Recipe: []byte{1}, Pieces: 3, By: who("plan by")}
		case 2:
			e.Review = &reviewRecord{By: who("review by"), At: when("review at"), Digest: rapid.SampledFrom([]string{
				"", "sha256:6c1f", "sha256:27387c5c880453365714f59a0ee832520ba94701cd1e5abc40cf702290048299",
				"sha256:27387C5c880453365714f59a0ee832520ba94701cd1e5abc40cf702290048299",
			}).Draw(t, "digest")}
		case 3:
			e.Result = &resultRecord{Good: 1, At: when("result at")}
		}
		before := *e
		record, err := e.seal()
		if err != nil {
			t.Fatal(err)
		}
		if !quickEvent(record[1:len(record)-checksumSize], &eventRecord{}, nil) {
			t.Fatal("it was not read by hand")
		}
		got, err := decodeEvent(e.Seq, record)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(*got, before) || !reflect.DeepEqual(*e, before) {
			t.Fatalf("got %+v\nwant %+v", *got, before)
		}
		if _, err := decodeEvent(e.Seq+1, record); err == nil {
			t.Fatal("it was read in the place of another")
		}
	})
}

// The runs of the index hold what was put in and not taken out, in order, however
// it came.
func TestRuns(t *testing.T) {
	dir := t.TempDir()
	rapid.Check(t, func(t *rapid.T) {
		db, err := bolt.Open(filepath.Join(dir, rapid.StringMatching(`[a-z]{12}`).Draw(t, "name")), 0o600, &bolt.Options{NoSync: true})
		if err != nil {
			t.Fatal(err)
		}
		defer db.Close()
		model := map[string][]id{"ra\x00": nil, "ra b\x00": nil, "rb\x00": nil}
		prefixes := []string{"ra\x00", "ra b\x00", "rb\x00"}
		err = db.Update(func(tx *bolt.Tx) error {
			bucket, err := tx.CreateBucket([]byte("index"))
			if err != nil {
				return err
			}
			b := &shelf{bolt: bucket}
			order := rapid.SampledFrom([]string{"rising", "falling", "any"}).Draw(t, "order")
			for n := range rapid.IntRange(1, 400).Draw(t, "steps") {
				p := rapid.SampledFrom(prefixes).Draw(t, "prefix")
				v := map[string]int{"rising": n, "falling": 1000 - n, "any": rapid.IntRange(0, 200).Draw(t, "v")}[order]
				i := boundary(uint64(v), 7)
				at, there := slices.BinarySearchFunc(model[p], i, id.compare)
				key := append([]byte(p), i[:]...)
				if rapid.IntRange(0, 5).Draw(t, "drop") == 0 {
					if len(model[p]) > 0 {
						i = rapid.SampledFrom(model[p]).Draw(t, "which")
						at, _ = slices.BinarySearchFunc(model[p], i, id.compare)
						model[p] = slices.Delete(slices.Clone(model[p]), at, at+1)
					}
					if err := dropIndexed(b, append([]byte(p), i[:]...)); err != nil {
						return err
					}
					continue
				}
				if !there {
					model[p] = slices.Insert(slices.Clone(model[p]), at, i)
				}
				if err := putIndexed(b, key); err != nil {
					return err
				}
			}
			for _, p := range prefixes {
				for _, down := range []bool{false, true} {
					from := boundary(uint64(rapid.IntRange(0, 1100).Draw(t, "from")), byte(rapid.IntRange(6, 8).Draw(t, "rest")))
					var want, got []id
					for _, i := range model[p] {
						if c := i.compare(from); c == 0 || down == (c < 0) {
							want = append(want, i)
						}
					}
					if down {
						slices.Reverse(want)
					}
					c := &runCursor{cursor: b.Cursor(), prefix: []byte(p)}
					i, ok, err := c.seek(from, down)
					for ; ok && err == nil; i, ok, err = c.step(down) {
						got = append(got, i)
					}
					if err != nil || !slices.Equal(got, want) {
						t.Fatalf("%q from %s, down %v: got %v, %v, want %v", p, from, down, got, err, want)
					}
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	})
}

// Whatever stands in the file, reading gives a record or an error.
func FuzzDecode(f *testing.F) {
	e := &eventRecord{Seq: 1, Kind: Created, Plan: &planRecord{Number: "2026-001"}, At: stampAt(1e12, 60)}
	record, err := e.seal()
	if err != nil {
		f.Fatal(err)
	}
	f.Add(record[1 : len(record)-checksumSize])
	c := 71.5
	b := batchRecord{Plan: e.Plan.clone(), Events: []uint64{1, 2}, Result: &resultRecord{Causes: map[string]int{"patchy": 1}, Celsius: &c}}
	record = b.sealStanding()
	f.Add(record[1 : len(record)-checksumSize])
	f.Fuzz(func(t *testing.T, body []byte) {
		_, _ = decodeEvent(1, sealUnder(seqKey(1), body))
		var quick, slow eventRecord
		if quickEvent(body, &quick, nil) { // what is read by hand is what the library reads
			if err := decoder().Unmarshal(body, &slow); err != nil || !reflect.DeepEqual(quick, slow) && !notANumber(quick) {
				t.Fatalf("by hand\n%+v\nand by the library %v\n%+v", quick, err, slow)
			}
		}
		var i id
		if b, err := decodeBatch(i, sealUnder(i[:], body)); err == nil {
			var s standing
			if err := decodeStanding(i, b.sealStanding(), &s); err != nil {
				t.Fatalf("what was read cannot be read again: %v", err)
			}
		}
	})
}

func notANumber(e eventRecord) bool {
	for _, x := range []*float64{e.Result.Celsius, e.Result.Seconds} {
		if x != nil && math.IsNaN(*x) {
			return true
		}
	}
	return false
}

func (p *planRecord) clone() planRecord { p2 := *p; p2.Recipe = bytes.Clone(p.Recipe); return p2 }
