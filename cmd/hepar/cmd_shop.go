package main

import (
	"errors"
	"io/fs"
	"os"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/shop"
)

func shopCommand(e *env) *verb {
	return command("shop", "show the workshop's own settings, and where each comes from",
		func(c *call) { runShop(e, c) },
		yes("template", "print a commented shop file"),
		yes("write", "create that file where the shop file belongs; never overwrites one"))
}

func runShop(e *env, c *call) {
	path := shopPath(c)
	switch {
	case c.Bool("template"):
		e.out.Write(shop.Template())
		return
	case c.Bool("write"):
		ownFolder(path)
		fault.Check(writeNew(path, shop.Template(), "keep it: hepar shop --template prints all there is to set, and a setting goes above the first line with [[; or name another file with --shop"))
		e.show(map[string]any{"file": path}, func() {
			e.say("wrote %s\nremove the # in front of what you want to set, then: hepar shop\n", oneLine(path))
		})
		return
	}
	s, err := readShop(c)
	fault.Check(e.showFindings(err))
	e.show(map[string]any{"file": path, "settings": s.Settings()}, func() {
		where := oneLine(path)
		where += when(s.File == "", " (no such file yet; hepar shop --write creates it)")
		e.say("%s\n%s", e.heading("THE SHOP"), wrap("  ", where))
		t := table{head: []string{"setting", "value", "from"}}
		for _, setting := range s.Settings() {
			t.add(setting.Key, setting.Value, setting.From)
		}
		t.write(e.out, "  ")
	})
}

// readShop reads the shop file. If it is missing at its usual place, nothing is set; a
// file named by flag must exist. The error holds the findings in a bad file.
func readShop(c *call) (shop.Shop, error) {
	path := shopPath(c)
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		if c.String("shop") == "" {
			return shop.Shop{}, nil
		}
		return shop.Shop{}, fault.Failuref("there is no shop file %s", measure.Clean(path)).At("--shop").Try("write one with hepar shop --write, or leave --shop out")
	}
	return shop.Read(path)
}
