// Package recipes holds the built-in recipes as files. It knows nothing of what
// is in them: hand [FS] to recipe.Load, which lists and reads them.
package recipes

import "embed"

// FS holds the built-in recipes, one TOML file each, named after the recipe.
//
//go:embed *.toml
var FS embed.FS
