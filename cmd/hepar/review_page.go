package main

import (
	_ "embed"
	"html/template"
	"strings"
	"sync"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/paper"
	"hepar/recipe/safety"
)

//go:embed review.html
var reviewBody string

var reviewPage = sync.OnceValue(func() *template.Template { return paper.Parse(reviewBody, "") })

// writeReview writes a review as a page to hang up.
func writeReview(file string, sub safety.Subject, r safety.Review) error {
	if !strings.HasSuffix(strings.ToLower(file), ".html") {
		return fault.Usagef("%q is not an .html file", measure.Clean(file)).At("--output").Try("name the file review.html; a browser prints it")
	}
	var confirm []string
	for _, q := range r.Confirm {
		confirm = append(confirm, confirmation(q))
	}
	page, err := paper.Render(reviewPage(), map[string]any{"Title": measure.Clean(sub.Recipe.Title), "R": r, "Confirm": confirm})
	if err != nil {
		return err
	}
	return writeNew(file, page)
}
