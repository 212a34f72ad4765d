package journal

import (
	"bytes"
	"math"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// What is written by hand is what the library writes, and what is read by hand is
// what it reads.
func TestByHand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := func(name string) string { return rapid.StringN(0, 40, 300).Draw(t, name) }
		some := func(name string) []byte { return rapid.SliceOfN(rapid.Byte(), 0, 300).Draw(t, name) }
		float := func(name string) *float64 {
			x := rapid.OneOf(rapid.Float64(), rapid.Map(rapid.Float32(), func(f float32) float64 { return float64(f) }),
				rapid.Map(rapid.Uint16(), half), rapid.Map(rapid.IntRange(-9000, 9000), func(n int) float64 { return float64(n) / 10 })).Draw(t, name)
			if rapid.IntRange(0, 4).Draw(t, "no "+name) == 0 || math.IsNaN(x) {
				return nil
			}
			return &x
		}
		written := drawStamp(t, "written")
		e := &eventRecord{
			ID: drawID(t, "id", 1e12), Batch: drawID(t, "batch", 2e12), Code: rapid.IntRange(1, 40).Draw(t, "code"), Zone: rapid.IntRange(-900, 900).Draw(t, "zone"),
			At: drawStamp(t, "at"), Written: &written, By: text("by"), Prev: [32]byte(rapid.SliceOfN(rapid.Byte(), 32, 32).Draw(t, "prev")),
			Reason: text("reason"), Field: text("field"), Old: text("old"), New: text("new"),
			Plan: &planRecord{Number: text("number"), Created: drawStamp(t, "created"), Recipe: some("recipe"), Alloy: text("alloy"), Shape: text("shape"),
				Pieces: rapid.IntRange(0, 1e6).Draw(t, "pieces"), Spares: rapid.IntRange(0, 99).Draw(t, "spares"), Sheet: some("sheet"), By: text("plan by"), Note: text("plan note")},
			Review: &reviewRecord{By: text("review by"), At: drawStamp(t, "review at"), Digest: text("digest"), Points: rapid.SliceOfN(rapid.StringN(0, 9, 20), 0, 30).Draw(t, "points"), Packed: some("packed")},
			Result: &resultRecord{Good: rapid.IntRange(0, 1e6).Draw(t, "good"), Rework: rapid.IntRange(0, 300).Draw(t, "rework"), Reject: rapid.IntRange(0, 30).Draw(t, "reject"),
				Causes:  rapid.MapOfN(rapid.StringN(0, 30, 90), rapid.IntRange(0, 1e5), 0, 30).Draw(t, "causes"),
				Celsius: float("celsius"), Seconds: float("seconds"), Shade: text("shade"), Note: text("note"), At: drawStamp(t, "result at")},
		}
		zero := false
		without := func(name string) bool { return rapid.Bool().Draw(t, "without "+name) }
		if without("batch") {
			e.Batch = id{}
		}
		if without("time") {
			e.At = stamp{}
		}
		if without("clock") {
			e.Written = nil
		}
		if without("bytes") {
			e.Plan.Recipe, e.Plan.Sheet = nil, nil
		}
		zero = without("times of the parts")
		if zero {
			e.Plan.Created, e.Review.At, e.Result.At = stamp{}, stamp{}, stamp{}
		}
		if without("plan") {
			e.Plan = nil
		}
		if without("review") {
			e.Review = nil
		}
		if without("result") {
			e.Result = nil
		}
		want, err := encoder().Marshal(e)
		if err != nil {
			t.Fatal(err)
		}
		got, quick := e.appendBody(nil)
		if !quick {
			t.Fatal("it was left to the library")
		}
		if e.At != (stamp{}) && !zero { // the library writes a time that is zero, though it is told to leave it out
			if !bytes.Equal(got, want) {
				t.Fatalf("by hand\n%x\nby the library\n%x", got, want)
			}
		}
		var a, b eventRecord
		if err1, err2 := decoder().Unmarshal(got, &a), decoder().Unmarshal(want, &b); err1 != nil || err2 != nil || !reflect.DeepEqual(a, b) {
			t.Fatalf("%v, %v: by hand\n%+v\nby the library\n%+v", err1, err2, a, b)
		}
		h := headRecord{Seq: rapid.Uint64().Draw(t, "seq"), Digest: e.Prev, LastID: e.ID, LagMS: rapid.Uint64().Draw(t, "lag"),
			Years:   rapid.MapOfN(rapid.IntRange(0, 70000), rapid.IntRange(0, 1e6), 0, 40).Draw(t, "years"),
			Batches: rapid.Uint64().Draw(t, "batches"), Container: rapid.IntRange(0, 999).Draw(t, "container"),
			Containers: rapid.Uint64Range(0, 99).Draw(t, "containers"), Moment: rapid.Uint64Range(0, 99).Draw(t, "moment")}
		if rapid.Bool().Draw(t, "no years") {
			h.Years = nil
		}
		if want, err = encoder().Marshal(h); err != nil {
			t.Fatal(err)
		}
		if got := h.appendRecord(nil); !bytes.Equal(got, want) {
			t.Fatalf("by hand\n%x\nby the library\n%x", got, want)
		}
		sameReading(t, h, &headRecord{}, &headRecord{}, h.Years != nil)
		sameReading(t, aboutRecord{Format: 2, Journal: e.ID, Created: drawStamp(t, "made")}, &aboutRecord{}, &aboutRecord{}, true)
		sameReading(t, blobRecord{Length: 9, Packed: rapid.Bool().Draw(t, "is packed"), Data: append([]byte{}, some("data")...), Lost: rapid.Bool().Draw(t, "lost")}, &blobRecord{}, &blobRecord{}, true)
		sameReading(t, recipeContent{Slug: text("slug"), Title: text("title"), Kind: text("kind"), Revision: rapid.IntRange(0, 99).Draw(t, "revision"), Digest: text("of recipe"), Text: text("text")},
			&recipeContent{}, &recipeContent{}, true)
	})
}

// An event with anything that is not written by hand is left to the library.
func TestByHandAll(t *testing.T) {
	byHand := []string{"Seq", "ID", "Batch", "Kind", "Code", "Zone", "At", "Written", "By", "Prev", "Reason", "Field", "Old", "New", "Plan", "Review", "Result"}
	all := reflect.TypeFor[eventRecord]()
	for i := range all.NumField() {
		field := all.Field(i)
		if slices.Contains(byHand, field.Name) {
			continue
		}
		e := eventRecord{Code: 1}
		switch to := reflect.ValueOf(&e).Elem().Field(i); field.Type.Kind() {
		case reflect.Pointer:
			to.Set(reflect.New(field.Type.Elem()))
		case reflect.Slice:
			to.Set(reflect.MakeSlice(field.Type, 1, 1))
		default:
			t.Fatalf("the field %s is of a kind that this test does not know", field.Name)
		}
		if _, quick := e.appendBody(nil); quick {
			t.Errorf("%s is lost", field.Name)
		}
	}
	for record, want := range map[reflect.Type]int{
		reflect.TypeFor[planRecord](): 10, reflect.TypeFor[reviewRecord](): 5, reflect.TypeFor[resultRecord](): 9, reflect.TypeFor[headRecord](): 9,
	} {
		if n := record.NumField(); n != want {
			t.Errorf("%s has %d fields: let them be written by hand too", record.Name(), n)
		}
	}
}

// sameReading reads a record by hand and by the library.
func sameReading(t *rapid.T, v any, byHand, library interface{ quick([]byte) bool }, must bool) {
	body, err := encoder().Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	if err := decoder().Unmarshal(body, library); err != nil {
		t.Fatal(err)
	}
	if quick := byHand.quick(body); quick != must || quick && !reflect.DeepEqual(byHand, library) {
		t.Fatalf("by hand (%v)\n%+v\nby the library\n%+v", quick, byHand, library)
	}
	for cut := range body { // whatever is cut off is not read
		if byHand.quick(body[:cut]) {
			t.Fatalf("%T cut at %d was read", v, cut)
		}
	}
}
