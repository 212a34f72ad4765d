package shop

import (
	"strings"
	"testing"
	"unicode/utf8"

	"hepar/recipe/strict"
)

// good is a shop file that sets everything, of an invented workshop; the bad ones
// are made from it by one change each.
const good = `name   = "Fernholm Medals"
person = "Ilse Tamm"
people = ["Ilse Tamm", "Marek Oja", "Runa Fern"]
units  = "metric"

[balance]
readability = "0.01 g"
cylinder    = "2 mL"

[water]
hot  = "92 C"
cold = "53.6 F"

[room]
temperature = "19 C"
humidity    = "55 %"
volume      = "32 m3"
air_changes = 2.5
hood        = true

[[vessel]]
name     = "tub"
inside   = "200x140x90mm"
material = "glass"
lid      = true
heater   = "0.3 kW"

[[vessel]]
name   = "pot"
inside = "150x180mm"

[hands]
seconds_per_piece = 3
by_hand           = true
rack              = 24

[heat]
bath      = "plate:500W"
air_speed = 0.4

[[piece]]
name     = "token-24"
recipe   = "silver-black"
alloy    = "sterling-925"
diameter = "24 mm"
vessel   = "tub"

[drain]
habit = "very poor"

[minutes]
cleaning          = "90 s"
relief_by_hand    = "12 min"
relief_by_machine = "20 s"
coating = "20 s"
sealing = "10 s"
inspection        = "0 s"
rework            = "4 min"
setup             = "20 min"

[rates]
labour = "38 EUR per h"

[rates.reagent]
liver-of-sulfur = "60.5 EUR/kg"
ammonia         = "9 EUR per kg"

[match]
limit = "12 %"

[[worker]]
name     = "Marek Oja"
no_smell = true
new      = true

[[worker]]
name  = "Runa Fern"
alone = true

[[limit]]
gas    = "hydrogen sulfide"
list   = "insurer"
ppm    = 1
reason = "asked for in the contract"
date   = "2025-03-01"
`

// decode returns a Shop or findings, never both.
func decode(name string, data []byte) (Shop, []strict.Finding) {
	s := Shop{File: name}
	if findings := file.Decode(name, data, s.read); len(findings) > 0 {
		return Shop{}, findings
	}
	return s, nil
}

func decodeGood(t testing.TB, text string) Shop {
	t.Helper()
	s, findings := decode("some/shop.toml", []byte(text))
	for _, f := range findings {
		t.Errorf("%s", strings.Join(f.Lines(), "\n"))
	}
	if len(findings) > 0 {
		t.FailNow()
	}
	return s
}

// change replaces old, which must stand in the good file just once, and takes a
// mark « out of the result. It gives the place of the mark, counted in its own way.
func change(t testing.TB, old, new string) (changed string, line, column int) {
	t.Helper()
	if n := strings.Count(good, old); n != 1 {
		t.Fatalf("%q stands %d times in the good file", old, n)
	}
	text := strings.Replace(good, old, new, 1)
	before, after, marked := strings.Cut(text, "«")
	if !marked {
		t.Fatalf("no mark in %q", new)
	}
	lines := strings.Split(before, "\n")
	return before + after, len(lines), utf8.RuneCountInString(lines[len(lines)-1]) + 1
}
