package main

import (
	"strings"

	"github.com/urfave/cli/v2"

	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/bath/job"
	"hepar/recipe/bath/plan"
	"hepar/recipe/bath/rinse"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// takeRun reads how the run is done: what heats the bath, how pieces go in.
func takeRun(c *cli.Context, o *bath.Order) error {
	o.Lid, o.ByMachine = o.Lid || c.Bool("lid"), c.Bool("machine")
	if c.Bool("by-hand") {
		o.Transfer = plan.ByHand
	}
	percent := func(name string, to *float64, times float64, mark string) error {
		if !c.IsSet(name) {
			return nil
		}
		part, err := measure.ParseRatio(c.String(name))
		if err != nil {
			return atFlag(name, err)
		}
		if part <= 0 {
			return fault.Usagef("%q is not above zero", measure.Clean(c.String(name))).At("--" + name).Try("write it like \"50 %%\"")
		}
		*to = part * times
		if mark != "" {
			o.Shop.Known[mark] = true
		}
		return nil
	}
	for _, read := range []func() error{
		func() error { return percent("humidity", &o.Shop.HumidityPercent, 100, "humidity") },
		func() error { return percent("match", &o.Shop.MatchPercent, 100, "match") },
		func() error { return percent("yield", &o.Yield, 1, "") },
		func() error { return percent("confidence", &o.Confidence, 1, "") },
		func() error { return take(c, "rack", atLeastOne, &o.Rack) },
		func() error { return take(c, "explain", atLeastOne, &o.Explain) },
		func() error { return take(c, "heat", plan.ParseHeat, &o.Heat) },
		func() error { return take(c, "start", measure.ParseTemperature, &o.Start) },
		func() error { return take(c, "air-speed", parseSpeed, &o.Shop.AirSpeed) },
		func() error {
			o.Shop.Known["drain"] = o.Shop.Known["drain"] || c.IsSet("drain")
			return take(c, "drain", rinse.Habit, &o.Shop.Drain)
		},
	} {
		if err := read(); err != nil {
			return err
		}
	}
	return nil
}

// parseSpeed reads a speed of air in m/s.
func parseSpeed(text string) (float64, error) {
	number := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "m/s"))
	x, err := measure.ParseRatio(number)
	if err != nil || x < 0 || x > 5 || strings.ContainsAny(number, "%:") {
		return 0, fault.Usagef("%q is not a speed in m/s", measure.Clean(text)).Try("write 0.4 before a hood that draws well, 0 in still air")
	}
	return x, nil
}

// takeKinds reads the files of --kind. The first kind takes the place of the one kind
// of piece that flags describe.
func takeKinds(c *cli.Context, o *bath.Order) error {
	files := c.StringSlice("kind")
	if len(files) == 0 {
		return nil
	}
	for _, flag := range []string{"pieces", "spares", "alloy", "shape", "diameter", "thickness", "length", "width", "height", "inside", "wire", "area", "mass", "relief"} {
		if c.IsSet(flag) {
			return fault.Usagef("--%s has no effect beside --kind", flag).Try("leave it out, or describe one kind of piece by flags alone")
		}
	}
	var kinds []job.Kind
	for _, file := range files {
		read, findings, err := job.Read(file)
		if err != nil {
			return err
		}
		if len(findings) > 0 {
			return recipe.Findings(findings).Of("job file")
		}
		kinds = append(kinds, read...)
	}
	for i, k := range kinds {
		if i == 0 {
			o.Name, o.Piece, o.Pieces, o.Spares = k.Name, k.Piece, k.Pieces, k.Spares
			continue
		}
		o.More = append(o.More, k)
	}
	return nil
}
