package strict

import "fmt"

// MaxFindings is after how many findings a file is given up on. A person mends a
// handful at a time; a hostile file could make a million.
const MaxFindings = 200

// walk goes over the decoded content and notes what is wrong with it.
type walk struct {
	src      *source
	findings []Finding
}

func (w *walk) full() bool { return len(w.findings) >= MaxFindings }

func (w *walk) add(f Finding) *Finding {
	w.findings = append(w.findings, f)
	return &w.findings[len(w.findings)-1]
}

// key notes a fault in a key, or in the header of a table.
func (w *walk) key(p *Place, cure, what string, args ...any) *Finding {
	return w.add(w.src.finding(p.key, p.keyEnd, fmt.Sprintf(what, args...), cure))
}

// val notes a fault in a value.
func (w *walk) val(p *Place, cure, what string, args ...any) *Finding {
	return w.add(w.src.finding(p.val, p.valEnd, fmt.Sprintf(what, args...), cure))
}

// Full tells whether so much is wrong that reading on is of no use.
func (t Table) Full() bool { return t.walk.full() }

// Count is how many findings the file has so far; a caller compares two counts to
// see whether what it called had anything to note.
func (t Table) Count() int { return len(t.walk.findings) }

// Add notes a finding that the caller has made itself, such as one of the file as
// a whole.
func (t Table) Add(f Finding) { t.walk.add(f) }

// AtKey notes a fault in a key, or in the header of a table, with its cure. The
// finding may be changed until the next one is noted.
func (t Table) AtKey(p *Place, cure, what string, args ...any) *Finding {
	return t.walk.key(p, cure, what, args...)
}

// AtValue notes a fault in a value, as [Table.AtKey] does.
func (t Table) AtValue(p *Place, cure, what string, args ...any) *Finding {
	return t.walk.val(p, cure, what, args...)
}
