package main

import (
	"cmp"
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"

	"github.com/adrg/xdg"
	"github.com/urfave/cli/v2"

	"hepar/journal"
	"hepar/recipe"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
	"hepar/recipe/safety"
	"hepar/recipe/shop"
	"hepar/recipes"
)

// place is where a command works: its flags and arguments, and the recipes, the shop and
// the journal that its flags, the environment or the home directory name.
type place struct {
	*env
	*cli.Context
	shop    shop.Shop
	units   measure.System
	library *recipe.Library
	journal *journal.Journal
}

func pathOf(c *call, flag, home, file string) string {
	return cmp.Or(c.String(flag), filepath.Join(home, "hepar", file))
}

func recipesDir(c *call) string { return pathOf(c, "recipes", xdg.ConfigHome, "recipes") }
func shopPath(c *call) string   { return pathOf(c, "shop", xdg.ConfigHome, "shop.toml") }

// openPlace reads what a command needs, but not the journal. A bad shop file or recipe folder
// stops only the commands that work from it; the others warn.
func openPlace(e *env, c *call) *place {
	p := &place{env: e, Context: c}
	var err error
	if p.shop, err = readShop(c); err != nil {
		if !under(c, "journal", "log", "dip", "stock", "recipe") {
			fault.Check(e.showFindings(err))
		}
		e.tell("warning: ", oneLine(err.Error()+"; hepar goes on without it; hepar shop shows all that is wrong"))
	}
	reagent.Declare(p.shop.Substances)
	var units string
	fault.Check(take(c, "units", oneOf("a system of units", "metric", "us"), &units))
	p.units = map[string]measure.System{"metric": measure.Metric, "us": measure.US, "": p.shop.Units}[units]
	dir, err := ownRecipes(c)
	var misnamed []recipe.Finding
	if err == nil {
		p.library, misnamed, err = recipe.Load(recipes.FS, dir)
	}
	if err != nil {
		if !under(c, "journal", "log", "dip", "stock") {
			fault.Check(err)
		}
		e.tell("warning: ", oneLine(err.Error()+"; hepar goes on with the built-in recipes"))
		p.library, _ = fault.Must2(recipe.Load(recipes.FS, ""))
	}
	for _, f := range misnamed {
		e.tell("warning: ", oneLine(recipe.Findings{f}.Error()+"; "+f.Cure))
	}
	e.tell("note: ", safety.Unlisted(p.shop.Full(c.String("by")), p.shop.People))
	p.journal = journal.At(pathOf(c, "journal", xdg.DataHome, "journal.db"),
		journal.Options{Wait: 5 * time.Second, Now: e.now, By: p.person(c.String("by")), Watch: either(under(c, "journal"), e.progress("events"), nil)})
	if under(c, "journal", "log", "dip", "stock", "review") || c.Bool("save") {
		e.warnOfNetwork(p.journal)
	}
	return p
}

// person is who does it: the one named, or the person of the shop file, by the full name there.
func (p *place) person(named string) string { return p.shop.Full(cmp.Or(named, p.shop.Person)) }

// under reports whether the command is one of those named or stands below one.
func under(c *call, names ...string) bool {
	return slices.Contains(names, strings.Fields(c.Command.HelpName)[1])
}

// newJournal returns what says afterwards that the command, or a mistyped path, made a journal.
func (p *place) newJournal() (tell func()) {
	there := fault.Must(p.journal.Exists())
	return func() {
		p.tell("note: ", when(!there, "created a new journal: "+p.journal.Path()))
	}
}

// ifKept ends the command with the words for none in a new home, where nothing was kept so far.
// A journal named by hand has to be there.
func (p *place) ifKept(none string) {
	if there, err := p.journal.Exists(); p.String("journal") == "" && !there {
		p.note("%s", none)
		fault.Check(cmp.Or(err, error(&foundError{exitDone})))
	}
}

// warnOfNetwork warns of a journal in a place where locks cannot be trusted.
func (e *env) warnOfNetwork(j *journal.Journal) {
	name := j.Network()
	if e.network != nil {
		name = e.network(j)
	}
	if name != "" {
		e.note("note: the journal %s lies on a network file system (%s); two programs that write at once can damage it there. Keep it on a local disk, and its backups on the network\n",
			measure.Clean(j.Path()), name)
	}
}

// ownRecipes is the folder of the user's recipes, or "" if there is none. A folder named
// by flag must exist.
func ownRecipes(c *call) (string, error) {
	dir := recipesDir(c)
	info, err := os.Stat(dir)
	switch {
	case err == nil && info.IsDir():
		return dir, nil
	case err == nil:
		return "", fault.Failuref("%s is not a folder", measure.Clean(dir)).At("--recipes").Try("name a folder of .toml files")
	case os.IsNotExist(err) && c.String("recipes") == "":
		return "", nil
	}
	return "", fault.Failuref("the folder %s cannot be read", measure.Clean(dir)).At("--recipes").Because(withoutPath(err)).Try("name a folder of .toml files")
}

// withoutPath is an error of a file for a message that names the file already.
func withoutPath(err error) error {
	if path, is := errors.AsType[*os.PathError](err); is {
		return path.Err
	}
	return err
}

// recipe finds one recipe, and notes that one of the user is used instead of a built-in one.
func (p *place) recipe(slug string) (*recipe.Recipe, error) {
	p.noteReplaced(slug)
	return p.library.Get(slug)
}

func (p *place) noteReplaced(slug string) {
	if p.library.Replaces(slug) {
		p.tell("note: ", oneLine(p.library.Where(slug)+" is used instead of the built-in recipe "+slug))
	}
}

// isBatch tells a batch (last, a number, the beginning of an id) from a recipe.
func isBatch(ref string) bool {
	return regexp.MustCompile(`^(last|\d{1,6}|\d{4}-\d{1,9}(-\w{4})?|[0-9A-HJKMNP-TV-Z]{6,26})$`).MatchString(ref)
}
