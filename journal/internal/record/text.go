package record

import (
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// The most that the texts of an event may hold. Choices of ours.
const (
	maxLine  = 200      // bytes of a name, a slug, an alloy, a shade, a cause
	maxNote  = 64 << 10 // bytes of a note or a reason
	maxPath  = 1024     // bytes of a path or a place
	MaxText  = 1 << 20  // bytes of a frozen recipe
	MaxSheet = 4 << 20  // bytes of a frozen sheet
	MaxMany  = 1000     // loads, uses, photos or wastes of one batch
)

// The years an event may carry: ids count from 1970, and the zero time means none.
const (
	firstYear = 1971
	lastYear  = 2200
)

// Line returns text without spaces around it, fit for one line. What names it in
// the message. It returns an error if the text is longer than 200 bytes or holds a
// control character.
func Line(what, text string) (string, error) { return clean(what, text, maxLine, "") }

// PathLine is Line for a path or a place, which may have 1,024 bytes.
func PathLine(what, text string) (string, error) { return clean(what, text, maxPath, "") }

// Note is Line for a text of several lines, up to 64 KiB.
func Note(what, text string) (string, error) {
	return clean(what, strings.ReplaceAll(text, "\r\n", "\n"), maxNote, "\n\t")
}

func clean(what, text string, most int, allowed string) (string, error) {
	text = strings.TrimSpace(text)
	if len(text) > most {
		return "", fault.Usagef("the %s is %d bytes long", what, len(text)).Try("keep it to %d bytes", most)
	}
	if !utf8.ValidString(text) {
		return "", fault.Usagef("the %s is not valid UTF-8", what).Try("write it again as plain text")
	}
	for _, r := range text {
		if r >= ' ' && r <= '~' { // nearly all of them
			continue
		}
		if unicode.In(r, unicode.Cc, unicode.Bidi_Control, unicode.Zl, unicode.Zp) && !strings.ContainsRune(allowed, r) {
			return "", fault.Usagef("the %s holds the control character %U", what, r).Try("write it without")
		}
	}
	return text, nil
}

// CauseName returns the name of a cause in lower case with hyphens, so that "Too
// light" and "too-light" are one cause. It returns an error if the name holds
// anything but letters, digits, spaces, hyphens and underscores.
func CauseName(text string) (string, error) {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return r == '-' || r == '_' || r == ' ' })
	name := strings.Join(words, "-")
	for _, r := range name {
		if r != '-' && !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			return "", fault.Usagef("the cause %q holds %q", measure.Clean(text), r).At("causes").Try("use letters, digits and hyphens, as in too-light")
		}
	}
	if name == "" {
		return "", fault.Usagef("a cause has no name").At("causes").Try("use letters, digits and hyphens, as in too-light")
	}
	return Line("cause", name)
}

// Within returns an error if x is not a number from low to high.
func Within(what, unit string, x, low, high float64) error {
	if !(x >= low && x <= high) {
		return fault.Usagef("the %s is %s", what, AmountText(x, unit)).Try("give a %s from %s to %s", what, AmountText(low, unit), AmountText(high, unit))
	}
	return nil
}

// Year returns an error if a time lies outside the years that the journal holds.
func Year(what string, t time.Time) error {
	if y := t.Year(); y < firstYear || y > lastYear {
		return fault.Usagef("the time of the %s is in the year %d", what, y).Try("give a year from %d to %d", firstYear, lastYear)
	}
	return nil
}

// Date is a day at the bench as "2026-03-09", or where no more is known a month
// or a year: "2026-03", "2026". Empty means none.
type Date string

// ParseDate reads "2026-03-09", "2026-03" or "2026"; the empty text is no date.
func ParseDate(text string) (Date, error) {
	if text == "" {
		return "", nil
	}
	for _, form := range []string{time.DateOnly, "2006-01", "2006"} {
		if t, err := time.Parse(form, text); err == nil {
			return Date(text), Year("date", t)
		}
	}
	return "", fault.Usagef("%q is not a date", measure.Clean(text)).Try("write 2026-03-09, or 2026-03 if the day is not known")
}

// Before says whether all of d is over on the day, so that a month alone counts to
// its end. An empty date is never over.
func (d Date) Before(day Date) bool { return d != "" && day[:min(len(d), len(day))] > d }
