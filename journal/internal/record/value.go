package record

import (
	"encoding/hex"
	"encoding/json"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/oklog/ulid/v2"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// ID is a ULID: 48 bits of milliseconds, 80 bits of chance. It sorts by time.
type ID = ulid.ULID

// Stamp is a moment in RFC 3339, with milliseconds and the offset of the bench: "2026-03-09T14:30:00.000+01:00".
type Stamp string

// StampOf returns the stamp of t; empty for the zero time.
func StampOf(t time.Time) Stamp {
	if t.IsZero() {
		return ""
	}
	_, seconds := t.Zone()
	t = t.In(time.FixedZone("", seconds/60*60)) // the offset is written in whole minutes
	return Stamp(t.Format("2006-01-02T15:04:05.000Z07:00"))
}

// Time returns the moment in the offset in which it was written.
func (s Stamp) Time() time.Time {
	t, _ := time.ParseInLocation(time.RFC3339, string(s), time.UTC)
	return t
}

// Day returns the day at the bench, as "2026-03-09".
func (s Stamp) Day() string { return s.Time().Format(time.DateOnly) }

// Minute returns day and time at the bench, as "2026-03-09 14:30".
func (s Stamp) Minute() string { return s.Time().Format("2006-01-02 15:04") }

// MarshalJSON writes the stamp as it is; null if there is none.
func (s Stamp) MarshalJSON() ([]byte, error) {
	if s == "" {
		return []byte("null"), nil
	}
	return json.Marshal(string(s))
}

// Digest is a SHA-256; hexadecimal in JSON.
type Digest []byte

// MarshalText writes the digest in hexadecimal.
func (d Digest) MarshalText() ([]byte, error) { return []byte(hex.EncodeToString(d)), nil }

// UnmarshalText reads hexadecimal.
func (d *Digest) UnmarshalText(text []byte) (err error) {
	*d, err = hex.DecodeString(string(text))
	return err
}

// The most that a batch may hold, with the lengths of its texts below. Choices of ours.
const (
	MaxText  = 1 << 20 // bytes of a frozen recipe
	MaxSheet = 4 << 20 // bytes of a frozen sheet
	MaxMany  = 1000    // loads, uses, photos or wastes of one batch
)

// lengths are the most bytes of a text, by its tag "long". Choices of ours.
var lengths = map[string]int{"": 200, "path": 1024, "note": 64 << 10}

// Clean returns text without spaces around it. What names it in messages; long is "path", "note" (of several lines) or
// empty. It returns an error if the text is longer than lengths says or holds a control character.
func Clean(what, long, text string) (string, error) {
	allowed := ""
	if long == "note" {
		text, allowed = strings.ReplaceAll(text, "\r\n", "\n"), "\n\t"
	}
	if text = strings.TrimSpace(text); len(text) > lengths[long] {
		return "", fault.Usagef("the %s is %d bytes long", what, len(text)).Try("keep it to %d bytes", lengths[long])
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

// CauseName returns the name of a cause in lower case with hyphens: "Too light" is "too-light". It returns an
// error if it holds anything but letters, digits, spaces, hyphens and underscores.
func CauseName(text string) (string, error) {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return r == '-' || r == '_' || r == ' ' })
	name := strings.Join(words, "-")
	odd := func(r rune) bool { return r != '-' && !unicode.IsLetter(r) && !unicode.IsDigit(r) }
	if name == "" || strings.ContainsFunc(name, odd) {
		return "", fault.Usagef("%q is not the name of a cause", measure.Clean(text)).At("causes").
			Try("use letters, digits and hyphens, as in too-light")
	}
	return Clean("cause", "", name)
}

// Within returns an error if x is not a number from low to high.
func Within(what, unit string, x, low, high float64) error {
	if !(x >= low && x <= high) {
		return fault.Usagef("the %s is %s", what, AmountText(x, unit)).Try("give a %s from %s to %s", what, AmountText(low, unit), AmountText(high, unit))
	}
	return nil
}

// Year returns an error if a time lies outside the years that the journal holds: 1971 to 2200.
func Year(what string, t time.Time) error {
	if y := t.Year(); y < 1971 || y > 2200 { // ids count from 1970, and the zero time means none
		return fault.Usagef("the time of the %s is in the year %d", what, y).Try("give a year from 1971 to 2200")
	}
	return nil
}

// Date is a day at the bench, or a month or a year where no more is known: "2026-03-09", "2026". Empty means none.
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

// Before says whether all of d, which may be a month, is over on the day. An empty date is never over.
func (d Date) Before(day Date) bool { return d != "" && day[:min(len(d), len(day))] > d }
