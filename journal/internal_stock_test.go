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

// ForgetUse lets the first event in which a batch took something say that it took
// a gram more, with a checksum that fits.
func ForgetUse(tx *bolt.Tx) error {
	events := tx.Bucket([]byte(eventsBucket))
	cursor := events.Cursor()
	for key, value := cursor.First(); key != nil; key, value = cursor.Next() {
		e, err := decodeEvent(seqOf(key), value)
		if err != nil {
			return err
		}
		if len(e.Used) > 0 && !ofContainer(e.Kind) {
			e.Used[0].Amount++
			record, err := e.seal()
			if err != nil {
				return err
			}
			return events.Put(seqKey(e.Seq), record)
		}
	}
	return errTangled
}

func ofContainer(kind string) bool {
	return kind == StockAdded || kind == StockChanged || kind == StockUsed || kind == StockEmptied
}
