package journal_test

import (
	"encoding/binary"
	"fmt"
	"path/filepath"
	"slices"
	"testing"
	"time"

	bolt "go.etcd.io/bbolt"

	"hepar/journal"
)

// large gives a journal of n logged batches over several years.
func large(b testing.TB, n int) *journal.Journal {
	b.Helper()
	now := time.Date(2018, 1, 2, 8, 0, 0, 0, time.UTC)
	j := journal.At(filepath.Join(b.TempDir(), "hepar.journal"), journal.Options{Now: func() time.Time { now = now.Add(time.Minute); return now }})
	for done := 0; done < n; {
		err := j.Update(func(w *journal.Writer) error {
			for range min(1000, n-done) {
				plan := order(20)
				plan.Sheet = nil
				plan.Recipe.Slug = fmt.Sprintf("recipe-%d", done%20)
				plan.By = fmt.Sprintf("Person %d", done%5)
				r := journal.Result{Good: 18, Shade: "blue-black", Temperature: celsius(70 + float64(done%10)), Time: seconds(float64(8 + done%7))}
				if done%4 == 0 {
					r.Rework, r.Causes = 2, map[string]int{"too-light": 2}
				}
				if _, err := w.LogNew(plan, r); err != nil {
					return err
				}
				done++
			}
			return nil
		})
		if err != nil {
			b.Fatal(err)
		}
	}
	return j
}

// bare is the store alone: one record of size bytes and one index entry.
type bare struct {
	path string
	n    uint64
}

func openBare(b testing.TB, path string) *bolt.DB {
	b.Helper()
	db, err := bolt.Open(path, 0o600, &bolt.Options{FreelistType: bolt.FreelistMapType, NoStatistics: true, Timeout: time.Second})
	if err != nil {
		b.Fatal(err)
	}
	return db
}

func (s *bare) update(b testing.TB, db *bolt.DB, value []byte) {
	b.Helper()
	if err := db.Update(func(tx *bolt.Tx) error { return s.put(tx, value) }); err != nil {
		b.Fatal(err)
	}
}

func (s *bare) put(tx *bolt.Tx, value []byte) error {
	records, err := tx.CreateBucketIfNotExists([]byte("records"))
	if err != nil {
		return err
	}
	records.FillPercent = 0.9
	index, err := tx.CreateBucketIfNotExists([]byte("index"))
	if err != nil {
		return err
	}
	s.n++
	key := binary.BigEndian.AppendUint64(nil, s.n)
	if err := records.Put(key, value); err != nil {
		return err
	}
	return index.Put(fmt.Appendf(nil, "recipe-%d\x00%s", s.n%20, key), nil)
}

func median(d []time.Duration) float64 {
	slices.Sort(d)
	return float64(d[len(d)/2])
}

// One durable log entry with all its indexes, against a bare update of the same
// bytes with one index in the same run, each opening and closing its file (as a
// command does), and against one that keeps its file open.
func BenchmarkLog(b *testing.B) {
	const batches = 10_000
	j := large(b, batches)
	stored, err := journal.StoredBytes(j.Path(), "2018-500")
	if err != nil {
		b.Fatal(err)
	}
	s := &bare{path: filepath.Join(b.TempDir(), "bare")}
	kept := &bare{path: filepath.Join(b.TempDir(), "kept")}
	keptDB := openBare(b, kept.path)
	defer keptDB.Close()
	fill := openBare(b, s.path)
	value := make([]byte, stored)
	for _, db := range []*bolt.DB{fill, keptDB} {
		if err := db.Update(func(tx *bolt.Tx) error {
			records, err := tx.CreateBucket([]byte("records"))
			for i := uint64(1); err == nil && i <= batches; i++ {
				err = records.Put(binary.BigEndian.AppendUint64(nil, i), value)
			}
			return err
		}); err != nil {
			b.Fatal(err)
		}
	}
	s.n, kept.n = batches, batches
	if err := fill.Close(); err != nil {
		b.Fatal(err)
	}
	var ours, opened, warm []time.Duration
	for b.Loop() {
		plan, err := j.Create(order(20))
		if err != nil {
			b.Fatal(err)
		}
		review(b, j, plan.Number)
		start := time.Now()
		if _, err := j.Log(plan.Number, journal.Result{Good: 18, Rework: 2, Shade: "blue-black", Causes: map[string]int{"too-light": 2}}, "", time.Time{}); err != nil {
			b.Fatal(err)
		}
		ours = append(ours, time.Since(start))
		start = time.Now()
		db := openBare(b, s.path)
		s.update(b, db, value)
		if err := db.Close(); err != nil {
			b.Fatal(err)
		}
		opened = append(opened, time.Since(start))
		start = time.Now()
		kept.update(b, keptDB, value)
		warm = append(warm, time.Since(start))
	}
	b.ReportMetric(0, "ns/op") // the sum of three things says nothing
	b.ReportMetric(median(ours)/1000, "us/log")
	b.ReportMetric(median(ours)/median(opened), "x-bare")
	b.ReportMetric(median(ours)/median(warm), "x-kept-open")
}

func BenchmarkRead(b *testing.B) {
	for _, n := range []int{1000, 10_000, 100_000} {
		j := large(b, n)
		for name, f := range map[string]journal.Filter{
			"newest 100":       {Limit: 100},
			"100 of a recipe":  {Recipe: "recipe-7", Limit: 100},
			"100 of a cause":   {Cause: "too-light", Limit: 100},
			"100 of two":       {Recipe: "recipe-8", Result: "rework", Limit: 100},
			"all without more": {Brief: true},
		} {
			b.Run(fmt.Sprintf("%d/%s", n, name), func(b *testing.B) {
				rows := 0
				for b.Loop() {
					for _, err := range j.List(f) {
						if err != nil {
							b.Fatal(err)
						}
						rows++
					}
				}
				b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(rows), "ns/row")
			})
		}
		b.Run(fmt.Sprintf("%d/one", n), func(b *testing.B) {
			for b.Loop() {
				if _, err := j.Get("2018-500"); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(fmt.Sprintf("%d/verify", n), func(b *testing.B) {
			for b.Loop() {
				if report, err := j.Verify(); err != nil || !report.Sound() {
					b.Fatal(err, report)
				}
			}
		})
	}
}
