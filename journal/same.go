package journal

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"
)

// difference says in which field a row and the batch here differ; empty where
// they are the same. What a row does not tell is not compared.
func (r *row) difference(here View) string {
	type pair struct {
		what       string
		here, file string
	}
	text := func(s *string) string {
		if s == nil {
			return ""
		}
		return *s
	}
	number := func(n *int) string {
		if n == nil {
			return ""
		}
		return strconv.Itoa(*n)
	}
	figure := func(x *float64) string { return floatText(x, "") }
	pairs := []pair{
		{"created", here.Created, timeText(r.created)}, {"recipe", here.Recipe, r.Recipe}, {"recipe_title", here.RecipeTitle, r.RecipeTitle},
		{"recipe_revision", strconv.Itoa(here.RecipeRevision), strconv.Itoa(r.RecipeRevision)}, {"alloy", here.Alloy, r.Alloy}, {"shape", here.Shape, r.Shape},
		{"pieces", strconv.Itoa(here.Pieces), strconv.Itoa(r.Pieces)}, {"spares", strconv.Itoa(here.Spares), strconv.Itoa(r.Spares)},
		{"by", here.By, r.By}, {"order", here.Order, r.Order},
		{"good", number(here.Good), number(r.Good)}, {"rework", number(here.Rework), number(r.Rework)}, {"reject", number(here.Reject), number(r.Reject)},
		{"causes", causesText(here.Causes), causesText(r.Causes)}, {"temperature", figure(here.TemperatureC), figure(r.TemperatureC)},
		{"time", figure(here.TimeS), figure(r.TimeS)}, {"shade", text(here.Shade), text(r.Shade)}, {"note", text(here.Note), text(r.Note)},
	}
	if r.Logged != nil {
		pairs = append(pairs, pair{"logged", text(here.Logged), timeText(r.logged)})
	}
	if !r.loose {
		pairs = append(pairs, pair{"recipe_kind", here.RecipeKind, r.RecipeKind}, pair{"recipe_digest", here.RecipeDigest, r.RecipeDigest})
	}
	if r.State != "" {
		pairs = append(pairs, pair{"state", r.stateAs(here.State), r.stateAs(r.State)})
	}
	if r.RecipeText != "" {
		pairs = append(pairs, pair{"recipe_text", here.RecipeText, r.RecipeText})
	}
	if r.Sheet != nil {
		pairs = append(pairs, pair{"sheet", compactJSON(here.Sheet), compactJSON(r.Sheet)})
	}
	for _, p := range pairs {
		if p.here != p.file {
			return fmt.Sprintf("%s is %q here and %q in the file", p.what, cut(p.here), cut(p.file))
		}
	}
	return ""
}

// stateAs leaves aside how far a plan has come where the row cannot tell:
// a table has no reviews.
func (r *row) stateAs(state string) string {
	if s := State(state); r.loose && (s == Reviewed || s == Dipped) {
		return string(Planned)
	}
	return state
}

func compactJSON(text []byte) string {
	var out bytes.Buffer
	if json.Compact(&out, text) != nil {
		return string(text)
	}
	return out.String()
}
