package journal

import (
	"fmt"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"
)

// jsonNames gives the paths of all fields of a view: "dip.loads[].pieces".
func jsonNames(t reflect.Type, before string) (names []string) {
	switch t.Kind() {
	case reflect.Pointer:
		return jsonNames(t.Elem(), before)
	case reflect.Slice:
		return append(jsonNames(t.Elem(), before+"[]"), before+"[]")
	case reflect.Struct:
		for f := range t.Fields() {
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			path := strings.TrimPrefix(before+"."+name, ".")
			names = append(append(names, path), jsonNames(f.Type, path)...)
		}
	}
	return names
}

// The table of RECORD.md names only fields that are there.
func TestRecordPage(t *testing.T) {
	text, err := os.ReadFile("RECORD.md")
	if err != nil {
		t.Fatal(err)
	}
	names := jsonNames(reflect.TypeFor[View](), "")
	names = append(names, jsonNames(reflect.TypeFor[ContainerView](), "")...)
	var found []string
	for i, part := range strings.Split(string(text), "`") {
		if i%2 == 0 || strings.Contains(part, "--") || strings.HasPrefix(part, "hepar ") {
			continue
		}
		found = append(found, part)
		if !slices.Contains(names, part) {
			t.Errorf("there is no field %s", part)
		}
	}
	// What is kept around a result is all pointed to, and so is every point of the list.
	for _, of := range []struct {
		before string
		view   reflect.Type
	}{
		{"dip", reflect.TypeFor[DipView]()}, {"lots[]", reflect.TypeFor[LotView]()}, {"waste[]", reflect.TypeFor[WasteView]()},
		{"signed_off", reflect.TypeFor[SignOffView]()},
	} {
		for _, name := range jsonNames(of.view, of.before) {
			detail := strings.HasSuffix(name, ".number") || strings.HasSuffix(name, ".what") || strings.HasSuffix(name, ".mg_per_l") || name == "signed_off.note"
			if !detail && !slices.ContainsFunc(found, func(f string) bool { return strings.HasPrefix(f, name) }) {
				t.Errorf("nothing points to %s", name)
			}
		}
	}
	for n := range 13 {
		if !strings.Contains(string(text), fmt.Sprintf("| (b)(%d) ", n+1)) {
			t.Errorf("the point (b)(%d) is missing", n+1)
		}
	}
}

// FORMAT.md knows every kind of event and every bucket.
func TestFormatPage(t *testing.T) {
	text, err := os.ReadFile("FORMAT.md")
	if err != nil {
		t.Fatal(err)
	}
	kinds := []string{
		Created, ReviewedEvent, DippedEvent, UsedEvent, LoggedEvent, Amended, SignedOffEvent, PhotoEvent, WasteEvent, WithdrawnEvent,
		StockAdded, StockChanged, StockUsed, StockEmptied,
	}
	for _, word := range slices.Concat(kinds, bucketNames(), Fields(), StockFields()) {
		if !strings.Contains(string(text), word) {
			t.Errorf("it does not name %s", word)
		}
	}
}
