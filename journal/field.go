package journal

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Fields returns the names that Amend takes, in the order of a batch record.
func Fields() []string {
	return []string{"alloy", "shape", "pieces", "spares", "order", "good", "rework", "reject", "causes", "temperature", "time", "shade", "note"}
}

// resultField says whether a field is one of the result.
func resultField(field string) bool {
	fields := Fields()
	return slices.Contains(fields[slices.Index(fields, "good"):], field)
}

// An amendment is kept as text in one fixed form, so that replaying it never
// depends on how people write quantities: "71.5 C", "12 s", "patchy=2, too-light=1".
const (
	celsiusSuffix = " C"
	secondsSuffix = " s"
)

// canonical turns what a person wrote for a field into the fixed form.
func canonical(field, text string) (string, error) {
	text = strings.TrimSpace(text)
	switch field {
	case "pieces":
		return countText(field, text, 1)
	case "spares", "good", "rework", "reject":
		return countText(field, text, 0)
	case "causes":
		causes, err := parseCauses(text)
		if err != nil {
			return "", err
		}
		return causesText(causes), nil
	case "temperature":
		if text == "" {
			return "", nil
		}
		c, err := measure.ParseTemperature(text)
		if err != nil {
			return "", err
		}
		x := float64(c)
		return floatText(&x, celsiusSuffix), within(field, "C", &x, lowestCelsius, highestCelsius)
	case "time":
		if text == "" {
			return "", nil
		}
		s, err := measure.ParseDuration(text)
		if err != nil {
			return "", err
		}
		x := float64(s)
		return floatText(&x, secondsSuffix), within(field, "s", &x, 0, longestSeconds)
	case "shade", "alloy", "shape":
		return line(field, text)
	case "note", "order":
		return note(field, text)
	}
	return "", fault.Usagef("a batch has no field %q to amend", field).Try("name one of %s", strings.Join(Fields(), ", "))
}

// field gives the value of a field in the fixed form.
func (b *batchRecord) field(name string) (string, error) {
	switch name {
	case "alloy":
		return b.Plan.Alloy, nil
	case "shape":
		return b.Plan.Shape, nil
	case "pieces":
		return strconv.Itoa(b.Plan.Pieces), nil
	case "spares":
		return strconv.Itoa(b.Plan.Spares), nil
	case "order":
		return b.Plan.Note, nil
	}
	r := b.Result
	if r == nil {
		return "", fault.Failuref("batch %s has no result yet, so its %s cannot be amended", b.Plan.Number, name).Try("log the batch first")
	}
	switch name {
	case "good":
		return strconv.Itoa(r.Good), nil
	case "rework":
		return strconv.Itoa(r.Rework), nil
	case "reject":
		return strconv.Itoa(r.Reject), nil
	case "causes":
		return causesText(r.Causes), nil
	case "temperature":
		return floatText(r.Celsius, celsiusSuffix), nil
	case "time":
		return floatText(r.Seconds, secondsSuffix), nil
	case "shade":
		return r.Shade, nil
	}
	return r.Note, nil
}

// setField sets a field from the fixed form. It is part of the stored format:
// an old amendment must be read alike for ever.
func (b *batchRecord) setField(name, text string) (err error) {
	switch name {
	case "alloy":
		b.Plan.Alloy = text
		return nil
	case "shape":
		b.Plan.Shape = text
		return nil
	case "pieces":
		b.Plan.Pieces, err = strconv.Atoi(text)
		return err
	case "spares":
		b.Plan.Spares, err = strconv.Atoi(text)
		return err
	case "order":
		b.Plan.Note = text
		return nil
	}
	if b.Result == nil {
		return errors.New("there is no result to amend")
	}
	r := *b.Result // the result of an event before is never changed in place
	switch name {
	case "good":
		r.Good, err = strconv.Atoi(text)
	case "rework":
		r.Rework, err = strconv.Atoi(text)
	case "reject":
		r.Reject, err = strconv.Atoi(text)
	case "causes":
		r.Causes, err = parseCauses(text)
	case "temperature":
		r.Celsius, err = parseFloatText(text, celsiusSuffix)
	case "time":
		r.Seconds, err = parseFloatText(text, secondsSuffix)
	case "shade":
		r.Shade = text
	case "note":
		r.Note = text
	default:
		return fmt.Errorf("the field %q is unknown", name)
	}
	b.Result = &r
	return err
}

func countText(what, text string, least int) (string, error) {
	n, err := strconv.Atoi(text)
	if err != nil {
		return "", fault.Usagef("%q is not a number of pieces", text).At(what).Try("write a whole number, as in 48")
	}
	return strconv.Itoa(n), count(what, n, least)
}

func floatText(x *float64, suffix string) string {
	if x == nil {
		return ""
	}
	return strconv.FormatFloat(*x, 'g', -1, 64) + suffix
}

func parseFloatText(text, suffix string) (*float64, error) {
	if text == "" {
		return nil, nil
	}
	x, err := strconv.ParseFloat(strings.TrimSuffix(text, suffix), 64)
	return &x, err
}

// causesText writes causes as parseCauses reads them, in the order of names.
func causesText(causes map[string]int) string {
	var parts []string
	for _, name := range slices.Sorted(maps.Keys(causes)) {
		parts = append(parts, name+"="+strconv.Itoa(causes[name]))
	}
	return strings.Join(parts, ", ")
}

// parseCauses reads "patchy=2, too-light=1"; the empty text is no causes.
func parseCauses(text string) (map[string]int, error) {
	causes := map[string]int{}
	for part := range strings.SplitSeq(text, ",") {
		if strings.TrimSpace(part) == "" {
			continue
		}
		name, number, found := strings.Cut(part, "=")
		n, err := strconv.Atoi(strings.TrimSpace(number))
		if !found || err != nil {
			return nil, fault.Usagef("%q is not a cause with its count", strings.TrimSpace(part)).At("causes").Try("write them as in patchy=2, too-light=1")
		}
		causes[name] += n
	}
	return cleanCauses(causes)
}
