package journal_test

import (
	"encoding/json"
	"flag"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/jsonschema-go/jsonschema"

	"hepar/journal"
	"hepar/journal/internal/record"
)

var update = flag.Bool("update", false, "write the JSON Schemas anew from the structs")

// schemaOf makes the JSON Schema of what an export writes from the structs: a field
// that is added appears by itself.
func schemaOf[T any](t *testing.T, title string, optional ...string) []byte {
	t.Helper()
	text := func(pattern string) *jsonschema.Schema { return &jsonschema.Schema{Type: "string", Pattern: pattern} }
	const time = `^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}(Z|[+-]\d\d:\d\d)$`
	s, err := jsonschema.For[T](&jsonschema.ForOptions{TypeSchemas: map[reflect.Type]*jsonschema.Schema{
		reflect.TypeFor[record.ID]():       text("^[0-7][0-9A-HJKMNP-TV-Z]{25}$"),
		reflect.TypeFor[record.Stamp]():    {AnyOf: []*jsonschema.Schema{text(time), {Type: "null"}}},
		reflect.TypeFor[record.Digest]():   text("^[0-9a-f]*$"),
		reflect.TypeFor[record.Date]():     text(`^(\d{4}(-\d\d(-\d\d)?)?)?$`),
		reflect.TypeFor[json.RawMessage](): {},
		reflect.TypeFor[[]byte]():          {Type: "string", ContentEncoding: "base64"},
		reflect.TypeFor[map[string]int]():  {Types: []string{"null", "object"}, AdditionalProperties: &jsonschema.Schema{Type: "integer"}},
	}})
	if err != nil {
		t.Fatal(err)
	}
	s.Schema, s.Title, s.Description = "https://json-schema.org/draft/2020-12/schema", title, "Keys are only ever added."
	s.Required = slices.DeleteFunc(s.Required, func(name string) bool { return slices.Contains(optional, name) })
	if s.Properties["state"] != nil {
		s.Properties["state"].Enum = nil
		for _, state := range journal.States() {
			s.Properties["state"].Enum = append(s.Properties["state"].Enum, state)
		}
	}
	out, err := json.MarshalIndent(s, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return append(out, '\n')
}

func TestSchemasFollowTheStructs(t *testing.T) {
	j := busyBench(t)
	var result []string // is not there until there is one
	for f := range reflect.TypeFor[record.Result]().Fields() {
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		result = append(result, name)
	}
	for _, c := range []struct {
		file, lines string
		want        []byte
		has         string
	}{
		{"schema.json", exported(t, j, journal.JSONLines, true) + exported(t, j, journal.JSONLines, false), schemaOf[record.Batch](t, "A batch, one line of an export in JSON Lines", result...), journal.Schema},
		{"schemastock.json", shelf(t, j), schemaOf[record.Container](t, "A container, one line of an export of the stock"), journal.ContainerSchema},
	} {
		if c.has != string(c.want) {
			if *update {
				if err := os.WriteFile(c.file, c.want, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			t.Errorf("%s is not that of the structs: go test ./journal -run Schemas -args -update", c.file)
		}
		var s jsonschema.Schema
		if err := json.Unmarshal(c.want, &s); err != nil {
			t.Fatal(err)
		}
		r, err := s.Resolve(nil)
		if err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(c.lines) {
			var v any
			if err := json.Unmarshal([]byte(line), &v); err != nil {
				t.Fatal(err)
			}
			if err := r.Validate(v); err != nil {
				t.Errorf("%s: %v in %s", c.file, err, line)
			}
			v.(map[string]any)["more"] = 1
			if r.Validate(v) == nil {
				t.Errorf("%s: an unknown key passes", c.file)
			}
		}
	}
}
