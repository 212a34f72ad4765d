package run

import (
	"fmt"
	"strings"

	"hepar/recipe/measure"
)

// Clock writes a time for the large digits.
func Clock(t measure.Seconds) string {
	if t <= 120 {
		return fmt.Sprintf("%d s", int(t))
	}
	return fmt.Sprintf("%d:%02d", int(t)/60, int(t)%60)
}

// Big draws a short text five rows high. Where it does not fit it stays small.
func Big(text string, width int) []string {
	if len([]rune(text))*7 > width {
		return []string{"", "   " + text, ""}
	}
	rows := make([]string, 5)
	for _, c := range text {
		for i := range rows {
			row, at := []rune(font[i]), 7*strings.IndexRune(glyphs, c)
			rows[i] += string(row[at:min(at+7, len(row))])
		}
	}
	return rows
}

// The glyphs are drawn in blocks, six wide and a gap, to be read from two metres; the last one is narrow.
const glyphs = "0123456789sCF.,:+- "

var font = []string{
	"██████   ██   ██████ ██████ ██  ██ ██████ ██████ ██████ ██████ ██████        ██████ ██████                                        ",
	"██  ██ ████       ██     ██ ██  ██ ██     ██         ██ ██  ██ ██  ██  █████ ██     ██                     ██     ██              ",
	"██  ██   ██   ██████  █████ ██████ ██████ ██████    ██  ██████ ██████  ██    ██     █████           ██          ██████ ██████     ",
	"██  ██   ██   ██         ██     ██     ██ ██  ██   ██   ██  ██     ██    ██  ██     ██       ██     ██     ██     ██              ",
	"██████ ██████ ██████ ██████     ██ ██████ ██████   ██   ██████ ██████ █████  ██████ ██       ██    ██                             ",
}
