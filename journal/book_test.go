package journal_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"hepar/journal"
	"hepar/journal/journaltest"
	"hepar/recipe/fault"
	"hepar/recipe/outside"
)

// book adds to a journal what happens around a result: stock, a dip in two parts,
// a result, photos, waste, the second person, and a lot put right afterwards.
func book(t testing.TB, j *journal.Journal) (number string) {
	t.Helper()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []journal.Container{
		{
			Substance: "liver of sulfur", Form: "lump", Lot: "K-771", Supplier: "Fernholm Chemicals", Received: "2026-01-12", Opened: "2026-02-01",
			Expires: "2027-01", AmountG: 250, Observed: "bright yellow lumps", SDS: journal.SDS{Place: "sds/liver.pdf", Revised: "2024-05", LookedAt: "2026-02-01"},
			Place: "dark cupboard", Note: "the good lot",
		},
		{Substance: "ammonia", Lot: "NH-3", AmountML: 1000, LeftML: 400},
	} {
		_, err := j.AddContainer(c)
		must(err)
	}
	b, err := j.Create(order(48))
	must(err)
	review(t, j, b.Number)
	_, err = j.Dip(b.Number, journal.DipRecord{
		By: "Tomas Reh", Loads: []journal.DipLoad{{Pieces: 25, Temperature: celsius(70.5), Time: seconds(12)}, {Pieces: 20, Note: "slower"}},
		Used: []journal.Use{{Container: "S-001", Grams: 12.5}, {Container: "s-2", ML: 3}},
	}, journal.Gate{})
	must(err)
	_, err = j.Dip(b.Number, journal.DipRecord{Loads: []journal.DipLoad{{Number: 7, Pieces: 5}}, Used: []journal.Use{{Container: "S-001", Grams: 0.1}}}, journal.Gate{})
	must(err)
	_, err = j.Use(journal.Use{Container: "S-001", Grams: 0.2}, b.Number, "")
	must(err)
	_, err = j.Log(b.Number, journal.Result{Good: 49, Reject: 1}, "Tomas Reh", time.Time{})
	must(err)
	_, err = j.AddPhoto(b.Number, journal.Photo{Path: "photos/tray.jpg", SHA256: strings.Repeat("ab", 32), Bytes: 120_000, Taken: b.Created, Note: "after the rinse"})
	must(err)
	_, err = j.AddWaste(b.Number, journal.Waste{
		VolumeL: 2.5, Container: "Drum 1", Went: "kept in the yard", Contents: []journal.WastePart{{What: "silver", MilligramsPerLiter: 4.2, Source: "estimate, good to a factor of five"}},
	})
	must(err)
	_, err = j.SignOff(b.Number, "Uwe Stern", "counted again")
	must(err)
	_, err = j.ChangeContainer("S-001", "lot", "K-717", "read the label again", "")
	must(err)
	_, err = j.ChangeContainer("S-001", "observed", "pale", "", "")
	must(err)
	_, err = j.Empty("S-002", "gone flat", "")
	must(err)
	return b.Number
}

// What goes in comes out, in the batch, in the container and as machines read it.
func TestBookIsKept(t *testing.T) {
	clock := journaltest.NewClock(time.Date(2026, 3, 9, 8, 15, 0, 0, time.FixedZone("", 3600)))
	j := journaltest.Open(t, filepath.Join(t.TempDir(), "hepar.journal"), journal.Options{By: "Ilka Brandt", Now: clock.Now})
	number := book(t, j)
	b, err := j.Get(number)
	if err != nil {
		t.Fatal(err)
	}
	v := b.View()
	v.Events = nil
	for i := range v.Lots {
		if len(v.Lots[i].ContainerID) != 26 {
			t.Errorf("the id of a container is %q", v.Lots[i].ContainerID)
		}
		v.Lots[i].ContainerID = "id"
	}
	got, err := json.Marshal(map[string]any{"dip": v.Dip, "signed_off": v.SignedOff, "photos": v.Photos, "waste": v.Waste, "lots": v.Lots, "without_review": v.WithoutReview})
	if err != nil {
		t.Fatal(err)
	}
	const at = "2026-03-09T08:15:00+01:00"
	want := `{"dip":{"by":"Tomas Reh","started":"` + at + `","loads":[{"number":1,"pieces":25,"temperature_c":70.5,"time_s":12,"note":""},` +
		`{"number":2,"pieces":20,"temperature_c":null,"time_s":null,"note":"slower"},{"number":7,"pieces":5,"temperature_c":null,"time_s":null,"note":""}]},` +
		`"lots":[{"container":"S-001","container_id":"id","substance":"liver of sulfur","lot":"K-717","grams":12.5,"ml":null},` +
		`{"container":"S-002","container_id":"id","substance":"ammonia","lot":"NH-3","grams":null,"ml":3},` +
		`{"container":"S-001","container_id":"id","substance":"liver of sulfur","lot":"K-717","grams":0.1,"ml":null},` +
		`{"container":"S-001","container_id":"id","substance":"liver of sulfur","lot":"K-717","grams":0.2,"ml":null}],` +
		`"photos":[{"path":"photos/tray.jpg","sha256":"` + strings.Repeat("ab", 32) + `","bytes":120000,"taken":"` + at + `","by":"Ilka Brandt","note":"after the rinse"}],` +
		`"signed_off":{"by":"Uwe Stern","at":"` + at + `","note":"counted again","amended_since":true},` +
		`"waste":[{"volume_l":2.5,"container":"Drum 1","contents":[{"what":"silver","mg_per_l":4.2,"source":"estimate, good to a factor of five"}],` +
		`"went":"kept in the yard","by":"Ilka Brandt","at":"` + at + `"}],"without_review":null}`
	if string(got) != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if len(b.Events) != 10 { // the lot is put right once, however often the batch took of it
		t.Errorf("the batch has %d events, want 10", len(b.Events))
	}
	last := b.Events[len(b.Events)-1]
	if last.Kind != journal.Amended || last.Field != "lot" || last.Old != "K-771" || last.New != "K-717" || last.Container != "S-001" {
		t.Errorf("the last event is %+v", last)
	}
	c, err := j.Container("S-001")
	if err != nil || c.LeftG != 237.2 || c.AmountG != 250 || c.Observed != "pale" || !c.ObservedAt.Equal(clock.Now()) || c.Lot != "K-717" || c.Empty() {
		t.Errorf("container %+v, %v", c, err)
	}
	view, err := json.Marshal(c.View())
	if want := `"amount_g":250,"left_g":237.2,"amount_ml":null,"left_ml":null,"observed":"pale","observed_at":"` + at +
		`","sds":{"place":"sds/liver.pdf","revised":"2024-05","looked_at":"2026-02-01"},"place":"dark cupboard","note":"the good lot","by":"Ilka Brandt","added":"` +
		at + `","emptied":null,"events":[{`; err != nil || !strings.Contains(string(view), want) {
		t.Errorf("as machines read it:\n%s\nwant\n%s", view, want)
	}
	var story []string
	for _, e := range c.Events {
		story = append(story, strings.TrimSpace(fmt.Sprintf("%s %s %s>%s %s %s", e.Kind, e.Field, e.Old, e.New, e.Amount, e.Batch)))
	}
	if got, want := strings.Join(story, "; "), "stock-added  >; stock-used left 250 g>237.5 g 12.5 g "+number+"; stock-used left 237.5 g>237.4 g 0.1 g "+number+
		"; stock-used left 237.4 g>237.2 g 0.2 g "+number+"; stock-changed lot K-771>K-717; stock-changed observed bright yellow lumps>pale"; got != want {
		t.Errorf("its events\n%s\nwant\n%s", got, want)
	}
	for lot, n := range map[string]int{"k-717": 1, "K-771": 0, "NH-3": 1, "nh": 0} {
		if got, err := j.Count(journal.Filter{Lot: lot}); err != nil || got != n {
			t.Errorf("of lot %s: %d batches, %v; want %d", lot, got, err, n)
		}
	}
	if waste, err := j.ListWaste("DRUM 1"); err != nil || len(waste) != 1 || waste[0].Batch != number || waste[0].Waste.VolumeL != 2.5 {
		t.Errorf("waste %+v, %v", waste, err)
	}
	if names, err := j.WasteContainers(); err != nil || len(names) != 1 || names[0] != "drum 1" {
		t.Errorf("waste containers %v, %v", names, err)
	}
}

func TestRefusedDips(t *testing.T) {
	j := journaltest.New(t)
	b := create(t, j) // 10 and 2 spares
	review(t, j, b.Number)
	for range 2 {
		if _, err := j.AddContainer(journal.Container{Substance: "soda", AmountG: 10}); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := j.Empty("S-002", "", ""); err != nil {
		t.Fatal(err)
	}
	load := func(l ...journal.DipLoad) journal.DipRecord { return journal.DipRecord{Loads: l} }
	used := func(u ...journal.Use) journal.DipRecord { return journal.DipRecord{Used: u} }
	for name, d := range map[string]journal.DipRecord{
		"no pieces":             load(journal.DipLoad{}),
		"more than were made":   load(journal.DipLoad{Pieces: 13}),
		"one number twice":      load(journal.DipLoad{Pieces: 1, Number: 3}, journal.DipLoad{Pieces: 1, Number: 3}),
		"a number below one":    load(journal.DipLoad{Pieces: 1, Number: -1}),
		"no number of degrees":  load(journal.DipLoad{Pieces: 1, Temperature: celsius(math.NaN())}),
		"time running back":     load(journal.DipLoad{Pieces: 1, Time: seconds(-1)}),
		"an escape":             load(journal.DipLoad{Pieces: 1, Note: "\x1b[2J"}),
		"the year 1066":         {Started: time.Date(1066, 10, 14, 9, 0, 0, 0, time.UTC)},
		"too many loads":        load(make([]journal.DipLoad, 1001)...),
		"an unknown container":  used(journal.Use{Container: "S-009", Grams: 1}),
		"no container":          used(journal.Use{Grams: 1}),
		"nothing taken":         used(journal.Use{Container: "S-001"}),
		"less than nothing":     used(journal.Use{Container: "S-001", Grams: -1}),
		"no number of grams":    used(journal.Use{Container: "S-001", ML: math.NaN()}),
		"by volume":             used(journal.Use{Container: "S-001", ML: 1}),
		"by both":               used(journal.Use{Container: "S-001", Grams: 1, ML: 1}),
		"more than is left":     used(journal.Use{Container: "S-001", Grams: 10.1}),
		"more in two goes":      used(journal.Use{Container: "S-001", Grams: 6}, journal.Use{Container: "S-001", Grams: 6}),
		"from an empty one":     used(journal.Use{Container: "S-002", Grams: 1}),
		"endless grams":         used(journal.Use{Container: "S-001", ML: math.Inf(1)}),
		"a batch as container":  used(journal.Use{Container: b.Number, Grams: 1}),
		"a batch's id as shelf": used(journal.Use{Container: b.ID, Grams: 1}),
	} {
		if _, err := j.Dip(b.Number, d, journal.Gate{}); err == nil || fault.KindOf(err) > fault.Usage || fault.CureOf(err) == "" {
			t.Errorf("%s: got %v (%q), want it refused with a cure", name, err, fault.CureOf(err))
		}
	}
	if got, err := j.Get(b.Number); err != nil || got.State != journal.Reviewed || len(got.Events) != 2 || got.Dip != nil {
		t.Errorf("after all refusals: %+v, %v", got, err)
	}
	if c, err := j.Container("S-001"); err != nil || c.LeftG != 10 || len(c.Events) != 1 {
		t.Errorf("after all refusals: %+v, %v", c, err)
	}
}

func TestSecondPerson(t *testing.T) {
	j := journaltest.Open(t, filepath.Join(t.TempDir(), "hepar.journal"), journal.Options{})
	b := create(t, j) // by Ilka Brandt
	sign := func(by string, want bool, what string) {
		t.Helper()
		_, err := j.SignOff(b.Number, by, "looked through")
		if (err == nil) != want || err != nil && fault.CureOf(err) == "" {
			t.Errorf("%s: got %v (%q), want done = %v", what, err, fault.CureOf(err), want)
		}
	}
	sign("Uwe Stern", false, "before it is logged")
	if _, err := j.LogWith(b.Number, journal.Result{Good: 10}, journal.LogOptions{By: "Tomas Reh", WithoutReview: "a test"}); err != nil {
		t.Fatal(err)
	}
	sign("", false, "by nobody")
	sign(" TOMAS reh ", false, "by who logged it")
	sign("Ilka Brandt", true, "by who planned it")
	sign("Uwe Stern", false, "again")
	if _, err := j.Amend(b.Number, "good", "9", "counted again", "Uwe Stern"); err != nil {
		t.Fatal(err)
	}
	if got, err := j.Get(b.Number); err != nil || !got.SignedOff.AmendedSince {
		t.Errorf("after an amendment: %+v, %v", got.SignedOff, err)
	}
	sign("Uwe Stern", false, "by who amended it")
	sign("Ilka Brandt", true, "again after an amendment")
	if got, err := j.Get(b.Number); err != nil || got.SignedOff.AmendedSince {
		t.Errorf("signed off again: %+v, %v", got.SignedOff, err)
	}
	sign("Ruth Kley", false, "a third time")
	if _, err := j.Withdraw(b.Number, "entered twice", ""); err != nil {
		t.Fatal(err)
	}
	sign("Ruth Kley", false, "when withdrawn")

	nameless := order(1)
	nameless.By = ""
	alone, err := j.LogNew(nameless, journal.Result{Good: 1})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := j.SignOff(alone.Number, "Uwe Stern", ""); err == nil || fault.CureOf(err) == "" {
		t.Errorf("where nobody else is named: %v", err)
	}
}

func TestPhotosAndWasteRefused(t *testing.T) {
	j := journaltest.New(t)
	b := create(t, j)
	good := journal.Photo{Path: "a.jpg", SHA256: "sha256:" + strings.Repeat("0f", 32), Bytes: 3}
	if _, err := j.AddPhoto(b.Number, good); err != nil {
		t.Fatal(err)
	}
	for name, spoil := range map[string]func(p *journal.Photo){
		"again":          func(p *journal.Photo) {},
		"no path":        func(p *journal.Photo) { p.Path = " " },
		"a long path":    func(p *journal.Photo) { p.Path = strings.Repeat("x", 1025) },
		"no digest":      func(p *journal.Photo) { p.SHA256 = "" },
		"a short digest": func(p *journal.Photo) { p.SHA256 = "0f0f" },
		"no hex":         func(p *journal.Photo) { p.SHA256 = strings.Repeat("zz", 32) },
		"empty":          func(p *journal.Photo) { p.Bytes = 0 },
		"the year 1066":  func(p *journal.Photo) { p.Taken = time.Date(1066, 10, 14, 9, 0, 0, 0, time.UTC) },
	} {
		p := good
		if spoil(&p); name != "again" && p.SHA256 == good.SHA256 {
			p.SHA256 = strings.Repeat("1f", 32)
		}
		if _, err := j.AddPhoto(b.Number, p); fault.KindOf(err) != fault.Usage || fault.CureOf(err) == "" {
			t.Errorf("photo, %s: got %v, want it refused with a cure", name, err)
		}
	}
	part := func(what string, x float64) []journal.WastePart {
		return []journal.WastePart{{What: what, MilligramsPerLiter: x}}
	}
	for name, v := range map[string]journal.Waste{
		"no volume":           {Container: "W1"},
		"no number of litres": {Container: "W1", VolumeL: math.NaN()},
		"below nothing":       {Container: "W1", VolumeL: -1},
		"no container":        {VolumeL: 1},
		"a zero in the name":  {VolumeL: 1, Container: "W\x001"},
		"a nameless part":     {VolumeL: 1, Container: "W1", Contents: part("", 1)},
		"less than nothing":   {VolumeL: 1, Container: "W1", Contents: part("silver", -1)},
		"endless silver":      {VolumeL: 1, Container: "W1", Contents: part("silver", math.Inf(1))},
		"too many parts":      {VolumeL: 1, Container: "W1", Contents: make([]journal.WastePart, 101)},
	} {
		if _, err := j.AddWaste(b.Number, v); fault.KindOf(err) != fault.Usage || fault.CureOf(err) == "" {
			t.Errorf("waste, %s: got %v, want it refused with a cure", name, err)
		}
	}
	if got, err := j.Get(b.Number); err != nil || len(got.Photos) != 1 || len(got.Waste) != 0 {
		t.Errorf("after all refusals: %+v, %v", got, err)
	}
}

// The digest and size of a photo are those of its file.
func TestReadPhoto(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.jpg")
	if err := os.WriteFile(path, []byte("abc"), 0o600); err != nil {
		t.Fatal(err)
	}
	p, err := journal.ReadPhoto(path)
	outside.Text(t, "SHA-256 of abc", "FIPS 180-2, appendix B.1", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad", p.SHA256)
	if err != nil || p.Bytes != 3 || p.Taken.IsZero() {
		t.Errorf("got %+v, %v", p, err)
	}
	for _, bad := range []string{filepath.Dir(path), path + "x"} {
		if _, err := journal.ReadPhoto(bad); fault.KindOf(err) != fault.Failure || fault.CureOf(err) == "" {
			t.Errorf("%s: %v", bad, err)
		}
	}
}
