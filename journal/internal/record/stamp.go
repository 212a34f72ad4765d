package record

import (
	"encoding/hex"
	"fmt"
	"time"

	"github.com/oklog/ulid/v2"
)

// ID is a ULID: 48 bits of milliseconds, 80 bits of chance. It sorts by time.
type ID = ulid.ULID

// Stamp is a moment in whole milliseconds, with the offset of the bench from UTC
// when it was written.
type Stamp struct {
	_      struct{} `cbor:",toarray"`
	MS     int64    // milliseconds since 1970 UTC
	Offset int      // minutes ahead of UTC
}

// StampOf returns the stamp of t. The zero time is the zero stamp.
func StampOf(t time.Time) Stamp {
	if t.IsZero() {
		return Stamp{}
	}
	_, seconds := t.Zone()
	return Stamp{MS: t.UnixMilli(), Offset: seconds / 60}
}

// Time returns the moment in the offset in which it was written.
func (s Stamp) Time() time.Time {
	if s.IsZero() {
		return time.Time{}
	}
	return time.UnixMilli(s.MS).In(time.FixedZone("", s.Offset*60))
}

// IsZero says whether no time is given.
func (s Stamp) IsZero() bool { return s == Stamp{} }

// Day returns the day at the bench, as "2026-03-09".
func (s Stamp) Day() string { return s.Time().Format(time.DateOnly) }

// Minute returns day and time at the bench, as "2026-03-09 14:30".
func (s Stamp) Minute() string { return s.Time().Format("2006-01-02 15:04") }

const stampForm = "2006-01-02T15:04:05.000Z07:00"

// MarshalJSON writes the stamp as RFC 3339 with milliseconds; null if it is zero.
func (s Stamp) MarshalJSON() ([]byte, error) {
	if s.IsZero() {
		return []byte("null"), nil
	}
	return s.Time().AppendFormat(make([]byte, 0, 32), `"`+stampForm+`"`), nil
}

// UnmarshalJSON reads RFC 3339. It returns an error if the time is finer than a
// millisecond or its offset is not in whole minutes: it would not come out again as it went in.
func (s *Stamp) UnmarshalJSON(text []byte) error {
	if string(text) == "null" {
		*s = Stamp{}
		return nil
	}
	t, err := time.Parse(`"`+time.RFC3339Nano+`"`, string(text))
	if err != nil {
		return fmt.Errorf("%s is not a time as in 2026-03-09T14:30:00.000+01:00", text)
	}
	*s = StampOf(t)
	if !s.Time().Equal(t) {
		return fmt.Errorf("the time %s is finer than a millisecond", text)
	}
	return nil
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
