package journal

import (
	"hepar/recipe/measure"
)

// From the shapes callers see to the stored ones and back. What comes in has
// been through clean.go.

func (r *resultRecord) public() *Result {
	out := &Result{Good: r.Good, Rework: r.Rework, Reject: r.Reject, Shade: r.Shade, Note: r.Note}
	if len(r.Causes) > 0 {
		out.Causes = r.Causes
	}
	out.Temperature, out.Time = celsiusOf(r.Celsius), secondsOf(r.Seconds)
	return out
}

func celsiusOf(x *float64) *measure.Celsius {
	if x == nil {
		return nil
	}
	c := measure.Celsius(*x)
	return &c
}

func secondsOf(x *float64) *measure.Seconds {
	if x == nil {
		return nil
	}
	s := measure.Seconds(*x)
	return &s
}

func (r Result) record(at stamp) *resultRecord {
	out := &resultRecord{Good: r.Good, Rework: r.Rework, Reject: r.Reject, Causes: r.Causes, Shade: r.Shade, Note: r.Note, At: at}
	if r.Temperature != nil {
		c := float64(*r.Temperature)
		out.Celsius = &c
	}
	if r.Time != nil {
		s := float64(*r.Time)
		out.Seconds = &s
	}
	return out
}

// Made is the number of pieces counted when the batch was logged.
func (r Result) Made() int { return r.Good + r.Rework + r.Reject }

// Missing is the number of pieces (spares among them) that went in and were not
// counted. It is 0 where no result is logged.
func (b Batch) Missing() int {
	if b.Result == nil {
		return 0
	}
	return max(0, b.Pieces+b.Spares-b.Result.Made())
}
