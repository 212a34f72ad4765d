package journal

import (
	"bufio"
	"encoding/csv"
	"io"
	"strconv"
	"strings"

	"hepar/recipe/fault"
)

// The formats of Export.
const (
	CSV       = "csv"   // RFC 4180: CRLF, quotes where needed, a header with units
	JSONLines = "jsonl" // one View a line
)

// Export writes the batches of f to w and returns how many it wrote. CSV has one
// row a batch, without the events (FORMAT.md says what is in it); JSON Lines has
// them, unless f.Brief is set, and the frozen recipes and sheets with f.Frozen.
func (j *Journal) Export(w io.Writer, format string, f Filter) (n int, err error) {
	out := bufio.NewWriterSize(w, 64<<10)
	if format == JSONLines {
		return j.exportLines(out, f)
	}
	var put func(b Batch) error
	var flush func() error
	switch format {
	case CSV:
		rows := csv.NewWriter(out)
		rows.UseCRLF = true
		if err := rows.Write(append(csvHeader(), csvMore()...)); err != nil {
			return 0, writing(err)
		}
		f.Brief, f.Frozen = false, false // the events say who
		put = func(b Batch) error { return rows.Write(append(csvRow(b), csvMoreRow(b)...)) }
		flush = func() error { rows.Flush(); return rows.Error() }
	default:
		return 0, fault.Usagef("there is no export format %q", format).Try("name %s or %s", CSV, JSONLines)
	}
	for b, err := range j.List(f) {
		if err != nil {
			return n, err
		}
		if err := put(b); err != nil {
			return n, writing(err)
		}
		n++
	}
	if err := flush(); err != nil {
		return n, writing(err)
	}
	if err := out.Flush(); err != nil {
		return n, writing(err)
	}
	return n, nil
}

// exportLines writes JSON Lines.
func (j *Journal) exportLines(out *bufio.Writer, f Filter) (n int, err error) {
	for line, err := range j.Lines(f) {
		if err != nil {
			return n, err
		}
		if _, err := out.Write(line); err != nil {
			return n, writing(err)
		}
		if err := out.WriteByte('\n'); err != nil {
			return n, writing(err)
		}
		n++
	}
	if err := out.Flush(); err != nil {
		return n, writing(err)
	}
	return n, nil
}

func writing(err error) error {
	return fault.Failuref("the export could not be written").Because(reason(err)).Try("see that there is room where it is written to")
}

// csvHeader are the columns that an import reads. csvMore follow them.
func csvHeader() []string {
	return []string{
		"number", "id", "state", "created", "recipe", "recipe_title", "recipe_revision", "alloy", "shape",
		"pieces", "spares", "by", "order", "logged", "good (pieces)", "rework (pieces)", "reject (pieces)",
		"missing (pieces)", "causes (pieces)", "temperature (C)", "time (s)", "shade", "note",
	}
}

func csvRow(b Batch) []string {
	row := []string{
		b.Number, b.ID, string(b.State), timeText(b.Created), cell(b.Recipe.Slug), cell(b.Recipe.Title),
		strconv.Itoa(b.Recipe.Revision), cell(b.Alloy), cell(b.Shape), strconv.Itoa(b.Pieces), strconv.Itoa(b.Spares),
		cell(b.By), cell(b.Note),
	}
	r := b.Result
	if r == nil {
		return append(row, make([]string, len(csvHeader())-len(row))...)
	}
	return append(row, timeText(b.Logged), strconv.Itoa(r.Good), strconv.Itoa(r.Rework), strconv.Itoa(r.Reject),
		strconv.Itoa(b.Missing()), cell(causesText(r.Causes)), figureOrNone(r.Temperature), figureOrNone(r.Time), cell(r.Shade), cell(r.Note))
}

// cell keeps a spreadsheet from taking a text for a formula: a text that begins
// like one gets an apostrophe in front, and so does one that begins with an
// apostrophe, so that an import can take it off again.
func cell(text string) string {
	if text != "" && strings.ContainsRune("=+-@'\t\r\n", rune(text[0])) {
		return "'" + text
	}
	return text
}
