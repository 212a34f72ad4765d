package label

import (
	"time"

	"hepar/recipe/fault"
	"hepar/recipe/reagent"
)

// ContainerLabel is what stands on a jar or bottle in the workshop. Only what it is must
// be given: the substance or its name.
type ContainerLabel struct {
	Content
	CAS        string // empty for the number in the table
	Form       string // "lump", "28 % solution"
	Supplier   string
	Lot        string
	Received   time.Time // zero where not known
	Opened     time.Time // zero: a blank to write in
	SDS        string    // where the data sheet is; empty is said on the label
	SDSRevised time.Time // zero where not known
	Note       string
}

// Container makes the label of a workplace container: identifier with CAS number, signal
// word, hazard statements, symbols, what to keep it apart from, lot, date of opening,
// and where the data sheet is (29 CFR 1910.1200(f)(6); CLP Article 17 without the
// supplier's part, which belongs on goods that are sold). The hazards are the family
// defaults unless codes of your own SDS are given; the label says which. Errors are of
// kind Usage: no name, a CAS number whose check digit is wrong, a text that is too
// long or promises something.
func Container(c ContainerLabel) (Label, error) {
	content, err := c.Content.settle()
	if err != nil {
		return Label{}, err
	}
	c.Content = content
	if err := tidy("the form", &c.Form, "the supplier", &c.Supplier, "the lot", &c.Lot, "the place of the SDS", &c.SDS, "the note", &c.Note); err != nil {
		return Label{}, err
	}
	for _, d := range []struct {
		name string
		at   time.Time
	}{{"the date of receipt", c.Received}, {"the date of opening", c.Opened}, {"the date of the SDS", c.SDSRevised}} {
		if err := dated(d.name, d.at); err != nil {
			return Label{}, err
		}
	}
	if c.CAS, err = text("the CAS number", c.CAS); err != nil {
		return Label{}, err
	}
	if c.CAS != "" && !reagent.ValidCAS(c.CAS) {
		return Label{}, fault.Usagef("%q is no CAS number: its check digit is wrong", c.CAS).Try("copy it from the label or the SDS, for instance 7447-40-7")
	}
	if c.CAS == "" {
		c.CAS = content.cas(c.Form)
	}
	list := []Content{content}
	d := dangers(list)
	l := Label{kind: "container", title: upper(content.Name)}
	l.under = append(l.under, block{spans: c.identity(content), scale: 1})
	l.take(d)
	if content.known && content.sub.Banned != "" {
		l.lines = append(l.lines, block{spans: []span{boldly("DO NOT USE. " + upper(content.sub.Storage) + ".")}, scale: 1})
	}
	l.keep(list)
	if c.Note != "" {
		l.lines = append(l.lines, block{spans: []span{plainly(c.Note)}, scale: 0.95, last: inBrief})
	}
	l.foot.spans = append(c.papers(false), d.origin(false)...)
	l.foot.brief = append(c.papers(true), d.origin(true)...)
	return l, nil
}

// cas is the number of the form where it has one of its own, else of the substance.
func (c Content) cas(form string) string {
	if !c.known {
		return ""
	}
	if f, err := c.sub.Form(form); err == nil && form != "" && f.CAS != "" {
		return f.CAS
	}
	return c.sub.CAS
}

func (c ContainerLabel) identity(content Content) []span {
	var out []span
	if c.CAS != "" {
		out = append(out, boldly("CAS "+c.CAS))
	} else {
		out = append(out, boldly("no CAS number: see the SDS"))
	}
	for _, s := range []string{c.Form, c.Amount} {
		if s != "" {
			out = append(out, plainly("· "+s))
		}
	}
	if content.known && content.Name != content.sub.Name {
		out = append(out, plainly("· "+content.sub.Name))
	}
	return out
}

// papers is lot, dates and where the SDS is. In brief there are no blanks to write in.
func (c ContainerLabel) papers(brief bool) []span {
	var out []span
	add := func(name, value string) {
		if value != "" {
			if len(out) > 0 {
				out = append(out, plainly("·"))
			}
			out = append(out, boldly(name), plainly(value))
		}
	}
	lot, opened := c.Lot, day(c.Opened)
	if lot == "" && !brief {
		lot = blank
	}
	if c.Opened.IsZero() && brief {
		opened = ""
	}
	add("Lot", lot)
	add("Opened", opened)
	if !c.Received.IsZero() {
		add("Received", day(c.Received))
	}
	add("From", c.Supplier)
	sds := c.SDS
	if sds == "" {
		sds = "not on file: get it before use"
	}
	if !c.SDSRevised.IsZero() {
		sds += ", revised " + day(c.SDSRevised)
	}
	add("SDS", sds)
	out[len(out)-1].text += "."
	return out
}

// take puts the hazards on a label.
func (l *Label) take(d danger) {
	l.signal, l.symbols, l.hazards, l.short = d.signal, d.symbols, d.full(), d.brief()
}

// keep puts on a label what the contents must be kept apart from.
func (l *Label) keep(contents []Content) {
	l.shout, l.why = shoutFor(contents)
	from := apartFrom(contents)
	if len(from) == 0 {
		for _, c := range contents {
			if len(c.groups()) == 0 {
				from = []string{"everything, until its SDS is read"}
			}
		}
	}
	if len(from) > 0 {
		b := block{spans: []span{boldly("Keep apart from"), plainly(join(from) + ".")}, scale: 1}
		if l.shout != "" && l.kind != "waste" {
			b.last = required // the bar says the gravest of it
		}
		l.lines = append(l.lines, b)
	}
}
