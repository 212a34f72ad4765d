package measure

import (
	"math"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

// symbols lists simple and compound units, many of each dimension.
func symbols() []string {
	var list []string
	for _, e := range table {
		list = append(list, e.unit.Symbol)
	}
	for _, over := range []string{"g", "mg", "oz", "ozt", "gr", "lb", "mL", "US fl oz", "gal", "mol", "mmol", "dm2", "ft2", "cm2"} {
		for _, under := range []string{"L", "mL", "gal", "US gal", "imp gal", "pint", "imp pint", "m3", "100 mL"} {
			list = append(list, over+"/"+under)
		}
	}
	return append(list, "mL/m2", "US gal/1000 ft2", "gal/1000 ft2", "imp gal/m2", "g/kg", "mg/kg", "oz/lb")
}

// number draws a figure of any size that a quantity may have.
func number(t *rapid.T, name string) float64 {
	exponent := rapid.IntRange(-14, 14).Draw(t, name+" exponent")
	mantissa := rapid.Float64Range(1, 9.99).Draw(t, name+" mantissa")
	x, err := strconv.ParseFloat(strconv.FormatFloat(mantissa, 'f', -1, 64)+"e"+strconv.Itoa(exponent), 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func TestParseOfPrintIsTheSame(t *testing.T) {
	list := symbols()
	rapid.Check(t, func(t *rapid.T) {
		u, err := Find(rapid.SampledFrom(list).Draw(t, "unit"))
		if err != nil {
			t.Fatal(err)
		}
		q := Quantity{Number: number(t, "number"), Unit: u}
		back, err := Parse(q.String())
		if err != nil {
			t.Fatalf("%s: %v", q, err)
		}
		if back != q {
			t.Fatalf("%s reads back as %s", q, back)
		}
	})
}

// peers draws two units of one dimension.
func peers(t *rapid.T, list []string) (Unit, Unit) {
	u, err := Find(rapid.SampledFrom(list).Draw(t, "unit"))
	if err != nil {
		t.Fatal(err)
	}
	var same []Unit
	for _, s := range list {
		v, err := Find(s)
		if err != nil {
			t.Fatal(err)
		}
		if v.Dimension == u.Dimension {
			same = append(same, v)
		}
	}
	return u, same[rapid.IntRange(0, len(same)-1).Draw(t, "other unit")]
}

// A conversion there and back loses no more than the rounding of two float64s.
func TestThereAndBack(t *testing.T) {
	list := symbols()
	rapid.Check(t, func(t *rapid.T) {
		u, v := peers(t, list)
		q := Quantity{Number: rapid.Float64Range(0.001, 10000).Draw(t, "number"), Unit: u}
		there, err := q.In(v.Symbol)
		if err != nil {
			return // out of the range of quantities, such as 10000 m3 in uL
		}
		back, err := there.In(u.Symbol)
		if err != nil {
			t.Fatalf("%s = %s, and back: %v", q, there, err)
		}
		loss := 4e-16 * math.Abs(q.Number)
		if u.Dimension == Temperature {
			loss = 4e-16 * 1000 // the zero points lie up to 460 degrees apart
			loss += 4e-16 * math.Abs(q.Number)
		}
		if math.Abs(back.Number-q.Number) > loss {
			t.Fatalf("%s = %s = %s", q, there, back)
		}
	})
}

// Twice the amount is twice the amount in every unit but those with a zero point
// of their own.
func TestConversionIsLinear(t *testing.T) {
	list := symbols()
	rapid.Check(t, func(t *rapid.T) {
		u, v := peers(t, list)
		if u.Dimension == Temperature {
			return
		}
		x := rapid.Float64Range(0.01, 1000).Draw(t, "number")
		k := rapid.Float64Range(0.1, 100).Draw(t, "times")
		one, err1 := Quantity{x, u}.In(v.Symbol)
		many, err2 := Quantity{x * k, u}.In(v.Symbol)
		if err1 != nil || err2 != nil {
			return
		}
		if math.Abs(many.Number-k*one.Number) > 1e-15*many.Number {
			t.Fatalf("%v times %s is %s, not %v", k, one, many, k*one.Number)
		}
	})
}

// A mixed number is the sum of its parts, in each way of writing it.
func TestFractions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole := rapid.IntRange(0, 999).Draw(t, "whole")
		bottom := rapid.IntRange(2, 128).Draw(t, "bottom")
		top := rapid.IntRange(1, bottom-1).Draw(t, "top")
		want := (float64(whole)*float64(bottom) + float64(top)) / float64(bottom)
		fraction := strconv.Itoa(top) + "/" + strconv.Itoa(bottom)
		for _, text := range []string{strconv.Itoa(whole) + " " + fraction + " in", strconv.Itoa(whole) + "-" + fraction + "in"} {
			q, err := Parse(text)
			if err != nil || q.Number != want {
				t.Fatalf("%s = %v, %v; want %v", text, q, err, want)
			}
		}
	})
}

// A time written in parts is the sum of the parts.
func TestTimesInParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := rapid.IntRange(0, 40).Draw(t, "h")
		min := rapid.IntRange(0, 59).Draw(t, "min")
		s := rapid.IntRange(0, 59).Draw(t, "s")
		text := strconv.Itoa(h) + " h " + strconv.Itoa(min) + " min " + strconv.Itoa(s) + " s"
		got, err := ParseDuration(text)
		if want := Seconds(h*3600 + min*60 + s); err != nil || got != want {
			t.Fatalf("%s = %v, %v; want %v", text, got, err, want)
		}
	})
}
