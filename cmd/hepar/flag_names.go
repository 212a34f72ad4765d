package main

import "github.com/urfave/cli/v2"

// The library splits the names of a flag with a regular expression each time it looks
// a flag up, and compares all flags of the command. With fifty flags that took a fifth
// of a whole prepare. These flags keep their names; otherwise they are the library's.
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

// knowNames returns the flags as flags that keep their names.
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
