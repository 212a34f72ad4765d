package journal

import (
	bolt "go.etcd.io/bbolt"
)

// Refill gives the first container a gram more and a checksum that fits.
func Refill(tx *bolt.Tx) error {
	containers := tx.Bucket([]byte(containersBucket))
	key, value := containers.Cursor().First()
	c, err := decodeContainer(key, value)
	if err != nil {
		return err
	}
	c.Left++
	return putRecord(containers, c.ID[:], c)
}

// ForgetUse takes the first use out of the first batch that has one.
func ForgetUse(tx *bolt.Tx) error {
	batches := tx.Bucket([]byte(batchesBucket))
	cursor := batches.Cursor()
	for key, value := cursor.First(); key != nil; key, value = cursor.Next() {
		b, err := decodeBatch(id(key), value)
		if err != nil {
			return err
		}
		if len(b.Used) > 0 {
			b.Used = b.Used[1:]
			return putRecord(batches, b.ID[:], b)
		}
	}
	return errTangled
}
