package main

import (
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/safety"
	"hepar/recipe/safety/gas"
	"hepar/recipe/shop"
)

// safetyFlags returns the flags that describe the room, the bath, the pieces and the
// people of a review.
func safetyFlags() []cli.Flag {
	text := func(name, usage string) cli.Flag { return &cli.StringFlag{Name: name, Usage: usage} }
	return group("ROOM, PIECES AND PEOPLE",
		text("room", "VOLUME: the room, \"32 m3\", or outdoors"),
		text("air-changes", "NUMBER: air changes an hour, as measured"),
		&cli.BoolFlag{Name: "hood", Usage: "a hood catches the gas at the source and leads it outdoors"},
		text("ph", "NUMBER: pH of the sulfide bath at its working temperature, as measured"),
		text("capture", "WORD: how gas is caught at its source: "+strings.Join(safety.Captures(), ", ")),
		text("meter", "PPM: where the gas meter, tested today, gives alarm"),
		text("second", "NAME: the second person, within call"),
		text("sds", "DATE: of the data sheet that was read, 2025-04-30"),
		text("with", "LIST: what the pieces have: "+strings.Join(safety.Withs(), ", ")),
		text("shared", "LIST: what acid and sulfide work share: "+strings.Join(safety.Shares(), ", ")),
		text("before", "RECIPES: what the pieces go through before, in order, with commas between"),
		text("after", "RECIPES: what the pieces go through afterwards"),
		text("person", "NAME: a worker of the shop file, or NAME=no-smell,pregnant,lungs,alone,new"),
	)
}

// takeSafety reads them into a subject. A flag that is missing falls back to the
// shop file.
func takeSafety(c *cli.Context, p *place, sub *safety.Subject) error {
	sub.Room = gas.Room{VolumeM3: p.shop.Room.VolumeM3, AirChangesPerHour: p.shop.Room.AirChangesPerHour, Hood: p.shop.Room.Hood || c.Bool("hood")}
	sub.DragOutMLM2 = float64(p.shop.Bath.Drain)
	for _, l := range p.shop.Limits {
		sub.Limits = append(sub.Limits, gas.Override{Gas: l.Gas, List: l.List, PPM: l.PPM, Reason: l.Reason})
	}
	if strings.EqualFold(strings.TrimSpace(c.String("room")), "outdoors") {
		if c.IsSet("air-changes") {
			return fault.Usagef("outdoors there are no air changes").At("--air-changes").Try("leave it out, or give the volume of the room")
		}
		sub.Room = gas.Room{Outdoors: true}
	} else if c.IsSet("room") {
		liters, err := positive("room", measure.ParseVolume)(c.String("room"))
		if err != nil {
			return atFlag("room", err)
		}
		room, err := gas.NewRoom(float64(liters)/1000, 0, sub.Room.Hood)
		if err != nil {
			return atFlag("room", err)
		}
		sub.Room.VolumeM3 = room.VolumeM3
	}
	if err := number(c, "air-changes", 0, 200, &sub.Room.AirChangesPerHour); err != nil {
		return err
	}
	for _, ask := range []string{"ph", "capture", "meter", "second", "sds"} {
		if c.IsSet(ask) {
			if err := sub.Answer(ask, c.String(ask), p.env.now()); err != nil {
				return atFlag(ask, err)
			}
		}
	}
	sub.With, sub.Shared = words(c.String("with")), words(c.String("shared"))
	for _, list := range []struct {
		flag string
		add  func(slug string) error
	}{
		{"before", func(slug string) error {
			r, err := p.recipe(slug)
			sub.Before = append(sub.Before, r)
			return err
		}},
		{"after", func(slug string) error {
			r, err := p.recipe(slug)
			sub.After = append(sub.After, r)
			return err
		}},
	} {
		for _, slug := range words(c.String(list.flag)) {
			if err := list.add(slug); err != nil {
				return atFlag(list.flag, err)
			}
		}
	}
	return takePerson(c, p.shop, sub)
}

// number reads a plain number above low and up to high.
func number(c *cli.Context, name string, low, high float64, to *float64) error {
	if !c.IsSet(name) {
		return nil
	}
	v, err := strconv.ParseFloat(c.String(name), 64)
	if err != nil || !(v > low && v <= high) {
		return fault.Usagef("%q is not a number above %s and up to %s", measure.Clean(c.String(name)), measure.Plain(low), measure.Plain(high)).
			At("--"+name).Try("write a plain number such as %s", measure.Plain((low+high)/2))
	}
	*to = v
	return nil
}

// words splits a list at its commas.
func words(list string) []string {
	var out []string
	for _, w := range strings.Split(list, ",") {
		if w = strings.TrimSpace(w); w != "" {
			out = append(out, w)
		}
	}
	return out
}

// takePerson reads who is at the bench. The flag adds to what the shop file says of a
// worker and takes nothing away.
func takePerson(c *cli.Context, s shop.Shop, sub *safety.Subject) error {
	text := orElse(c.String("person"), s.Person)
	if text == "" {
		return nil
	}
	name, flags, given := strings.Cut(text, "=")
	person := safety.Person{Name: strings.TrimSpace(name)}
	if w, ok := s.Worker(name); ok {
		person = safety.Person{Name: w.Name, NoSmell: w.NoSmell, Pregnant: w.Pregnant, Lungs: w.Lungs, Alone: w.Alone, New: w.New}
	}
	if given {
		for _, f := range words(flags) {
			switch f {
			case "no-smell":
				person.NoSmell = true
			case "pregnant":
				person.Pregnant = true
			case "lungs":
				person.Lungs = true
			case "alone":
				person.Alone = true
			case "new":
				person.New = true
			default:
				return fault.Usagef("%q is not known about a person", measure.Clean(f)).At("--person").Try("write no-smell, pregnant, lungs, alone or new")
			}
		}
	}
	sub.Persons = append(sub.Persons, person)
	return nil
}
