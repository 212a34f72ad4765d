package journal_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"hepar/journal"
	"hepar/journal/internal/record"
	"hepar/journal/journaltest"
	"hepar/recipe/measure"
)

func exported(t testing.TB, j *journal.Journal, format string, whole bool) string {
	t.Helper()
	var out bytes.Buffer
	if _, err := j.Export(&out, format, journal.Filter{Frozen: whole, Reverse: true}); err != nil {
		t.Fatalf("export: %v", err)
	}
	return out.String()
}

func shelf(t testing.TB, j *journal.Journal) string {
	t.Helper()
	var out bytes.Buffer
	if _, err := j.ExportContainers(&out, journal.JSONLines, journal.ContainerFilter{Empty: true}); err != nil {
		t.Fatalf("export the shelf: %v", err)
	}
	return out.String()
}

func imported(t testing.TB, j *journal.Journal, format, text string) journal.ImportReport {
	t.Helper()
	r, err := j.Import(strings.NewReader(text), journal.ImportOptions{Format: format, Source: "file." + format})
	if err != nil {
		t.Fatalf("import: %v; %+v", err, r)
	}
	return r
}

// refusedBy imports a text that must be refused with a line that says so.
func refusedBy(t testing.TB, j *journal.Journal, format, text, want string) {
	t.Helper()
	r, err := j.Import(strings.NewReader(text), journal.ImportOptions{Format: format, Source: "x"})
	if err == nil {
		t.Errorf("%.80q was imported: %+v", text, r)
		return
	}
	said := fmt.Sprint(err, r.Errors, r.Conflicts)
	if !strings.Contains(said, want) {
		t.Errorf("%.80q: %.400s; want %q", text, said, want)
	}
	for _, e := range r.Errors {
		if e.Cure == "" || e.Line == 0 || e.What != measure.Clean(e.What) {
			t.Errorf("%+v has no cure or no line, or controls a terminal", e)
		}
	}
}

func contents(t testing.TB, j *journal.Journal) []byte {
	t.Helper()
	data, err := os.ReadFile(j.Path())
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// busyBench is a journal with every kind of event.
func busyBench(t testing.TB) *journal.Journal {
	t.Helper()
	j, clock := at(t)
	batch, jar := must[journal.Batch](t), must[journal.Container](t)
	s := jar(j.AddContainer(journal.ContainerPlan{Substance: "liver-of-sulfur", Form: "lump", Unit: journal.UnitGrams, Amount: 500, Lot: "K2291", Place: "=shelf 2"}, ""))
	sheet := []byte(`{"schema": 1, "text": "<b>&amp;\u2028 1 < 2</b>", "figures": [1e300, -0.10, 12345678901234567890]}`)
	for i := range 4 {
		clock.Add(time.Hour)
		p := tokens()
		p.Order = []string{"Saltholm Rowing Club", "=SUM(A1:A9)", "'tis", "two\nlines, \"quoted\""}[i]
		n := batch(j.Create(p, sheet)).Number
		batch(j.Review(n, journal.Review{Digest: p.Recipe.Digest, Points: []string{"gas"}}))
		c := measure.Celsius(71.5)
		batch(dipped(j, n, "", "", []journal.Use{{Number: s.Number, Amount: 8.5, Unit: "g"}}, journal.Load{Pieces: 30, Temperature: &c, Note: "the rim"}, journal.Load{Pieces: 33}))
		batch(j.Log(n, journal.Result{Good: 61, Rework: 1, Reject: 1, Causes: map[string]int{"spots": 2}, Temperature: &c, Shade: "-black", Note: "@home\n\ttab"}, journal.LogOptions{}))
		clock.Add(time.Minute)
		batch(j.Amend(n, "good", "60", "counted again", "Mikko Raun"))
		batch(j.SignOff(n, "Aino Kask", "looked through"))
		batch(j.AddPhoto(n, journal.Photo{Path: "photos/a.jpg", SHA256: bytes.Repeat([]byte{byte(i)}, 32), Bytes: 9}))
		batch(j.AddWaste(n, journal.Waste{Container: "Drum 3", Liters: 2, Contents: []journal.WastePart{{What: "silver", MilligramsPerLiter: 39.50979120892151, Source: "estimate"}}}))
	}
	batch(j.Create(tokens(), nil))
	batch(j.LogNew(tokens(), journal.Result{Good: 3}, journal.LogOptions{WithoutReview: "a trial"}))
	batch(j.Withdraw("last", "entered by mistake", ""))
	jar(j.ChangeContainer(s.Number, "lot", "K2292", "misread", ""))
	jar(j.Use(journal.Use{Number: s.Number, Amount: 1, Unit: "g"}, "", ""))
	jar(j.Empty(s.Number, "spent", ""))
	return j
}

// TestEveryKindIsTried: a kind of event that is added goes through the tests of exports and of damage.
func TestEveryKindIsTried(t *testing.T) {
	book := journaltest.New(t)
	busyBook(t, book, 2)
	for name, j := range map[string]*journal.Journal{"busyBench": busyBench(t), "busyBook": book} {
		text := exported(t, j, journal.JSONLines, false)
		for kind := range journal.StepStates() {
			if !strings.Contains(text, fmt.Sprintf(`"kind":%q`, kind)) {
				t.Errorf("nothing is %s in %s", kind, name)
			}
		}
	}
}

func TestJSONLinesComeBackWhole(t *testing.T) {
	j := busyBench(t)
	text, jars := exported(t, j, journal.JSONLines, true), shelf(t, j)
	other := journaltest.New(t)
	if r := imported(t, other, journal.JSONLines, text+jars); r.New != 6 || r.Containers != 1 || r.Rows != 7 || r.WithoutText != 0 {
		t.Errorf("the report is %+v", r)
	}
	if got := exported(t, other, journal.JSONLines, true); got != text {
		t.Errorf("came back as\n%s\nand was\n%s", got, text)
	}
	if got := shelf(t, other); got != jars {
		t.Errorf("the shelf came back as\n%s\nand was\n%s", got, jars)
	}
	before := contents(t, other)
	if r := imported(t, other, journal.JSONLines, text); r.New != 0 || r.Same != 6 || r.Events != 0 {
		t.Errorf("the second time: %+v", r)
	}
	if !bytes.Equal(contents(t, other), before) {
		t.Error("the second time the file changed")
	}

	// Without its text a recipe comes later, and what happened meanwhile as well.
	third := journaltest.New(t)
	if r := imported(t, third, journal.JSONLines, exported(t, j, journal.JSONLines, false)); r.New != 6 || r.WithoutText != 6 {
		t.Errorf("without text: %+v", r)
	}
	must[journal.Batch](t)(j.Amend("2026-001", "note", "better", "asked", ""))
	if r := imported(t, third, journal.JSONLines, exported(t, j, journal.JSONLines, true)); r.Further != 1 || r.Same != 5 || r.Events != 1 {
		t.Errorf("with text: %+v", r)
	}
	if got, want := exported(t, third, journal.JSONLines, true), exported(t, j, journal.JSONLines, true); got != want {
		t.Errorf("the third bench has\n%s\nwant\n%s", got, want)
	}
}

func TestADryRunChangesNothing(t *testing.T) {
	j := busyBench(t)
	text := exported(t, j, journal.JSONLines, true)
	other := journaltest.New(t)
	r, err := other.Import(strings.NewReader(text), journal.ImportOptions{Format: journal.JSONLines, DryRun: true})
	if err != nil || r.New != 6 || r.Events == 0 || !r.DryRun {
		t.Errorf("%v, %+v", err, r)
	}
	if there, _ := other.Exists(); there {
		t.Error("the dry run made a journal")
	}
	r, err = other.Import(strings.NewReader("{}\n"), journal.ImportOptions{Format: journal.JSONLines, DryRun: true})
	if err != nil || len(r.Errors) != 1 {
		t.Errorf("%v, %+v", err, r)
	}
	m, err := other.Merge(j.Path(), journal.ImportOptions{DryRun: true})
	if there, _ := other.Exists(); err != nil || m.New != 6 || there {
		t.Errorf("%v, %+v", err, m)
	}
}

func TestAnEmptyFileIsRefused(t *testing.T) {
	for format, text := range map[string]string{journal.JSONLines: "\n\n", journal.CSV: "created,recipe,pieces\n,,\n"} {
		j := journaltest.New(t)
		for _, text := range []string{"", text} {
			refusedBy(t, j, format, text, "there is nothing to import in x")
		}
		if there, _ := j.Exists(); there {
			t.Errorf("%s: a journal was made", format)
		}
	}
}

func TestTablesComeBack(t *testing.T) {
	j := busyBench(t)
	text := exported(t, j, journal.CSV, false)
	if !strings.Contains(text, "mg_per_l 39.5, ") {
		t.Errorf("no figure of the waste is rounded to what is known:\n%s", text)
	}
	other := journaltest.New(t)
	r := imported(t, other, journal.CSV, text)
	if r.New != 6 || r.Aside != 5 {
		t.Errorf("the report is %+v", r)
	}
	read := func(text string) []map[string]string { return table(t, text) }
	got, want := read(exported(t, other, journal.CSV, false)), read(text)
	for i := range want {
		for _, name := range []string{"people", "review", "without_review", "dip", "lots", "waste", "photos", "signed_off"} {
			delete(want[i], name)
			delete(got[i], name)
		}
		if s := want[i]["state"]; s == "reviewed" || s == "dipped" {
			want[i]["state"] = "planned"
		}
		if !reflect.DeepEqual(got[i], want[i]) {
			t.Errorf("row %d came back as\n%v\nand was\n%v", i, got[i], want[i])
		}
	}
	before := contents(t, other)
	if r := imported(t, other, journal.CSV, text); r.Same != 6 || r.New != 0 || !bytes.Equal(contents(t, other), before) {
		t.Errorf("the second time: %+v", r)
	}
	// At home everything is known, and a change of the table is a conflict.
	if r := imported(t, j, journal.CSV, text); r.Same != 6 {
		t.Errorf("at home: %+v", r)
	}
	refusedBy(t, j, journal.CSV, strings.Replace(text, ",60,1,1,", ",59,1,1,", 1), `good is "60" here and "59" in the file`)
	// Without ids, rows that are alike are as many batches, and known again.
	bare := "created,recipe,pieces,good\n2026-03-09T10:00:00+01:00,token-black,5,5\n2026-03-09T10:00:00+01:00,token-black,5,5\n2026-03-09T10:00:00+01:00,token-black,5,4\n"
	if r := imported(t, other, journal.CSV, bare); r.New != 3 {
		t.Errorf("without ids: %+v", r)
	}
	if r := imported(t, other, journal.CSV, bare); r.Same != 3 {
		t.Errorf("without ids, again: %+v", r)
	}
	// Two benches that imported the same rows give them numbers of their own.
	if r, err := j.Merge(other.Path(), journal.ImportOptions{}); err != nil || r.New != 3 {
		t.Errorf("merge: %v, %+v", err, r)
	}
	fourth := journaltest.New(t)
	imported(t, fourth, journal.CSV, bare)
	if r, err := j.Merge(fourth.Path(), journal.ImportOptions{}); err != nil || r.Same != 3 || r.New != 0 || len(r.Conflicts) != 0 {
		t.Errorf("merge the same rows: %v, %+v", err, r)
	}
}

// table reads CSV by the names of its columns.
func table(t testing.TB, text string) (rows []map[string]string) {
	t.Helper()
	all, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil || len(all) == 0 {
		t.Fatalf("%v in %q", err, text)
	}
	for _, cells := range all[1:] {
		row := map[string]string{}
		for i, name := range all[0] {
			row[name] = cells[i]
		}
		rows = append(rows, row)
	}
	return rows
}

// TestEveryField holds each entry of the table of fields to all that is driven by
// it: a field that is added is tested here without another line.
func TestEveryField(t *testing.T) {
	type tags struct{ cbor, json string }
	found := map[string]tags{}
	for _, of := range []reflect.Type{reflect.TypeFor[record.Plan](), reflect.TypeFor[record.Result]()} {
		for f := range of.Fields() {
			key, _, _ := strings.Cut(f.Tag.Get("cbor"), ",")
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			found[of.Name()+name] = tags{key, name}
			if of.Name() == "Result" && name != "logged" && !slices.ContainsFunc(journal.Fields(), func(f journal.Field) bool { return f.JSON == name }) {
				t.Errorf("the result has %s and the table of fields does not", name)
			}
		}
	}
	mapping := "delimiter = \";\"\ndates = [\"YYYY-MM-DD\"]\nzone = \"+01:00\"\n[columns]\ncreated = \"created\"\nrecipe = \"recipe\"\n"
	for _, f := range journal.Fields() {
		mapping += fmt.Sprintf("%s = %q\n", f.Name, f.Name)
	}
	m := must[*journal.Mapping](t)(readMapping(t, mapping))
	for _, f := range journal.Fields() {
		t.Run(f.Name, func(t *testing.T) {
			got, there := found["Plan"+f.JSON]
			if f.OfResult {
				got, there = found["Result"+f.JSON]
			}
			key := strings.ReplaceAll(f.Name, "-", "_")
			if f.Unit != "" {
				key += "_" + strings.ReplaceAll(strings.ToLower(f.Unit), "%", "percent")
			}
			if !there || f.OfResult && got.cbor != fmt.Sprint(f.CBOR) || f.JSON != key {
				t.Errorf("the table has the name %s, JSON %s and CBOR %d, the struct %v", f.Name, f.JSON, f.CBOR, got)
			}
			if f.Unit != "" && f.Label == strings.ReplaceAll(f.JSON, "_", " ") {
				t.Errorf("people read %q: say what it is with the tag is", f.Label)
			}
			fixed, err := f.Parse(f.Help)
			if err != nil || fixed == "" || f.Label == "" {
				t.Fatalf("its help %q is read as %q, %v", f.Help, fixed, err)
			}
			b := &journal.Batch{Result: &journal.Result{}}
			if err := f.Set(b, fixed); err != nil || f.Get(b) != fixed {
				t.Errorf("set to %q and got %q, %v", fixed, f.Get(b), err)
			}
			if f.Unit != "" {
				want := 0.0 // its example is in the unit that is kept
				_, _ = fmt.Sscan(f.Help, &want)
				if x, had := f.Figure(b); !had || x != want || x == 0 {
					t.Errorf("%q is kept as the figure %v, %v", f.Help, x, had)
				}
			}

			// What is amended comes out in a table and in JSON, and in again.
			j, _ := at(t)
			n := must[journal.Batch](t)(j.LogNew(tokens(), journal.Result{Good: 30, Rework: 3, Reject: 4}, journal.LogOptions{WithoutReview: "for the test"})).Number
			if f.Get(&journal.Batch{Plan: tokens(), Result: &journal.Result{Good: 30, Rework: 3, Reject: 4}}) == fixed {
				fixed = must[string](t)(f.Parse("steel"))
			}
			changed := must[journal.Batch](t)(j.Amend(n, f.Name, fixed, "to see", ""))
			if f.Get(&changed) != fixed {
				t.Errorf("amended to %q and got %q", fixed, f.Get(&changed))
			}
			for _, format := range []string{journal.CSV, journal.JSONLines} {
				text := exported(t, j, format, false)
				other := journaltest.New(t)
				imported(t, other, format, text)
				back := must[journal.Batch](t)(other.Get("last"))
				if f.Get(&back) != fixed {
					t.Errorf("%s: went out as %q and came back as %q", format, fixed, f.Get(&back))
				}
			}
			if row := table(t, exported(t, j, journal.CSV, false))[0]; row[f.JSON] != strings.TrimSuffix(fixed, " "+f.Unit) {
				t.Errorf("the column %s has %q, want %q without unit", f.JSON, row[f.JSON], fixed)
			}

			// A mapped table.
			row := map[string]string{"pieces": "60", "good": "30", "rework": "3", "reject": "4", f.Name: fixed}
			heading, cells := "created;recipe", "2026-03-09;token-black"
			for _, name := range journal.Names(journal.Fields()) {
				heading, cells = heading+";"+name, cells+";"+row[name]
			}
			other := journaltest.New(t)
			if r, err := other.Import(strings.NewReader(heading+"\n"+cells+"\n"), journal.ImportOptions{Format: journal.Sheet, Mapping: m}); err != nil {
				t.Fatalf("mapped: %v, %+v", err, r)
			}
			back := must[journal.Batch](t)(other.Get("last"))
			if f.Get(&back) != fixed {
				t.Errorf("mapped: went in as %q and is %q", fixed, f.Get(&back))
			}

			// Beyond its limits it is refused wherever it comes from.
			bad := strings.Repeat("x", 70<<10)
			if f.Unit != "" {
				bad = "9e99"
			}
			if _, err := f.Parse(bad); err == nil {
				t.Errorf("%.20q passes", bad)
			}
			refusedBy(t, other, journal.CSV, "created,recipe,pieces,good,"+f.JSON+"\n2026-03-09T10:00:00Z,x,60,60,"+bad+"\n", "")
			if f.High == 0 {
				return
			}
			number := func(x float64) string {
				return strings.TrimSpace(strconv.FormatFloat(x, 'f', -1, 64) + " " + f.Unit)
			}
			for _, x := range []float64{f.Low, f.High} {
				if _, err := f.Parse(number(x)); err != nil {
					t.Errorf("%v is within the limits: %v", x, err)
				}
			}
			for _, x := range []float64{f.Low - 1, f.High + 1} {
				if fixed, err := f.Parse(number(x)); err == nil {
					t.Errorf("%v passes as %q", x, fixed)
				}
			}
		})
	}
}

// TestEveryTextOfAnEventIsChecked holds that a text of a stored struct cannot be added
// without a check: a control character in any of them is refused.
func TestEveryTextOfAnEventIsChecked(t *testing.T) {
	j := busyBench(t)
	var events []*record.Event
	for b, err := range j.List(journal.Filter{}) {
		if err != nil {
			t.Fatal(err)
		}
		events = append(events, b.Events...)
	}
	for _, c := range must[[]journal.Container](t)(j.ListContainers(journal.ContainerFilter{Empty: true})) {
		events = append(events, c.Events...)
	}
	texts := map[string]bool{}
	for _, e := range events {
		for i, v := 0, reflect.ValueOf(e).Elem(); i < v.NumField(); i++ { // a part says who and when as its event does
			if part := reflect.Indirect(v.Field(i)); v.Field(i).Kind() == reflect.Pointer && part.IsValid() {
				for _, name := range []string{"By", "At"} {
					said, of := part.FieldByName(name), v.FieldByName(name)
					if f, there := part.Type().FieldByName(name); there && f.Tag.Get("cbor") != "-" && said.Type() == of.Type() && !said.Equal(of) {
						t.Errorf("%s: %s of its part is %v, and of the event %v", e.Kind, name, said, of)
					}
				}
			}
		}
		if err := e.Check(); err != nil {
			t.Fatalf("%s: %v", e.Kind, err)
		}
		var spoil func(v reflect.Value, path string)
		spoil = func(v reflect.Value, path string) {
			switch v.Kind() {
			case reflect.Pointer:
				if !v.IsNil() {
					spoil(v.Elem(), path)
				}
			case reflect.Slice:
				for i := range v.Len() {
					spoil(v.Index(i), path)
				}
			case reflect.Struct:
				for i := range v.NumField() {
					if f := v.Type().Field(i); f.IsExported() && f.Tag.Get("cbor") != "-" {
						if f.Type == reflect.TypeFor[record.Stamp]() && f.Tag.Get("is") == "" {
							t.Errorf("%s%s.%s: say with the tag is whose time it is", e.Kind, path, f.Name)
						}
						spoil(v.Field(i), path+"."+f.Name)
					}
				}
			case reflect.String:
				had := v.String()
				v.SetString(had + "\x1b[2J")
				if e.Check() == nil {
					t.Errorf("%s%s: a control character passes", e.Kind, path)
				}
				v.SetString(had)
				texts[path] = true
			}
		}
		spoil(reflect.ValueOf(e).Elem(), "")
	}
	if len(texts) < 40 {
		t.Errorf("only %d texts were looked at: %v", len(texts), texts)
	}
}
