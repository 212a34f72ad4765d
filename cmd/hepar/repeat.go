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
	"hepar/recipe/bath/run"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/shop"
)

// runFlags are the flags of the run that a batch which is repeated brings along.
var runFlags = []string{"spares", "per-load", "group", "rack", "by-hand", "start", "heat", "lid", "vessel", "volume", "form", "purity"}

// repeat fills in what --like and --piece say, where no flag says otherwise. It
// returns the name of the recipe and how it turned out last time.
func repeat(p *place) (slug string, last []string) {
	c, said := p.Context, map[string][]string{}
	slug = c.Args().First()
	switch {
	case c.IsSet("like") && c.IsSet("piece"):
		fault.Check(fault.Usagef("--like and --piece are both given").Try("leave out one: a batch knows its piece"))
	case c.IsSet("like"):
		var b journal.Batch
		fault.Check(take(c, "like", p.journal.Get, &b))
		if said = askedFor(b); said == nil {
			fault.Check(fault.Failuref("batch %s was logged without a sheet", b.Number).At("--like").Try("name a batch that was saved with hepar prepare --save, or give the flags themselves"))
		}
		slug, last = cmp.Or(slug, b.Slug), lastTime(b)
	case c.IsSet("piece"):
		piece := fault.Must(p.shop.Piece(c.String("piece")))
		for name, value := range piece.Said {
			said[name] = []string{value}
		}
		slug = cmp.Or(slug, piece.Recipe)
		if b, ok := newestOf(p, slug, piece.Name); ok {
			last = lastTime(b)
		}
	}
	refuse(slug == "",
		fault.Usagef("prepare: the name of a recipe is missing").Try("\"hepar prepare --help\" shows an example; \"hepar recipe list\" names them"))
	var kept []string
	for _, name := range keys(said) {
		if c.IsSet(name) || name == "piece" && c.IsSet("save-piece") {
			continue
		}
		for _, v := range said[name] {
			refuse(c.Set(name, v) != nil, fault.Usagef("--%s cannot be %q", name, measure.Clean(v)).Try("give --%s yourself", name))
		}
		if c.IsSet("like") && slices.Contains(runFlags, name) {
			kept = append(kept, "--"+name+" "+strings.Join(said[name], ", "))
		}
	}
	return slug, append(last, nonEmpty(wordsIf("as then: ", strings.Join(kept, "; ")))...)
}

// askedFor is what the sheet of a batch was prepared with; nil if there is none.
func askedFor(b journal.Batch) map[string][]string {
	var d document
	if len(b.Sheet) == 0 || json.Unmarshal(b.Sheet, &d) != nil {
		return nil
	}
	return d.Asked
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
	var more []string
	for _, f := range resultFields() {
		if b.Result != nil && (f.Figure != nil || f.Text) {
			more = append(more, nonEmpty(wordsIf(f.Label+" ", f.Get(&b)))...)
		}
	}
	out := nonEmpty(fmt.Sprintf("batch %s, %s: %s", b.Number, b.Created.Day(), resultText(b)), strings.Join(more, "; "))
	for _, e := range b.Events {
		if e.Field != "" && e.Reason != "" {
			out = append(out, fmt.Sprintf("amended %s from %q to %q: %s", e.Field, e.Old, e.New, e.Reason))
		}
	}
	return out
}

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
func learnt(p *place, r *recipe.Recipe, alloy metal.Alloy) *bath.Measured {
	if p.Bool("book") || !fault.Must(p.journal.Exists()) {
		return nil
	}
	var readings []bath.Reading
	for b, err := range p.journal.List(journal.Filter{Recipe: r.Slug, State: journal.Logged, Limit: 500}) {
		fault.Check(err)
		other, err := metal.Find(b.Alloy)
		if err != nil || other.Family != alloy.Family {
			continue
		}
		if dips := cameOutRight(b); len(dips) > 0 {
			readings = append(readings, bath.Reading{Dips: dips, Day: b.Result.Logged.Time().Format("2 January 2006"), Batch: b.Number})
		}
	}
	m, strange := bath.Learn(r, alloy.Family == "silver", readings)
	p.tell("note: ", strange...)
	return m
}

// cameOutRight returns the dips of a batch whose time was right: what was read of a test strip;
// else those of its result or its loads, if hardly a piece is too light or too dark. Loads that
// are named for such pieces are left out.
func cameOutRight(b journal.Batch) []bath.Timed {
	off := offShade(b.Causes)
	var dips []bath.Timed
	entries := run.Replay(b.Bench)
	if b.Dip != nil {
		for _, l := range b.Dip.Loads {
			wrong := offShade(l.Causes)
			off -= wrong
			if wrong == 0 && l.Temperature != nil && l.Time != nil && (l.Note == "" || l.Note == oneFigure) { // no time from memory, none of the sheet
				took := *l.Time
				if planned := entries.Planned(l.Number); planned != nil && !run.Missed(took, *planned) {
					took = *planned // a late hand teaches nothing, or the time would creep from order to order
				}
				dips = append(dips, bath.Timed{Time: took, At: *l.Temperature})
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

func offShade(causes map[string]int) (n int) {
	for cause, pieces := range causes {
		if strings.Contains(cause, "light") || strings.Contains(cause, "dark") || strings.Contains(cause, "grey") {
			n += pieces
		}
	}
	return n
}

// savePiece appends the piece of this order to the shop file.
func savePiece(p *place, slug string) {
	c := p.Context
	name := c.String("save-piece")
	if _, err := p.shop.Piece(name); err == nil {
		fault.Check(fault.Usagef("the shop file has a piece %q already", measure.Clean(name)).At("--save-piece").Try("choose another name, or change it in %s", measure.Clean(shopPath(c))))
	}
	refuse(!regexp.MustCompile(`^[\pL\p{Nd}_-]+$`).MatchString(name),
		fault.Usagef("%q is not a name for a piece", measure.Clean(name)).At("--save-piece").Try("use letters, digits and hyphens, as in token-24"))
	piece := shop.Piece{Name: name, Recipe: slug, Said: map[string]string{}}
	for _, f := range shop.PieceFlags {
		if flag := f[0]; c.IsSet(flag) {
			piece.Said[flag] = c.String(flag)
		}
	}
	path := shopPath(c)
	if p.shop.File == "" { // there is none yet
		fault.Check(writeNew(path, []byte("# The workshop's own settings: hepar shop --template shows all of them.\n")))
	}
	f, err := os.OpenFile(path, os.O_APPEND|os.O_WRONLY, 0)
	if err == nil {
		_, err = f.WriteString(piece.Line())
		err = cmp.Or(err, f.Close())
	}
	refuse(err != nil,
		fault.Failuref("the piece cannot be added to %s", measure.Clean(path)).Because(err).Try("give yourself the right to write to the file"))
	p.note("note: the piece %s is in %s: hepar prepare --piece %s --pieces N\n", name, oneLine(path), name)
}
