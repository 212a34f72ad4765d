package main

import (
	"encoding/json"
	"fmt"
	"sort"
	"strings"

	"github.com/urfave/cli/v2"

	"hepar/journal"
)

func journalList(e *env) *cli.Command {
	return &cli.Command{
		Name: "list", Usage: "the batches, newest first",
		Description: `Lists batches, newest first, or in the order of --sort. A batch must meet all conditions.
--json prints one object on each line. Without --json, a list ends after 500 batches
unless --limit says otherwise.

EXAMPLES
   hepar journal list --recipe silver-black --from 2026-01
   hepar journal list --result reject --cause spots
   hepar journal list --lot K2291 --oldest
   hepar journal list --sort yield --limit 20`,
		Flags: append(filterFlags(), orderingFlags()...),
		Action: at(e, 0, 0, "", func(c *cli.Context, p *place) error {
			f, err := filterFrom(e, c)
			if err != nil {
				return err
			}
			if none, err := noJournalYet(c, p); none || err != nil {
				e.note(noBatchesYet)
				return err
			}
			return runList(e, p, f)
		}),
	}
}

// noJournalYet tells whether this is a new home, where nothing was kept so far. A
// journal named by hand has to be there.
func noJournalYet(c *cli.Context, p *place) (bool, error) {
	if c.String("journal") != "" {
		return false, nil
	}
	there, err := p.journal.Exists()
	return !there, err
}

const noBatchesYet = "no batches yet: hepar prepare RECIPE ... --save plans the first\n"

// mostListed is where a list for people ends if they do not say.
const mostListed = 500

func runList(e *env, p *place, f journal.Filter) error {
	if e.json {
		return streamList(e, p, f)
	}
	ends := f.Limit == 0
	if ends {
		f.Limit = mostListed + 1 // one more tells that there are more
	}
	t := table{head: []string{"batch", "day", "recipe", "alloy", "pieces", "good", "rework", "reject"},
		right: []bool{false, false, false, false, true, true, true, true}}
	for b, err := range p.journal.List(f) {
		if err != nil {
			return err
		}
		if ends && len(t.rows) == mostListed {
			t.write(e.out, "")
			e.note("there are more: --limit %d shows twice as many, --offset %d goes on from here\n", 2*mostListed, f.Offset+mostListed)
			return nil
		}
		good, rework, reject, remarks := "", "", "", nonEmpty(string(b.State), b.Order)
		if r := b.Result; r != nil {
			good, rework, reject = fmt.Sprint(r.Good), fmt.Sprint(r.Rework), fmt.Sprint(r.Reject)
			remarks = nonEmpty(causesText(r.Causes), r.Shade, r.Note, b.Order)
			if b.State == journal.Withdrawn {
				remarks = append([]string{string(b.State)}, remarks...)
			}
		}
		if b.WithoutReview != "" {
			remarks = append(remarks, "without review: "+b.WithoutReview)
		}
		t.add(b.Number, day(b), cut(b.Slug, 24), cut(b.Alloy, 18), fmt.Sprint(b.Pieces), good, rework, reject)
		t.remark(strings.Join(remarks, "; "))
	}
	if len(t.rows) == 0 {
		e.note("no batches yet, or none that fit\n")
		return nil
	}
	t.write(e.out, "")
	return nil
}

// streamList writes each batch as it comes.
func streamList(e *env, p *place, f journal.Filter) error {
	lines := json.NewEncoder(e.out)
	lines.SetEscapeHTML(false)
	for b, err := range p.journal.List(f) {
		if err != nil {
			return err
		}
		if err := lines.Encode(b); err != nil {
			return nil // flush says why, unless the reader has gone away
		}
	}
	return nil
}

func day(b journal.Batch) string {
	if b.Result != nil {
		return b.Result.Logged.Day()
	}
	return b.Created.Day()
}

func nonEmpty(parts ...string) []string {
	var out []string
	for _, p := range parts {
		if p != "" {
			out = append(out, p)
		}
	}
	return out
}

func causesText(causes map[string]int) string {
	names := keys(causes)
	sort.SliceStable(names, func(i, j int) bool { return causes[names[i]] > causes[names[j]] })
	for i, n := range names {
		names[i] = fmt.Sprintf("%s %d", n, causes[n])
	}
	return strings.Join(names, ", ")
}

// resultText says a result in words.
func resultText(b journal.Batch) string {
	r := b.Result
	if r == nil {
		return string(b.State)
	}
	text := fmt.Sprintf("%d good, %d to rework, %d rejected of %d", r.Good, r.Rework, r.Reject, b.Pieces+b.Spares)
	if c := causesText(r.Causes); c != "" {
		text += " (" + c + ")"
	}
	return text
}
