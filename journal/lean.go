package journal

import (
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"
)

// An event says much twice: the time in its id, the time it was written and the
// time it happened are nearly always one, and a plan, a review or a result has
// the time and the person of its event. Stored is what does not follow from the
// rest; so an event takes two thirds of the room.

// kinds gives every kind of event the number it is stored by: its place, from 1.
// New kinds come at the end.
func kinds() []string { list := kindList(); return list[:] }

func kindList() [19]string {
	return [...]string{
		Created, ReviewedEvent, DippedEvent, LoggedEvent, Amended, WithdrawnEvent, UsedEvent, SignedOffEvent, PhotoEvent, WasteEvent,
		StockAdded, StockChanged, StockUsed, StockEmptied, TakenOver, Salvaged, StockSalvaged, JournalSalvaged, Upgraded,
	}
}

// ofNone says whether events of a kind belong to no batch and no container.
func ofNone(kind string) bool {
	return kind == TakenOver || kind == JournalSalvaged || kind == Upgraded
}

// kindOf gives the kind with a number; empty where there is none.
func kindOf(code int) string {
	known := kindList()
	if code < 1 || code > len(known) {
		return ""
	}
	return known[code-1]
}

// someone is stored for a person who is not named where the event names one.
const someone = "\x00"

// seal gives the record of an event, under its key.
func (e *eventRecord) seal() ([]byte, error) {
	lean := *e
	if lean.Code = slices.Index(kinds(), e.Kind) + 1; lean.Code == 0 {
		return nil, fmt.Errorf("there is no kind of event %q", e.Kind)
	}
	written := e.At
	if e.Written != nil {
		written = *e.Written
	}
	lean.Zone = written.Offset
	lean.Written = nil
	if written != stampAt(int64(e.ID.millis()), written.Offset) {
		lean.Written = &written
		lean.Zone = 0
	}
	if e.At == written {
		lean.At = stamp{}
	}
	if e.Batch == e.ID {
		lean.Batch = id{}
	}
	if e.Plan != nil {
		plan := *e.Plan
		plan.Created, plan.By = leaveTime(plan.Created, e.At), leaveName(plan.By, e.By)
		lean.Plan = &plan
	}
	if e.Review != nil {
		review := *e.Review
		review.At, review.By = leaveTime(review.At, e.At), leaveName(review.By, e.By)
		if digest, ok := packDigest(review.Digest); ok {
			review.Digest, review.Packed = "", digest
		}
		lean.Review = &review
	}
	if e.Result != nil {
		result := *e.Result
		result.At = leaveTime(result.At, e.At)
		lean.Result = &result
	}
	record, quick := lean.appendBody(append(make([]byte, 0, 320), recordVersion))
	if !quick {
		body, err := encoder().Marshal(&lean)
		if err != nil {
			return nil, fmt.Errorf("encode event: %w", err)
		}
		record = append(record[:1], body...)
	}
	var key [8]byte
	binary.BigEndian.PutUint64(key[:], e.Seq)
	return binary.BigEndian.AppendUint32(record, checksumUnder(key[:], record)), nil
}

// decodeEvent reads the record of the event with the sequence number.
func decodeEvent(seq uint64, record []byte) (*eventRecord, error) {
	e := &eventRecord{}
	_, err := e.read(seq, record, nil)
	if err != nil {
		return nil, err
	}
	return e, nil
}

// read reads the record of the event with the sequence number. With room for it, it
// reads only what is read by hand, and says whether it did.
func (e *eventRecord) read(seq uint64, record []byte, in *scratch) (quick bool, err error) {
	var key [8]byte
	binary.BigEndian.PutUint64(key[:], seq)
	body, err := unsealUnder(key[:], record)
	if err != nil {
		return false, fmt.Errorf("event %d: %w", seq, err)
	}
	*e = eventRecord{Seq: seq}
	if quick = quickEvent(body, e, in); !quick {
		if in != nil {
			return false, nil
		}
		*e = eventRecord{Seq: seq}
		if err := decoder().Unmarshal(body, e); err != nil {
			return false, fmt.Errorf("event %d: %w", seq, err)
		}
	}
	if e.Kind, e.Code = kindOf(e.Code), 0; e.Kind == "" {
		return quick, fmt.Errorf("event %d: %w: its kind is unknown", seq, errTangled)
	}
	written := stampAt(int64(e.ID.millis()), e.Zone)
	if e.Written != nil {
		written = *e.Written
	}
	e.Zone = 0
	if e.At == (stamp{}) {
		e.At = written
	}
	switch {
	case written == e.At:
		e.Written = nil
	case e.Written == nil:
		r := cborReader{in: in}
		e.Written = r.newStamp()
		*e.Written = written
	}
	if e.Batch == (id{}) && !ofNone(e.Kind) {
		e.Batch = e.ID
	}
	if p := e.Plan; p != nil {
		p.Created, p.By = fillTime(p.Created, e.At), fillName(p.By, e.By)
	}
	if r := e.Review; r != nil {
		r.At, r.By = fillTime(r.At, e.At), fillName(r.By, e.By)
		if r.Packed != nil {
			r.Digest, r.Packed = digestPrefix+hex.EncodeToString(r.Packed), nil
		}
	}
	if r := e.Result; r != nil {
		r.At = fillTime(r.At, e.At)
	}
	return quick, nil
}

func leaveTime(t, event stamp) stamp {
	if t == event {
		return stamp{}
	}
	return t
}

func fillTime(t, event stamp) stamp {
	if t == (stamp{}) {
		return event
	}
	return t
}

func leaveName(name, event string) string {
	switch name {
	case event:
		return ""
	case "":
		return someone
	}
	return name
}

func fillName(name, event string) string {
	switch name {
	case "":
		return event
	case someone:
		return ""
	}
	return name
}

const digestPrefix = "sha256:"

// packDigest gives the bytes of a digest that is written as recipes have it.
func packDigest(text string) ([]byte, bool) {
	digits, ok := strings.CutPrefix(text, digestPrefix)
	if !ok || len(digits) != 64 || strings.ToLower(digits) != digits {
		return nil, false
	}
	digest, err := hex.DecodeString(digits)
	return digest, err == nil
}
