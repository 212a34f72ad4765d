package label

import (
	"math"
	"slices"
	"strconv"
	"time"

	"hepar/recipe"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// BathLabel is what stands on a tank. Its name, what is in it and when it was mixed must
// be given.
type BathLabel struct {
	Name     string // what it is: "Blue-black on silver"
	Recipe   string // slug
	Revision int    // 0 where there is none
	Batch    string // number, "2026-014"
	Contents []Content
	Volume   measure.Liters  // 0 where not given
	At       measure.Celsius // working temperature
	HasAt    bool
	Mixed    time.Time
	By       string          // who mixed it
	Life     measure.Seconds // from mixing to discarding; 0: a blank to write in
	SDS      string          // where the data sheets are
	Note     string
}

// BathOf fills in what a recipe knows of its bath. The rest is up to the caller: batch,
// mixing time, who. A nil recipe gives an empty BathLabel.
func BathOf(r *recipe.Recipe) BathLabel {
	if r == nil {
		return BathLabel{}
	}
	return BathLabel{
		Name: r.Title, Recipe: r.Slug, Revision: r.Revision, Contents: ContentsOf(r),
		At: r.Bath.Water.At, HasAt: true, Life: r.Bath.Life,
	}
}

// longestLife is ten years: nothing mixed in a tank is kept longer.
const longestLife = 10 * 366 * 24 * 3600

// Discard is the time at which the bath has to go: mixing time plus life. It is the zero
// time where either is not given or makes no sense.
func (b BathLabel) Discard() time.Time {
	if b.Mixed.IsZero() || !(b.Life > 0 && b.Life <= longestLife) {
		return time.Time{}
	}
	return b.Mixed.Add(time.Duration(float64(b.Life) * float64(time.Second)))
}

// Bath makes the label of a tank: what it is, recipe and revision, batch, contents, who
// mixed it and when, when to discard it, hazards, and for sulfides NO ACID in the
// largest letters. The hazards are those of the substances undiluted. Errors are of
// kind Usage; contents that must not meet, or
// that no recipe may use, are an error of kind Safety.
func Bath(b BathLabel) (Label, error) {
	if err := tidy("the name of the bath", &b.Name, "the recipe", &b.Recipe, "the batch", &b.Batch, "the name of who mixed it", &b.By, "the place of the SDS", &b.SDS, "the note", &b.Note); err != nil {
		return Label{}, err
	}
	switch {
	case b.Name == "":
		return Label{}, fault.Usagef("the bath has no name").Try("say what it is")
	case len(b.Contents) == 0:
		return Label{}, fault.Usagef("nothing is in the bath").Try("give the substances of the recipe")
	case b.Mixed.IsZero():
		return Label{}, fault.Usagef("when the bath was mixed is not given").Try("give the date and time; the discard time is counted from it")
	case b.Life != 0 && !(b.Life > 0 && b.Life <= longestLife):
		return Label{}, fault.Usagef("a bath life of %g s", float64(b.Life)).Try("give a time above zero and below ten years, or none")
	case b.Volume != 0 && !(b.Volume > 0 && b.Volume <= 1e6):
		return Label{}, fault.Usagef("a bath of %g L", float64(b.Volume)).Try("give a volume above zero, or none")
	case b.HasAt && (math.IsNaN(float64(b.At)) || b.At < -20 || b.At > 400):
		return Label{}, fault.Usagef("a bath at %g C", float64(b.At)).Try("give the temperature of the bath in degrees C")
	}
	contents, err := settleAll(b.Contents)
	if err != nil {
		return Label{}, err
	}
	for _, c := range contents {
		if c.sub.Banned != "" {
			return Label{}, fault.Safetyf("%s belongs in no bath: %s", c.Name, c.sub.Banned).Try("choose a recipe without it; there is no flag that lets it through")
		}
	}
	discard := b.Discard()
	for _, t := range []time.Time{b.Mixed, discard} {
		if err := dated("the time of mixing or discarding", t); err != nil {
			return Label{}, err
		}
	}
	d := dangers(contents)
	l := Label{kind: "bath", title: upper(b.Name), kicker: b.reference(), under: []block{{spans: b.holds(contents), scale: 1}}}
	l.take(d)
	end := box{name: "DISCARD AT"}
	if !discard.IsZero() {
		end.value = minute(discard)
	}
	l.boxes = []box{end}
	mixed := []span{boldly("Mixed"), plainly(minute(b.Mixed))}
	if b.By != "" {
		mixed = append(mixed, plainly("by"), boldly(b.By))
	}
	l.lines = append(l.lines, block{spans: mixed, scale: 1.05})
	l.keep(contents)
	if slices.ContainsFunc(contents, func(c Content) bool { return c.in(reagent.Sulfide) }) {
		l.lines = append(l.lines, block{spans: []span{plainly("Past its time it is still sulfide: into the sulfide waste.")}, scale: 0.95, last: inBrief})
	}
	if b.Note != "" {
		l.lines = append(l.lines, block{spans: []span{plainly(b.Note)}, scale: 0.95, last: inBrief})
	}
	l.foot.spans = append([]span{plainly("Hazards as of the substances undiluted.")}, d.origin(false)...)
	l.foot.brief = append([]span{plainly("Hazards as if undiluted.")}, d.origin(true)...)
	if b.SDS != "" {
		l.foot.spans = append(l.foot.spans, boldly("SDS"), plainly(b.SDS))
	}
	return l, nil
}

// reference is the line over the name: kind, batch, recipe.
func (b BathLabel) reference() []span {
	out := []span{boldly("BATH")}
	if b.Batch != "" {
		out = append(out, plainly("· batch"), boldly(b.Batch))
	}
	if b.Recipe != "" {
		out = append(out, plainly("· recipe "+b.Recipe))
		if b.Revision > 0 {
			out = append(out, plainly("revision "+strconv.Itoa(b.Revision)))
		}
	}
	return out
}

// holds is what is in the tank: substances, water, temperature.
func (b BathLabel) holds(contents []Content) []span {
	out := list(contents)
	last := ""
	if b.Volume > 0 {
		last += " " + measure.Metric.Volume(b.Volume)
	}
	if b.HasAt {
		last += " at " + measure.Round(float64(b.At), 0) + " °C"
	}
	if last != "" {
		out = append(out, plainly("·"+last))
	}
	return out
}

// list writes the contents with their amounts.
func list(contents []Content) []span {
	var out []span
	for i, c := range contents {
		name := c.Name
		if i == 0 {
			name = upper(name)
		}
		end := ""
		if i < len(contents)-1 {
			end = ","
		}
		if c.Amount == "" {
			out = append(out, boldly(name+end))
			continue
		}
		out = append(out, boldly(name), plainly(c.Amount+end))
	}
	return out
}
