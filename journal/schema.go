package journal

import (
	"bytes"
	_ "embed" // for the schemas
)

var (
	//go:embed schema.json
	schema []byte
	//go:embed schemastock.json
	stockSchema []byte
)

// Schema gives the JSON Schema (draft 2020-12) of a line of an export to JSON Lines,
// which is a View.
func Schema() []byte { return bytes.Clone(schema) }

// ContainerSchema gives the JSON Schema (draft 2020-12) of a line that
// ExportContainers writes, which is a ContainerView.
func ContainerSchema() []byte { return bytes.Clone(stockSchema) }
