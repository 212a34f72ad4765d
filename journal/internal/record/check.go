package record

import (
	"regexp"
	"sync"

	"hepar/recipe/fault"
)

const (
	maxPoints     = 200
	maxWasteParts = 100
	leastWaste    = 1e-6      // L
	mostWaste     = 1_000_000 // L
	mostMgPerL    = 2_000_000 // above the mass of a litre of any bath
)

// numbers are the short numbers of batches and containers.
var numbers = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^([0-9]{4}|S)-[0-9]{3,9}$`) })

// checker remembers the first thing that is wrong.
type checker struct{ err error }

func (c *checker) add(err error) {
	if c.err == nil {
		c.err = err
	}
}

// same checks that a text is as the cleaning function leaves it.
func (c *checker) same(clean func(what, text string) (string, error), what, text string) {
	if c.err != nil || text == "" {
		return
	}
	got, err := clean(what, text)
	if err == nil && got != text {
		err = fault.Usagef("the %s has spaces around it", what).Try("write it without")
	}
	c.add(err)
}

func (c *checker) that(ok bool, format string, args ...any) {
	if c.err == nil && !ok {
		c.err = fault.Usagef(format, args...).Try("write it as hepar does, or leave the entry out")
	}
}

func (c *checker) time(what string, s Stamp) {
	if c.err == nil {
		c.that(s.Offset >= -24*60 && s.Offset <= 24*60, "the time of the %s is %d minutes from UTC", what, s.Offset)
		c.add(Year(what, s.Time()))
	}
}

// Check returns an error if the event is not one that this program would write:
// a text too long or not clean, a figure out of range, a part that is missing.
// Every event goes through it before it is written, wherever it comes from.
func (e *Event) Check() error {
	c := &checker{}
	c.that(!e.ID.IsZero(), "the event has no id")
	c.add(Year("entry", e.ID.Timestamp())) // above it no further id could be drawn
	c.that(e.Kind != "", "the event has no kind")
	c.same(Line, "kind of the event", e.Kind)
	c.time("entry", e.At)
	if !e.Written.IsZero() {
		c.time("entry", e.Written)
	}
	c.same(Line, "name", e.By)
	c.same(Note, "reason", e.Reason)
	c.same(Line, "field", e.Field)
	c.same(Note, "value before", e.Old)
	c.same(Note, "value", e.New)
	c.same(Note, "note", e.Note)
	ofJournal := e.Kind == TakenOver || e.Kind == Salvaged
	c.that(ofJournal == e.Of.IsZero(), "the event %s says of which batch it is wrongly", e.Kind)
	if p := e.Plan; p != nil {
		c.that(numbers().MatchString(p.Number) && p.Number[0] != 'S', "the number %q is not that of a batch", p.Number)
		c.time("batch", p.Created)
		c.same(Line, "name of the recipe", p.Slug)
		c.that(p.Slug != "", "the batch names no recipe")
		c.same(Line, "title of the recipe", p.Title)
		c.same(Line, "kind of the recipe", p.Kind)
		c.same(Line, "digest of the recipe", p.Digest)
		c.same(Line, "name", p.By)
		c.that(len(p.TextSHA) == 0 || len(p.TextSHA) == 32, "the digest of the recipe text is not a SHA-256")
		c.that(len(p.SheetSHA) == 0 || len(p.SheetSHA) == 32, "the digest of the sheet is not a SHA-256")
		if c.err == nil {
			c.add((&Batch{Plan: *p}).Check())
		}
	}
	if r := e.Review; r != nil {
		c.same(Line, "name of the reviewer", r.By)
		c.same(Line, "digest of the recipe", r.Digest)
		c.time("review", r.At)
		c.that(len(r.Points) <= maxPoints, "the review has %d points; %d is the most", len(r.Points), maxPoints)
		for _, p := range r.Points {
			c.same(Line, "code of a point", p)
		}
	}
	if r := e.Result; r != nil {
		c.time("result", r.Logged)
		for name, n := range r.Causes {
			clean, err := CauseName(name)
			c.add(err)
			c.that(err != nil || clean == name, "the cause %q is not in its fixed form", name)
			c.that(n >= 1 && n <= MaxPieces, "the cause %q counts %d pieces", name, n)
		}
	}
	if d := e.Dip; d != nil {
		c.same(Line, "name", d.By)
		c.time("dip", d.Started)
		c.that(len(d.Loads) <= MaxMany, "there are %d loads; %d is the most", len(d.Loads), MaxMany)
		for _, l := range d.Loads {
			c.load(l)
		}
	}
	if n := e.Bench; n != nil {
		c.same(Note, "note of the bench", n.Note)
		c.same(Line, "action", n.Action)
		c.same(Line, "key of the entry", n.Key)
		if c.err == nil {
			c.add(n.Check())
		}
	}
	if p := e.Photo; p != nil {
		c.that(p.Path != "" && len(p.SHA256) == 32 && p.Bytes > 0, "the photo has no path, no SHA-256 or no size")
		c.same(PathLine, "path of the photo", p.Path)
		c.same(Line, "name", p.By)
		c.same(Note, "note of the photo", p.Note)
		if !p.Taken.IsZero() {
			c.time("photo", p.Taken)
		}
	}
	if w := e.Waste; w != nil {
		c.waste(*w)
	}
	c.that(len(e.Uses) <= MaxMany, "there are %d uses of containers; %d is the most", len(e.Uses), MaxMany)
	for _, u := range e.Uses {
		c.same(Line, "number of a container", u.Number)
		c.same(Line, "substance", u.Substance)
		c.same(Line, "lot", u.Lot)
		if c.err == nil {
			c.add(u.Check())
		}
	}
	if p := e.Container; p != nil {
		c.that(numbers().MatchString(p.Number) && p.Number[0] == 'S', "the number %q is not that of a container", p.Number)
		if c.err == nil {
			c.add((&Container{ContainerPlan: *p}).Check())
		}
	}
	if s := e.Source; s != nil {
		c.same(Line, "how it came", s.How)
		c.same(PathLine, "name of the file", s.File)
	}
	return c.err
}

func (c *checker) load(l Load) {
	c.that(l.Number >= 1 && l.Number <= MaxPieces, "a load has the number %d", l.Number)
	c.that(l.Pieces >= 1 && l.Pieces <= MaxPieces, "load %d is of %d pieces", l.Number, l.Pieces)
	c.same(Note, "note of a load", l.Note)
	b := &Batch{Result: &Result{Temperature: l.Temperature, Time: l.Time}}
	for _, name := range []string{"temperature", "time"} {
		f, _ := FieldNamed(name)
		if c.err == nil {
			_, err := f.Parse(f.Get(b))
			c.add(err)
		}
	}
}

func (c *checker) waste(w WasteEntry) {
	if c.err == nil {
		c.add(Within("volume of the waste", "L", float64(w.Liters), leastWaste, mostWaste))
	}
	c.that(w.Container != "", "the waste names no container")
	c.same(Line, "name of the waste container", w.Container)
	c.same(Note, "place the waste went to", w.Went)
	c.same(Line, "name", w.By)
	c.time("waste", w.At)
	c.that(len(w.Contents) <= maxWasteParts, "the waste has %d parts; %d is the most", len(w.Contents), maxWasteParts)
	for _, p := range w.Contents {
		c.that(p.What != "", "a part of the waste has no name")
		c.same(Line, "part of the waste", p.What)
		c.same(Note, "source of a figure", p.Source)
		if c.err == nil {
			c.add(Within("amount of "+p.What, "mg/L", p.MilligramsPerLiter, 0, mostMgPerL))
		}
	}
}

// Fits returns an error if the events of a batch do not make a batch that this
// program would have made: an event is missing or the counts do not fit.
func (b *Batch) Fits() error {
	if len(b.Faults) > 0 {
		return fault.Usagef("batch %s does not hold together: %s", b.Name(), b.Faults[0]).Try("leave it out")
	}
	if int64(b.ID.Time()) != b.Created.MS { // a search by days goes by the id
		return fault.Usagef("the id %s of batch %s is not of the time at which it was planned", b.ID, b.Name()).Try("leave it out")
	}
	if err := b.Check(); err != nil {
		return err
	}
	if b.Dip != nil {
		had := map[int]bool{}
		for _, l := range b.Dip.Loads {
			if l.Pieces > b.Made() {
				return fault.Usagef("load %d is of %d pieces and batch %s has %d, spares included", l.Number, l.Pieces, b.Name(), b.Made()).
					Try("count again, or amend the pieces of the batch first")
			}
			if had[l.Number] {
				return fault.Usagef("batch %s has two loads of the number %d", b.Name(), l.Number).Try("give each load a number of its own, or none")
			}
			had[l.Number] = true
		}
		if len(had) > MaxMany {
			return fault.Usagef("batch %s has %d loads", b.Name(), len(had)).Try("keep to %d", MaxMany)
		}
	}
	for what, n := range map[string]int{"photos": len(b.Photos), "wastes": len(b.Waste), "uses of containers": len(b.Uses)} {
		if n > MaxMany {
			return fault.Usagef("batch %s has %d %s", b.Name(), n, what).Try("keep to %d", MaxMany)
		}
	}
	return nil
}

// Name returns the number of the batch, or its id if the number is lost.
func (b *Batch) Name() string {
	if b.Number == "" {
		return b.ID.String()
	}
	return b.Number
}
