package journal

import (
	"encoding/binary"
	"math"
	"slices"
	"unicode/utf8"
)

// Reading an event by hand: seven in eight hold nothing but a plan, a review, a
// result or an amendment, and a list reads three for each row. What is not among
// these, or is not laid out as it should be, is left to the library, whose answer
// then counts.

// quickEvent reads the body of an event into e; false leaves it to the library. It
// copies nothing where there is room for it.
func quickEvent(body []byte, e *eventRecord, in *scratch) bool {
	r := cborReader{b: body, in: in}
	for n, last := r.fields(), int64(0); n > 0 && !r.bad; n-- {
		switch key := r.key(&last); key {
		case 1:
			r.fixed(e.ID[:])
		case 2:
			r.fixed(e.Batch[:])
		case 3:
			e.Code = int(r.integer())
		case 4:
			e.Zone = int(r.integer())
		case 5:
			e.At = r.stamp()
		case 6:
			e.Written = r.newStamp()
			*e.Written = r.stamp()
		case 7:
			e.By = r.text()
		case 8:
			r.fixed(e.Prev[:])
		case 9:
			e.Reason = r.text()
		case 10:
			e.Field = r.text()
		case 11:
			e.Old = r.text()
		case 12:
			e.New = r.text()
		case 13:
			e.Plan = r.plan()
		case 14:
			e.Review = r.review()
		case 15:
			e.Result = r.result()
		default:
			return false
		}
	}
	return !r.bad && len(r.b) == 0
}

// fields reads the head of a map.
func (r *cborReader) fields() uint64 {
	major, n := r.head()
	r.bad = r.bad || major != 5
	return n
}

// key reads a key, which must be above the last.
func (r *cborReader) key(last *int64) int64 {
	key := r.integer()
	r.bad = r.bad || key <= *last
	*last = key
	return key
}

// fixed reads bytes of a known length.
func (r *cborReader) fixed(to []byte) {
	b := r.bytes(2)
	r.bad = r.bad || len(b) != len(to)
	copy(to, b)
}

func (r *cborReader) text() string {
	b := r.bytes(3)
	r.bad = r.bad || !utf8.Valid(b)
	if r.in != nil {
		return inPlace(b)
	}
	return string(b)
}

func (r *cborReader) own() []byte {
	if r.in != nil {
		return r.bytes(2)
	}
	return append([]byte{}, r.bytes(2)...)
}

// newStamp and those that follow give room for what is read.
func (r *cborReader) newStamp() *stamp {
	if r.in != nil {
		return room(&r.in.stamps)
	}
	return &stamp{}
}

func (r *cborReader) newFloat(x float64) *float64 {
	if r.in == nil {
		return &x
	}
	p := room(&r.in.floats)
	*p = x
	return p
}

func (r *cborReader) newPlan() *planRecord {
	if r.in != nil {
		return room(&r.in.plans)
	}
	return &planRecord{}
}

func (r *cborReader) newReview() *reviewRecord {
	if r.in != nil {
		return room(&r.in.reviews)
	}
	return &reviewRecord{}
}

func (r *cborReader) newResult() *resultRecord {
	if r.in != nil {
		return room(&r.in.results)
	}
	return &resultRecord{}
}

func (r *cborReader) newPoints(n int) []string {
	if r.in == nil {
		return make([]string, 0, n)
	}
	from := len(r.in.points)
	r.in.points = slices.Grow(r.in.points, n)
	r.in.points = r.in.points[:from+n]
	return r.in.points[from : from : from+n]
}

func (r *cborReader) newCauses() map[string]int {
	if r.in != nil {
		return r.in.counts()
	}
	return map[string]int{}
}

func (r *cborReader) stamp() stamp {
	major, n := r.head()
	r.bad = r.bad || major != 4 || n != 2
	return stamp{Nanos: r.integer(), Offset: int(r.integer())}
}

// float reads a float of any of the three lengths.
func (r *cborReader) float() *float64 {
	if len(r.b) == 0 {
		r.bad = true
		return nil
	}
	var x float64
	first := r.b[0]
	size := 0
	switch first {
	case 0xf9:
		size = 3
	case 0xfa:
		size = 5
	case 0xfb:
		size = 9
	}
	if size == 0 || len(r.b) < size {
		r.bad = true
		return nil
	}
	switch b := r.b[1:]; first {
	case 0xf9:
		x = half(binary.BigEndian.Uint16(b))
	case 0xfa:
		x = float64(math.Float32frombits(binary.BigEndian.Uint32(b)))
	default:
		x = math.Float64frombits(binary.BigEndian.Uint64(b))
	}
	r.b = r.b[size:]
	return r.newFloat(x)
}

// half gives the value of a float of 16 bits (RFC 8949, appendix D).
func half(h uint16) float64 {
	exponent, mantissa := int(h>>10&0x1f), float64(h&0x3ff)
	var x float64
	switch exponent {
	case 0:
		x = math.Ldexp(mantissa, -24)
	case 31:
		if x = math.Inf(1); mantissa != 0 {
			x = math.NaN()
		}
	default:
		x = math.Ldexp(mantissa+1024, exponent-25)
	}
	if h&0x8000 != 0 {
		return -x
	}
	return x
}

func (r *cborReader) plan() *planRecord {
	p := r.newPlan()
	for n, last := r.fields(), int64(0); n > 0 && !r.bad; n-- {
		switch r.key(&last) {
		case 1:
			p.Number = r.text()
		case 2:
			p.Created = r.stamp()
		case 3:
			p.Recipe = r.own()
		case 4:
			p.Alloy = r.text()
		case 5:
			p.Shape = r.text()
		case 6:
			p.Pieces = int(r.integer())
		case 7:
			p.Spares = int(r.integer())
		case 8:
			p.Sheet = r.own()
		case 9:
			p.By = r.text()
		case 10:
			p.Note = r.text()
		default:
			r.bad = true
		}
	}
	return p
}

func (r *cborReader) review() *reviewRecord {
	v := r.newReview()
	for n, last := r.fields(), int64(0); n > 0 && !r.bad; n-- {
		switch r.key(&last) {
		case 1:
			v.By = r.text()
		case 2:
			v.At = r.stamp()
		case 3:
			v.Digest = r.text()
		case 4:
			major, count := r.head()
			r.bad = r.bad || major != 4 || count > uint64(len(r.b))
			v.Points = r.newPoints(int(min(count, maxPoints)))
			for ; count > 0 && !r.bad; count-- {
				v.Points = append(v.Points, r.text())
			}
		case 5:
			v.Packed = r.own()
		default:
			r.bad = true
		}
	}
	return v
}

func (r *cborReader) result() *resultRecord {
	v := r.newResult()
	for n, last := r.fields(), int64(0); n > 0 && !r.bad; n-- {
		switch r.key(&last) {
		case 1:
			v.Good = int(r.integer())
		case 2:
			v.Rework = int(r.integer())
		case 3:
			v.Reject = int(r.integer())
		case 4:
			v.Causes = r.newCauses()
			count := 0
			r.causes(func(name []byte, pieces int) {
				count++
				r.bad = r.bad || !utf8.Valid(name)
				if r.in != nil {
					v.Causes[inPlace(name)] = pieces
				} else {
					v.Causes[string(name)] = pieces
				}
			})
			r.bad = r.bad || count != len(v.Causes) // a name twice
		case 5:
			v.Celsius = r.float()
		case 6:
			v.Seconds = r.float()
		case 7:
			v.Shade = r.text()
		case 8:
			v.Note = r.text()
		case 9:
			v.At = r.stamp()
		default:
			r.bad = true
		}
	}
	return v
}
