package journal_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"maps"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"hepar/journal"
	"hepar/journal/journaltest"
	"hepar/recipe/fault"
)

func shelfOf(t testing.TB, j *journal.Journal, format string, f journal.ContainerFilter) (string, int) {
	t.Helper()
	var out bytes.Buffer
	n, err := j.ExportContainers(&out, format, f)
	if err != nil {
		t.Fatal(err)
	}
	return out.String(), n
}

func TestExportContainersCSV(t *testing.T) {
	clock := journaltest.NewClock(time.Date(2026, 3, 9, 8, 15, 0, 0, time.FixedZone("", 3600)))
	j := journaltest.Open(t, filepath.Join(t.TempDir(), "hepar.journal"), journal.Options{By: "Ilka Brandt", Now: clock.Now})
	book(t, j)
	if _, err := j.AddContainer(journal.Container{
		Substance: "=cmd|x", Form: "@gel", Lot: "-7", Supplier: "+49", AmountG: 0.5, Note: "two\nlines, \"quoted\"", Place: "'tis here",
		Observed: "=grey", SDS: journal.SDS{Place: "=folder"}, By: "@Runa",
	}); err != nil {
		t.Fatal(err)
	}
	text, n := shelfOf(t, j, journal.CSV, journal.ContainerFilter{Empty: true})
	if strings.Count(text, "\r\n") != 5 || strings.Count(text, "\n") != 5 || n != 3 { // one of them in a note
		t.Errorf("%d containers in\n%q", n, text)
	}
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil || len(rows) != 4 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	const at = "2026-03-09T08:15:00+01:00"
	want := [][]string{
		{
			"number", "id", "substance", "form", "lot", "supplier", "received", "opened", "expires", "amount (g)", "left (g)", "amount (mL)", "left (mL)",
			"observed", "observed_at", "sds_place", "sds_revised", "sds_looked_at", "place", "note", "by", "added", "emptied",
		},
		{
			"S-001", "", "liver of sulfur", "lump", "K-717", "Fernholm Chemicals", "2026-01-12", "2026-02-01", "2027-01", "250", "237.2", "", "",
			"pale", at, "sds/liver.pdf", "2024-05", "2026-02-01", "dark cupboard", "the good lot", "Ilka Brandt", at, "",
		},
		{"S-002", "", "ammonia", "", "NH-3", "", "", "", "", "", "", "1000", "0", "", "", "", "", "", "", "", "Ilka Brandt", at, at},
		{
			"S-003", "", "'=cmd|x", "'@gel", "'-7", "'+49", "", "", "", "0.5", "0.5", "", "",
			"'=grey", at, "'=folder", "", "", "''tis here", "two\nlines, \"quoted\"", "'@Runa", at, "",
		},
	}
	for i, row := range rows {
		if i > 0 {
			if len(row[1]) != 26 {
				t.Errorf("row %d has the id %q", i, row[1])
			}
			row[1] = ""
		}
		if !slices.Equal(row, want[i]) {
			t.Errorf("row %d: got\n%q\nwant\n%q", i, row, want[i])
		}
	}
}

// A line is the container as it is read alone, with all its events.
func TestExportContainersJSONLines(t *testing.T) {
	j := journaltest.Open(t, filepath.Join(t.TempDir(), "hepar.journal"), journal.Options{By: "Ilka <Brandt>"})
	book(t, j)
	text, n := shelfOf(t, j, journal.JSONLines, journal.ContainerFilter{Empty: true})
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	if n != 2 || len(lines) != 2 || !strings.Contains(lines[0], "Ilka <Brandt>") {
		t.Fatalf("%d containers in\n%s", n, text)
	}
	for _, line := range lines {
		var got journal.ContainerView
		if err := json.Unmarshal([]byte(line), &got); err != nil {
			t.Fatal(err)
		}
		c, err := j.Container(got.Number)
		if err != nil {
			t.Fatal(err)
		}
		if want := c.View(); !reflect.DeepEqual(got, want) || len(got.Events) < 3 {
			t.Errorf("got  %+v\nwant %+v", got, want)
		}
	}
}

func TestExportContainersThatFit(t *testing.T) {
	never := journal.At(filepath.Join(t.TempDir(), "never"), journal.Options{})
	if text, n := shelfOf(t, never, journal.JSONLines, journal.ContainerFilter{}); text != "" || n != 0 {
		t.Errorf("of a journal that was never made: %q", text)
	}
	j := journaltest.New(t)
	const many = 600 // more than are read at a time
	err := j.Update(func(w *journal.Writer) error {
		for i := range many {
			if _, err := w.AddContainer(journal.Container{Substance: fmt.Sprintf("substance %d", i%2), Lot: fmt.Sprintf("L-%d", i), AmountG: 1}); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := j.Empty("S-002", "", ""); err != nil {
		t.Fatal(err)
	}
	for _, format := range []string{journal.CSV, journal.JSONLines} {
		for want, f := range map[int]journal.ContainerFilter{
			many: {Empty: true}, many - 1: {}, many / 2: {Substance: "Substance 0"}, many/2 - 1: {Substance: "substance 1"}, 1: {Lot: "l-599"},
		} {
			listed, err := j.ListContainers(f)
			text, n := shelfOf(t, j, format, f)
			if err != nil || n != want || len(listed) != want || strings.Count(text, "S-") != want {
				t.Errorf("%s of %+v: got %d, want %d; %v", format, f, n, want, err)
			}
			at := 0
			for _, c := range listed { // in the same order
				next := strings.Index(text[at:], c.Number)
				if next < 0 {
					t.Fatalf("%s is not in its place", c.Number)
				}
				at += next
			}
		}
		if _, err := j.ExportContainers(&brokenPipe{20_000}, format, journal.ContainerFilter{}); fault.KindOf(err) != fault.Failure || fault.CureOf(err) == "" {
			t.Errorf("%s: got %v, want a failure with a cure", format, err)
		}
	}
	if _, err := j.ExportContainers(&brokenPipe{}, "parquet", journal.ContainerFilter{}); fault.KindOf(err) != fault.Usage {
		t.Errorf("an unknown format: %v", err)
	}
}

// The schema of a container has the keys of a ContainerView and no others.
func TestContainerSchemaKeys(t *testing.T) {
	var schema struct {
		Properties map[string]any
		Defs       map[string]struct{ Properties map[string]any } `json:"$defs"`
	}
	if err := json.Unmarshal(journal.ContainerSchema(), &schema); err != nil {
		t.Fatal(err)
	}
	for typ, known := range map[reflect.Type]map[string]any{
		reflect.TypeFor[journal.ContainerView](): schema.Properties, reflect.TypeFor[journal.SDSView](): schema.Defs["sds"].Properties,
	} {
		var keys []string
		for f := range typ.Fields() {
			key, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			keys = append(keys, key)
		}
		slices.Sort(keys)
		if known := slices.Sorted(maps.Keys(known)); !slices.Equal(keys, known) {
			t.Errorf("%v: the schema knows %v, a view has %v", typ, known, keys)
		}
	}
}
