package journal_test

import (
	"bytes"
	"fmt"
	"io"
	"runtime"
	"runtime/metrics"
	"strings"
	"testing"
	"time"

	"hepar/journal"
	"hepar/recipe/fault"
)

// endless gives head, then fill again and again until size, then tail.
func endless(head, fill string, size int, tail string) io.Reader {
	n := size / len(fill)
	return io.MultiReader(strings.NewReader(head), &again{fill: []byte(fill), left: n * len(fill)}, strings.NewReader(tail))
}

type again struct {
	fill []byte
	left int
	at   int
}

func (a *again) Read(p []byte) (n int, err error) {
	if a.left == 0 {
		return 0, io.EOF
	}
	for n < len(p) && a.left > 0 {
		k := copy(p[n:min(len(p), n+a.left)], a.fill[a.at:])
		n, a.left, a.at = n+k, a.left-k, (a.at+k)%len(a.fill)
	}
	return n, nil
}

// peak runs fn and gives by how much the heap grew at the most, dead objects included.
func peak(fn func()) uint64 {
	sample := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
	read := func() uint64 { metrics.Read(sample); return sample[0].Value.Uint64() }
	runtime.GC()
	before := read()
	most := before
	done, stopped := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(stopped)
		for {
			select {
			case <-done:
				return
			case <-time.After(time.Millisecond):
				most = max(most, read())
			}
		}
	}()
	fn()
	close(done)
	<-stopped
	return most - before
}

// Whatever is in the file, memory stays below 64 MiB, and the errors have lines.
func TestHostileImportsStaySmall(t *testing.T) {
	const size = 100 << 20
	good := goodLine(t)
	var header bytes.Buffer
	if _, err := elsewhereWithOne(t).Export(&header, journal.CSV, journal.Filter{}); err != nil {
		t.Fatal(err)
	}
	top, _, _ := strings.Cut(header.String(), "\r\n")
	for name, c := range map[string]struct {
		format string
		text   io.Reader
		line   int
		want   string
	}{
		"a line of 100 MB":          {journal.JSONLines, endless(good+"\n{\"note\":\"", "x", size, "\"}\n"+good+"\n"), 2, "longer than 8 MiB"},
		"100 MB without a line":     {journal.JSONLines, endless("", "[", size, ""), 1, "longer than 8 MiB"},
		"lines of 7 MB":             {journal.JSONLines, endless("", `{"recipe_text":"`+strings.Repeat("x", 7<<20)+"\"}\n", size, ""), 1, "created is no time"},
		"sheets of 7 MB":            {journal.JSONLines, endless("", `{"sheet":[`+strings.Repeat("1,", 3<<20)+"1]}\n", size, ""), 1, "created is no time"},
		"a million errors":          {journal.JSONLines, endless("", "{]\n", 3<<20, ""), 1, "not JSON"},
		"a table that never closes": {journal.CSV, endless(top+"\r\n\"", "x,\n", size, ""), 2, "longer than 1 MiB"},
		"a row of 100 MB":           {journal.CSV, endless(top+"\r\n", "x,", size, ""), 2, "longer than 1 MiB"},
		"a first row of 100 MB":     {journal.CSV, endless("", "x,", size, ""), 1, "longer than 1 MiB"},
		"100 MB of empty lines":     {journal.JSONLines, endless("", "\n", size/4, "{"), size/4 + 1, "ends too early"},
		"a million keys":            {journal.JSONLines, endless(`{"causes":{`, `"a":1,"b":1,`, 4<<20, "}}"), 1, `"a" stands twice`},
		"a million events":          {journal.JSONLines, endless(`{"events":[{}`, ",{}", 6<<20, "]}"), 1, "more than 10000"},
		"a dip of a million loads":  {journal.JSONLines, endless(`{"dip":{"loads":[{}`, ",{}", 6<<20, "]}}"), 1, "longer than"},
		"photos without end":        {journal.JSONLines, endless(`{"photos":[{}`, ",{}", 6<<20, "]}"), 1, "more than 1000"},
		"a name of escapes":         {journal.JSONLines, endless(`{"by":"`, `\u001b`, 7<<20, `"}`), 1, "bytes long"},
	} {
		t.Run(name, func(t *testing.T) {
			j := elsewhere(t)
			var report journal.ImportReport
			var err error
			grown := peak(func() { report, err = j.Import(c.text, journal.ImportOptions{Format: c.format}) })
			if fault.KindOf(err) != fault.Failure || len(report.Errors) == 0 {
				t.Fatalf("%v, %+v", err, report)
			}
			if e := report.Errors[0]; e.Line != c.line || !strings.Contains(e.What, c.want) {
				t.Errorf("got %+v, want %q in line %d", e, c.want, c.line)
			}
			if grown > 64<<20 {
				t.Errorf("the heap grew by %d MiB", grown>>20)
			}
			t.Logf("%d MiB", grown>>20)
		})
	}
}

func elsewhereWithOne(t testing.TB) *journal.Journal {
	t.Helper()
	j := elsewhere(t)
	if _, err := j.Create(order(3)); err != nil {
		t.Fatal(err)
	}
	return j
}

// Whatever stands in a line, importing gives an error with a line or a journal
// that verifies and gives the line back.
func FuzzImportLine(f *testing.F) {
	f.Add(goodLine(f))
	f.Add(`{"created":"2026-03-09T08:15:00+01:00","recipe":"black","pieces":3,"good":2,"rework":0,"reject":1,"causes":{"Too light":1}}`)
	f.Add(`{"a":"\ud83d\ude00\u0000","b":[1e5,-0.0,null,true]}`)
	dir := f.TempDir()
	n := 0
	f.Fuzz(func(t *testing.T, line string) {
		n++
		j := journal.At(fmt.Sprintf("%s/%d", dir, n), journal.Options{})
		report, err := j.Import(strings.NewReader(line), journal.ImportOptions{Format: journal.JSONLines, DryRun: true})
		if err != nil || len(report.Errors) > 0 {
			for _, e := range report.Errors {
				if e.Line == 0 || e.What == "" || e.Cure == "" || strings.ContainsAny(e.What, "\n\x1b") {
					t.Fatalf("%+v", e)
				}
			}
			return
		}
	})
}
