package measure

import (
	"encoding/csv"
	"os"
	"testing"
)

// records reads a table of check values, without its head line.
func records(t *testing.T, file string) [][]string {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) < 2 {
		t.Fatalf("%s holds no check values", file)
	}
	return rows[1:]
}
