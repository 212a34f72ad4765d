package journal

import (
	"encoding/json"
	"maps"
	"math"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"hepar/recipe/fault"
)

// What may go into the journal. Each limit is a choice of ours, far above what a
// workshop writes and far below what would hurt the file.
const (
	maxName   = 200      // bytes of a name, a slug, an alloy, a shade, a cause
	maxNote   = 64 << 10 // bytes of a note or a reason
	maxText   = 1 << 20  // bytes of a frozen recipe
	maxSheet  = 4 << 20  // bytes of a frozen sheet
	maxPieces = 10_000_000
	maxCauses = 50
	maxPoints = 200

	// The years a batch may carry: id times count from 1970, and the zero time means none.
	firstYear = 1971
	lastYear  = 2200

	lowestCelsius  = -50.0
	highestCelsius = 1000.0
	longestSeconds = 366 * 24 * 3600.0
)

// line cleans a text of one line; what names it in a message.
func line(what, text string) (string, error) {
	text = strings.TrimSpace(text)
	if len(text) > maxName {
		return "", fault.Usagef("the %s is %d bytes long", what, len(text)).Try("keep it to %d bytes; a note may be longer", maxName)
	}
	return text, printable(what, text, "")
}

// note cleans a text of several lines.
func note(what, text string) (string, error) {
	text = strings.TrimSpace(strings.ReplaceAll(text, "\r\n", "\n"))
	if len(text) > maxNote {
		return "", fault.Usagef("the %s is %d bytes long", what, len(text)).Try("keep it to %d KiB", maxNote>>10)
	}
	return text, printable(what, text, "\n\t")
}

// printable refuses what could rewrite a terminal, a spreadsheet or the order of
// the letters on the screen.
func printable(what, text, allowed string) error {
	if isPlain(text) {
		return nil
	}
	if !utf8.ValidString(text) {
		return fault.Usagef("the %s is not valid UTF-8", what).Try("write it again as plain text")
	}
	for _, r := range text {
		if unicode.In(r, unicode.Cc, unicode.Bidi_Control, unicode.Zl, unicode.Zp) && !strings.ContainsRune(allowed, r) {
			return fault.Usagef("the %s holds the control character %U", what, r).Try("write it without")
		}
	}
	return nil
}

// isPlain says that a text is of printable ASCII alone, as most are.
func isPlain(text string) bool {
	for i := range len(text) {
		if text[i] < ' ' || text[i] > '~' {
			return false
		}
	}
	return true
}

// causeName cleans the name of a cause: letters, digits and hyphens, lower case,
// so that "Too light" and "too-light" are one cause and not two.
func causeName(text string) (string, error) {
	if isCauseName(text) {
		return text, nil
	}
	var b strings.Builder
	gap := false
	for _, r := range strings.TrimSpace(text) {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			if gap && b.Len() > 0 {
				b.WriteByte('-')
			}
			gap = false
			b.WriteRune(unicode.ToLower(r))
		case r == '-' || r == '_' || r == ' ':
			gap = true
		default:
			return "", fault.Usagef("the cause %q holds %q", text, r).Try("use letters, digits and hyphens, as in too-light")
		}
	}
	name := b.String()
	if name == "" || !utf8.ValidString(text) {
		return "", fault.Usagef("the cause %q has no name", text).Try("use letters, digits and hyphens, as in too-light")
	}
	return line("cause", name)
}

// isCauseName says that a name is clean as it is.
func isCauseName(text string) bool {
	for i := range len(text) {
		c := text[i]
		if !(c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '-' && i > 0 && i < len(text)-1 && text[i-1] != '-') {
			return false
		}
	}
	return text != "" && len(text) <= maxName
}

// cleanFrozen refuses a recipe or a sheet that could be frozen and then not be given
// to others: a sheet must be JSON as an import takes it.
func cleanFrozen(recipe string, sheet []byte) error {
	switch {
	case len(recipe) > maxText:
		return fault.Usagef("the recipe is %d bytes long", len(recipe)).Try("keep a recipe to %d KiB", maxText>>10)
	case !utf8.ValidString(recipe) || strings.IndexByte(recipe, 0) >= 0:
		return fault.Usagef("the text of the recipe is not valid UTF-8, or holds the character zero").Try("write it again as plain text")
	case len(sheet) > maxSheet:
		return fault.Usagef("the sheet is %d bytes long", len(sheet)).Try("keep a sheet to %d MiB", maxSheet>>20)
	case len(sheet) == 0:
		return nil
	}
	read := jsonReader{text: sheet}
	if !json.Valid(sheet) || read.pass(0) != nil {
		return fault.Usagef("the sheet is not JSON that every program reads").Try("freeze the sheet as it was printed with --json")
	}
	return nil
}

func count(what string, n, least int) error {
	if n < least || n > maxPieces {
		return fault.Usagef("the number of %s is %d", what, n).Try("give a number from %d to %d", least, maxPieces)
	}
	return nil
}

func within(what, unit string, x *float64, low, high float64) error {
	if x != nil && !(*x >= low && *x <= high && !math.IsNaN(*x)) {
		return fault.Usagef("the %s is %g %s", what, *x, unit).Try("give a %s from %g to %g %s", what, low, high, unit)
	}
	return nil
}

func cleanCauses(causes map[string]int) (map[string]int, error) {
	if len(causes) > maxCauses {
		return nil, fault.Usagef("there are %d causes", len(causes)).Try("name the %d that matter most", maxCauses)
	}
	clean := make(map[string]int, len(causes))
	for _, text := range slices.Sorted(maps.Keys(causes)) {
		name, err := causeName(text)
		if err != nil {
			return nil, err
		}
		if err := count("pieces of the cause "+name, causes[text], 1); err != nil {
			return nil, err
		}
		clean[name] += causes[text]
	}
	if len(clean) == 0 {
		return nil, nil
	}
	return clean, nil
}

// cleanTime keeps a time within what the journal can hold.
func cleanTime(what string, t time.Time) error {
	if y := t.Year(); y < firstYear || y > lastYear {
		return fault.Usagef("the time of the %s is in the year %d", what, y).Try("give a year from %d to %d", firstYear, lastYear)
	}
	return nil
}

// check cleans a result in itself; fits says whether it suits its batch.
func (r Result) clean() (Result, error) {
	var err error
	for _, c := range []struct {
		what string
		n    int
	}{{"good pieces", r.Good}, {"pieces to rework", r.Rework}, {"rejected pieces", r.Reject}} {
		if err := count(c.what, c.n, 0); err != nil {
			return r, err
		}
	}
	if r.Causes, err = cleanCauses(r.Causes); err != nil {
		return r, err
	}
	if r.Shade, err = line("shade", r.Shade); err != nil {
		return r, err
	}
	if r.Note, err = note("note", r.Note); err != nil {
		return r, err
	}
	return r, r.record(stamp{}).inRange()
}

// inRange checks the figures that have a unit.
func (r *resultRecord) inRange() error {
	if err := within("temperature", "C", r.Celsius, lowestCelsius, highestCelsius); err != nil {
		return err
	}
	return within("time", "s", r.Seconds, 0, longestSeconds)
}

// fits checks the counts of a batch against one another.
func (b *batchRecord) fits() error {
	if b.Result == nil {
		return nil
	}
	r, made := b.Result, b.Plan.Pieces+b.Plan.Spares
	counted := r.Good + r.Rework + r.Reject
	if counted == 0 {
		return fault.Usagef("no piece of batch %s is counted", b.Plan.Number).
			Try("count the good, those to rework and the rejected; withdraw a batch that was never made")
	}
	if counted > made {
		return fault.Usagef("batch %s counts %d pieces (%d good, %d rework, %d reject) and only %d were made, spares among them",
			b.Plan.Number, counted, r.Good, r.Rework, r.Reject, made).
			Try("count again; lower one figure before you raise another")
	}
	caused := 0
	for _, n := range r.Causes {
		caused += n
	}
	if bad := r.Rework + r.Reject; caused > bad {
		return fault.Usagef("the causes of batch %s add up to %d and only %d pieces are to rework or rejected", b.Plan.Number, caused, bad).
			Try("name one cause for a piece: the chief one")
	}
	return nil
}
