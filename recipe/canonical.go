package recipe

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"math"
	"strconv"

	"hepar/recipe/measure"
)

// canonicalFormat counts the layouts of the canonical content, so that no digests of two
// match.
const canonicalFormat = 4

// Canonical returns what the recipe says, and nothing of how the file says it: one line of
// JSON with sorted keys and every figure in the unit of its key. Comments, layout, the order
// of keys and equivalent units do not change it, and slug, place and lines are no part of it.
func Canonical(r *Recipe) []byte {
	type object = map[string]any // the library sorts its keys
	reagents := []object{}
	for _, g := range r.Bath.Reagents {
		reagents = append(reagents, object{"substance": g.Substance, "form": g.Form, "concentration": strengths(g.Concentration), "unit": g.Concentration.At.Unit(), "note": g.Note, "source": g.Source, "warns_of": list(g.WarnsOf)})
	}
	steps := []object{}
	for _, s := range r.Steps {
		steps = append(steps, object{"do": s.Do, "with": s.With, "concentration": strengths(s.Concentration), "unit": s.Concentration.At.Unit(),
			"water_c": canonicalRange(s.Water), "has_water": s.HasWater, "time_s": canonicalRange(s.Time), "baths": s.Baths,
			"running": s.Running, "how": s.How, "note": s.Note, "in": s.In, "tools": list(s.Tools), "warns_of": list(s.WarnsOf)})
	}
	mix := []object{}
	for _, m := range r.Bath.Mix {
		mix = append(mix, object{"add": m.Add, "part": figure(m.Part), "water_c": figure(m.Water), "has_water": m.HasWater, "how": m.How, "warns_of": list(m.WarnsOf)})
	}
	content := object{
		"format": canonicalFormat, "title": r.Title, "revision": r.Revision, "kind": r.Kind, "alloys": list(r.Alloys), "look": r.Look,
		"source": r.Source, "warns_of": list(r.WarnsOf), "plated": r.Plated, "dip": nil, "coats": nil, "steps": steps,
		"bath": object{"water_c": canonicalRange(r.Bath.Water), "max_load_dm2_per_l": figure(r.Bath.MaxLoad), "max_load_reason": r.Bath.MaxLoadReason,
			"works_down_to_c": figure(r.Bath.WorksDownTo), "weakest": figure(r.Bath.Weakest), "mix": mix, "vessel": r.Bath.Vessel, "reagents": reagents},
		"hazards": object{"gas": list(r.Hazards.Gas), "ventilation": r.Hazards.Ventilation, "ppe": list(r.Hazards.PPE),
			"disposal": r.Hazards.Disposal, "notes": list(r.Hazards.Notes), "warns_of": list(r.Hazards.WarnsOf)},
	}
	if d := r.Dip; d != nil {
		content["dip"] = object{"time_s": canonicalRange(d.Time), "dips": d.Dips, "stop_at": d.StopAt,
			"window_short": figure(d.Window.Short), "window_long": figure(d.Window.Long), "window_source": d.Window.Source}
	}
	if c := r.Coats; c != nil {
		content["coats"] = object{"number": canonicalRange(c.Number), "spread_ml_per_m2": canonicalRange(c.Spread), "wait_s": canonicalRange(c.Wait)}
	}
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	_ = enc.Encode(content) // every value above can be encoded
	return bytes.TrimSuffix(out.Bytes(), []byte("\n"))
}

// figure is a number with ten significant digits, finer than any balance or clock, so that 4.5
// g/L and 4500 mg/L are equal. An infinite one, in a recipe made by hand, is null.
func figure[T ~float64](v T) any {
	x, err := strconv.ParseFloat(strconv.FormatFloat(float64(v), 'e', 9, 64), 64)
	if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return x + 0 // no minus zero
}

func canonicalRange[T ~float64](r Range[T]) map[string]any {
	return map[string]any{"at": figure(r.At), "from": figure(r.From), "to": figure(r.To)}
}

func strengths(r Range[measure.Concentration]) map[string]any {
	return canonicalRange(Range[float64]{At: r.At.PerL, From: r.From.PerL, To: r.To.PerL})
}

// list makes a missing list and an empty one equal.
func list(items []string) []string { return append([]string{}, items...) }

// Digest returns "sha256:" and the hex digest of [Canonical]. Two recipes with the same
// digest make the same batch sheet.
func Digest(r *Recipe) string {
	sum := sha256.Sum256(Canonical(r))
	return "sha256:" + hex.EncodeToString(sum[:])
}
