package measure

import (
	"regexp"
	"strings"
	"sync"
)

// plainer replaces what is typed for a plain character: micro, powers, minus and
// hyphens, strokes, quotes, no-break and thin spaces.
var plainer = sync.OnceValue(func() *strings.Replacer {
	return strings.NewReplacer("µ", "u", "μ", "u", "−", "-", "‐", "-", "‑", "-", "–", "-", "⁄", "/", "∕", "/",
		"“", `"`, "”", `"`, "″", `"`, "’", "'", "′", "'", "\u00a0", " ", "\u2009", " ", "\u202f", " ", "\t", " ", "℃", "C", "℉", "F",
		"per cent", "percent")
})

type edit struct {
	form *regexp.Regexp
	by   string
}

var edits = sync.OnceValue(func() []edit {
	return []edit{
		{regexp.MustCompile(` +`), " "},
		{regexp.MustCompile(`(\pL)\.?(\^2|²)`), "${1}2"},
		{regexp.MustCompile(`(\pL)\.?(\^3|³)`), "${1}3"},
		{regexp.MustCompile(`([uU])\.([sSkK])`), "$1$2"},
		{regexp.MustCompile(`(\pL)\.(\pL)`), "$1 $2"}, // fl.oz
		{regexp.MustCompile(`(\pL)\.(\D|$)`), "$1$2"}, // sq. in.
		{regexp.MustCompile(`[°º˚]( ?)[Cc]`), "${1}C"},
		{regexp.MustCompile(`[°º˚]( ?)[Ff]`), "${1}F"},
		{regexp.MustCompile(`[°º˚]( ?)[Kk]`), "${1}K"},
		{regexp.MustCompile(` ?[°º˚]$`), ""}, // the missing scale is what is wrong
		{regexp.MustCompile(` per | ?/ ?`), "/"},
		{regexp.MustCompile(`(.) ?\(([^)]*)\)?`), "$1 $2"}, // gal (US), % (w/w)
	}
})

// tidy brings the many ways to type a thing to one: no space at either end, one
// space inside, plain letters for micro, degree and powers, no dot after an
// abbreviation, no space around a stroke.
func tidy(text string) string {
	text = strings.Trim(plainer().Replace(text), " ")
	for _, e := range edits() {
		text = e.form.ReplaceAllString(text, e.by)
	}
	return text
}
