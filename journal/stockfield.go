package journal

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// The fields of a container that others need by name.
const (
	fieldSubstance = "substance"
	fieldLot       = "lot"
	fieldAmount    = "amount"
	fieldLeft      = "left"
	fieldObserved  = "observed"
)

// StockFields returns the names that ChangeContainer takes.
func StockFields() []string {
	return []string{fieldSubstance, "form", fieldLot, "supplier", "received", "opened", "expires", fieldAmount, fieldLeft,
		fieldObserved, "sds", "sds-revised", "sds-looked-at", "place", "note"}
}

// needsReason says whether a change of a field that has a value is a correction,
// which wants a reason, and not the course of things.
func needsReason(field string) bool {
	switch field {
	case fieldSubstance, "form", fieldLot, "supplier", "received", fieldAmount, fieldLeft:
		return true
	}
	return false
}

// text gives the place of a field that is kept as it is written.
func (c *containerRecord) text(field string) *string {
	switch field {
	case fieldSubstance:
		return &c.Substance
	case "form":
		return &c.Form
	case fieldLot:
		return &c.Lot
	case "supplier":
		return &c.Supplier
	case "received":
		return (*string)(&c.Received)
	case "opened":
		return (*string)(&c.Opened)
	case "expires":
		return (*string)(&c.Expires)
	case fieldObserved:
		return &c.Observed
	case "sds":
		return &c.SDS
	case "sds-revised":
		return (*string)(&c.SDSRevised)
	case "sds-looked-at":
		return (*string)(&c.SDSLooked)
	case "place":
		return &c.Place
	case "note":
		return &c.Note
	}
	return nil
}

// field gives the value of a field in the fixed form in which it is kept.
func (c *containerRecord) field(name string) (string, bool) {
	switch name {
	case fieldAmount:
		return amountText(c.Amount, c.Unit), true
	case fieldLeft:
		return amountText(c.Left, c.Unit), true
	}
	if to := c.text(name); to != nil {
		return *to, true
	}
	return "", false
}

// setField sets a field from the fixed form. It is part of the stored format.
func (c *containerRecord) setField(name, text string, at stamp) error {
	switch name {
	case fieldAmount, fieldLeft:
		x, unit, err := parseAmountText(text)
		if err != nil {
			return err
		}
		if unit != c.Unit {
			return fmt.Errorf("the container is counted in %s and not in %s", c.Unit, unit)
		}
		if name == fieldAmount {
			c.Amount = x
			return nil
		}
		c.Left, c.Emptied = x, nil
		return nil
	case fieldObserved:
		c.ObservedAt = nil
		if text != "" {
			c.ObservedAt = &at
		}
	}
	to := c.text(name)
	if to == nil {
		return fmt.Errorf("the field %q is unknown", name)
	}
	*to = text
	return nil
}

// canonical turns what a person wrote for a field into the fixed form.
func (c *containerRecord) canonical(field, text string) (string, error) {
	text = strings.TrimSpace(text)
	switch field {
	case "received", "opened", "expires", "sds-revised", "sds-looked-at":
		d, err := ParseDate(text)
		return string(d), err
	case "sds", "place":
		return pathLine(field, text)
	case "note":
		return note(field, text)
	case fieldAmount, fieldLeft:
		var x float64
		if c.Unit == unitML {
			v, err := measure.ParseVolume(text)
			if err != nil {
				return "", err
			}
			x = v.Milliliters()
		} else {
			m, err := measure.ParseMass(text)
			if err != nil {
				return "", err
			}
			x = float64(m)
		}
		return amountText(tidy(x), c.Unit), within(field, c.Unit, &x, 0, mostInContainer)
	}
	if c.text(field) == nil {
		return "", fault.Usagef("a container has no field %q", measure.Clean(field)).Try("name one of %s", strings.Join(StockFields(), ", "))
	}
	text, err := line(field, text)
	if err == nil && field == fieldSubstance && text == "" {
		err = fault.Usagef("what is in the container is not said").Try("name the substance")
	}
	return text, err
}

// tidy rounds an amount to a millionth of a gram or millilitre, so that sums of
// what was taken end in nothing where nothing is left.
func tidy(x float64) float64 { return math.Round(x*1e6) / 1e6 }

func amountText(x float64, unit string) string {
	return strconv.FormatFloat(x, 'f', -1, 64) + " " + unit
}

func parseAmountText(text string) (x float64, unit string, err error) {
	number, unit, _ := strings.Cut(text, " ")
	x, err = strconv.ParseFloat(number, 64)
	if err == nil && !(x >= 0 && x <= math.MaxFloat64) || unit != unitGrams && unit != unitML {
		err = fmt.Errorf("%q is not an amount", text)
	}
	return x, unit, err
}
