package journal

import (
	"time"

	bolt "go.etcd.io/bbolt"
)

// FileFormat is the present format.
const FileFormat = fileFormat

// Dropped is the rule by which backups are pruned.
func Dropped(k Keep, made []time.Time, now time.Time) []bool { return k.dropped(made, now) }

// SetFormat makes a journal say that it is of a format.
func SetFormat(tx *bolt.Tx, format int) error { return setFormat(tx, format) }

// UpgradeBy is Upgrade with made-up steps.
func UpgradeBy(j *Journal, steps map[int]func(tx *bolt.Tx) error) (UpgradeReport, error) {
	return j.upgrade(fileFormat, steps)
}

// MakeNumbers makes the bucket of numbers from the batches.
func MakeNumbers(tx *bolt.Tx) error {
	numbers, err := tx.CreateBucket([]byte(numbersBucket))
	if err != nil {
		return err
	}
	return tx.Bucket([]byte(batchesBucket)).ForEach(func(key, value []byte) error {
		b, err := decodeBatch(id(key), value)
		if err != nil {
			return err
		}
		return numbers.Put([]byte(b.Plan.Number), key)
	})
}
