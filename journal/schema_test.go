package journal_test

import (
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"hepar/journal"
)

// checker holds a value against the parts of JSON Schema that ours uses, as its
// specification has them (json-schema.org, draft 2020-12, sections 10 and 11 of the
// core and 6 of the validation vocabulary). What it does not know is an error.
type checker struct {
	root map[string]any
	seen map[string]bool // what was held against the schema, with a value; nil to keep no account
}

// saw keeps account of a value at a place of the schema.
func (c checker) saw(where string) {
	if c.seen != nil {
		c.seen[indexes().ReplaceAllString(where, "[]")] = true
	}
}

var indexes = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`\[\d+\]`) })

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
		c.saw(fmt.Sprintf("%s = %v", where, v))
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
				if x != nil {
					c.saw(where + "." + key)
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

// places gives every place of a schema that a value can stand at, and every word
// of an enum, as checker keeps account of them.
func (c checker) places(where string, s map[string]any) (all []string) {
	if ref, ok := s["$ref"].(string); ok {
		all = append(all, c.places(where, c.root["$defs"].(map[string]any)[strings.TrimPrefix(ref, "#/$defs/")].(map[string]any))...)
	}
	for _, word := range asList(s["enum"]) {
		all = append(all, fmt.Sprintf("%s = %v", where, word))
	}
	for _, one := range asList(s["anyOf"]) {
		all = append(all, c.places(where, one.(map[string]any))...)
	}
	if items, ok := s["items"].(map[string]any); ok {
		all = append(all, c.places(where+"[]", items)...)
	}
	properties, _ := s["properties"].(map[string]any)
	for key, p := range properties {
		all = append(append(all, where+"."+key), c.places(where+"."+key, p.(map[string]any))...)
	}
	return all
}

func asList(v any) []any {
	list, _ := v.([]any)
	return list
}

// spoiled gives copies of a value, each wrong in one place, by what is wrong: of
// every value its type, of every object a key too many and each key too few.
func spoiled(where string, v any, give func(what string, v any)) {
	switch v := v.(type) {
	case map[string]any:
		more := maps.Clone(v)
		more["glory"] = "x"
		give(where+" with a key too many", more)
		for key, x := range v {
			less := maps.Clone(v)
			delete(less, key)
			give(where+" without "+key, less)
			spoiled(where+"."+key, x, func(what string, x any) {
				other := maps.Clone(v)
				other[key] = x
				give(what, other)
			})
		}
	case []any:
		for i, x := range v {
			spoiled(fmt.Sprintf("%s[%d]", where, i), x, func(what string, x any) {
				other := slices.Clone(v)
				other[i] = x
				give(what, other)
			})
		}
	}
	switch v.(type) {
	case bool:
		give(where+" as a number", 3.0)
	default:
		give(where+" as true or false", true)
	}
}

// mayBe says of what spoiled gives that the schema rightly takes it.
func mayBe(what string) bool {
	what = indexes().ReplaceAllString(what, "[]")
	for _, free := range []string{"batch.sheet", "batch without sheet", "batch without recipe_text", "batch.causes without ", "batch.events[].result.causes without ", "container without events"} {
		if strings.HasPrefix(what, free) {
			return true
		}
	}
	_, key, ok := strings.Cut(what, ".events[] without ")
	return ok && slices.Contains([]string{"reason", "field", "old", "new", "container", "batch", "amount", "loads", "uses", "result", "review", "note"}, key)
}

// everyKind gives two journals: one with every kind of event there is, and one
// salvaged from a copy in which an event of a batch and one of a container were lost.
func everyKind(t *testing.T) []*journal.Journal {
	t.Helper()
	j := full(t)
	spoilt := compacted(t, j)
	if err := journal.Tamper(spoilt, take("events", seq(7), seq(16))); err != nil { // the amendment; the first use
		t.Fatal(err)
	}
	out, _ := salvaged(t, compacted(t, journal.At(spoilt, journal.Options{})))
	dipped, err := j.Create(order(6))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := j.Dip(dipped.Number, journal.DipRecord{}, journal.Gate{WithoutReview: "a trial piece"}); err != nil {
		t.Fatal(err)
	}
	two, _, _ := bothLogged(t)
	if _, err := two.AddContainer(journal.Container{Substance: "liver-of-sulfur", AmountG: 250, LeftG: 250}); err != nil {
		t.Fatal(err)
	}
	return []*journal.Journal{j, out, two}
}

// Every line of an export fits the schema, every place and word of the schema is
// in some line, and a line that is wrong in any one place does not fit.
func TestSchemasHoldEveryLine(t *testing.T) {
	journals := everyKind(t)
	for name, s := range map[string]struct {
		schema []byte
		export func(j *journal.Journal, out io.Writer) (int, error)
	}{
		"batch": {journal.Schema(), func(j *journal.Journal, out io.Writer) (int, error) {
			return j.Export(out, journal.JSONLines, journal.Filter{Frozen: true})
		}},
		"container": {journal.ContainerSchema(), func(j *journal.Journal, out io.Writer) (int, error) {
			return j.ExportContainers(out, journal.JSONLines, journal.ContainerFilter{Empty: true})
		}},
	} {
		t.Run(name, func(t *testing.T) {
			var schema map[string]any
			if err := json.Unmarshal(s.schema, &schema); err != nil {
				t.Fatal(err)
			}
			c := checker{root: schema, seen: map[string]bool{}}
			var values []any
			for _, j := range journals {
				var out strings.Builder
				n, err := s.export(j, &out)
				if err != nil || n == 0 || n != strings.Count(out.String(), "\n") {
					t.Fatalf("%d lines, %v", n, err)
				}
				for line := range strings.Lines(out.String()) {
					var v any
					if err := json.Unmarshal([]byte(line), &v); err != nil {
						t.Fatal(err)
					}
					if err := c.check(name, schema, v); err != nil {
						t.Errorf("%v in %s", err, line)
					}
					values = append(values, v)
				}
			}
			// A View shares its events with those of containers, which alone have these two.
			c.seen["batch.events[].batch"], c.seen["batch.events[].amount"] = true, true
			for _, place := range c.places(name, schema) {
				if !c.seen[place] {
					t.Errorf("no line of the test has %s: the test says nothing of it", place)
				}
			}
			c.seen = nil
			tried := 0
			for _, v := range values {
				spoiled(name, v, func(what string, v any) {
					tried++
					if err := c.check(name, schema, v); (err == nil) != mayBe(what) {
						t.Errorf("%s: %v", what, err)
					}
				})
			}
			if tried < 500 {
				t.Errorf("only %d things were spoiled", tried)
			}
			t.Logf("%d lines, %d spoiled", len(values), tried)
		})
	}
}

func TestSchema(t *testing.T) {
	var schema map[string]any
	if err := json.Unmarshal(journal.Schema(), &schema); err != nil {
		t.Fatal(err)
	}
	c := checker{root: schema}
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
