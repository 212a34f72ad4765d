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

// canonicalFormat counts the layouts of the canonical content. It is part of it,
// so that digests of two layouts can never be taken for one another.
const canonicalFormat = 2

// Canonical returns what the recipe says, and nothing of how the file says it: one
// line of JSON with the keys in alphabetical order and every figure in the unit
// of its name. Comments, layout, the order of keys and equivalent units do not
// change it; any figure, word or step does. Slug, place and line numbers are not
// in it.
func Canonical(r *Recipe) []byte {
	// Written by hand: making a writer of JSON for nine types would cost a command
	// more than reading the recipe.
	c := canon{out: make([]byte, 0, 2*len(r.Text)+512)}
	c.list("{\"alloys\":", r.Alloys)
	c.bath(r.Bath)
	c.word(",\"coats\":")
	if l := r.Coats; l != nil {
		canonRange(&c, "{\"number\":", l.Number)
		canonRange(&c, ",\"spread_ml_per_m2\":", l.Spread)
		canonRange(&c, ",\"wait_s\":", l.Wait)
		c.word("}")
	} else {
		c.word("null")
	}
	c.word(",\"dip\":")
	if d := r.Dip; d != nil {
		c.whole("{\"dips\":", d.Dips)
		c.text(",\"stop_at\":", d.StopAt)
		canonRange(&c, ",\"time_s\":", d.Time)
		c.figure(",\"window\":{\"long\":", d.Window.Long)
		c.figure(",\"short\":", d.Window.Short)
		c.text(",\"source\":", d.Window.Source)
		c.word("}}")
	} else {
		c.word("null")
	}
	c.whole(",\"format\":", canonicalFormat)
	c.text(",\"hazards\":{\"disposal\":", r.Hazards.Disposal)
	c.list(",\"gas\":", r.Hazards.Gas)
	c.list(",\"notes\":", r.Hazards.Notes)
	c.list(",\"ppe\":", r.Hazards.PPE)
	c.text(",\"ventilation\":", r.Hazards.Ventilation)
	c.text("},\"kind\":", string(r.Kind))
	c.text(",\"look\":", r.Look)
	c.flag(",\"plated\":", r.Plated)
	c.whole(",\"revision\":", r.Revision)
	c.text(",\"source\":", r.Source)
	c.word(",\"steps\":[")
	for i, s := range r.Steps {
		c.comma(i)
		c.step(s)
	}
	c.text("],\"title\":", r.Title)
	c.word("}")
	return c.out
}

func (c *canon) bath(b Bath) {
	c.figure(",\"bath\":{\"max_load_dm2_per_l\":", float64(b.MaxLoad))
	c.text(",\"max_load_reason\":", b.MaxLoadReason)
	c.word(",\"mix\":[")
	for i, m := range b.Mix {
		c.comma(i)
		c.text("{\"add\":", m.Add)
		c.flag(",\"has_water\":", m.HasWater)
		c.text(",\"how\":", m.How)
		c.figure(",\"part\":", m.Part)
		c.figure(",\"water_c\":", float64(m.Water))
		c.word("}")
	}
	c.word("],\"reagents\":[")
	for i, g := range b.Reagents {
		c.comma(i)
		c.concentration("{\"concentration\":", g.Concentration)
		c.text(",\"form\":", g.Form)
		c.text(",\"note\":", g.Note)
		c.text(",\"substance\":", g.Substance)
		c.text(",\"unit\":", unitOf(g.Concentration))
		c.word("}")
	}
	c.text("],\"vessel\":", b.Vessel)
	canonRange(c, ",\"water_c\":", b.Water)
	c.figure(",\"weakest\":", b.Weakest)
	c.figure(",\"works_down_to_c\":", float64(b.WorksDownTo))
	c.word("}")
}

func (c *canon) step(s Step) {
	c.whole("{\"baths\":", s.Baths)
	c.concentration(",\"concentration\":", s.Concentration)
	c.text(",\"do\":", s.Do)
	c.flag(",\"has_water\":", s.HasWater)
	c.text(",\"how\":", s.How)
	c.text(",\"note\":", s.Note)
	c.flag(",\"running\":", s.Running)
	canonRange(c, ",\"time_s\":", s.Time)
	c.text(",\"unit\":", unitOf(s.Concentration))
	canonRange(c, ",\"water_c\":", s.Water)
	c.text(",\"with\":", s.With)
	c.word("}")
}

// canon writes the canonical content, each value behind its key.
type canon struct{ out []byte }

func (c *canon) word(s string) { c.out = append(c.out, s...) }

func (c *canon) comma(i int) {
	if i > 0 {
		c.out = append(c.out, ',')
	}
}

func (c *canon) whole(key string, n int) {
	c.out = strconv.AppendInt(append(c.out, key...), int64(n), 10)
}

func (c *canon) flag(key string, on bool) {
	c.out = strconv.AppendBool(append(c.out, key...), on)
}

// figure writes a number with ten significant digits, which no balance or clock
// reaches, so that 4.5 g/L and 4500 mg/L give the same text: the shortest text of
// the figure at ten digits. One that is none (which Decode never lets through)
// becomes null.
func (c *canon) figure(key string, v float64) {
	c.word(key)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		c.word("null")
		return
	}
	if v == 0 {
		v = 0 // no minus zero
	}
	var room [32]byte
	short, err := strconv.ParseFloat(string(strconv.AppendFloat(room[:0], v, 'e', 9, 64)), 64)
	if err != nil { // cannot happen
		short = v
	}
	c.out = strconv.AppendFloat(c.out, short, 'g', -1, 64)
}

func canonRange[T ~float64](c *canon, key string, r Range[T]) {
	c.word(key)
	c.figure("{\"at\":", float64(r.At))
	c.figure(",\"from\":", float64(r.From))
	c.figure(",\"to\":", float64(r.To))
	c.word("}")
}

func (c *canon) concentration(key string, r Range[measure.Concentration]) {
	canonRange(c, key, Range[float64]{r.At.PerL, r.From.PerL, r.To.PerL})
}

// unitOf returns the unit of a concentration, empty where none is given.
func unitOf(r Range[measure.Concentration]) string {
	if r.At.PerL == 0 {
		return ""
	}
	return r.At.Unit()
}

// text writes a text as JSON. Nearly all are plain; what is not goes through the
// library.
func (c *canon) text(key, s string) {
	c.word(key)
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' || s[i] == '"' || s[i] == '\\' {
			var out bytes.Buffer
			enc := json.NewEncoder(&out)
			enc.SetEscapeHTML(false)
			if enc.Encode(s) == nil { // a text always goes
				c.out = append(c.out, bytes.TrimSuffix(out.Bytes(), []byte("\n"))...)
			}
			return
		}
	}
	c.out = append(append(append(c.out, '"'), s...), '"')
}

// list writes an absent list and an empty one alike.
func (c *canon) list(key string, items []string) {
	c.word(key)
	c.word("[")
	for i, item := range items {
		c.comma(i)
		c.text("", item)
	}
	c.word("]")
}

// Digest returns "sha256:" and the hex digest of [Canonical]. Two recipes with the
// same digest make the same batch sheet.
func Digest(r *Recipe) string {
	sum := sha256.Sum256(Canonical(r))
	return "sha256:" + hex.EncodeToString(sum[:])
}
