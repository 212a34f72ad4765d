package recipe

import (
	"flag"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/tools/txtar"
)

var update = flag.Bool("update", false, "write the reports of testdata anew")

// Whole reports, as a person reads them: all that is wrong with a file at once,
// in the order of the file. Each .toml of the archive is followed by its report.
// The flag -update writes the reports anew; read them before they are kept.
func TestReports(t *testing.T) {
	archive, err := txtar.ParseFile("testdata/reports.txtar")
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; i+1 < len(archive.Files); i += 2 {
		file, want := archive.Files[i], archive.Files[i+1]
		t.Run(file.Name, func(t *testing.T) {
			if want.Name != strings.TrimSuffix(file.Name, ".toml")+".report" {
				t.Fatalf("%s stands behind %s", want.Name, file.Name)
			}
			r, findings := Decode(file.Name, file.Data)
			if r != nil {
				t.Error("passed")
			}
			if *update {
				archive.Files[i+1].Data = []byte(report(findings))
				return
			}
			if diff := cmp.Diff(string(want.Data), report(findings)); diff != "" {
				t.Errorf("%s\n%s", diff, report(findings))
			}
		})
	}
	if *update {
		if err := os.WriteFile("testdata/reports.txtar", txtar.Format(archive), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
