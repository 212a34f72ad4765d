package main

import "github.com/urfave/cli/v2"

// The library cuts the names of a flag out of a text with a pattern each time it is
// asked for them, and for every flag that it looks up it asks all of a command. With
// fifty flags that is a fifth of a whole prepare. These flags know their names; in
// all else they are the library's.
type (
	namedString struct {
		*cli.StringFlag
		names []string
	}
	namedStrings struct {
		*cli.StringSliceFlag
		names []string
	}
	namedBool struct {
		*cli.BoolFlag
		names []string
	}
)

func (f *namedString) Names() []string  { return f.names }
func (f *namedStrings) Names() []string { return f.names }
func (f *namedBool) Names() []string    { return f.names }

// knowNames puts flags that know their names in the place of those that do not.
func knowNames(flags []cli.Flag) []cli.Flag {
	known := make([]cli.Flag, len(flags))
	for i, f := range flags {
		switch f := f.(type) {
		case *cli.StringFlag:
			known[i] = &namedString{f, f.Names()}
		case *cli.StringSliceFlag:
			known[i] = &namedStrings{f, f.Names()}
		case *cli.BoolFlag:
			known[i] = &namedBool{f, f.Names()}
		default:
			known[i] = f
		}
	}
	return known
}
