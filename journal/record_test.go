package journal

import (
	"bytes"
	"errors"
	"slices"
	"testing"
	"time"

	"github.com/oklog/ulid/v2"
	"pgregory.net/rapid"
)

func drawRecord(t *rapid.T) batchRecord {
	text := rapid.StringN(0, 20, 60)
	b := batchRecord{
		State: rapid.SampledFrom(States()).Draw(t, "state"),
		Plan: planRecord{
			Number: text.Draw(t, "number"), Created: stamp{Nanos: rapid.Int64().Draw(t, "nanos"), Offset: rapid.IntRange(-900, 900).Draw(t, "offset")},
			Recipe: rapid.SliceOfN(rapid.Byte(), 32, 32).Draw(t, "recipe"), Alloy: text.Draw(t, "alloy"), Pieces: rapid.Int().Draw(t, "pieces"),
		},
		Events: rapid.SliceOfN(rapid.Uint64(), 1, 5).Draw(t, "events"),
	}
	copy(b.ID[:], rapid.SliceOfN(rapid.Byte(), 16, 16).Draw(t, "id"))
	if rapid.Bool().Draw(t, "with result") {
		c := rapid.Float64().Draw(t, "celsius")
		b.Result = &resultRecord{Good: 1, Celsius: &c, Causes: rapid.MapOfN(text, rapid.Int(), 1, 4).Draw(t, "causes")}
	}
	return b
}

// A record is read as it was written, always with the same bytes, and no single
// flipped bit gets past the checksum.
func TestRecord(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawRecord(t)
		record, err := seal(b)
		if err != nil {
			t.Fatal(err)
		}
		var again batchRecord
		if err := unseal(record, &again); err != nil {
			t.Fatal(err)
		}
		if second, err := seal(again); err != nil || !bytes.Equal(record, second) {
			t.Fatalf("%+v became %+v", b, again)
		}
		at := rapid.IntRange(0, len(record)*8-1).Draw(t, "bit")
		record[at/8] ^= 1 << (at % 8)
		if err := unseal(record, &again); !errors.Is(err, errChecksum) {
			t.Fatalf("bit %d flipped: got %v", at, err)
		}
	})
}

func TestRecordsThatAreNone(t *testing.T) {
	sealed, err := seal(headRecord{Seq: 3})
	if err != nil {
		t.Fatal(err)
	}
	newer := slices.Clone(sealed[:len(sealed)-checksumSize])
	newer[0] = recordVersion + 1
	unknown, err := seal(map[int]int{1: 3, 99: 1})
	if err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		record []byte
		want   error
	}{
		"nothing":     {nil, errShort},
		"a byte":      {[]byte{recordVersion}, errShort},
		"cut":         {sealed[:len(sealed)-1], errChecksum},
		"newer":       {withChecksum(newer), errNewer},
		"unknown key": {unknown, nil},
	} {
		var head headRecord
		if err := unseal(c.record, &head); err == nil || c.want != nil && !errors.Is(err, c.want) {
			t.Errorf("%s: got %v, want %v", name, err, c.want)
		}
	}
}

// Ids rise even where the clock stands or goes back, and past the end of what
// chance can count within a millisecond.
func TestIDsRise(t *testing.T) {
	at := time.UnixMilli(1_767_225_600_000)
	last := idAt(at)
	for i := 6; i < len(last); i++ {
		last[i] = 0xff
	}
	last[15] = 0
	var seen []id
	for _, back := range []time.Duration{0, time.Hour, 0, 0, time.Millisecond, -time.Second} {
		next := idAfter(last, at.Add(-back))
		if next.compare(last) <= 0 {
			t.Errorf("%s does not follow %s", next, last)
		}
		seen = append(seen, next)
		last = next
	}
	if got := seen[0].millis(); got != uint64(at.UnixMilli())+1 {
		t.Errorf("the carry went to %d", got)
	}
	if got := seen[5].millis(); got != uint64(at.UnixMilli())+1000 {
		t.Errorf("with the clock ahead again the id has %d", got)
	}
	if again, err := ulid.ParseStrict(last.String()); err != nil || id(again) != last {
		t.Errorf("%s: %v", last, err)
	}
}

// The range of a whole id is that id alone, as the other library reads it.
func TestIDRange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var i id
		copy(i[:], rapid.SliceOfN(rapid.Byte(), 16, 16).Draw(t, "id"))
		text := i.String()
		if other := ulid.ULID(i); text != other.String() || i.millis() != other.Time() {
			t.Fatalf("%s and %d, the library has %s and %d", text, i.millis(), other, other.Time())
		}
		low, high, ok := idRange(text)
		if !ok || low != i || high != i {
			t.Fatalf("%s: from %s to %s", text, low, high)
		}
		n := rapid.IntRange(leastPrefix, 25).Draw(t, "length")
		low, high, ok = idRange(text[:n])
		if !ok || i.compare(low) < 0 || i.compare(high) > 0 || low.String()[:n] != text[:n] || high.String()[:n] != text[:n] {
			t.Fatalf("%s: from %s to %s", text[:n], low, high)
		}
	})
}

// Whatever stands in the file, decoding gives a record or an error.
func FuzzUnseal(f *testing.F) {
	for _, v := range []any{headRecord{Seq: 1}, eventRecord{Kind: Created, Plan: &planRecord{}}, batchRecord{Events: []uint64{1}}} {
		record, err := seal(v)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(record[1 : len(record)-checksumSize])
	}
	f.Fuzz(func(t *testing.T, body []byte) {
		record := withChecksum(append([]byte{recordVersion}, body...))
		var e eventRecord
		if unseal(record, &e) == nil {
			again, err := seal(e)
			if err != nil {
				t.Fatal(err)
			}
			var second eventRecord
			if err := unseal(again, &second); err != nil {
				t.Fatalf("what was read cannot be read again: %v", err)
			}
		}
		var b batchRecord
		_ = unseal(record, &b)
	})
}
