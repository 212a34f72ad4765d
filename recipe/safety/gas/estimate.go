package gas

import (
	"math"

	"hepar/recipe/measure"
)

// Factor is how far an estimate may be out, either way. Assumed, from the spread of the mass
// transfer of still and stirred baths (see [Transfer]).
const Factor = 5.0

// Trust returns what stands beside every estimate: how far it may be out, as a factor.
func Trust(factor float64) string {
	return "right within a factor of " + measure.Figures(factor, 2) + " at best: verify with a meter; smell is no detector"
}

// Estimate is what one scenario would put into the air, in figures of three places that hold
// within Factor at best; the bands say so. Without a measured pH there is a band only.
type Estimate struct {
	Gas      string `json:"gas"`
	Code     string `json:"code"` // "as-planned", stable
	Scenario string `json:"scenario"`

	RoomPPM     *float64 `json:"room_ppm"` // mixed through the room; nil where only the band is known
	RoomLowPPM  float64  `json:"room_ppm_low"`
	RoomHighPPM float64  `json:"room_ppm_high"`
	NearPPM     *float64 `json:"near_ppm"` // in the nearest cubic metre; nil likewise
	NearLowPPM  float64  `json:"near_ppm_low"`
	NearHighPPM float64  `json:"near_ppm_high"`
	// HeadspacePPM is the most of still air over the liquid; nil where it is not modelled.
	HeadspacePPM *float64 `json:"headspace_ppm"`

	Factor   float64 `json:"factor"`
	MgPerS   float64 `json:"mg_per_s,omitempty"`      // a steady source
	FreedG   float64 `json:"freed_g,omitempty"`       // or a gas that is there at once
	ClearMin float64 `json:"clear_minutes,omitempty"` // until the room is down to the lowest limit for work
	Note     string  `json:"note"`                    // how far to trust it
}

// Input is one figure on which estimates rest, and where it came from.
type Input struct {
	Name   string  `json:"name"`
	Value  float64 `json:"value"`
	Unit   string  `json:"unit"`
	Source string  `json:"source"` // "given", "assumed: ...", or a published source
}

// In makes an input, rounded to three figures.
func In(name string, value float64, unit, source string) Input {
	return Input{Name: name, Value: figures(value), Unit: unit, Source: source}
}

// spread is a gas in ppm, at most 1e6: mixed through the room, and in the nearest cubic metre.
type spread struct{ room, near float64 }

// band puts the figures of an estimate in: the middle is nil where only the ends are known.
// [Factor] widens each end; where these lie further apart, the factor of the estimate grows
// with them.
func (e Estimate) band(low, high spread, middle bool) Estimate {
	e.Factor = Factor
	if !middle && low.room > 0 {
		e.Factor = max(Factor, figures(Factor*math.Sqrt(high.room/low.room)))
	}
	e.Note = Trust(e.Factor)
	e.RoomLowPPM, e.RoomHighPPM = figures(low.room/Factor), figures(min(high.room*Factor, 1e6))
	e.NearLowPPM, e.NearHighPPM = figures(low.near/Factor), figures(min(high.near*Factor, 1e6))
	if middle {
		e.RoomPPM, e.NearPPM = new(figures(low.room)), new(figures(low.near))
	}
	e.MgPerS, e.FreedG, e.ClearMin = figures(e.MgPerS), figures(e.FreedG), figures(e.ClearMin)
	return e
}

func (e Estimate) under(ppm float64) Estimate {
	e.HeadspacePPM = new(figures(ppm))
	return e
}

// Loss estimates a gas that is in the air at once, counted by stoichiometry: grams of it,
// molar in g/mol. limitPPM is the limit to which the room is cleared, 0 where there is none.
func Loss(gas, code, scenario string, g measure.Grams, molar float64, r Room, limitPPM float64) Estimate {
	r = r.Filled()
	mixed := spread{Mixed(g, molar, r.VolumeM3), Mixed(g, molar, NearM3)}
	e := Estimate{Gas: gas, Code: code, Scenario: scenario, FreedG: within(float64(g), 0, 1e9)}
	if limitPPM > 0 {
		e.ClearMin = ClearMinutes(mixed.room, limitPPM, r.AirChangesPerHour, MixingFactor)
	}
	return e.band(mixed, mixed, true)
}

// GramsToLimit is how much of a substance, fully acidified, brings the room to a limit.
type GramsToLimit struct {
	Substance string  `json:"substance"` // an id; what is unknown is said to be
	Limit     string  `json:"limit"`
	PPM       float64 `json:"ppm"`
	Grams     float64 `json:"grams"`      // in the whole room, mixed evenly
	NearGrams float64 `json:"near_grams"` // in the nearest cubic metre
	Factor    float64 `json:"factor"`
	Averaging string  `json:"averaging"`
	Source    string  `json:"source"`
	Date      string  `json:"date"`
	Note      string  `json:"note"`
}

// ToLimit returns, for each limit in ppm for work and for escape, the grams of a substance
// that acid would have to reach to bring the room to it. The yield is grams of hydrogen
// sulfide for each gram; there is nothing to say where it is not above 0.
func ToLimit(substance string, yield float64, r Room, limits []Limit) []GramsToLimit {
	if !(yield > 0) {
		return nil
	}
	r = r.Filled()
	list := make([]GramsToLimit, 0, len(limits))
	for _, l := range limits {
		if l.Unit != ppm || l.Kind == Emergency || l.Gas != HydrogenSulfide {
			continue
		}
		perM3 := MgPerM3(l.Value, H2SMass) / 1000 / within(yield, 1e-9, 10)
		list = append(list, GramsToLimit{
			Substance: substance, Limit: l.List, PPM: l.Value, Grams: figures(perM3 * r.VolumeM3), NearGrams: figures(perM3 * NearM3),
			Factor: Factor, Averaging: l.Averaging, Source: l.Source, Date: l.Date, Note: Trust(Factor),
		})
	}
	return list
}
