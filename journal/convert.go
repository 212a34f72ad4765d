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
	if r.Celsius != nil {
		c := measure.Celsius(*r.Celsius)
		out.Temperature = &c
	}
	if r.Seconds != nil {
		s := measure.Seconds(*r.Seconds)
		out.Time = &s
	}
	return out
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
