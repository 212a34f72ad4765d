package strict

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/BurntSushi/toml"
)

// Kind says what sort of file is read, for the messages.
type Kind struct {
	Name    string // what it is called: "recipe", "shop file"
	Sample  string // the command that prints one: "hepar recipe new"
	Missing string // what to do where there is no such file
	// Shipped files come with the program and have been read by both parsers in its
	// tests: the second reading, for places and for a second opinion, is spared.
	Shipped bool
	Further string // how one more table of a list begins: "a further step begins with [[step]]"; may be empty
}

// file is the name with the word file behind it, once.
func (k Kind) file() string { return strings.TrimSuffix(k.Name, " file") + " file" }

func (k Kind) compare() string { return "compare with the output of " + k.Sample }

// Decode hands the root table of a file to read and gives everything that is
// wrong with the file at once, in the order of the file: at most [MaxFindings],
// with the refusals among the others. read is not called for what is no text, no
// TOML or over [MaxSize]; what it made of a file with findings is not to be used.
// file is the name used in the findings. Decode never panics.
func (k Kind) Decode(file string, data []byte, read func(root Table)) (findings []Finding) {
	defer func() {
		// The last guard: no fault in a library may take the bench down.
		if trouble := recover(); trouble != nil {
			findings = []Finding{{File: file, What: fmt.Sprintf("could not be read: %v", trouble),
				Cure: "compare the file with the output of " + k.Sample}}
		}
	}()
	if f, bad := k.notText(file, data); bad {
		return []Finding{f}
	}
	if k.Shipped {
		content := map[string]any{}
		w := &walk{src: newSource(k, file, data)}
		if _, err := toml.Decode(string(data), &content); err == nil {
			if read(Table{w, "the " + k.Name, content, &Place{}}); len(w.findings) == 0 {
				return nil
			}
		}
		// It has been spoilt: read it like any other.
	}
	src := newSource(k, file, data)
	root, faults := locate(src)
	if len(faults) > 0 {
		return faults
	}
	content := map[string]any{}
	if _, err := toml.Decode(string(data), &content); err != nil {
		return []Finding{syntaxFinding(src, err)}
	}
	w := &walk{src: src}
	read(Table{w, "the " + k.Name, content, root})
	if len(w.findings) > 0 {
		return w.sorted()
	}
	// Last, because the second parser takes half a minute for a million bytes
	// of keys; what has come this far has few.
	if f, differ := disagreement(src); differ {
		return []Finding{f}
	}
	return nil
}

// sorted gives the findings in the order of the file.
func (w *walk) sorted() []Finding {
	slices.SortStableFunc(w.findings, func(a, b Finding) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
	if !w.full() {
		return w.findings
	}
	kept := w.findings[:MaxFindings:MaxFindings]
	for _, f := range w.findings[MaxFindings:] {
		if f.Refused { // never lost in a crowd
			kept = append(kept, f)
		}
	}
	return append(kept, Finding{File: w.src.file, What: fmt.Sprintf("more than %d findings; the rest is not shown", MaxFindings),
		Cure: "mend these first, then check again"})
}
