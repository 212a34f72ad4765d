package journal_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"hepar/journal"
)

// checker holds a value against the parts of JSON Schema that ours uses, as its
// specification has them (json-schema.org, draft 2020-12, sections 10 and 11 of the
// core and 6 of the validation vocabulary). What it does not know is an error.
type checker struct{ root map[string]any }

func (c checker) check(where string, s map[string]any, v any) error {
	for _, word := range slices.Sorted(maps.Keys(s)) {
		if err := c.word(where, word, s[word], s, v); err != nil {
			return err
		}
	}
	return nil
}

func kindOf(v any) string {
	switch v := v.(type) {
	case nil:
		return "null"
	case bool:
		return "boolean"
	case string:
		return "string"
	case float64:
		if v == float64(int64(v)) {
			return "integer"
		}
		return "number"
	case []any:
		return "array"
	}
	return "object"
}

func (c checker) word(where, word string, arg any, s map[string]any, v any) error {
	wrong := func(format string, args ...any) error {
		return fmt.Errorf("%s: %s: %s", where, word, fmt.Sprintf(format, args...))
	}
	switch word {
	case "$schema", "title", "description", "$defs", "format":
	case "$ref":
		name := strings.TrimPrefix(arg.(string), "#/$defs/")
		def, ok := c.root["$defs"].(map[string]any)[name].(map[string]any)
		if !ok {
			return wrong("there is no %s", name)
		}
		return c.check(where, def, v)
	case "type":
		kinds, ok := arg.([]any)
		if !ok {
			kinds = []any{arg}
		}
		if k := kindOf(v); !slices.Contains(kinds, any(k)) && (k != "integer" || !slices.Contains(kinds, any("number"))) {
			return wrong("it is of the type %s", k)
		}
	case "enum":
		if !slices.ContainsFunc(arg.([]any), func(x any) bool { return reflect.DeepEqual(x, v) }) {
			return wrong("it is %v", v)
		}
	case "anyOf":
		for _, one := range arg.([]any) {
			if c.check(where, one.(map[string]any), v) == nil {
				return nil
			}
		}
		return wrong("none fits %v", v)
	case "pattern":
		if text, ok := v.(string); ok && !regexp.MustCompile(arg.(string)).MatchString(text) {
			return wrong("it is %q", text)
		}
	case "minimum", "maximum", "exclusiveMinimum":
		x, ok := v.(float64)
		bad := map[string]bool{"minimum": x < arg.(float64), "maximum": x > arg.(float64), "exclusiveMinimum": x <= arg.(float64)}[word]
		if ok && bad {
			return wrong("it is %g", x)
		}
	case "items":
		list, _ := v.([]any)
		for i, x := range list {
			if err := c.check(fmt.Sprintf("%s[%d]", where, i), arg.(map[string]any), x); err != nil {
				return err
			}
		}
	case "required":
		object, ok := v.(map[string]any)
		for _, key := range arg.([]any) {
			if _, there := object[key.(string)]; ok && !there {
				return wrong("there is no %s", key)
			}
		}
	case "properties":
		object, _ := v.(map[string]any)
		for key, x := range object {
			if p, ok := arg.(map[string]any)[key].(map[string]any); ok {
				if err := c.check(where+"."+key, p, x); err != nil {
					return err
				}
			}
		}
	case "additionalProperties":
		object, _ := v.(map[string]any)
		known, _ := s["properties"].(map[string]any)
		for key, x := range object {
			if _, ok := known[key]; ok {
				continue
			}
			rest, ok := arg.(map[string]any)
			if !ok {
				return wrong("%s is unknown", key)
			}
			if err := c.check(where+"."+key, rest, x); err != nil {
				return err
			}
		}
	default:
		return wrong("the test does not know this word")
	}
	return nil
}

func TestSchema(t *testing.T) {
	var schema map[string]any
	if err := json.Unmarshal(journal.Schema(), &schema); err != nil {
		t.Fatal(err)
	}
	c := checker{schema}
	fits := func(line string) error {
		var v any
		if err := json.Unmarshal([]byte(line), &v); err != nil {
			t.Fatal(err)
		}
		return c.check("batch", schema, v)
	}
	seen := map[string]bool{}
	for _, f := range []journal.Filter{{}, {Frozen: true}, {Brief: true}} {
		for line := range strings.Lines(exportOf(t, full(t), journal.JSONLines, f)) {
			if err := fits(line); err != nil {
				t.Errorf("%v in %s", err, line)
			}
			var v map[string]any
			_ = json.Unmarshal([]byte(line), &v)
			for key, x := range v {
				seen[key] = seen[key] || x != nil
			}
		}
	}
	for key := range schema["properties"].(map[string]any) {
		if !seen[key] {
			t.Errorf("no batch of the test has %s: the test says nothing of it", key)
		}
	}
	// Every key that a View can have is in the schema, and no other.
	for name, typ := range map[string]reflect.Type{
		"": reflect.TypeFor[journal.View](), "review": reflect.TypeFor[journal.ReviewView](), "event": reflect.TypeFor[journal.EventView](),
		"dip": reflect.TypeFor[journal.DipView](), "load": reflect.TypeFor[journal.LoadView](), "sign_off": reflect.TypeFor[journal.SignOffView](),
		"photo": reflect.TypeFor[journal.PhotoView](), "waste": reflect.TypeFor[journal.WasteView](), "waste_part": reflect.TypeFor[journal.WastePartView](),
		"lot": reflect.TypeFor[journal.LotView](),
	} {
		def := schema
		if name != "" {
			def = schema["$defs"].(map[string]any)[name].(map[string]any)
		}
		var keys []string
		for i := range typ.NumField() {
			key, _, _ := strings.Cut(typ.Field(i).Tag.Get("json"), ",")
			keys = append(keys, key)
		}
		slices.Sort(keys)
		if known := slices.Sorted(maps.Keys(def["properties"].(map[string]any))); !slices.Equal(keys, known) {
			t.Errorf("%q: the schema knows %v, a View has %v", name, known, keys)
		}
	}
	good := goodLine(t)
	for old, new := range map[string]string{
		`"pieces":48`: `"pieces":-1`, `"state":"logged"`: `"state":"gilded"`, `"good":41`: `"good":"41"`, `"shape":`: `"form":`, `"kind":"logged"`: `"kind":"melted"`,
		`"causes":{"patchy":4}`: `"causes":{"patchy":0.5}`, `"review":null`: `"review":{}`, `"created":"2026`: `"created":"26`,
	} {
		if !strings.Contains(good, old) {
			t.Errorf("the line has no %s", old)
		}
		if fits(strings.Replace(good, old, new, 1)) == nil {
			t.Errorf("the schema takes %s", new)
		}
	}
}
