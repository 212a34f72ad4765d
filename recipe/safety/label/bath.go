package label

import (
	"strconv"
	"time"

	"hepar/recipe"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// BathLabel is what stands on a tank. It needs a name, contents and the mixing time.
type BathLabel struct {
	Name     string // what it is: "Blue-black on silver"
	Recipe   string // slug
	Revision int    // 0 where there is none
	Batch    string // number, "2026-014"
	Contents []Content
	Volume   measure.Liters  // 0 where not known
	At       measure.Celsius // working temperature, from -20 to 400; where the bath starts
	To       measure.Celsius // where it ends, if it cools; 0: as it starts
	Mixed    time.Time
	By       string          // who mixed it
	Life     measure.Seconds // from mixing to the end of the plan, when it is discarded; 0: a blank to write in
	Note     string
}

// BathOf fills in what a recipe knows of its bath; batch, mixing time and person are the
// caller's.
func BathOf(r *recipe.Recipe) BathLabel {
	return BathLabel{Name: r.Title, Recipe: r.Slug, Revision: r.Revision, Contents: ContentsOf(r), At: r.Bath.Water.At}
}

// Discard returns when the bath has to go: mixing time plus life, zero where there is no life.
func (b BathLabel) Discard() time.Time {
	if b.Life == 0 {
		return time.Time{}
	}
	return b.Mixed.Add(time.Duration(float64(b.Life) * float64(time.Second)))
}

func (b BathLabel) check() error {
	const longestLife = 10 * 366 * 24 * 3600 // ten years: nothing mixed in a tank is kept longer
	switch {
	case b.Name == "" || b.Mixed.IsZero():
		return fault.Usagef("the bath has no name or no mixing time").Try("state both; the discard time counts from the mixing")
	case len(b.Contents) == 0:
		return fault.Usagef("the bath has no contents").Try("list the substances of the recipe")
	case !(b.Life >= 0 && b.Life <= longestLife && b.Volume >= 0 && b.Volume <= 1e6 && b.At >= -20 && b.At <= 400 && b.To >= -20 && b.To <= 400):
		return fault.Usagef("a bath cannot have %g L, %g C and a life of %g s", float64(b.Volume), float64(b.At), float64(b.Life)).
			Try("choose a volume above zero, a temperature from -20 to 400 C, and a life up to ten years; leave out what is not known")
	}
	return nil
}

// Bath makes the label of a tank, for sulfides with NO ACID in the largest letters. The
// hazards are those of the substances undiluted. Errors are of kind Usage; contents that must
// not meet, or that no recipe may use, are an error of kind Safety.
func Bath(b BathLabel) (Label, error) {
	if err := tidy("the name of the bath", &b.Name, "the recipe", &b.Recipe, "the batch", &b.Batch, "the name of the person who mixed it", &b.By, "the note", &b.Note); err != nil {
		return Label{}, err
	}
	if err := b.check(); err != nil {
		return Label{}, err
	}
	contents, err := settleAll(b.Contents)
	if err != nil {
		return Label{}, err
	}
	for _, c := range contents {
		if c.sub.Banned != "" {
			return Label{}, fault.Safetyf("%s belongs in no bath: %s", c.Name, c.sub.Banned).Try("choose a recipe without it; no flag lets it through")
		}
	}
	holds := list(contents)
	if b.Volume > 0 {
		holds += words(" · " + measure.Metric.Volume(b.Volume))
	}
	holds += words(" · at " + measure.Round(float64(b.At), 0))
	if end := measure.Round(float64(b.To), 0); b.To != 0 && end != measure.Round(float64(b.At), 0) {
		holds += words(" to " + end)
	}
	holds += " C"
	recipe := pair("recipe", words(b.Recipe))
	if recipe != "" && b.Revision > 0 {
		recipe += words(" revision " + strconv.Itoa(b.Revision))
	}
	l := Label{Kind: "bath", Title: upper(b.Name)}
	l.Head = []part{
		{Class: "kicker", Words: dotted(bold("BATH"), pair("batch", bold(b.Batch)), recipe)},
		{Class: "title", Words: bold(l.Title)},
		{Class: "text", Words: holds},
	}
	d := dangers(contents)
	l.warn(d)
	mixed := pair(bold("Mixed"), words(written(b.Mixed, minute))) + " " + pair("by", bold(b.By))
	due := "DISCARD AT"
	if b.Life > 0 {
		due = "DISCARD BY (END OF THE PLAN)"
	}
	l.Main = append(l.Main, part{Class: "boxes", Parts: []part{figure(due, written(b.Discard(), minute))}}, part{Class: "text", Words: mixed})
	l.keepApart(contents)
	if anyIn(contents, reagent.Sulfide) {
		l.note("Past its time it is still sulfide: pour it into the sulfide waste.")
	}
	l.note(b.Note)
	l.End = append(l.End, foot("Hazards are those of the undiluted substances.", "Hazards if undiluted.", d))
	return l, nil
}
