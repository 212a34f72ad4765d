package strict

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"
	second "github.com/pelletier/go-toml/v2"
)

// notText finds what is no text file at all: too large, binary, wrongly encoded.
func (k Kind) notText(file string, data []byte) (Finding, bool) {
	f := Finding{File: file, Cure: fmt.Sprintf("save the %s as plain text in UTF-8", k.Name)}
	switch {
	case len(data) > MaxSize:
		return k.tooLarge(file), true
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}), bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		f.What = "the file is saved as UTF-16, not UTF-8"
	case bytes.HasPrefix(data, []byte{0xef, 0xbb, 0xbf}):
		f.What = "the file begins with a byte order mark"
		f.Cure = "save it as UTF-8 without a byte order mark (BOM)"
	case bytes.IndexByte(data, 0) >= 0:
		f.What = "this is not a text file: it holds a NUL byte"
		f.Line, f.Column = newSource(k, file, data).at(bytes.IndexByte(data, 0))
	case !utf8.Valid(data):
		i := 0
		for rest := data; ; {
			r, size := utf8.DecodeRune(rest)
			if r == utf8.RuneError && size <= 1 {
				break
			}
			rest, i = rest[size:], i+size
		}
		f.What = "this is not UTF-8 text: a byte here belongs to no character"
		f.Line, f.Column = newSource(k, file, data).at(i)
	default:
		return f, false
	}
	return f, true
}

// syntaxFinding turns an error of the decoder into a finding. The decoder's own
// column counts bytes and its line is not always set, so its offset is used.
func syntaxFinding(src *source, err error) Finding {
	var pe toml.ParseError
	if !errors.As(err, &pe) {
		return Finding{File: src.file, What: "not valid TOML: " + Plain(err.Error()), Cure: src.kind.compare()}
	}
	from := min(pe.Position.Start, len(src.data))
	f := src.finding(from, lineEnd(src.data, from), "not valid TOML: "+Plain(pe.Message), src.kind.syntaxCure(pe.Message))
	f.Text = src.text(lineStart(src.data, from), lineEnd(src.data, from))
	return f
}

// disagreement reads the file with the second parser as a whole. The first lets
// some files pass that are no TOML, such as a table opened again after dotted keys
// made it; what two parsers read differently is not fit to weigh from.
func disagreement(src *source) (Finding, bool) {
	var content map[string]any
	err := second.Unmarshal(src.data, &content)
	if err == nil {
		return Finding{}, false
	}
	f := Finding{File: src.file, What: "not valid TOML: " + Plain(strings.TrimPrefix(err.Error(), "toml: ")), Cure: src.kind.syntaxCure(err.Error())}
	var de *second.DecodeError
	if errors.As(err, &de) {
		row, _ := de.Position()
		if row >= 1 && row <= len(src.lines) {
			start := src.lines[row-1]
			end := lineEnd(src.data, start)
			at := start + len(src.data[start:end]) - len(bytes.TrimLeft(src.data[start:end], " \t"))
			f.Line, f.Column = src.at(at)
			f.Text = src.text(start, end)
		}
	}
	return f, true
}

// syntaxCure says what usually helps against a syntax error.
func (k Kind) syntaxCure(message string) string {
	m := strings.ToLower(message)
	switch {
	case strings.Contains(m, "already"):
		cure := "a key or table may stand only once; take one of the two away"
		if k.Further != "" {
			cure += " (" + k.Further + ")"
		}
		return cure
	case strings.Contains(m, "escape"):
		return `write a backslash twice (\\), or put the text between single quotes`
	case strings.Contains(m, "array"):
		return "close the list with ] and put a comma between its entries"
	case strings.Contains(m, "inline table"):
		return "close the braces with } and put a comma between the entries"
	}
	return `write key = "text", key = 3 or a [table] line; text and quantities stand in quotes`
}
