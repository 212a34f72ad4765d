package measure

import (
	"regexp"
	"strings"
	"sync"
)

// plainer replaces what is typed for plain characters: micro, minus and hyphens, strokes,
// quotes, no-break and thin spaces, fractions of one character.
var plainer = sync.OnceValue(func() *strings.Replacer {
	return strings.NewReplacer("µ", "u", "μ", "u", "−", "-", "‐", "-", "‑", "-", "–", "-", "⁄", "/", "∕", "/",
		"“", `"`, "”", `"`, "″", `"`, "’", "'", "′", "'", "\u00a0", " ", "\u2009", " ", "\u202f", " ", "\t", " ", "℃", "C", "℉", "F",
		"per cent", "percent",
		"½", " 1/2 ", "⅓", " 1/3 ", "⅔", " 2/3 ", "¼", " 1/4 ", "¾", " 3/4 ", "⅕", " 1/5 ", "⅖", " 2/5 ", "⅗", " 3/5 ", "⅘", " 4/5 ",
		"⅙", " 1/6 ", "⅚", " 5/6 ", "⅐", " 1/7 ", "⅛", " 1/8 ", "⅜", " 3/8 ", "⅝", " 5/8 ", "⅞", " 7/8 ", "⅑", " 1/9 ", "⅒", " 1/10 ")
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
