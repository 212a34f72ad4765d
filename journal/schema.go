package journal

import (
	"bytes"
	_ "embed" // for the schema
)

//go:embed schema.json
var schema []byte

// Schema gives the JSON Schema (draft 2020-12) of a line of an export to JSON Lines,
// which is a View.
func Schema() []byte { return bytes.Clone(schema) }
