// Package paper prints pages that a browser sets: labels, and sheets for the wall. It holds
// the one style sheet, style.css, and the frame of a page, page.html. A page loads nothing
// and runs no script.
//
// [Parse] takes the templates of a page, [Render] fills them. Texts are escaped by
// html/template; whoever hands them over strips control characters first.
package paper

import (
	"bytes"
	_ "embed"
	"html/template"
	"reflect"
	"strconv"
)

//go:embed style.css
var style string

//go:embed page.html
var frame string

// Parse returns the template of a page. The text defines "title", "size" (CSS with the size
// of the page) and "body". In it {{mm .X}} writes a length in mm. Parse panics on a bad
// template: the text is a file of the program.
func Parse(text string) *template.Template {
	t := template.New("page").Funcs(template.FuncMap{
		"style": func() template.CSS { return template.CSS(style) },
		"mm":    mm,
	})
	return template.Must(template.Must(t.Parse(frame)).Parse(text))
}

// mm writes a length to a thousandth of a mm, without trailing zeros.
func mm(length any) template.CSS {
	x := reflect.ValueOf(length).Float()
	text, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'f', 3, 64), 64)
	return template.CSS(strconv.FormatFloat(text, 'f', -1, 64) + "mm")
}

// Render fills a page.
func Render(t *template.Template, data any) ([]byte, error) {
	var out bytes.Buffer
	err := t.Execute(&out, data)
	return out.Bytes(), err
}
