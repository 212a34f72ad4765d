package shop

import (
	"errors"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"hepar/recipe/bath"
	"hepar/recipe/bath/heat"
	"hepar/recipe/bath/plan"
	"hepar/recipe/bath/yield"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/safety"
	"hepar/recipe/safety/gas"
	"hepar/recipe/strict"
)

func TestDecodeReadsEveryField(t *testing.T) {
	s := decodeGood(t, good)
	if s.File != "some/shop.toml" || s.Name != "Fernholm Medals" || s.Person != "Ilse Tamm" || s.Units != measure.Metric ||
		!slices.Equal(s.People, []string{"Ilse Tamm", "Marek Oja", "Runa Fern"}) {
		t.Errorf("head: %+v", s)
	}
	b := s.Bath
	near := func(what string, got, want float64) {
		if !(math.Abs(got-want) < 1e-9) {
			t.Errorf("%s: %v, wanted %v", what, got, want)
		}
	}
	near("balance", float64(b.ReadabilityG), 0.01)
	near("cylinder", b.CylinderML, 2)
	near("hot", float64(b.HotWater), 92)
	near("cold", float64(b.ColdWater), 12) // 53.6 F
	near("ambient", float64(b.Ambient), 19)
	near("humidity", b.HumidityPercent, 55)
	near("match", b.MatchPercent, 12)
	for _, key := range []string{"balance.readability", "balance.cylinder", "water.hot", "water.cold", "room.temperature", "room.humidity", "match.limit"} {
		if !b.Known[key] {
			t.Errorf("%s is not known", key)
		}
	}
	if s.Room != (gas.Room{VolumeM3: 32, AirChangesPerHour: 2.5}) {
		t.Errorf("room %+v", s.Room)
	}
	if v := s.Vessels["tub"]; v != (Vessel{plan.Vessel{Name: "tub", Length: 200, Width: 140, Height: 90, Material: "glass"}, true, 300}) {
		t.Errorf("tub %+v", v)
	}
	if v := s.Vessels["pot"]; v.Diameter != 150 || v.Height != 180 || v.HeaterW != 0 || len(s.Vessels) != 2 {
		t.Errorf("pot %+v", v)
	}
	near("pace", b.Pace, 3)
	near("air speed", b.SpeedMS, 0.4)
	if !s.ByHand || s.Rack != 24 || b.Drain != 163 || s.Heat != (plan.Heat{Kind: plan.Plate, Watts: 500}) {
		t.Errorf("by hand %v, rack of %d, drain %v, heat %v", s.ByHand, s.Rack, b.Drain, s.Heat)
	}
	m := b.Minutes
	near("cleaning", m[yield.Clean], 1.5)
	near("by hand", m[yield.Relieve], 12)
	near("by machine", m[yield.Machine], 20.0/60)
	near("inspection", m[yield.Inspect], 0)
	near("rework", m[yield.Rework], 4)
	near("setup", m[yield.Setup], 20)
	for _, key := range []string{yield.Clean, yield.Relieve, yield.Machine, yield.Inspect, yield.Rework} {
		if _, given := m.Of(key); !given {
			t.Errorf("minutes: %s is not known", key)
		}
	}
	near("labour", b.LabourPerHour, 38)
	near("price", b.PricePerKG["liver-of-sulfur"], 60.5)
	if s.Currency != "EUR" || len(b.PricePerKG) != 2 {
		t.Errorf("rates: %q %v", s.Currency, b.PricePerKG)
	}
	if w := s.Worker(" marek oja"); w != (safety.Person{Name: "Marek Oja", NoSmell: true, New: true}) || len(s.Workers) != 2 {
		t.Errorf("workers %+v", s.Workers)
	}
	for typed, full := range map[string]string{"marek": "Marek Oja", " Marek OJA ": "Marek Oja", "Mar": "Mar", "": "", "Karl": "Karl"} {
		if got := s.Full(typed); got != full {
			t.Errorf("%q is %q, want %q", typed, got, full)
		}
	}
	several := Shop{People: []string{"Ada Fern", "Ada Tamm", "Ada"}}
	if got := several.Full("ada"); got != "Ada" {
		t.Errorf("the name in full is %q", got)
	}
	if got := (Shop{People: several.People[:2]}).Full("ada"); got != "ada" {
		t.Errorf("one of two is taken: %q", got)
	}
	if w := s.Worker(" Ilse Tamm"); w != (safety.Person{Name: "Ilse Tamm"}) {
		t.Errorf("%+v", w)
	}
	if len(s.Limits) != 1 || s.Limits[0] != (gas.Limit{Gas: "hydrogen sulfide", List: "insurer", Value: 1, Reason: "asked for in the contract", Date: "2025-03-01"}) {
		t.Errorf("limits %+v", s.Limits)
	}
}

// What is left out stays unset and unknown; the minutes take their defaults one by
// one, so that a file with one of them does not set the others to nothing.
func TestDecodeLeavesOut(t *testing.T) {
	s := decodeGood(t, "")
	if s.Bath.ReadabilityG != 0 || len(s.Bath.Known) != 0 || len(s.Vessels) > 0 || s.People != nil || s.Currency != "" {
		t.Errorf("%+v", s)
	}
	s = decodeGood(t, "[minutes]\nrework = \"7 min\"\n[[worker]]\nname = \"Runa Fern\"\n[drain]\nhabit = \"60 mL/m2\"\n[hands]\nby_hand = false\n[rates]\nlabour = \"38/hour\"\n")
	if m := s.Bath.Minutes; !maps.Equal(m, yield.Minutes{yield.Rework: 7}) {
		t.Errorf("%+v", m)
	}
	if !slices.Equal(s.People, []string{"Runa Fern"}) || s.Bath.Drain != 60 || s.ByHand || !s.Bath.Known["hands.by_hand"] {
		t.Errorf("%+v", s)
	}
	if s.Bath.LabourPerHour != 38 || s.Currency != "" {
		t.Errorf("%v %q", s.Bath.LabourPerHour, s.Currency)
	}
	if s := decodeGood(t, "units = \"us\"\n"); s.Units != measure.US {
		t.Error("units")
	}
	// an inline table is a table too
	for text, speed := range map[string]float64{"room = { hood = true }\n": heat.Hood, "room = { hood = true }\nheat = { air_speed = 0.1 }\n": 0.1, "room = { hood = false }\n": 0} {
		if s := decodeGood(t, text); s.Bath.SpeedMS != speed {
			t.Errorf("%q moves air of %g m/s over the bath, want %g", text, s.Bath.SpeedMS, speed)
		}
	}
	if s := decodeGood(t, "room = { volume = \"1000 ft3\", hood = false }\n"); math.Abs(s.Room.VolumeM3-28.316846592) > 1e-9 {
		t.Errorf("%+v", s.Room)
	}
}

func TestSettingsTellWhereFrom(t *testing.T) {
	s := decodeGood(t, good)
	got := map[string]Setting{}
	for _, one := range s.Settings() {
		if _, twice := got[one.Key]; twice {
			t.Errorf("%s twice", one.Key)
		}
		got[one.Key] = one
	}
	for _, want := range []Setting{
		{"name", "Fernholm Medals", "shop.toml:1"},
		{"people", "Ilse Tamm, Marek Oja, Runa Fern", "shop.toml:3"},
		{"balance.readability", "0.01 g", "shop.toml:7"},
		{"water.cold", "53.6 F", "shop.toml:12"},
		{"room.air_changes", "2.5", "shop.toml:18"},
		{"room.hood", "true", "shop.toml:19"},
		{"vessel tub", "inside 200x140x90mm, material glass, lid, heater 0.3 kW", "shop.toml:21"},
		{"vessel pot", "inside 150x180mm", "shop.toml:28"},
		{"hands.seconds_per_piece", "3", "shop.toml:33"},
		{"hands.rack", "24", "shop.toml:35"},
		{"drain.habit", "very poor", "shop.toml:49"},
		{"minutes.inspection", "0 s", "shop.toml:57"},
		{"rates.labour", "38 EUR per h", "shop.toml:62"},
		{"rates.reagent", "ammonia 9 EUR per kg, liver-of-sulfur 60.5 EUR/kg", "shop.toml:64"},
		{"match.limit", "12 %", "shop.toml:69"},
		{"worker Marek Oja", "no smell, new", "shop.toml:71"},
		{"limit hydrogen sulfide, insurer", "gas hydrogen sulfide, list insurer, ppm 1, reason asked for in the contract, date 2025-03-01", "shop.toml:80"},
	} {
		if got[want.Key] != want {
			t.Errorf("%+v, wanted %+v", got[want.Key], want)
		}
	}
	for key, one := range got {
		if !strings.HasPrefix(one.From, "shop.toml:") {
			t.Errorf("%s is set in the file, not %q", key, one.From)
		}
	}
}

// Without a file each default is the one that is reckoned with, and says so.
func TestSettingsOfNothing(t *testing.T) {
	got := map[string]Setting{}
	for _, one := range (Shop{}).Settings() {
		got[one.Key] = one
		if (one.Value == "") != (one.From == "not set") || strings.Contains(one.From, "toml") {
			t.Errorf("%+v", one)
		}
	}
	d := bath.DefaultShop()
	for _, want := range []Setting{
		{"balance.readability", measure.Metric.Scale(d.ReadabilityG), "default: common practice, no source"},
		{"water.hot", measure.Metric.Temperature(d.HotWater), "default: common practice, no source"},
		{"room.humidity", "50 %", "default: common practice, no source"},
		{"minutes.relief_by_hand", "15 s", "default: assumed, for each cm2 of a piece"},
		{"minutes.inspection", "30 s", "default: common practice, no source"},
		{"minutes.setup", "15 min", "default: assumed"},
		{"drain.habit", "poor, 81.5 mL/m2", "default: assumed"},
		{"room.hood", "", "not set"},
		{"units", "metric", "default: metric"},
	} {
		if got[want.Key] != want {
			t.Errorf("%+v, wanted %+v", got[want.Key], want)
		}
	}
	s := decodeGood(t, "units = \"us\"\n")
	if i := slices.IndexFunc(s.Settings(), func(x Setting) bool { return x.Key == "water.hot" }); s.Settings()[i].Value != "203 F" {
		t.Errorf("%+v", s.Settings()[i])
	}
}

func TestReadMissingFile(t *testing.T) {
	dir := t.TempDir()
	if _, err := Read(filepath.Join(dir, "none.toml")); err == nil || !strings.Contains(err.Error(), "no such file") || fault.CureOf(err) == "" {
		t.Errorf("a missing file: %v", err)
	}
	if _, err := Read(dir); err == nil || fault.CureOf(err) == "" {
		t.Errorf("a folder: %v", err)
	}
	path := filepath.Join(dir, "shop.toml")
	if err := os.WriteFile(path, []byte("name = 1\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	s, err := Read(path)
	if findings, ok := errors.AsType[strict.Findings](err); !ok || len(findings) != 1 || findings[0].Place() != path+":1:8" || s.File != "" {
		t.Errorf("%v", err)
	}
}

func TestDemoPasses(t *testing.T) {
	s, err := Read("../../journal/demo/files/shop.toml")
	if err != nil {
		t.Fatal(err)
	}
	if s.Name == "" || s.Person == "" || len(s.Vessels) == 0 || !s.Bath.Known["balance.readability"] {
		t.Errorf("%+v", s)
	}
}

// inFile gives the keys of the settings that stand in the file.
func inFile(s Shop) (keys []string) {
	for _, one := range s.Settings() {
		if strings.Contains(one.From, ".toml:") {
			keys = append(keys, one.Key)
		}
	}
	return keys
}

// As it stands the template sets nothing; with the marks before its settings taken
// away it sets everything that there is to set.
func TestTemplatePassesBothWays(t *testing.T) {
	text := string(Template())
	s := decodeGood(t, text)
	if set := inFile(s); len(set) != 0 {
		t.Errorf("the template sets %v", set)
	}
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		if len(line) > 1 && line[0] == '#' && line[1] != ' ' {
			lines[i] = line[1:]
		} else if line != "" && line[0] != '#' && line[0] != '[' {
			t.Errorf("line %d is neither comment, setting nor heading: %s", i+1, line)
		}
	}
	s = decodeGood(t, strings.Join(lines, "\n"))
	for _, one := range s.Settings() {
		if !slices.Contains(inFile(s), one.Key) {
			t.Errorf("the template knows nothing of %s", one.Key)
		}
	}
	for _, key := range []string{"vessel tub", "worker Ben Sample", "rates.reagent", "limit hydrogen sulfide, our insurer"} {
		if !slices.Contains(inFile(s), key) {
			t.Errorf("%s is not set", key)
		}
	}
}

// Text of the file that acts on a terminal never gets into a setting.
func TestSettingsAreClean(t *testing.T) {
	s, _ := decode("a\x1b[31m/b\x07.toml", []byte(good))
	for _, one := range s.Settings() {
		if text := one.Key + one.Value + one.From; measure.Clean(text) != text {
			t.Errorf("%q", text)
		}
	}
}

// TestPieceThatComesAgain: a piece is found by its name, a name that is not there gets
// the nearest, and what is written reads back.
func TestPieceThatComesAgain(t *testing.T) {
	s := decodeGood(t, good)
	want := Piece{"token-24", "silver-black", map[string]string{"alloy": "sterling-925", "diameter": "24 mm", "vessel": "tub"}}
	got, err := s.Piece("token-24")
	if err != nil || got.Name != want.Name || got.Recipe != want.Recipe || !maps.Equal(got.Said, want.Said) {
		t.Errorf("%+v, %v", got, err)
	}
	if _, err := s.Piece("token-42"); err == nil || !strings.Contains(fault.CureOf(err), "did you mean token-24") {
		t.Errorf("%v (%s)", err, fault.CureOf(err))
	}
	if _, err := s.Piece("\x1b[31mring"); err == nil || strings.Contains(err.Error(), "\x1b") || !strings.Contains(fault.CureOf(err), "it has token-24") {
		t.Errorf("%v (%s)", err, fault.CureOf(err))
	}
	if _, err := (Shop{}).Piece("ring"); err == nil || !strings.Contains(fault.CureOf(err), "--save-piece ring") {
		t.Errorf("%v (%s)", err, fault.CureOf(err))
	}
	again, findings := decode("shop.toml", []byte(want.Line()))
	if len(findings) > 0 || len(again.Pieces) != 1 || again.Pieces[want.Name].Line() != want.Line() {
		t.Errorf("%v %+v", findings, again.Pieces)
	}
	if _, findings := decode("shop.toml", []byte(want.Line()+want.Line())); len(findings) != 1 || !strings.Contains(findings[0].What, "two [[piece]] token-24") {
		t.Errorf("%v", findings)
	}
}

func BenchmarkDecode(b *testing.B) {
	data := []byte(good)
	b.ReportAllocs()
	for b.Loop() {
		if _, findings := decode("shop.toml", data); len(findings) > 0 {
			b.Fatal(findings)
		}
	}
}
