package journal

import (
	"iter"
	"slices"
	"strings"
	"time"
	"unsafe"
)

// Lines gives the batches that f asks for as List does, each as the JSON of its
// View, without an end of line; the bytes are good until the next. It is quicker
// than List and View, since it writes from what lies in the file: what the usual
// events need is used again from batch to batch.
func (j *Journal) Lines(f Filter) iter.Seq2[[]byte, error] {
	return func(yield func([]byte, error) bool) {
		f, err := f.clean()
		if err != nil {
			yield(nil, err)
			return
		}
		if f.Sort != SortOrder {
			var line []byte
			for b, err := range j.List(f) {
				if err == nil {
					line, err = b.View().AppendJSON(line[:0])
				}
				if !yield(line, err) || err != nil {
					return
				}
			}
			return
		}
		p := &linePage{with: detail{events: !f.Brief, frozen: f.Frozen}, yield: yield}
		if err := j.pages(f, counted(f), p.keep, p.give); err != nil {
			yield(nil, err)
		}
	}
}

// linePage is a page of lines. They lie in sheets of a few lines each: one that
// grew would be copied again and again, and the first touch of memory is what most
// of the time of a short list goes into.
type linePage struct {
	with   detail
	yield  func([]byte, error) bool
	sheets [][]byte
	used   int // of the sheets
	lines  [][]byte
	s      scratch
}

const (
	lineSheet = 16 << 10 // bytes
	lineRoom  = 2 << 10  // that should be left for a line; most are shorter
)

func (p *linePage) keep(r *reader, s *standing) (size int, err error) {
	if p.used == 0 || cap(p.sheets[p.used-1])-len(p.sheets[p.used-1]) < lineRoom {
		if p.used == len(p.sheets) {
			p.sheets = append(p.sheets, make([]byte, 0, lineSheet))
		}
		p.sheets[p.used] = p.sheets[p.used][:0]
		p.used++
	}
	sheet := &p.sheets[p.used-1]
	from := len(*sheet)
	if *sheet, err = r.appendLine(*sheet, s, p.with, &p.s); err != nil {
		return 0, err
	}
	line := (*sheet)[from:]
	p.lines = append(p.lines, slices.Clip(line))
	return len(line), nil
}

func (p *linePage) give() bool {
	for _, line := range p.lines {
		if !p.yield(line, nil) {
			return false
		}
	}
	p.lines, p.used = p.lines[:0], 0
	return true
}

// scratch is the room for the events of one batch. Their texts lie in the file and
// are good until the next batch, or the end of the transaction.
type scratch struct {
	events  []eventRecord
	each    []*eventRecord
	plans   []planRecord
	reviews []reviewRecord
	results []resultRecord
	floats  []float64
	stamps  []stamp
	points  []string
	seqs    []uint64
	batch   batchRecord
	causes  []map[string]int
	used    int // of causes
}

// begin makes the room empty. What points into it from before stays whole: it is
// made anew where it was too small.
func (s *scratch) begin(n int) {
	if cap(s.events) < n {
		s.events = make([]eventRecord, n)
	}
	s.events = s.events[:n]
	s.each, s.plans, s.reviews, s.results = s.each[:0], s.plans[:0], s.reviews[:0], s.results[:0]
	s.floats, s.stamps, s.points = s.floats[:0], s.stamps[:0], s.points[:0]
	s.used = 0
}

// room gives the next place of a list.
func room[T any](list *[]T) *T {
	var zero T
	*list = append(*list, zero)
	return &(*list)[len(*list)-1]
}

func (s *scratch) counts() map[string]int {
	if s.used == len(s.causes) {
		s.causes = append(s.causes, map[string]int{})
	}
	s.used++
	clear(s.causes[s.used-1])
	return s.causes[s.used-1]
}

// inPlace gives bytes as a text without copying them.
func inPlace(b []byte) string { return unsafe.String(unsafe.SliceData(b), len(b)) }

// usual reads the events of a batch into the room and applies them; false means
// that it has others than are read by hand.
func (r *reader) usual(s *standing, in *scratch) (_ bool, err error) {
	if in.seqs, err = s.appendSeqs(in.seqs[:0]); err != nil {
		return false, err
	}
	in.begin(len(in.seqs))
	results, reviews := 0, 0
	for i, seq := range in.seqs {
		record, err := r.eventBytes(seq)
		if err != nil {
			return false, err
		}
		e := &in.events[i]
		if quick, err := e.read(seq, record, in); err != nil || !quick {
			return false, err
		}
		// Where there are two of a kind, the first tells more than is written here.
		if e.Kind == LoggedEvent {
			results++
		}
		if e.Kind == ReviewedEvent {
			reviews++
		}
		if results > 1 || reviews > 1 {
			return false, nil
		}
		in.each = append(in.each, e)
	}
	in.batch = batchRecord{Twin: s.Twin, Events: in.batch.Events[:0], People: in.batch.People[:0]}
	if err := in.batch.replay(in.each); err != nil {
		return false, err
	}
	if in.batch.ID != s.ID {
		return false, notMine(s)
	}
	return true, nil
}

// appendLine puts a batch as its View in JSON behind what is in out.
func (r *reader) appendLine(out []byte, s *standing, with detail, in *scratch) ([]byte, error) {
	if quick, err := r.usual(s, in); err != nil {
		return out, err
	} else if !quick {
		full, err := r.read(s, with)
		if err != nil {
			return out, err
		}
		return full.View().AppendJSON(out)
	}
	b := &in.batch
	recipe, err := r.recipe(b)
	if err != nil {
		return out, err
	}
	w := jsonWriter{b: append(out, '{')}
	w.text("number", b.number())
	w.id("id", b.ID)
	w.text("state", string(b.State))
	w.time("created", b.Plan.Created)
	w.text("recipe", recipe.Slug)
	w.text("recipe_title", recipe.Title)
	w.text("recipe_kind", recipe.Kind)
	w.whole("recipe_revision", &recipe.Revision)
	w.text("recipe_digest", recipe.Digest)
	w.text("alloy", b.Plan.Alloy)
	w.text("shape", b.Plan.Shape)
	w.whole("pieces", &b.Plan.Pieces)
	w.whole("spares", &b.Plan.Spares)
	w.text("by", b.Plan.By)
	w.text("order", b.Plan.Note)
	w.result(b)
	w.reviewRecord(b.Review)
	w.other("dip", nil, true, "null")
	if b.WithoutReview == "" {
		w.maybe("without_review", nil)
	} else {
		w.text("without_review", b.WithoutReview)
	}
	w.other("signed_off", nil, true, "null")
	w.other("photos", nil, true, "[]")
	w.other("waste", nil, true, "[]")
	w.other("lots", nil, true, "[]")
	w.eventRecords(in.each, with.events)
	if with.frozen {
		if recipe.Text != "" {
			w.text("recipe_text", recipe.Text)
		}
		sheet, err := r.sheet(b)
		if err != nil {
			return out, err
		}
		if len(sheet) > 0 {
			w.other("sheet", jsonRaw(sheet), false, "")
		}
	}
	return append(w.b, '}'), w.err
}

// result writes the fields of a result, all null where there is none.
func (w *jsonWriter) result(b *batchRecord) {
	r := b.Result
	if r == nil {
		for _, name := range []string{"logged", "good", "rework", "reject", "missing"} {
			w.maybe(name, nil)
		}
		w.counts("causes", map[string]int{})
		for _, name := range []string{"temperature_c", "time_s", "shade", "note"} {
			w.maybe(name, nil)
		}
		return
	}
	missing := max(0, b.Plan.Pieces+b.Plan.Spares-r.Good-r.Rework-r.Reject)
	w.time("logged", r.At)
	w.whole("good", &r.Good)
	w.whole("rework", &r.Rework)
	w.whole("reject", &r.Reject)
	w.whole("missing", &missing)
	w.key("causes")
	if len(r.Causes) == 0 {
		w.b = append(w.b, "{}"...)
	} else {
		w.countsOf(r.Causes)
	}
	w.float("temperature_c", r.Celsius)
	w.float("time_s", r.Seconds)
	w.text("shade", r.Shade)
	w.text("note", r.Note)
}

func (w *jsonWriter) reviewRecord(v *reviewRecord) {
	w.key("review")
	if v == nil {
		w.null()
		return
	}
	w.b = append(w.b, '{')
	w.text("by", v.By)
	w.time("at", v.At)
	w.text("digest", v.Digest)
	w.key("points")
	w.b = append(w.b, '[')
	w.texts(v.Points)
	w.b = append(w.b, ']', '}')
}

func (w *jsonWriter) eventRecords(all []*eventRecord, with bool) {
	w.key("events")
	w.b = append(w.b, '[')
	for i, e := range all {
		if !with {
			break
		}
		if i > 0 {
			w.b = append(w.b, ',')
		}
		w.b = append(w.b, '{')
		w.id("id", e.ID)
		w.text("kind", e.Kind)
		w.time("at", e.At)
		if e.Written != nil {
			w.time("written", *e.Written)
		} else {
			w.time("written", e.At)
		}
		w.text("by", e.By)
		w.some("reason", e.Reason)
		w.some("field", e.Field)
		w.some("old", e.Old)
		w.some("new", e.New)
		w.b = append(w.b, '}')
	}
	w.b = append(w.b, ']')
}

func (w *jsonWriter) id(name string, i id) {
	w.key(name)
	text := i.text()
	w.b = append(append(append(w.b, '"'), text[:]...), '"')
}

// time writes a time as timeText does. Most times of a batch share its minute, but
// the standard library is quick enough.
func (w *jsonWriter) time(name string, t stamp) {
	w.key(name)
	w.b = append(t.Time().AppendFormat(append(w.b, '"'), time.RFC3339Nano), '"')
}

// countsOf writes causes in the order of their names.
func (w *jsonWriter) countsOf(counts map[string]int) {
	var few [8]string
	names := few[:0]
	for name := range counts {
		names = append(names, name)
	}
	slices.SortFunc(names, strings.Compare)
	w.b = append(w.b, '{')
	for i, name := range names {
		if i > 0 {
			w.b = append(w.b, ',')
		}
		w.b = appendWhole(append(appendJSONText(w.b, name), ':'), counts[name])
	}
	w.b = append(w.b, '}')
}
