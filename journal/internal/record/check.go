package record

import (
	"cmp"
	"reflect"
	"regexp"
	"slices"
	"sync"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/run"
)

// numbers matches the short numbers of batches and containers.
var numbers = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^([0-9]{4}|S)-[0-9]{3,9}$`) })

// Check returns an error if the event is not one that this program would write: a text too long or not
// in its fixed form, a figure out of range, a part that is missing. Every event passes it to be written.
func (e *Event) Check() error { return fault.Caught(func() { checker{}.event(e) }) }

// Clean puts what people wrote in its fixed form, and returns the errors of Check.
func (e *Event) Clean() error { return fault.Caught(func() { checker{fix: true}.event(e) }) }

// checker reads what an event says as if a person had written it. With fix, it puts the fixed form in
// place; without, any other form is an error, which ends the check.
type checker struct{ fix bool }

func that(so bool, format string, args ...any) {
	if !so {
		fault.Check(fault.Usagef(format, args...).Try("write it as hepar does, or leave the entry out"))
	}
}

// form compares what stands there with its fixed form, and returns that.
func (c checker) form(f *Field, had string) string {
	fixed := fault.Must(f.Parse(had))
	if !c.fix && fixed != had {
		fault.Check(fault.Usagef("the %s %q is not in its fixed form", f.Label, measure.Clean(had)).Try("write it as %q", fixed))
	}
	return fixed
}

// value reads every text, time, digest and list of a stored struct, as its tags say.
func (c checker) value(f *Field, v reflect.Value) {
	switch at := v.Addr().Interface().(type) {
	case *ID:
		return
	case *Stamp:
		if f.Required || *at != "" {
			fault.Check(Year(f.Label, at.Time()))
		}
	case *Digest:
		that(len(*at) == 32 || len(*at) == 0 && !f.Required, "the %s is not a SHA-256", f.Label)
		return
	case *Plan:
		that(numbers().MatchString(at.Number) && at.Number[0] != 'S', "the number %q is not that of a batch", at.Number)
	case *ContainerPlan:
		that(numbers().MatchString(at.Number) && at.Number[0] == 'S', "the number %q is not that of a jar", at.Number)
		that(at.Unit == UnitGrams || at.Unit == UnitML, "jar %s is counted in %q and not in g or mL", at.Number, measure.Clean(at.Unit))
	case *Result:
		that(len(at.Causes) <= maxCauses, "there are %d causes; %d is the most", len(at.Causes), maxCauses)
		for name := range at.Causes { // one with a comma in it would read as two
			fault.Must(CauseName(name))
		}
	case *PhotoRef:
		that(at.Bytes > 0, "the photo is empty")
	case *WasteEntry:
		least := 1e-6
		if at.Instead {
			least = 0
		}
		fault.Check(Within("volume of the waste", "L", float64(at.Liters), least, 1e6))
		that(FoldContainer(at.Container) != "", "the name of the waste container has no letter and no digit")
	case *WastePart: // the most is above the mass of a litre of any bath
		fault.Check(Within("amount of "+at.What, "mg/L", at.MilligramsPerLiter, 0, 2e6))
	case *Use, *run.Entry:
		fault.Check(at.(interface{ Check() error }).Check())
	}
	switch kind := v.Kind(); {
	case f.Help != "" || kind == reflect.String && v.String() != "":
		if fixed := c.form(f, f.text(v)); c.fix {
			fault.Check(f.read(v, fixed))
		}
	case kind == reflect.String && f.Required:
		fault.Check(fault.Usagef("the %s is missing", f.Label).Try("fill it in"))
	case kind == reflect.Struct:
		fields := fieldsOf(v.Type())
		for i := range fields {
			c.value(fields[i].in(v))
		}
	case kind == reflect.Pointer && !v.IsNil():
		c.value(f, v.Elem())
	case kind == reflect.Slice:
		that(v.Len() <= MaxMany, "there are %d %s; %d is the most", v.Len(), f.Label, MaxMany)
		each := *f
		each.at.Type, each.Required = v.Type().Elem(), true
		for i := range v.Len() {
			c.value(&each, v.Index(i))
		}
	case kind == reflect.Map: // of words or counts ("<int Value>" passes); a key cannot be put in its fixed form
		that(v.Len() <= MaxMany, "there are %d %s; %d is the most", v.Len(), f.Label, MaxMany)
		for key, value := range v.Seq2() {
			for _, word := range []string{key.String(), value.String()} {
				that(fault.Must(Clean(f.Label, "", word)) == word, "the word %q of the %s has spaces around it", word, f.Label)
			}
		}
	}
}

func (c checker) event(e *Event) {
	that(!e.ID.IsZero(), "the event has no id")
	fault.Check(Year("entry", e.ID.Timestamp())) // above it no further id could be drawn
	c.value(&Field{}, reflect.ValueOf(e).Elem())
	that((e.Kind == TakenOver || e.Kind == Salvaged) == e.Of.IsZero(), "the event %s does not say correctly which batch it belongs to", e.Kind)
	if f, ok := Named(Fields(), e.Field); ok && e.Kind == Amended && e.For.IsZero() {
		e.New = c.form(&f, e.New)
	}
}

// Fits returns an error if the events of a container do not hold together, or if they make what no event could say.
func (c *Container) Fits() error {
	switch {
	case len(c.Faults) > 0:
		return fault.Usagef("jar %s is inconsistent: %s", c.Number, c.Faults[0]).Try("leave it out")
	case len(c.Newer) > 0: // a newer hepar may have other limits
		return nil
	}
	return fault.Caught(func() { checker{}.value(&Field{}, reflect.ValueOf(&c.ContainerPlan).Elem()) })
}

// Check returns an error if the unit is unknown or the amount is not above nothing.
func (u Use) Check() error {
	if u.Unit != UnitGrams && u.Unit != UnitML {
		return fault.Usagef("an amount taken from %s is counted in %q", u.Number, measure.Clean(u.Unit)).Try("count it in g or mL")
	}
	return Within("amount taken from "+u.Number, u.Unit, u.Amount, 1e-6, 1e7)
}

// Fits returns an error if this program would not have made such a batch. Event.Check sees what one event tells.
func (b *Batch) Fits() error {
	r, made, dipped, caused, name := Result{}, b.Made(), 0, 0, cmp.Or(b.Number, b.ID.String())
	if b.Result != nil {
		r = *b.Result
	}
	for _, n := range r.Causes {
		caused += n
	}
	loads := b.Dip.loads()
	large := slices.IndexFunc(loads, func(l Load) bool { return l.Pieces > made })
	for _, l := range loads {
		if l.Time != nil { // a coat has none, and is of all pieces
			dipped += l.Pieces
		}
	}
	switch counted, bad := r.Counted(), r.Rework+r.Reject; {
	case len(b.Faults) > 0:
		return fault.Usagef("batch %s is inconsistent: %s", name, b.Faults[0]).Try("leave it out")
	case int64(b.ID.Time()) != b.Created.Time().UnixMilli(): // a search by days goes by the id
		return fault.Usagef("the id %s of batch %s does not match the time at which it was planned", b.ID, name).Try("leave it out")
	case b.Result != nil && counted == 0:
		return fault.Usagef("batch %s has no counted pieces", b.Number).
			Try("count the good, those to rework and the rejected; withdraw a batch that was never made")
	case counted > max(made, dipped): // at the bath a piece may have been added
		return fault.Usagef("batch %s counts %d pieces (%d good, %d rework, %d reject) and only %d were started, spares included",
			b.Number, counted, r.Good, r.Rework, r.Reject, max(made, dipped)).Try("count again; lower one figure before you raise another")
	case caused > bad:
		return fault.Usagef("the causes of batch %s add up to %d and only %d pieces are to rework or rejected", b.Number, caused, bad).
			Try("name one cause for each piece: the chief one")
	case large >= 0:
		return fault.Usagef("load %d has %d pieces and batch %s has only %d, spares included", loads[large].Number, loads[large].Pieces, name, made).
			Try("count again, or amend the pieces of the batch first")
	}
	for what, n := range map[string]int{"loads": len(loads), "photos": len(b.Photos), "wastes": len(b.Waste), "uses of containers": len(b.Uses)} {
		if n > MaxMany {
			return fault.Usagef("batch %s has %d %s", name, n, what).Try("keep to %d", MaxMany)
		}
	}
	return nil
}
