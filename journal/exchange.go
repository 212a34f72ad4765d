package journal

import (
	"cmp"
	_ "embed" // for the schemas and the template
	"io"

	"hepar/journal/internal/exchange"
)

// The JSON Schemas (draft 2020-12) of a line of an export of batches and of the stock, and a
// commented mapping that says how to write one.
var (
	//go:embed schema.json
	Schema string
	//go:embed schemastock.json
	ContainerSchema string
	//go:embed mapping.toml
	MappingTemplate string
)

// Export writes the batches of f to w as CSV or JSONLines and returns how many. With
// f.Frozen, JSON Lines have the text of each recipe and the sheets as well.
func (j *Journal) Export(w io.Writer, format string, f Filter) (int, error) {
	return exchange.Export(w, format, j.List(f))
}

// ExportContainers writes the containers of f to w as CSV or JSONLines and returns
// how many.
func (j *Journal) ExportContainers(w io.Writer, format string, f ContainerFilter) (int, error) {
	all, err := j.ListContainers(f)
	if err != nil {
		return 0, err
	}
	return exchange.ExportStock(w, format, all)
}

// Import takes over the batches of a file that are not here, all or nothing; see
// exchange.Import. By defaults to the person of the options of the journal.
func (j *Journal) Import(r io.Reader, o ImportOptions) (ImportReport, error) {
	o.By = cmp.Or(o.By, j.by)
	return exchange.Import(j.file, r, o)
}

// Merge takes over what is in the journal of another bench, all or nothing; see
// exchange.Merge. By defaults to the person of the options of the journal.
func (j *Journal) Merge(other string, o ImportOptions) (MergeReport, error) {
	o.By = cmp.Or(o.By, j.by)
	return exchange.Merge(j.file, other, o)
}
