package gas

// FanM3H is the most that a window or bathroom fan moves, in m3/h: 300. Common
// practice, no published source.
const FanM3H = 300.0

// mostChanges is from how many air changes an hour a room is no longer one to work in:
// 10, assumed.
const mostChanges = 10.0

// The two answers to what a flow of air could do.
const (
	CaptureOnly = "capture at the source: no room fan does this"
	CaptureToo  = "capture at the source all the same: this flow is for the bath as it stands, not for acid in it"
)

// Flow is the air that would keep a scenario at a limit.
type Flow struct {
	Code     string  `json:"code"`
	Scenario string  `json:"scenario"`
	M3H      float64 `json:"m3_h"`
	Limit    string  `json:"limit"`
	Answer   string  `json:"answer"`
}

// Flows returns the air in m3/h that would keep the room at a limit in ppm, with
// [MixingFactor], for the bath as planned and for a fall of its pH. It counts with the
// upper end of the band, five times the estimate. There is none where the pH was not
// measured.
func (b Bath) Flows(r Room, limit Limit) []Flow {
	b = b.sound()
	if b.PH == 0 {
		return nil
	}
	r, _, _ = r.Filled()
	var list []Flow
	for _, s := range []struct {
		code, words string
		pH          float64
	}{
		{"as-planned", "the bath as planned", b.PHFrom}, {"ph-9", "the bath at pH 9", 9}, {"ph-8", "the bath at pH 8", 8}, {"ph-7", "the bath at pH 7", 7},
	} {
		if s.code != "as-planned" && s.pH >= b.PHFrom {
			continue
		}
		q := Airflow(b.source(s.pH)*Factor, MgPerM3(limit.Value, H2SMass), MixingFactor)
		f := Flow{Code: s.code, Scenario: s.words, M3H: figures(q), Limit: limit.List, Answer: CaptureToo}
		if q > FanM3H || q > mostChanges*r.VolumeM3 {
			f.Answer = CaptureOnly
		}
		list = append(list, f)
	}
	return list
}
