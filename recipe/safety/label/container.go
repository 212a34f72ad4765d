package label

import (
	"time"
)

// ContainerLabel is what stands on a jar or bottle in the workshop. It needs the substance
// or its name.
type ContainerLabel struct {
	Content
	Form       string // "lump", "28 % solution"
	Supplier   string
	Lot        string
	Received   time.Time // zero where not known
	Opened     time.Time // zero: a blank to write in
	SDS        string    // where the data sheet is; the label says so where it is empty
	SDSRevised time.Time // zero where not known
	Note       string
}

// Container makes the label of a workplace container: identifier with CAS number, signal
// word, hazard statements, symbols, what to keep it apart from, lot, date of opening,
// and where the data sheet is (29 CFR 1910.1200(f)(6); CLP Article 17 without the
// supplier's part, which belongs on goods that are sold). The hazards are the family
// defaults unless there are codes of your own SDS; the label says which. Errors are of
// kind Usage: no name, or a text that is too long or promises something.
func Container(c ContainerLabel) (Label, error) {
	content, err := c.settle()
	if err != nil {
		return Label{}, err
	}
	c.Content = content
	if err := tidy("the form", &c.Form, "the supplier", &c.Supplier, "the lot", &c.Lot, "the place of the SDS", &c.SDS, "the note", &c.Note); err != nil {
		return Label{}, err
	}
	for name, at := range map[string]time.Time{"the date of receipt": c.Received, "the date of opening": c.Opened, "the date of the SDS": c.SDSRevised} {
		if err := dated(name, at); err != nil {
			return Label{}, err
		}
	}
	contents := []Content{content}
	d := dangers(contents)
	l := Label{kind: "container", title: upper(content.Name)}
	l.head = []part{
		{Class: "title", Spans: []span{boldly(l.title)}},
		{Class: "text", Spans: c.identity()},
	}
	l.warn(d)
	if content.sub.Banned != "" {
		l.main = append(l.main, part{Class: "text", Spans: []span{boldly("DO NOT USE. " + upper(content.sub.Storage) + ".")}})
	}
	l.keepApart(contents)
	if c.Note != "" {
		l.main = append(l.main, note(c.Note))
	}
	l.end = append(l.end, foot(c.papers(false), c.papers(true), d))
	return l, nil
}

// identity is the CAS number, that of the form where it has its own, with form, amount and
// the name in the table.
func (c ContainerLabel) identity() []span {
	cas := c.sub.CAS
	if f, err := c.sub.Form(c.Form); c.known && c.Form != "" && err == nil && f.CAS != "" {
		cas = f.CAS
	}
	out := []span{boldly("no CAS number: see the SDS")}
	if cas != "" {
		out[0] = boldly("CAS " + cas)
	}
	for _, s := range []string{c.Form, c.Amount} {
		if s != "" {
			out = append(out, plainly("· "+s))
		}
	}
	if c.known && c.Name != c.sub.Name {
		out = append(out, plainly("· "+c.sub.Name))
	}
	return out
}

// papers is lot, dates and where the SDS is. In brief there are no blanks to write in.
func (c ContainerLabel) papers(brief bool) []span {
	var out []span
	add := func(name, value string) {
		if value == "" || value == blank && brief {
			return
		}
		if len(out) > 0 {
			out = append(out, plainly("·"))
		}
		out = append(out, boldly(name), plainly(value))
	}
	lot, sds := c.Lot, c.SDS
	if lot == "" {
		lot = blank
	}
	if sds == "" {
		sds = "not on file: get it before use"
	}
	if !c.SDSRevised.IsZero() {
		sds += ", revised " + day(c.SDSRevised)
	}
	add("Lot", lot)
	add("Opened", day(c.Opened))
	if !c.Received.IsZero() {
		add("Received", day(c.Received))
	}
	add("From", c.Supplier)
	add("SDS", sds+".")
	return out
}
