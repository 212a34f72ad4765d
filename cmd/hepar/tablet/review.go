package tablet

import (
	"net/http"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/safety"
)

// reviewPage shows the review of a batch as a checklist.
func (s *server) reviewPage(w http.ResponseWriter, r *http.Request) {
	b, ok := s.open(w, r, "")
	if !ok {
		return
	}
	sub, err := s.Subject(b.Batch)
	if err != nil {
		fail(w, err)
		return
	}
	review, err := safety.Assess(sub)
	if err != nil {
		fail(w, err)
		return
	}
	s.show(w, "review", map[string]any{"Number": b.Batch.Number, "Title": measure.Clean(b.Recipe.Title), "R": review, "Captures": safety.Captures()})
}

// confirmed is what the checklist sends.
type confirmed struct {
	By      string            `json:"by"`
	Yes     []string          `json:"yes"`     // codes that were ticked
	Answers map[string]string `json:"answers"` // what was typed, by what is asked
}

// review takes the checklist: every line ticked or measured, or it is refused.
func (s *server) review(w http.ResponseWriter, r *http.Request) {
	var in confirmed
	if !read(w, r, &in) {
		return
	}
	b, ok := s.open(w, r, in.By)
	if !ok {
		return
	}
	sub, err := s.Subject(b.Batch)
	if err != nil {
		fail(w, err)
		return
	}
	for ask, text := range in.Answers {
		if err := sub.Answer(ask, text, s.Now()); err != nil {
			fail(w, err)
			return
		}
	}
	review, err := safety.Assess(sub)
	if err == nil {
		err = safety.Refused(review.Points)
	}
	if err == nil && (in.By == "" || in.By != measure.Clean(in.By)) {
		err = fault.Usagef("the review names nobody").Try("write your name above the list")
	}
	if err == nil {
		if lacks := review.Lacking(); len(lacks) > 0 {
			err = fault.Usagef("what was measured or named is missing: %s", lacks[0]).Try("fill in each line")
		}
	}
	if err == nil {
		ticked := map[string]bool{}
		for _, code := range in.Yes {
			ticked[code] = true
		}
		for _, c := range review.Confirm {
			if c.Ask == "" && !ticked[c.Code] {
				err = fault.Usagef("not confirmed: %s", c.Text).Try("do it, then tick it")
				break
			}
		}
	}
	if err == nil {
		_, err = s.Journal.Review(b.Batch.Number, s.Kept(in.By, sub, review))
	}
	if err != nil {
		fail(w, err)
		return
	}
	answer(w, http.StatusOK, map[string]string{"go": "/batch/" + b.Batch.Number})
}
