package journal

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"hepar/recipe/fault"
)

// A short number is given out once in a journal. Two benches that never met may
// have given the same one to different batches: after a merge both are written
// with an ending of four characters, taken from the end of their ids, and the
// number alone is refused as belonging to both, so that nobody is shown the wrong
// batch. The rule looks at nothing but the batches, so it does not matter which
// journal was merged into which, or in what order.

// endingSize is the length of the ending in characters.
const endingSize = 4

// number gives the number as it is written.
func (b *batchRecord) number() string {
	if !b.Twin {
		return b.Plan.Number
	}
	return b.Plan.Number + "-" + ending(b.ID)
}

func ending(i id) string { text := i.String(); return text[len(text)-endingSize:] }

// splitNumber reads "2026-014" (or "2026-14"), with or without an ending, and
// writes the number as it is stored.
func splitNumber(ref string) (number, end string, ok bool) {
	year, n, _ := strings.Cut(ref, "-")
	n, end, ended := strings.Cut(n, "-")
	if len(year) != 4 || len(n) > 9 || ended && len(end) != endingSize {
		return "", "", false
	}
	y, err1 := strconv.ParseUint(year, 10, 32)
	i, err2 := strconv.ParseUint(n, 10, 32)
	return fmt.Sprintf("%04d-%03d", y, i), end, err1 == nil && err2 == nil
}

// bearers splits what stands under a number into the ids of its batches.
func bearers(number string, value []byte) ([]id, error) {
	if len(value) == 0 || len(value)%len(id{}) != 0 {
		return nil, fmt.Errorf("%w: the number %s leads nowhere", errTangled, number)
	}
	var ids []id
	for part := value; len(part) > 0; part = part[len(id{}):] {
		ids = append(ids, id(part[:len(id{})]))
	}
	return ids, nil
}

// byNumber reads the batch that bears a number.
func (r *reader) byNumber(number, end string) (*batchRecord, error) {
	numbers, err := bucket(r.tx, numbersBucket)
	if err != nil {
		return nil, err
	}
	value := numbers.Get([]byte(number))
	if value == nil {
		return nil, unknown(number)
	}
	ids, err := bearers(number, value)
	if err != nil {
		return nil, err
	}
	var found *batchRecord
	var names []string
	for _, i := range ids {
		b, err := r.batch(i)
		if err != nil {
			return nil, err
		}
		if b.Plan.Number != number {
			return nil, fmt.Errorf("%w: the number %s leads to batch %s", errTangled, number, b.Plan.Number)
		}
		if end == "" || end == ending(i) {
			found = b
			names = append(names, b.number())
		}
	}
	switch {
	case found == nil:
		return nil, unknown(number + "-" + end)
	case len(names) > 1:
		return nil, fault.Usagef("%d batches of different benches bear the number %s: %s", len(names), number, strings.Join(names, ", ")).
			Try("give the number with its ending; each has it at the end of its id")
	}
	return found, nil
}

// shareNumber lets the batch have a number that it was given elsewhere. Shared
// says that others have it too; those are marked so.
func (w *Writer) shareNumber(number string, batch id) (shared bool, err error) {
	value := w.numbers.Get([]byte(number))
	if year, n := yearOf(number), numberOf(number); n > w.head.Years[year] {
		w.head.Years[year] = n
	}
	if value == nil {
		if w.bulk != nil {
			w.bulk.numbers[number] = batch
			return false, nil
		}
		return false, w.numbers.Put([]byte(number), batch[:])
	}
	others, err := bearers(number, value)
	if err != nil {
		return false, err
	}
	if len(others) == 1 {
		other, err := w.batch(others[0])
		if err != nil {
			return false, err
		}
		other.Twin = true
		if err := w.putStanding(other); err != nil {
			return false, err
		}
	}
	at := 0
	for at < len(others) && others[at].compare(batch) < 0 {
		at++
	}
	value = bytes.Join([][]byte{value[:at*len(batch)], batch[:], value[at*len(batch):]}, nil)
	return true, w.numbers.Put([]byte(number), value)
}

// yearOf gives the year of a short number.
func yearOf(number string) int {
	year, _ := strconv.Atoi(number[:min(4, len(number))])
	return year
}
