package shop

import (
	"bytes"
	_ "embed" // for the template
)

//go:embed template.toml
var template []byte

// Template gives a commented shop file in which nothing is set. A setting stands
// behind a comment mark with no blank after it; with all these marks taken away the
// file sets everything. The figures are examples, not advice.
func Template() []byte { return bytes.Clone(template) }
