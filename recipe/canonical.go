package recipe

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"math"
	"strconv"
)

// canonicalFormat counts the layouts of the canonical content. It is part of it,
// so that digests of two layouts can never be taken for one another.
const canonicalFormat = 1

// figure is a number of the canonical content: ten significant digits, which no
// balance or clock reaches, so that 4.5 g/L and 4500 mg/L give the same text.
type figure float64

// MarshalJSON gives the shortest text of the figure at ten digits; a figure that
// is none (which Decode never lets through) becomes null.
func (f figure) MarshalJSON() ([]byte, error) {
	v := float64(f)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return []byte("null"), nil
	}
	if v == 0 {
		v = 0 // no minus zero
	}
	short, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', 9, 64), 64)
	if err != nil {
		return nil, err
	}
	return strconv.AppendFloat(nil, short, 'g', -1, 64), nil
}

type canonRange struct {
	At   figure `json:"at"`
	From figure `json:"from"`
	To   figure `json:"to"`
}

func canonOf[T ~float64](r Range[T]) canonRange {
	return canonRange{figure(r.At), figure(r.From), figure(r.To)}
}

// The fields stand in the order of their JSON names.
type canonRecipe struct {
	Alloys   []string    `json:"alloys"`
	Bath     canonBath   `json:"bath"`
	Coats    *canonCoats `json:"coats"`
	Dip      *canonDip   `json:"dip"`
	Format   int         `json:"format"`
	Hazards  canonHazard `json:"hazards"`
	Kind     Kind        `json:"kind"`
	Look     string      `json:"look"`
	Plated   bool        `json:"plated"`
	Revision int         `json:"revision"`
	Source   string      `json:"source"`
	Steps    []canonStep `json:"steps"`
	Title    string      `json:"title"`
}

type canonBath struct {
	LifeS          figure         `json:"life_s"`
	MaxLoadDM2PerL figure         `json:"max_load_dm2_per_l"`
	Reagents       []canonReagent `json:"reagents"`
	Vessel         string         `json:"vessel"`
	WaterC         canonRange     `json:"water_c"`
}

type canonReagent struct {
	Concentration canonRange `json:"concentration"`
	Form          string     `json:"form"`
	Note          string     `json:"note"`
	Substance     string     `json:"substance"`
	Unit          string     `json:"unit"`
}

type canonDip struct {
	Dips   int        `json:"dips"`
	StopAt string     `json:"stop_at"`
	TimeS  canonRange `json:"time_s"`
}

type canonCoats struct {
	Number        canonRange `json:"number"`
	SpreadMLPerM2 canonRange `json:"spread_ml_per_m2"`
	WaitS         canonRange `json:"wait_s"`
}

type canonStep struct {
	Baths         int        `json:"baths"`
	Concentration canonRange `json:"concentration"`
	Do            string     `json:"do"`
	HasWater      bool       `json:"has_water"`
	How           string     `json:"how"`
	Note          string     `json:"note"`
	Running       bool       `json:"running"`
	TimeS         canonRange `json:"time_s"`
	Unit          string     `json:"unit"`
	WaterC        canonRange `json:"water_c"`
	With          string     `json:"with"`
}

type canonHazard struct {
	Disposal    string   `json:"disposal"`
	Gas         []string `json:"gas"`
	Notes       []string `json:"notes"`
	PPE         []string `json:"ppe"`
	Ventilation string   `json:"ventilation"`
}

// Canonical gives what the recipe says, and nothing of how the file says it: one
// line of JSON with the keys in alphabetical order and every figure in the unit
// of its name. Comments, layout, the order of keys and equivalent units do not
// change it; any figure, word or step does. Slug, place and line numbers are not
// in it.
func Canonical(r *Recipe) []byte {
	c := canonRecipe{
		Alloys: list(r.Alloys), Format: canonicalFormat, Kind: r.Kind, Look: r.Look, Plated: r.Plated,
		Revision: r.Revision, Source: r.Source, Title: r.Title, Steps: []canonStep{},
		Bath: canonBath{LifeS: figure(r.Bath.Life), MaxLoadDM2PerL: figure(r.Bath.MaxLoad), Reagents: []canonReagent{},
			Vessel: r.Bath.Vessel, WaterC: canonOf(r.Bath.Water)},
		Hazards: canonHazard{r.Hazards.Disposal, list(r.Hazards.Gas), list(r.Hazards.Notes), list(r.Hazards.PPE), r.Hazards.Ventilation},
	}
	for _, g := range r.Bath.Reagents {
		c.Bath.Reagents = append(c.Bath.Reagents, canonReagent{canonOf(g.Concentration), g.Form, g.Note, g.Substance, g.Unit})
	}
	if d := r.Dip; d != nil {
		c.Dip = &canonDip{d.Dips, d.StopAt, canonOf(d.Time)}
	}
	if l := r.Coats; l != nil {
		c.Coats = &canonCoats{canonOf(l.Number), canonOf(l.Spread), canonOf(l.Wait)}
	}
	for _, s := range r.Steps {
		c.Steps = append(c.Steps, canonStep{s.Baths, canonOf(s.Concentration), s.Do, s.HasWater, s.How, s.Note, s.Running,
			canonOf(s.Time), s.Unit, canonOf(s.Water), s.With})
	}
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(c); err != nil {
		return nil // cannot happen: the fields hold only texts, numbers and lists
	}
	return bytes.TrimSuffix(out.Bytes(), []byte("\n"))
}

// list writes an absent list and an empty one alike.
func list(items []string) []string {
	if items == nil {
		return []string{}
	}
	return items
}

// Digest gives "sha256:" and the hex digest of [Canonical]. Two recipes with the
// same digest make the same batch sheet.
func Digest(r *Recipe) string {
	sum := sha256.Sum256(Canonical(r))
	return "sha256:" + hex.EncodeToString(sum[:])
}
