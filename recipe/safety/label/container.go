package label

import (
	"cmp"
	"time"
)

// ContainerLabel is what stands on a jar or bottle. It needs the substance or its name.
type ContainerLabel struct {
	Content    // with its form: "lump", "28 % solution"
	Supplier   string
	Lot        string
	Received   time.Time // zero where not known
	Opened     time.Time // zero: a blank to write in
	SDS        string    // where the data sheet is; the label says so where it is empty
	SDSRevised time.Time // zero where not known
	Note       string
}

// Container makes the label of a workplace container (29 CFR 1910.1200(f)(6); CLP Article 17
// without the supplier's part, which belongs on goods that are sold). The hazards are the
// family defaults unless there are codes of your own SDS; the label says which. Errors are of
// kind Usage: no name, or a text that is too long or promises something.
func Container(c ContainerLabel) (Label, error) {
	content, err := c.settle()
	if err != nil {
		return Label{}, err
	}
	c.Content = content
	if err := tidy("the supplier", &c.Supplier, "the lot", &c.Lot, "the place of the SDS", &c.SDS, "the note", &c.Note); err != nil {
		return Label{}, err
	}
	d := dangers([]Content{content})
	l := Label{Kind: "container", Title: upper(content.Name)}
	l.Head = []part{
		{Class: "title", Words: bold(l.Title)},
		{Class: "text", Words: c.identity()},
	}
	l.warn(d)
	if content.sub.Banned != "" {
		l.Main = append(l.Main, part{Class: "text", Words: bold("DO NOT USE. " + upper(content.sub.Storage) + ".")})
	}
	l.keepApart([]Content{content})
	l.note(c.Note)
	l.End = append(l.End, foot(c.papers(false), c.papers(true), d))
	return l, nil
}

// identity is the CAS number, of the form where it has its own, form, amount and usual name.
func (c ContainerLabel) identity() words {
	number := "no CAS number: see the SDS"
	form, _ := c.sub.Form(cmp.Or(c.Form, "none"))
	if cas := cmp.Or(form.CAS, c.sub.CAS); cas != "" {
		number = "CAS " + cas
	}
	out := bold(number)
	for _, s := range []string{c.Form, c.Amount, c.sub.Name} {
		if s != c.Name {
			out = dotted(out, words(s))
		}
	}
	return out
}

// papers is lot, dates and where the SDS is. In full it has blanks to write in, in brief none.
func (c ContainerLabel) papers(brief bool) words {
	const blank = "___________"
	lot, opened := c.Lot, written(c.Opened, day)
	if !brief {
		lot, opened = cmp.Or(lot, blank), cmp.Or(opened, blank)
	}
	sds := cmp.Or(c.SDS, "not on file: get it before use")
	if revised := written(c.SDSRevised, day); revised != "" {
		sds += ", revised " + revised
	}
	return dotted(pair(bold("Lot"), words(lot)), pair(bold("Opened"), words(opened)), pair(bold("Received"), words(written(c.Received, day))), pair(bold("From"), words(c.Supplier)), pair(bold("SDS"), words(sds+".")))
}
