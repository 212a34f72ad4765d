package record

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/fxamacker/cbor/v2"
)

// encMode writes RFC 8949 core deterministic CBOR: the same event is always the same bytes.
var encMode, _ = cbor.CoreDetEncOptions().EncMode()

// decMode refuses doubled keys, tags, open lengths and deep nesting; it passes over keys that it does not
// know, which strictMode refuses as well.
var decMode, strictMode = decoder(cbor.ExtraDecErrorNone), decoder(cbor.ExtraDecErrorUnknownField)

func decoder(extra cbor.ExtraDecErrorCond) cbor.DecMode {
	mode, _ := cbor.DecOptions{
		DupMapKey: cbor.DupMapKeyEnforcedAPF, IndefLength: cbor.IndefLengthForbidden, TagsMd: cbor.TagsForbidden,
		MaxNestedLevels: 8, MaxArrayElements: 1 << 16, MaxMapPairs: 1 << 12, ExtraReturnErrors: extra,
	}.DecMode() // the options are valid
	return mode
}

// Marshal returns the CBOR of any of the stored structs.
func Marshal(v any) ([]byte, error) { return encMode.Marshal(v) }

// Unmarshal reads what Marshal wrote.
func Unmarshal(body []byte, v any) error { return decMode.Unmarshal(body, v) }

// Encode returns the stored form of an event; that of a newer build goes out as it came in.
func Encode(e *Event) ([]byte, error) {
	if e.Raw != nil {
		return e.Raw, nil
	}
	return Marshal(e)
}

// Decode reads the stored form of an event. If there is something in it that it does not know, Raw is the
// whole stored form and Unknown says what.
func Decode(body []byte) (*Event, error) {
	e := &Event{}
	if err := strictMode.Unmarshal(body, e); err == nil {
		return e, nil
	}
	e = &Event{}
	if err := Unmarshal(body, e); err != nil {
		return nil, fmt.Errorf("decode event: %w", err)
	}
	var all, known any
	again, err := Marshal(e)
	if err := cmp.Or(err, Unmarshal(body, &all), Unmarshal(again, &known)); err != nil {
		return nil, err
	}
	had := flatten("", known, map[string]any{})
	e.Unknown = flatten("", all, map[string]any{})
	maps.DeleteFunc(e.Unknown, func(path string, value any) bool { return had[path] == value })
	e.Raw = slices.Clone(body)
	return e, nil
}

// flatten collects in out what there is, by path: "13.9", "13.4[2]".
func flatten(path string, there any, out map[string]any) map[string]any {
	below := map[string]any{}
	switch from := there.(type) {
	case map[any]any:
		for key, value := range from {
			below[strings.TrimPrefix(fmt.Sprint(path, ".", key), ".")] = value
		}
	case []any:
		for i, value := range from {
			below[fmt.Sprintf("%s[%d]", path, i)] = value
		}
	}
	if len(below) == 0 {
		out[path] = fmt.Sprint(there)
	}
	for path, value := range below {
		flatten(path, value, out)
	}
	return out
}

// FromJSON reads an event as an export writes it: with an unknown key only if its stored form is in raw.
func FromJSON(line []byte) (*Event, error) {
	e := &Event{}
	strict := json.NewDecoder(bytes.NewReader(line))
	strict.DisallowUnknownFields()
	switch err := strict.Decode(e); {
	case err != nil:
		return nil, err
	case e.Raw == nil && len(e.Unknown) > 0:
		return nil, fmt.Errorf("the event has unknown parts and no raw form of them")
	case e.Raw == nil:
		return e, nil
	}
	stored, err := Decode(e.Raw)
	if err != nil {
		return nil, err
	}
	if stored.Raw == nil {
		return nil, fmt.Errorf("the event has a raw form and nothing unknown in it")
	}
	return stored, nil
}
