package journal

import (
	"bytes"
	"slices"
)

// anew is the file into which a journal of an older format is written. It
// remembers that writing failed, which is no fault of what is read.
type anew struct {
	*bulk
	j      *Journal // says who does it and when
	failed error
}

func (a *anew) put(name string, key, value []byte) error {
	return a.noted(a.bulk.put(name, key, value))
}

func (a *anew) record(name string, key []byte, v any) error {
	return a.noted(a.bulk.record(name, key, v))
}

func (a *anew) noted(err error) error {
	if err != nil && a.failed == nil {
		a.failed = err
	}
	return err
}

// layOut makes the buckets, so that those that stay empty are there as well.
func (a *anew) layOut() error {
	for _, name := range bucketNames() {
		if _, err := a.tx.CreateBucket([]byte(name)); err != nil {
			return a.noted(err)
		}
	}
	return a.put(metaBucket, []byte(magicKey), []byte(magic))
}

// event gives the event that tells of an upgrade: the one after the last of head.
func (a *anew) event(head headRecord, record *upgradeRecord) (*eventRecord, error) {
	by, err := line("name", a.j.person(""))
	if err != nil {
		return nil, err
	}
	now := a.j.now()
	return &eventRecord{
		Seq: head.Seq + 1, ID: idAfter(head.LastID, now), Kind: Upgraded, At: stampOf(now), By: by, Prev: head.Digest, Upgrade: record,
	}, nil
}

// runsAnew writes the index of batches that come in the order of their ids.
type runsAnew struct {
	out  *anew
	open map[string][]byte // prefix -> ids of the run that is not full yet
}

// mostOpen is how many runs are kept open at most. Past it all are written as they are.
const mostOpen = 20000

func (r *runsAnew) add(key []byte) error {
	prefix, i := splitKey(key)
	ids := append(r.open[string(prefix)], i[:]...)
	r.open[string(prefix)] = ids
	if len(ids) < longestRun*idSize {
		if len(r.open) > mostOpen {
			return r.close()
		}
		return nil
	}
	delete(r.open, string(prefix))
	return r.write(prefix, ids)
}

func (r *runsAnew) write(prefix, ids []byte) error {
	return r.out.put(indexBucket, slices.Concat(prefix, ids[:idSize]), bytes.Clone(ids[idSize:]))
}

// close writes all runs that are open.
func (r *runsAnew) close() error {
	prefixes := make([]string, 0, len(r.open))
	for prefix := range r.open {
		prefixes = append(prefixes, prefix)
	}
	slices.Sort(prefixes)
	for _, prefix := range prefixes {
		if err := r.write([]byte(prefix), r.open[prefix]); err != nil {
			return err
		}
	}
	clear(r.open)
	return nil
}
