package main

import "regexp"

// batchWord is what names a batch: last, a short number, a number, the beginning of
// an id. The journal finds the batch; here it is only told from the name of a recipe.
var batchWord = regexp.MustCompile(`^(last|\d{1,6}|\d{4}-\d{1,9}(-\w{4})?|[0-9A-HJKMNP-TV-Z]{6,26})$`)

// isBatch says whether a word names a batch rather than a recipe.
func isBatch(ref string) bool { return batchWord.MatchString(ref) }
