package journal_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"hepar/journal"
)

var copyBatches = flag.Int("copy-batches", 10_000, "the most batches BenchmarkCopies copies")

// BenchmarkCopies measures the calls that copy a journal, by the number of batches:
// how long each takes, how long a backup keeps writers waiting, and the most memory
// that Go has had from the system (without the pages of the file itself).
func BenchmarkCopies(b *testing.B) {
	for n := 1000; n <= *copyBatches; n *= 10 {
		j := large(b, n)
		open := func(b *testing.B) {
			info, err := os.Stat(j.Path())
			if err != nil {
				b.Fatal(err)
			}
			b.SetBytes(info.Size())
		}
		dir := b.TempDir()
		memory := func(b *testing.B) {
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			b.ReportMetric(float64(m.Sys-m.HeapReleased)/(1<<20), "MiB")
		}
		b.Run(fmt.Sprintf("%d/backup", n), func(b *testing.B) {
			open(b)
			held := 0.0
			for b.Loop() {
				report, err := j.Backup(dir, journal.BackupOptions{Keep: journal.Keep{Last: 1}})
				if err != nil {
					b.Fatal(err)
				}
				held = max(held, report.Copying.Seconds()*1000)
			}
			b.ReportMetric(held, "ms-held")
			memory(b)
		})
		b.Run(fmt.Sprintf("%d/compact", n), func(b *testing.B) {
			open(b)
			for b.Loop() {
				if _, err := j.Compact(); err != nil {
					b.Fatal(err)
				}
			}
			memory(b)
		})
		b.Run(fmt.Sprintf("%d/salvage", n), func(b *testing.B) {
			open(b)
			into := filepath.Join(dir, "salvaged")
			for b.Loop() {
				_ = os.Remove(into)
				if report, err := j.Salvage(into); err != nil || !report.Whole() {
					b.Fatal(err, report)
				}
			}
			memory(b)
		})
	}
}
