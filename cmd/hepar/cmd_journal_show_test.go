package main

import (
	"bufio"
	"bytes"
	"reflect"
	"strings"
	"testing"

	"hepar/journal"
	"hepar/recipe/measure"
)

// TestEveryListIsShown: journal show prints something of each list of a batch that an export has.
func TestEveryListIsShown(t *testing.T) {
	for i, of := 0, reflect.TypeFor[journal.Batch](); i < of.NumField(); i++ {
		f := of.Field(i)
		if f.Type.Kind() != reflect.Slice || f.Type.Elem().Kind() != reflect.Struct || f.Tag.Get("json") == "-" {
			continue
		}
		var b journal.Batch
		list := reflect.ValueOf(&b).Elem().Field(i)
		list.Set(reflect.MakeSlice(f.Type, 1, 1))
		for part := range f.Type.Elem().Fields() {
			switch at := list.Index(0).FieldByIndex(part.Index); {
			case part.Type == reflect.TypeFor[string]():
				at.SetString("blue-cupboard")
			case part.Type.Kind() == reflect.Slice && part.Type.Elem().Kind() == reflect.Uint8:
				at.SetBytes(bytes.Repeat([]byte{7}, 32))
			}
		}
		var out bytes.Buffer
		e := &env{out: bufio.NewWriter(&out)}
		printBook(e, measure.Metric, b)
		if _ = e.out.Flush(); !strings.Contains(out.String(), "blue-cupboard") {
			t.Errorf("nothing of %s is printed: %q", f.Name, out.String())
		}
	}
}
