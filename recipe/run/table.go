package run

import (
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strings"

	"hepar/recipe/bath/job"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// Row is a load of a table, as it is written there; what its columns do not have is empty.
type Row struct{ Load, Time, Temperature, Pieces string }

// ReadTable reads a small table of loads (CSV), its columns by their headings. name is said in the error.
func ReadTable(in io.Reader, name string) (list []Row, err error) {
	r := csv.NewReader(io.LimitReader(in, 1<<20))
	r.TrimLeadingSpace = true
	rows, err := r.ReadAll()
	column := map[string]int{} // from 1
	for i, head := range slices.Concat(rows[:min(1, len(rows))]...) {
		column[strings.ToLower(strings.TrimSpace(strings.TrimPrefix(head, "\ufeff")))] = i + 1
	}
	if err != nil || column["load"] == 0 || len(rows) < 2 {
		return nil, fault.Usagef("%s is not a table of loads", measure.Clean(name)).Because(err).
			Try("give the columns load, time, temperature, pieces: 1,12 s,71.4 C,6")
	}
	for _, row := range rows[1:] {
		cell := func(head string) string { return strings.TrimSpace(append([]string{""}, row...)[column[head]]) }
		list = append(list, Row{cell("load"), cell("time"), cell("temperature"), cell("pieces")})
	}
	return list, nil
}

// LoadsOf reads of which load the pieces with a cause are: too-light=4. Where there is one cause, its number is enough.
func LoadsOf(pairs []string, causes map[string]int) (map[string]int, error) {
	loads := map[string]int{}
	for _, pair := range pairs {
		cause, number, both := strings.Cut(pair, "=")
		for only := range causes {
			if !both && len(causes) == 1 {
				cause, number = only, pair
			}
		}
		n, err := measure.ParseCount(strings.TrimSpace(number), 1, job.MostPieces)
		if err != nil || causes[cause] == 0 {
			return nil, fault.Usagef("%q is not CAUSE=LOAD with a cause that --cause names", measure.Clean(pair)).Try("write --cause too-light=3 --of-load too-light=4")
		}
		loads[cause] = n
	}
	return loads, nil
}

// AllOf gives a single cause without a count all the pieces that are not good.
func AllOf(causes string, bad int) string {
	if bad > 0 && causes != "" && !strings.ContainsAny(causes, "=,") {
		causes += fmt.Sprintf("=%d", bad)
	}
	return causes
}
