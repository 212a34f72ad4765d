package journal

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"unicode/utf16"
	"unicode/utf8"
)

// A reader of JSON for one line of an import: strict where the standard one is
// lenient (a key that stands twice, text that is not UTF-8), bounded in depth,
// and quick, since a journal of twenty years is a gigabyte of it.

// deepestJSON is how deep a sheet may nest; ours needs five.
const deepestJSON = 64 // errJSONDeep says it

var (
	errJSONEnd  = errors.New("the line ends too early")
	errJSONDeep = errors.New("it nests deeper than 64 levels")
	errUTF8     = errors.New("it is not valid UTF-8")
	errZero     = errors.New("it holds the character zero, which no other program takes")
)

// jsonReader reads one value after the other from text.
type jsonReader struct {
	text []byte
	at   int
}

func (r *jsonReader) wrong(what string) error {
	if r.at >= len(r.text) {
		return errJSONEnd
	}
	c, _ := utf8.DecodeRune(r.text[r.at:])
	return fmt.Errorf("it is not JSON at character %d: %q where %s should be", utf8.RuneCount(r.text[:r.at])+1, c, what)
}

// peek skips white space and gives the next byte, 0 at the end.
func (r *jsonReader) peek() byte {
	for r.at < len(r.text) {
		switch c := r.text[r.at]; c {
		case ' ', '\t', '\r', '\n':
			r.at++
		default:
			return c
		}
	}
	return 0
}

func (r *jsonReader) take(c byte, what string) error {
	if r.peek() != c {
		return r.wrong(what)
	}
	r.at++
	return nil
}

// end makes sure that nothing follows.
func (r *jsonReader) end() error {
	if r.peek() != 0 || r.at < len(r.text) {
		return r.wrong("the end of the line")
	}
	return nil
}

// object calls each for every key, with the reader before its value.
func (r *jsonReader) object(each func(key []byte) error) error {
	if err := r.take('{', "an object"); err != nil {
		return err
	}
	if r.peek() == '}' {
		r.at++
		return nil
	}
	for {
		key, err := r.bytes("a key")
		if err != nil {
			return err
		}
		if err := r.take(':', "a colon"); err != nil {
			return err
		}
		if err := each(key); err != nil {
			return err
		}
		switch r.peek() {
		case ',':
			r.at++
		case '}':
			r.at++
			return nil
		default:
			return r.wrong("a comma or the end of the object")
		}
	}
}

// list calls each for every entry, with the reader before it.
func (r *jsonReader) list(each func() error) error {
	if err := r.take('[', "a list"); err != nil {
		return err
	}
	if r.peek() == ']' {
		r.at++
		return nil
	}
	for {
		if err := each(); err != nil {
			return err
		}
		switch r.peek() {
		case ',':
			r.at++
		case ']':
			r.at++
			return nil
		default:
			return r.wrong("a comma or the end of the list")
		}
	}
}

// null says whether the value is null, and passes it if so.
func (r *jsonReader) null() bool {
	if r.peek() == 'n' && bytes.HasPrefix(r.text[r.at:], []byte("null")) {
		r.at += 4
		return true
	}
	return false
}

// str reads a text.
func (r *jsonReader) str() (string, error) {
	b, err := r.bytes("a text")
	return string(b), err
}

// bytes reads a text; the bytes may lie in the line itself.
func (r *jsonReader) bytes(what string) ([]byte, error) {
	if err := r.take('"', what); err != nil {
		return nil, err
	}
	start, plain := r.at, true
	for i := start; i < len(r.text); i++ {
		switch c := r.text[i]; {
		case c == '"':
			r.at = i + 1
			if b := r.text[start:i]; plain || utf8.Valid(b) {
				return b, nil
			}
			return nil, errUTF8
		case c == '\\':
			return r.escaped(start, i)
		case c < 0x20:
			r.at = i
			return nil, r.wrong("a text without control characters")
		case c >= utf8.RuneSelf:
			plain = false
		}
	}
	r.at = len(r.text)
	return nil, errJSONEnd
}

// escaped reads on a text from its first backslash.
func (r *jsonReader) escaped(start, from int) ([]byte, error) {
	out := append(make([]byte, 0, from-start+64), r.text[start:from]...)
	for i := from; i < len(r.text); {
		c := r.text[i]
		switch {
		case c == '"':
			r.at = i + 1
			if !utf8.Valid(out) {
				return nil, errUTF8
			}
			return out, nil
		case c < 0x20:
			r.at = i
			return nil, r.wrong("a text without control characters")
		case c != '\\':
			out = append(out, c)
			i++
			continue
		}
		r.at = i
		if i+1 >= len(r.text) {
			return nil, errJSONEnd
		}
		i += 2
		switch e := r.text[i-1]; e {
		case '"', '\\', '/':
			out = append(out, e)
		case 'b':
			out = append(out, '\b')
		case 'f':
			out = append(out, '\f')
		case 'n':
			out = append(out, '\n')
		case 'r':
			out = append(out, '\r')
		case 't':
			out = append(out, '\t')
		case 'u':
			c, ok := hex4(r.text[i:])
			if !ok {
				return nil, r.wrong("an escape")
			}
			i += 4
			if c == 0 {
				return nil, errZero
			}
			if utf16.IsSurrogate(c) {
				low, ok := rune(0), false
				if bytes.HasPrefix(r.text[i:], []byte(`\u`)) {
					low, ok = hex4(r.text[i+2:])
				}
				if c = utf16.DecodeRune(c, low); !ok || c == utf8.RuneError {
					return nil, errUTF8
				}
				i += 6
			}
			out = utf8.AppendRune(out, c)
		default:
			return nil, r.wrong("an escape")
		}
	}
	r.at = len(r.text)
	return nil, errJSONEnd
}

func hex4(b []byte) (rune, bool) {
	if len(b) < 4 {
		return 0, false
	}
	var c rune
	for _, d := range b[:4] {
		switch {
		case d >= '0' && d <= '9':
			d -= '0'
		case d >= 'a' && d <= 'f':
			d -= 'a' - 10
		case d >= 'A' && d <= 'F':
			d -= 'A' - 10
		default:
			return 0, false
		}
		c = c<<4 | rune(d)
	}
	return c, true
}

// number gives the text of a number as JSON has it.
func (r *jsonReader) number() ([]byte, error) {
	r.peek()
	start := r.at
	if r.at < len(r.text) && r.text[r.at] == '-' {
		r.at++
	}
	whole := r.digits()
	ok := whole == 1 || whole > 1 && r.text[r.at-whole] != '0'
	if ok && r.at < len(r.text) && r.text[r.at] == '.' {
		r.at++
		ok = r.digits() > 0
	}
	if ok && r.at < len(r.text) && r.text[r.at]|0x20 == 'e' {
		r.at++
		if r.at < len(r.text) && (r.text[r.at] == '+' || r.text[r.at] == '-') {
			r.at++
		}
		ok = r.digits() > 0
	}
	if !ok {
		r.at = min(start, len(r.text))
		return nil, r.wrong("a number")
	}
	return r.text[start:r.at], nil
}

func (r *jsonReader) digits() int {
	start := r.at
	for r.at < len(r.text) && r.text[r.at] >= '0' && r.text[r.at] <= '9' {
		r.at++
	}
	return r.at - start
}

// integer reads a whole number.
func (r *jsonReader) integer() (int, error) {
	b, err := r.number()
	if err != nil {
		return 0, err
	}
	n, err := strconv.Atoi(string(b))
	if err != nil || n > maxPieces || n < -maxPieces {
		return 0, fmt.Errorf("%s is not a whole number up to %d", short(b), maxPieces)
	}
	return n, nil
}

// float reads a number that a float can hold.
func (r *jsonReader) float() (float64, error) {
	b, err := r.number()
	if err != nil {
		return 0, err
	}
	x, err := strconv.ParseFloat(string(b), 64)
	if err != nil {
		return 0, fmt.Errorf("%s is too large a number", short(b))
	}
	return x, nil
}

// raw passes a value of any kind and gives its bytes. Keys that stand twice are
// let through: what is inside is not ours.
func (r *jsonReader) raw() ([]byte, error) {
	r.peek()
	start := r.at
	err := r.pass(0)
	return r.text[min(start, r.at):r.at], err
}

func (r *jsonReader) pass(depth int) error {
	if depth > deepestJSON {
		return errJSONDeep
	}
	switch c := r.peek(); {
	case c == '{':
		return r.object(func([]byte) error { return r.pass(depth + 1) })
	case c == '[':
		return r.list(func() error { return r.pass(depth + 1) })
	case c == '"':
		_, err := r.bytes("a text")
		return err
	case c == '-' || c >= '0' && c <= '9':
		_, err := r.number()
		return err
	}
	for _, word := range []string{"null", "true", "false"} {
		if bytes.HasPrefix(r.text[min(r.at, len(r.text)):], []byte(word)) {
			r.at += len(word)
			return nil
		}
	}
	return r.wrong("a value")
}

// short cuts a text for a message.
func short(b []byte) string {
	if len(b) > 24 {
		return string(b[:20]) + "..."
	}
	return string(b)
}
