// Package paper prints pages that a browser sets: labels, and sheets for the wall. It holds
// the one style sheet, style.css, and the frame of a page, page.html. A page loads nothing,
// and runs at most the one script handed to [Parse]: its policy names the hash, so that a
// browser runs no other. html/template escapes the texts; the caller strips
// control characters first.
package paper

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"html/template"
	"math"
	"reflect"
	"strconv"
)

//go:embed style.css
var style string

//go:embed page.html
var frame string

// Parse returns what fills a page of that template. The text defines "title", "size" (CSS with the size of
// the page) and "body"; {{mm .X}} writes a length in mm. The script may be empty. Parse panics
// on a bad template: text and script are files of the program.
func Parse(text, script string) func(data any) ([]byte, error) {
	policy := ""
	if script != "" {
		sum := sha256.Sum256([]byte(script))
		policy = "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
	}
	t := template.New("page").Funcs(template.FuncMap{
		"style":  func() template.CSS { return template.CSS(style) },
		"script": func() template.JS { return template.JS(script) },
		"policy": func() string { return policy },
		"mm": func(length any) template.CSS { // to a thousandth, without trailing zeros
			return template.CSS(strconv.FormatFloat(math.Round(reflect.ValueOf(length).Float()*1000)/1000, 'f', -1, 64) + "mm")
		},
	})
	template.Must(template.Must(t.Parse(frame)).Parse(text))
	return func(data any) ([]byte, error) {
		var out bytes.Buffer
		err := t.Execute(&out, data)
		return out.Bytes(), err
	}
}
