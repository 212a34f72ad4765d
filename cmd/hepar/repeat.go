package main

import (
	"cmp"
	"encoding/json"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"hepar/journal"
	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/shop"
)

// repeat fills in what --like and --piece say, where no flag says otherwise. It
// returns the name of the recipe and how it turned out last time.
func repeat(p *place) (slug string, last []string, err error) {
	c := p.Context
	slug = c.Args().First()
	if c.IsSet("like") && c.IsSet("piece") {
		return "", nil, fault.Usagef("--like and --piece are both given").Try("leave out one: a batch knows its piece")
	}
	set := func(name string, values []string) error {
		if c.IsSet(name) {
			return nil
		}
		for _, v := range values {
			if err := c.Set(name, v); err != nil {
				return fault.Usagef("--%s cannot be %q", name, measure.Clean(v)).Try("give --%s yourself", name)
			}
		}
		return nil
	}
	switch {
	case c.IsSet("like"):
		var b journal.Batch
		if err := take(c, "like", p.journal.Get, &b); err != nil {
			return "", nil, err
		}
		said := askedFor(b)
		if said == nil {
			return "", nil, fault.Failuref("batch %s was logged without a sheet", b.Number).At("--like").Try("name a batch that was saved with hepar prepare --save, or give the flags themselves")
		}
		slug = cmp.Or(slug, b.Slug)
		given := map[string]bool{}
		for name := range said {
			given[name] = c.IsSet(name)
		}
		for name, values := range said {
			if name == "piece" && c.IsSet("save-piece") {
				continue
			}
			if err := set(name, values); err != nil {
				return "", nil, err
			}
		}
		last = lastTime(b)
		if kept := keptFlags(said, given); kept != "" {
			last = append(last, "as then: "+kept)
		}
	case c.IsSet("piece"):
		piece, err := p.shop.Piece(c.String("piece"))
		if err != nil {
			return "", nil, err
		}
		slug = cmp.Or(slug, piece.Recipe)
		for name, value := range piece.Said {
			if err := set(name, []string{value}); err != nil {
				return "", nil, err
			}
		}
		if b, ok := newestOf(p, slug, piece.Name); ok {
			last = lastTime(b)
		}
	}
	if slug == "" {
		return "", nil, fault.Usagef("prepare: the name of a recipe is missing").Try("\"hepar prepare --help\" shows an example; \"hepar recipe list\" names them")
	}
	return slug, last, nil
}

// askedFor is what the sheet of a batch was prepared with; nil if there is none.
func askedFor(b journal.Batch) map[string][]string {
	var d document
	if len(b.Sheet) == 0 || json.Unmarshal(b.Sheet, &d) != nil {
		return nil
	}
	return d.Asked
}

// keptFlags says which flags of the run a batch that is repeated brings along: what it is
// planned with and nobody has said again.
func keptFlags(said map[string][]string, given map[string]bool) string {
	var kept []string
	for _, name := range []string{"per-load", "group", "rack", "by-hand", "start", "heat", "lid", "vessel", "volume", "form", "purity"} {
		if values := said[name]; len(values) > 0 && !given[name] {
			kept = append(kept, "--"+name+" "+strings.Join(values, ", "))
		}
	}
	return strings.Join(kept, "; ")
}

// newestOf returns the newest logged batch of a piece.
func newestOf(p *place, slug, piece string) (journal.Batch, bool) {
	if there, err := p.journal.Exists(); err != nil || !there {
		return journal.Batch{}, false
	}
	for b, err := range p.journal.List(journal.Filter{Recipe: slug, State: journal.Logged, Limit: 200, Frozen: true}) {
		if err == nil && slices.Equal(askedFor(b)["piece"], []string{piece}) {
			return b, true
		}
	}
	return journal.Batch{}, false
}

// lastTime says how a batch turned out, and what was changed about it.
func lastTime(b journal.Batch) []string {
	out := []string{fmt.Sprintf("batch %s, %s: %s", b.Number, b.Created.Day(), resultText(b))}
	var more []string
	for _, f := range resultFields() {
		if b.Result != nil && (f.Figure != nil || f.Text) {
			more = append(more, wordsIf(f.Label+" ", f.Get(&b)))
		}
	}
	out = append(out, nonEmpty(strings.Join(nonEmpty(more...), "; "))...)
	for _, e := range b.Events {
		if e.Field != "" && e.Reason != "" {
			out = append(out, fmt.Sprintf("amended %s from %q to %q: %s", e.Field, e.Old, e.New, e.Reason))
		}
	}
	return out
}

// asked are the flags of the order as given.
func asked(c *cli.Context) map[string][]string {
	out := map[string][]string{}
	for _, f := range orderFlags() {
		name := f.Names()[0]
		switch {
		case !c.IsSet(name) || name == "like" || name == "explain":
		case name == "save-piece":
			out["piece"] = []string{c.String(name)}
		case isMany(f):
			out[name] = c.StringSlice(name)
		default:
			out[name] = []string{fmt.Sprint(c.Value(name))}
		}
	}
	return out
}

// learnt returns the dip time that came out right here, for this recipe and metal.
func learnt(p *place, r *recipe.Recipe, alloy metal.Alloy) (*bath.Measured, error) {
	if there, err := p.journal.Exists(); p.Bool("book") || err != nil || !there {
		return nil, err
	}
	var readings []bath.Reading
	for b, err := range p.journal.List(journal.Filter{Recipe: r.Slug, State: journal.Logged, Limit: 500}) {
		if err != nil {
			return nil, err
		}
		other, err := metal.Find(b.Alloy)
		if err != nil || other.Family != alloy.Family {
			continue
		}
		if dips := cameOutRight(b); len(dips) > 0 {
			readings = append(readings, bath.Reading{Dips: dips, Day: b.Result.Logged.Time().Format("2 January 2006"), Batch: b.Number})
		}
	}
	m, strange := bath.Learn(r, alloy.Family == "silver", readings)
	for _, text := range strange {
		p.note("%s", wrap("note: ", text))
	}
	return m, nil
}

// cameOutRight returns the dips of a batch whose time was right: of a test strip what was
// read; else those of its result or of its loads, if hardly a piece is too light or too dark.
// Loads that are named for such pieces are left out, and their pieces do not speak against the
// others.
func cameOutRight(b journal.Batch) []bath.Timed {
	off := 0
	for cause, n := range b.Causes {
		if offShade(cause) {
			off += n
		}
	}
	var dips []bath.Timed
	if b.Dip != nil {
		for _, l := range b.Dip.Loads {
			wrong := 0
			for cause, n := range l.Causes {
				if offShade(cause) {
					wrong += n
				}
			}
			off -= wrong
			if wrong == 0 && l.Temperature != nil && l.Time != nil && (l.Note == "" || l.Note == oneFigure) { // no time from memory, none of the sheet
				dips = append(dips, bath.Timed{Time: *l.Time, At: *l.Temperature})
			}
		}
	}
	if strip := b.Shape == "coupon"; strip && b.Shade != "right" || !strip && off*20 > b.Counted() {
		return nil
	}
	if b.Temperature != nil && b.Time != nil {
		return []bath.Timed{{Time: *b.Time, At: *b.Temperature}}
	}
	return dips
}

func offShade(cause string) bool {
	return strings.Contains(cause, "light") || strings.Contains(cause, "dark") || strings.Contains(cause, "grey")
}

var pieceName = regexp.MustCompile(`^[\pL\p{Nd}_-]+$`)

// savePiece appends the piece of this order to the shop file.
func savePiece(p *place, slug string) error {
	c := p.Context
	name := c.String("save-piece")
	if _, err := p.shop.Piece(name); err == nil {
		return fault.Usagef("the shop file has a piece %q already", measure.Clean(name)).At("--save-piece").Try("choose another name, or change it in %s", measure.Clean(shopPath(c)))
	}
	if !pieceName.MatchString(name) {
		return fault.Usagef("%q is not a name for a piece", measure.Clean(name)).At("--save-piece").Try("use letters, digits and hyphens, as in token-24")
	}
	piece := shop.Piece{Name: name, Recipe: slug, Said: map[string]string{}}
	for _, flag := range shop.PieceFlags() {
		if c.IsSet(flag) {
			piece.Said[flag] = c.String(flag)
		}
	}
	path := shopPath(c)
	if p.shop.File == "" { // there is none yet
		if err := writeNew(path, []byte("# The workshop's own settings: hepar shop --template shows all of them.\n")); err != nil {
			return err
		}
	}
	f, err := os.OpenFile(path, os.O_APPEND|os.O_WRONLY, 0)
	if err == nil {
		_, err = f.WriteString(piece.Line())
		err = cmp.Or(err, f.Close())
	}
	if err != nil {
		return fault.Failuref("the piece cannot be added to %s", measure.Clean(path)).Because(err).Try("give yourself the right to write to the file")
	}
	p.note("note: the piece %s is in %s: hepar prepare --piece %s --pieces N\n", name, oneLine(path), name)
	return nil
}
