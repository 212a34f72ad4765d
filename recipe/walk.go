package recipe

import "fmt"

// maxFindings is after how many findings a file is given up on. A person mends a
// handful at a time; a hostile file could make a million.
const maxFindings = 200

// walk goes over the decoded content and notes what is wrong with it.
type walk struct {
	src      *source
	findings []Finding
}

func (w *walk) full() bool { return len(w.findings) >= maxFindings }

func (w *walk) add(f Finding) *Finding {
	w.findings = append(w.findings, f)
	return &w.findings[len(w.findings)-1]
}

// key notes a fault in a key, or in the header of a table.
func (w *walk) key(p *place, cure, what string, args ...any) *Finding {
	return w.add(w.src.finding(p.key, p.keyEnd, fmt.Sprintf(what, args...), cure))
}

// val notes a fault in a value.
func (w *walk) val(p *place, cure, what string, args ...any) *Finding {
	return w.add(w.src.finding(p.val, p.valEnd, fmt.Sprintf(what, args...), cure))
}
