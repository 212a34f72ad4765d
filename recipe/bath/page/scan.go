package page

import (
	"strings"

	"rsc.io/qr"

	"hepar/recipe/fault"
)

// Scan draws a text as a code to scan, on a terminal: two characters to a square, dark on light.
// It stops the action at an error, see [fault.Must].
func Scan(text string) string {
	code := fault.Must(qr.Encode(text, qr.L))
	var out strings.Builder
	for y := -2; y < code.Size+2; y++ {
		for x := -2; x < code.Size+2; x++ {
			if code.Black(x, y) {
				out.WriteString("  ")
			} else {
				out.WriteString("██")
			}
		}
		out.WriteString("\n")
	}
	return out.String()
}
