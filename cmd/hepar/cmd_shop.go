package main

import (
	"errors"
	"io/fs"

	"github.com/urfave/cli/v2"

	"hepar/recipe/shop"
)

func shopCommand(e *env) *cli.Command {
	return &cli.Command{
		Name: "shop", Usage: "the workshop's own settings, and where each came from",
		Description: `Shows every setting with its value and where that came from: the line of the shop file,
or a default. --template prints a commented shop file to fill in; --write puts it in its
place.

EXAMPLES
   hepar shop
   hepar shop --write`,
		Flags: []cli.Flag{
			&cli.BoolFlag{Name: "template", Usage: "print a commented shop file"},
			&cli.BoolFlag{Name: "write", Usage: "write that file where the shop file belongs; nothing is overwritten"},
		},
		Action: func(c *cli.Context) error {
			if err := arguments(c, 0, 0, ""); err != nil {
				return err
			}
			return runShop(e, c)
		},
	}
}

func runShop(e *env, c *cli.Context) error {
	path := shopPath(c)
	switch {
	case c.Bool("template"):
		e.say("%s", shop.Template())
		return nil
	case c.Bool("write"):
		if err := writeNew(path, shop.Template()); err != nil {
			return err
		}
		if e.json {
			return e.printJSON(map[string]any{"file": path})
		}
		e.say("wrote %s\ntake the # away from what you want to set, then: hepar shop\n", oneLine(path))
		return nil
	}
	s, err := readShop(e, c)
	if err != nil {
		return err
	}
	if e.json {
		return e.printJSON(map[string]any{"file": path, "settings": s.Settings()})
	}
	where := oneLine(path)
	if s.File == "" {
		where += " (not there yet: hepar shop --write makes it)"
	}
	e.say("%s\n%s", e.heading("THE SHOP"), wrap("  ", where))
	t := table{head: []string{"setting", "value", "from"}}
	for _, setting := range s.Settings() {
		t.add(setting.Key, setting.Value, setting.From)
	}
	t.write(e.out, "  ")
	return nil
}

// readShop reads the shop file. Without one at its usual place nothing is set; one
// named by hand has to be there.
func readShop(e *env, c *cli.Context) (shop.Shop, error) {
	s, findings, err := shop.Read(shopPath(c))
	if len(findings) > 0 {
		printFindings(e, findings)
		return s, &foundError{exitFailure}
	}
	if errors.Is(err, fs.ErrNotExist) && c.String("shop") == "" {
		err = nil
	}
	if errors.Is(err, fs.ErrNotExist) {
		return s, noShopFile(shopPath(c))
	}
	return s, err
}
