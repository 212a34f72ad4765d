package main

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"time"

	"github.com/adrg/xdg"
	"github.com/urfave/cli/v2"

	"hepar/journal"
	"hepar/recipe"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/shop"
	"hepar/recipes"
)

// place is where a command works: the recipes, the shop and the journal that its
// flags, the environment or the home directory name.
type place struct {
	shop    shop.Shop
	units   measure.System
	library *recipe.Library
	journal *journal.Journal
	told    *progress // of the verifying that long work on the journal ends with
}

// journalWait is how long a command waits for another to let go of the journal.
const journalWait = 5 * time.Second

func journalPath(c *cli.Context) string {
	if f := c.String("journal"); f != "" {
		return f
	}
	return filepath.Join(xdg.DataHome, "hepar", "journal.db")
}

func recipesDir(c *cli.Context) string {
	if d := c.String("recipes"); d != "" {
		return d
	}
	return filepath.Join(xdg.ConfigHome, "hepar", "recipes")
}

func shopPath(c *cli.Context) string {
	if f := c.String("shop"); f != "" {
		return f
	}
	return filepath.Join(xdg.ConfigHome, "hepar", "shop.toml")
}

// openPlace reads what a command needs before it starts. The journal is not
// touched until it is used.
func openPlace(e *env, c *cli.Context) (*place, error) {
	p := &place{}
	var err error
	if p.shop, err = readShop(e, c); err != nil {
		return nil, err
	}
	if p.units, err = units(c, p.shop.Units); err != nil {
		return nil, err
	}
	dirs, err := ownRecipes(c)
	if err != nil {
		return nil, err
	}
	var clashes []recipe.Finding
	if p.library, clashes, err = recipe.Load(recipes.FS, dirs...); err != nil {
		return nil, err
	}
	if len(clashes) > 0 {
		printFindings(e, clashes)
		return nil, &foundError{exitFailure}
	}
	by := c.String("by")
	if by == "" {
		by = p.shop.Person
	}
	p.told = newProgress(e, "events checked")
	p.journal = journal.At(journalPath(c), journal.Options{Wait: journalWait, Now: e.now, By: by, Watch: p.told.tell})
	if usesJournal(c) {
		e.warnOfNetwork(p.journal)
	}
	return p, nil
}

// newJournal is asked before a journal may be made, and gives what tells afterwards
// that it was: a path mistyped, or a stick that is not there, would make one too.
func (p *place) newJournal() (tell func(*env), err error) {
	there, err := p.journal.Exists()
	return func(e *env) {
		if !there {
			e.note("%s", wrap("note: ", "a new journal was made: "+p.journal.Path()))
		}
	}, err
}

// usesJournal says whether the command is one that is about the journal.
func usesJournal(c *cli.Context) bool {
	for _, above := range c.Lineage() {
		if above.Command != nil && slices.Contains([]string{"journal", "log", "dip", "stock", "review"}, above.Command.Name) {
			return true
		}
	}
	return c.Bool("save")
}

// warnOfNetwork says that the journal lies where locks are not to be trusted.
func (e *env) warnOfNetwork(j *journal.Journal) {
	name := j.Network()
	if e.network != nil {
		name = e.network(j)
	}
	if name != "" {
		e.note("note: the journal %s lies on a network file system (%s): two at work at once can spoil it there; keep it on a local disk and its backups on the network\n",
			measure.Clean(j.Path()), name)
	}
}

func noShopFile(path string) error {
	return fault.Failuref("there is no shop file %s", measure.Clean(path)).At("--shop").Try("hepar shop --write makes one; or leave --shop out")
}

// ownRecipes is the folder of the user's recipes, if there is one. A folder
// named by flag must exist.
func ownRecipes(c *cli.Context) ([]string, error) {
	dir := recipesDir(c)
	info, err := os.Stat(dir)
	switch {
	case err == nil && info.IsDir():
		return []string{dir}, nil
	case err == nil:
		return nil, fault.Failuref("%s is not a folder", measure.Clean(dir)).At("--recipes").Try("name a folder of .toml files")
	case os.IsNotExist(err) && c.String("recipes") == "":
		return nil, nil
	}
	var path *os.PathError
	if errors.As(err, &path) {
		err = path.Err // the path is said once
	}
	return nil, fault.Failuref("the folder %s cannot be read", measure.Clean(dir)).At("--recipes").Because(err).Try("name a folder of .toml files")
}

// recipe finds one recipe; what is wrong in its file is an error.
func (p *place) recipe(slug string) (*recipe.Recipe, error) { return p.library.Get(slug) }
