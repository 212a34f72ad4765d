package measure

import (
	"strings"

	"hepar/recipe/fault"
)

// compoundTime adds up a time of several parts such as "1 h 30 min" or "1min30s".
// number and rest are what stands before and after the end of the first number. ok
// is false when this is not such a time. The parts run from long to short; all but
// the last are whole, and a part after the first is less than one of the part before.
func compoundTime(number float64, rest, text string) (seconds float64, ok bool, err error) {
	word, tail := letters(rest)
	if !startsDigit(tail) {
		return 0, false, nil
	}
	unit, known := simple(word)
	if !known || unit.Dimension != Time {
		return 0, false, nil
	}
	bad := func(what string) (float64, bool, error) {
		return 0, true, fault.Usagef("%s %s", quote(text), what).Try("write a time like 1 min 30 s or 4 h 15 min")
	}
	if number < 0 {
		return bad("is negative")
	}
	for {
		size := float64(unit.num) / float64(unit.den)
		seconds += number * size
		if tail == "" {
			return seconds, true, inRange(seconds, text)
		}
		if number != float64(int64(number)) {
			return bad("has a part of " + unit.Symbol + " before a smaller unit")
		}
		number, rest, err = readNumber(strings.TrimPrefix(tail, " "), text)
		if err != nil {
			return 0, true, err
		}
		word, tail = letters(rest)
		next, known := simple(word)
		switch {
		case rest == "":
			return bad("ends with a number that has no unit")
		case !known || next.Dimension != Time || tail != "" && !startsDigit(tail):
			return bad("has a part that is not a time")
		}
		nextSize := float64(next.num) / float64(next.den)
		if nextSize >= size {
			return bad("does not run from the longer unit to the shorter")
		}
		if number < 0 || number*nextSize >= size {
			return bad("has more " + next.Symbol + " than fit in one " + unit.Symbol)
		}
		unit = next
	}
}

func letters(s string) (head, tail string) {
	i := 0
	for i < len(s) && (s[i]|0x20 >= 'a' && s[i]|0x20 <= 'z') {
		i++
	}
	return s[:i], s[i:]
}

func startsDigit(s string) bool {
	s = strings.TrimPrefix(s, " ")
	return s != "" && digit(s[0])
}
