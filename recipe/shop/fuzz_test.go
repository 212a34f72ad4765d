package shop

import (
	"bytes"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"hepar/recipe/measure"
	"hepar/recipe/strict"
)

// FuzzShop reads anything at all. It returns a Shop or findings, each with a cure and a
// place inside the file. A Shop is in range, is the same when read again, and lists clean
// settings.
func FuzzShop(f *testing.F) {
	f.Add([]byte(good))
	f.Add(Template())
	f.Add([]byte(strings.ReplaceAll(string(Template()), "\n#", "\n")))
	for _, c := range badLines() {
		f.Add([]byte(strings.Replace(strings.Replace(good, c.old, c.new, 1), "«", "", 1)))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		s, findings := decode("fuzz.toml", data)
		for _, one := range findings {
			checkPlace(t, one, data)
		}
		if len(findings) > 0 {
			if s.File != "" || s.settings != nil {
				t.Fatalf("a shop beside findings: %+v", s)
			}
			return
		}
		checkSound(t, s)
		again, _ := decode("fuzz.toml", data)
		list, other := s.Settings(), again.Settings()
		if len(list) != len(other) {
			t.Fatal("not the same twice")
		}
		for i, one := range list {
			if one != other[i] {
				t.Fatalf("not the same twice: %+v, %+v", one, other[i])
			}
			if text := one.Key + one.Value + one.From; measure.Clean(text) != text || one.Key == "" || one.From == "" {
				t.Fatalf("setting %q", one)
			}
		}
	})
}

func checkPlace(t *testing.T, f strict.Finding, data []byte) {
	if f.What == "" || f.Cure == "" || strings.HasPrefix(f.What, "could not be read") {
		t.Fatalf("finding %+v", f)
	}
	for _, line := range f.Lines() {
		if strings.ContainsFunc(line, strict.Hidden) || !utf8.ValidString(line) {
			t.Fatalf("unprintable: %q", line)
		}
	}
	if f.Line == 0 {
		return
	}
	lines := bytes.Split(data, []byte("\n"))
	if f.Line > len(lines) || f.Column < 1 || f.Column > utf8.RuneCount(lines[f.Line-1])+1 {
		t.Fatalf("no such place: %+v", f)
	}
}

func checkSound(t *testing.T, s Shop) {
	b, m := s.Bath, s.Bath.Minutes
	within := func(what string, x, low, high float64) {
		if !(x >= low && x <= high) || math.IsInf(x, 0) {
			t.Fatalf("%s: %v", what, x)
		}
	}
	within("balance", float64(b.ReadabilityG), 0, 100)
	within("cylinder", b.CylinderML, 0, 1000)
	within("hot", float64(b.HotWater), 0, 100)
	within("cold", float64(b.ColdWater), 0, 100)
	within("ambient", float64(b.Ambient), -20, 50)
	within("humidity", b.HumidityPercent, 0, 100)
	within("match", b.MatchPercent, 0, 100)
	within("room", s.Room.VolumeM3, 0, 100_000)
	within("air", s.Room.AirChangesPerHour, 0, 200)
	within("pace", b.Pace, 0, 60)
	within("air speed", b.SpeedMS, 0, 5)
	within("rack", float64(s.Rack), 0, 10_000)
	within("drain", float64(b.Drain), 0, 1000)
	for _, x := range m {
		within("minutes", x, 0, 24*60)
	}
	within("labour", b.LabourPerHour, 0, 1e6)
	for _, x := range b.PricePerKG {
		within("price", x, 0, 1e6)
	}
	for name, v := range s.Vessels {
		within("side", float64(max(v.Length, v.Width, v.Height, v.Diameter)), 5, 5000)
		within("heater", v.HeaterW, 0, 10_000)
		if v.Name != name || name == "" {
			t.Fatalf("vessel %q %+v", name, v)
		}
	}
	for _, l := range s.Limits {
		within("limit", l.Value, 0, 10_000)
		if l.Value == 0 || l.Reason == "" || l.Gas == "" || l.List == "" {
			t.Fatalf("limit %+v", l)
		}
	}
	for _, w := range s.Workers {
		if index(s.People, w.Name) < 0 {
			t.Fatalf("%q is among no people", w.Name)
		}
	}
}
