package journal

import (
	"slices"
	"strconv"
	"strings"
)

// csvMore are the columns of an export to CSV beyond those of csvHeader: what
// happened around a result. Most are lists (see listCell), and lists of one table
// (loads, lots, wastes) go by the same order. An import reads none of them.
func csvMore() []string {
	return []string{
		"people", "reviewed", "reviewed_by", "without_review",
		"dipped", "dipped_by", "loads", "load_pieces (pieces)", "load_temperatures (C)", "load_times (s)",
		"lot_containers", "lot_substances", "lots", "lot_masses (g)", "lot_volumes (mL)",
		"waste_containers", "waste_volumes (L)", "waste_contents (mg/L)", "waste_went",
		"photos", "signed_off", "signed_off_by", "signed_off_note", "amended_since",
	}
}

// csvMoreRow gives the cells of csvMore.
func csvMoreRow(b Batch) []string {
	row := make([]string, 0, len(csvMore()))
	add := func(cells ...string) { row = append(row, cells...) }
	add(listCell(namesIn(b.Events, "")))
	if a := b.Review; a != nil {
		add(timeText(a.At), cell(a.By))
	} else {
		add("", "")
	}
	add(cell(b.WithoutReview))
	row = append(row, dipCells(b)...)
	row = append(row, lotCells(b.Lots)...)
	row = append(row, wasteCells(b.Waste)...)
	add(strconv.Itoa(len(b.Photos)))
	if s := b.SignedOff; s != nil {
		add(timeText(s.At), cell(s.By), cell(s.Note), strconv.FormatBool(s.AmendedSince))
	} else {
		add("", "", "", "")
	}
	return row
}

func dipCells(b Batch) []string {
	d := b.Dip
	if d == nil {
		return make([]string, 6)
	}
	people := namesIn(b.Events, DippedEvent)
	if len(people) == 0 && d.By != "" { // its events are lost
		people = []string{d.By}
	}
	var numbers, pieces, celsius, seconds []string
	for _, l := range d.Loads {
		numbers = append(numbers, strconv.Itoa(l.Number))
		pieces = append(pieces, strconv.Itoa(l.Pieces))
		celsius = append(celsius, figureOrNone(l.Temperature))
		seconds = append(seconds, figureOrNone(l.Time))
	}
	return []string{timeText(d.Started), listCell(people), joined(numbers), joined(pieces), joined(celsius), joined(seconds)}
}

func lotCells(lots []Use) []string {
	var containers, substances, names, grams, milliliters []string
	for _, u := range lots {
		containers = append(containers, u.Container)
		substances = append(substances, u.Substance)
		names = append(names, u.Lot)
		grams = append(grams, figureOrNone(orNull(u.Grams)))
		milliliters = append(milliliters, figureOrNone(orNull(u.ML)))
	}
	return []string{listCell(containers), listCell(substances), listCell(names), joined(grams), joined(milliliters)}
}

func wasteCells(wastes []Waste) []string {
	var containers, volumes, contents, went []string
	for _, v := range wastes {
		containers = append(containers, v.Container)
		volumes = append(volumes, figure(v.VolumeL))
		went = append(went, v.Went)
		var parts []string
		for _, p := range v.Contents {
			parts = append(parts, escapeItem(cell(p.What), `\;,=`)+"="+figure(p.MilligramsPerLiter))
		}
		contents = append(contents, strings.Join(parts, ", "))
	}
	return []string{listCell(containers), joined(volumes), joined(contents), listCell(went)}
}

// namesIn gives everyone who is named in events of a kind, or of any, once.
func namesIn(events []Event, kind string) (names []string) {
	for _, e := range events {
		if e.By != "" && (kind == "" || e.Kind == kind) && !slices.Contains(names, e.By) {
			names = append(names, e.By)
		}
	}
	return names
}

// listCell puts several texts into one cell, in their order. Each is kept from
// being a formula by itself, for a spreadsheet may be told to split at the semicolon.
func listCell(texts []string) string {
	items := make([]string, len(texts))
	for i, t := range texts {
		items[i] = escapeItem(cell(t), `\;`)
	}
	return joined(items)
}

func joined(items []string) string { return strings.Join(items, "; ") }

// escapeItem puts a backslash before each of the marks in a text.
func escapeItem(text, marks string) string {
	if !strings.ContainsAny(text, marks) {
		return text
	}
	var b strings.Builder
	for _, r := range text {
		if strings.ContainsRune(marks, r) {
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	return b.String()
}

func figure(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

func figureOrNone[F ~float64](x *F) string {
	if x == nil {
		return ""
	}
	return figure(float64(*x))
}
