package label

import (
	"slices"
	"strings"

	"hepar/recipe/reagent"
)

// danger is what the contents of one container show together.
type danger struct {
	codes   []string
	symbols []Symbol
	signal  string   // capitals; empty where there is none
	unknown []string // names of contents, or codes, that are not known
	more    []string // family codes that your own SDS does not give
	own     bool     // every code is from your own SDS
	seen    bool     // every family default was read in its source
}

// dangers sums up the contents. Codes that say less of the same thing are left out.
func dangers(contents []Content) danger {
	d := danger{own: true, seen: true}
	var all []string
	for _, c := range contents {
		codes, signal := c.Codes, c.Signal
		switch {
		case len(codes) > 0:
			for _, code := range c.defaults() {
				if c.known && !slices.Contains(codes, code) {
					d.more = append(d.more, code)
				}
			}
			if signal == "" {
				signal = SignalFor(codes)
			}
		default:
			d.own = false
			codes = c.defaults()
			if signal == "" && c.known {
				signal = c.sub.Signal
			}
			d.seen = d.seen && c.known && c.sub.Evidence == reagent.Opened
			if !c.known {
				d.unknown, signal = append(d.unknown, c.Name), "Danger"
			}
		}
		all = append(all, codes...)
		if signal == "Danger" || d.signal == "" {
			d.signal = strings.ToUpper(signal)
		}
	}
	all = unique(all)
	var codes []string
	d.symbols, codes = SymbolsFor(all)
	d.unknown = unique(append(d.unknown, codes...))
	if len(codes) > 0 {
		d.signal = "DANGER"
	}
	d.codes = spare(all)
	d.more = unique(d.more)
	return d
}

// spare leaves out codes that say less than another one there. Source: CLP Article 27
// (no evident repetition), from memory.
func spare(codes []string) []string {
	has := func(any ...string) bool {
		return slices.ContainsFunc(codes, func(c string) bool { return slices.Contains(any, codeOf(c)) })
	}
	var out []string
	for _, code := range codes {
		var less bool
		switch codeOf(code) {
		case "H315", "H318":
			less = has("H314")
		case "H319":
			less = has("H314", "H318")
		case "H301":
			less = has("H300")
		case "H302":
			less = has("H300", "H301")
		case "H311":
			less = has("H310")
		case "H312":
			less = has("H310", "H311")
		case "H331":
			less = has("H330")
		case "H332":
			less = has("H330", "H331")
		case "H335":
			less = has("EUH071")
		case "H373":
			less = has("H372")
		case "H400":
			less = has("H410")
		case "H411":
			less = has("H400", "H410")
		case "H412":
			less = has("H400", "H410", "H411")
		case "EUH031":
			less = has("EUH032")
		}
		if !less {
			out = append(out, code)
		}
	}
	return out
}

// full gives the statements, one after the other.
func (d danger) full() []span { return d.say(statement, ". ") }

// brief gives the same in few words.
func (d danger) brief() []span { return d.say(shortWords, "; ") }

func (d danger) say(how func(string) string, between string) []span {
	var parts []string
	for _, code := range d.codes {
		parts = append(parts, how(code))
	}
	parts = unique(parts)
	if len(parts) == 0 {
		return nil
	}
	return []span{plainly(upper(strings.Join(parts, between)) + ".")}
}

// origin says where the codes come from and who decides, in full or in few words. It is
// never left out.
func (d danger) origin(brief bool) []span {
	var out []span
	if len(d.unknown) > 0 {
		out = append(out, boldly(upper(join(d.unknown))+": "+Unknown+"."))
	}
	if len(d.codes) == 0 && len(d.unknown) == 0 {
		out = append(out, plainly("No code in the family default, which is no reason to skip the SDS."))
	}
	switch {
	case brief && !d.own:
		out = append(out, plainly("Family default:"), boldly("codes from your own SDS."))
	case d.own:
		out = append(out, plainly("Codes as entered from your own SDS."))
	case d.seen:
		out = append(out, plainly("Family default:"), boldly("take the codes from your own SDS."))
	default:
		out = append(out, plainly("Family default, not verified:"), boldly("take the codes from your own SDS."))
	}
	if len(d.more) > 0 {
		out = append(out, boldly("The family also has "+join(d.more)+": check your SDS."))
	}
	return out
}
