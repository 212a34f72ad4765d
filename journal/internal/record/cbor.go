package record

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"slices"

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
	var all, known map[any]cbor.RawMessage
	again, err := Marshal(e)
	if err := cmp.Or(err, Unmarshal(body, &all), Unmarshal(again, &known)); err != nil {
		return nil, err
	}
	e.Raw, e.Unknown = slices.Clone(body), map[string]string{}
	for key, value := range all {
		if !bytes.Equal(value, known[key]) {
			e.Unknown[fmt.Sprint(key)], _ = cbor.Diagnose(value) // it was read before
		}
	}
	return e, nil
}

// FromJSON reads an event as an export writes it: what is unknown comes from its stored form alone.
func FromJSON(line []byte) (*Event, error) {
	e := &Event{}
	strict := json.NewDecoder(bytes.NewReader(line))
	strict.DisallowUnknownFields()
	if err := strict.Decode(e); err != nil || e.Raw == nil {
		e.Unknown = nil
		return e, err
	}
	return Decode(e.Raw)
}
