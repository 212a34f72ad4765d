package journal

import (
	"encoding/binary"
	"maps"
	"math"
	"slices"
)

// Writing by hand what nearly every write holds, as the library would: an import
// writes some millions of events, and in a process that writes one, the library's
// look at the types costs more than the writing. TestByHand holds the two together.

// appendBody writes the body of an event; false leaves it to the library, with what
// few events have.
func (e *eventRecord) appendBody(b []byte) ([]byte, bool) {
	if e.Upgrade != nil || e.Dip != nil || e.SignOff != nil || e.Photo != nil || e.Waste != nil || len(e.Used) > 0 || e.Stock != nil || e.Container != nil ||
		e.For != nil || e.Whole != nil || e.Salvage != nil || e.Taken != nil {
		return b, false
	}
	m := beginMap(b)
	m.key(1)
	m.bytes(e.ID[:])
	if e.Batch != (id{}) {
		m.key(2)
		m.bytes(e.Batch[:])
	}
	m.key(3)
	m.b = appendInt(m.b, int64(e.Code))
	m.whole(4, e.Zone)
	m.time(5, e.At)
	if e.Written != nil {
		m.key(6)
		m.stamp(*e.Written)
	}
	m.text(7, e.By)
	m.key(8)
	m.bytes(e.Prev[:])
	m.text(9, e.Reason)
	m.text(10, e.Field)
	m.text(11, e.Old)
	m.text(12, e.New)
	if e.Plan != nil {
		m.key(13)
		m.b = e.Plan.appendTo(m.b)
	}
	if e.Review != nil {
		m.key(14)
		m.b = e.Review.appendTo(m.b)
	}
	if e.Result != nil {
		m.key(15)
		m.b = e.Result.appendTo(m.b)
	}
	return m.end(), true
}

func (p *planRecord) appendTo(b []byte) []byte {
	m := beginMap(b)
	m.text(1, p.Number)
	m.time(2, p.Created)
	m.key(3)
	m.maybeBytes(p.Recipe)
	m.text(4, p.Alloy)
	m.text(5, p.Shape)
	m.key(6)
	m.b = appendInt(m.b, int64(p.Pieces))
	m.whole(7, p.Spares)
	if len(p.Sheet) > 0 {
		m.key(8)
		m.bytes(p.Sheet)
	}
	m.text(9, p.By)
	m.text(10, p.Note)
	return m.end()
}

func (r *reviewRecord) appendTo(b []byte) []byte {
	m := beginMap(b)
	m.text(1, r.By)
	m.time(2, r.At)
	m.text(3, r.Digest)
	if len(r.Points) > 0 {
		m.key(4)
		m.b = appendHead(m.b, 4, uint64(len(r.Points)))
		for _, p := range r.Points {
			m.b = appendText(m.b, p)
		}
	}
	if len(r.Packed) > 0 {
		m.key(5)
		m.bytes(r.Packed)
	}
	return m.end()
}

func (r *resultRecord) appendTo(b []byte) []byte {
	m := beginMap(b)
	m.whole(1, r.Good)
	m.whole(2, r.Rework)
	m.whole(3, r.Reject)
	if len(r.Causes) > 0 {
		m.key(4)
		m.b = appendHead(m.b, 5, uint64(len(r.Causes)))
		var few [8]string
		names := few[:0]
		for name := range r.Causes {
			names = append(names, name)
		}
		slices.SortFunc(names, shorterFirst)
		for _, name := range names {
			m.b = appendInt(appendText(m.b, name), int64(r.Causes[name]))
		}
	}
	if r.Celsius != nil {
		m.key(5)
		m.b = appendFloat(m.b, *r.Celsius)
	}
	if r.Seconds != nil {
		m.key(6)
		m.b = appendFloat(m.b, *r.Seconds)
	}
	m.text(7, r.Shade)
	m.text(8, r.Note)
	m.time(9, r.At)
	return m.end()
}

// shorterFirst is the order of texts as keys of a map: that of their bytes with the
// length before them.
func shorterFirst(a, b string) int {
	if len(a) != len(b) {
		return len(a) - len(b)
	}
	if a < b {
		return -1
	} else if a > b {
		return 1
	}
	return 0
}

func (h headRecord) appendRecord(b []byte) []byte {
	m := beginMap(b)
	m.uint(1, h.Seq)
	m.key(2)
	m.bytes(h.Digest[:])
	m.key(3)
	m.bytes(h.LastID[:])
	m.uint(4, h.LagMS)
	m.key(5)
	if h.Years == nil {
		m.b = append(m.b, cborNull)
	} else {
		m.b = appendHead(m.b, 5, uint64(len(h.Years)))
		for _, year := range slices.Sorted(maps.Keys(h.Years)) {
			m.b = appendInt(appendInt(m.b, int64(year)), int64(h.Years[year]))
		}
	}
	m.uint(6, h.Batches)
	m.whole(7, h.Container)
	if h.Containers > 0 {
		m.uint(8, h.Containers)
	}
	if h.Moment > 0 {
		m.uint(9, h.Moment)
	}
	return m.end()
}

const cborNull = 0xf6

// mapWriter writes a map of fewer than 24 keys.
type mapWriter struct {
	b     []byte
	start int
}

func beginMap(b []byte) mapWriter { return mapWriter{b: append(b, 0xa0), start: len(b)} }

func (m *mapWriter) key(k byte) {
	m.b = append(m.b, k) // a small number is its own CBOR
	m.b[m.start]++
}

func (m *mapWriter) end() []byte { return m.b }

func (m *mapWriter) bytes(v []byte) { m.b = append(appendHead(m.b, 2, uint64(len(v))), v...) }

func (m *mapWriter) maybeBytes(v []byte) {
	if v == nil {
		m.b = append(m.b, cborNull)
		return
	}
	m.bytes(v)
}

func (m *mapWriter) uint(k byte, v uint64) {
	m.key(k)
	m.b = appendHead(m.b, 0, v)
}

// whole, text and time leave out what is zero.
func (m *mapWriter) whole(k byte, v int) {
	if v != 0 {
		m.key(k)
		m.b = appendInt(m.b, int64(v))
	}
}

func (m *mapWriter) text(k byte, v string) {
	if v != "" {
		m.key(k)
		m.b = appendText(m.b, v)
	}
}

func (m *mapWriter) time(k byte, v stamp) {
	if v != (stamp{}) {
		m.key(k)
		m.stamp(v)
	}
}

func (m *mapWriter) stamp(v stamp) {
	m.b = appendInt(appendInt(append(m.b, 0x82), v.Nanos), int64(v.Offset))
}

// appendFloat writes a float in the shortest of the three lengths that holds it.
func appendFloat(b []byte, x float64) []byte {
	f := float32(x)
	switch {
	case math.IsNaN(x):
		return append(b, 0xf9, 0x7e, 0)
	case float64(f) != x:
		return binary.BigEndian.AppendUint64(append(b, 0xfb), math.Float64bits(x))
	}
	if h, ok := halfOf(f); ok {
		return binary.BigEndian.AppendUint16(append(b, 0xf9), h)
	}
	return binary.BigEndian.AppendUint32(append(b, 0xfa), math.Float32bits(f))
}

// halfOf gives a float as one of 16 bits where that holds it.
func halfOf(f float32) (uint16, bool) {
	bits := math.Float32bits(f)
	sign, exponent, mantissa := uint16(bits>>16&0x8000), int(bits>>23&0xff)-127, bits&0x7fffff
	switch {
	case bits&0x7fffffff == 0:
		return sign, true
	case exponent == 128: // infinite: NaN is not asked for
		return sign | 0x7c00, true
	case exponent > 15 || exponent < -24:
		return 0, false
	case exponent >= -14:
		return sign | uint16(exponent+15)<<10 | uint16(mantissa>>13), mantissa&0x1fff == 0
	}
	shift := -exponent - 1 // of a number below the least that is normal: 14 to 23
	whole := mantissa | 0x800000
	return sign | uint16(whole>>shift), whole&(1<<shift-1) == 0
}
