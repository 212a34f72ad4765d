package shop

import (
	"slices"
	"strings"
	"testing"
)

// example is a shop file in which one entry of the table has a value, and whatever else
// its table requires has its example.
func example(g group, set entry, value string) string {
	var b strings.Builder
	switch {
	case g.row:
		b.WriteString("[[" + g.name + "]]\n")
	case g.name != "":
		b.WriteString("[" + g.name + "]\n")
	}
	for _, e := range g.entries {
		if e.key == set.key {
			b.WriteString(e.key + " = " + value + "\n")
		} else if e.unset == required {
			b.WriteString(e.key + " = " + e.example + "\n")
		}
	}
	return b.String()
}

// path is the name of a setting: "balance.readability".
func path(g group, e entry) string { return strings.TrimPrefix(g.name+"."+e.key, ".") }

// Every entry of the table reads its example, has its place in the template, and is
// printed with the value and the line of the file.
func TestEveryEntryIsReadAndPrinted(t *testing.T) {
	template := string(Template())
	for _, g := range groups(&Shop{}) {
		for _, e := range g.entries {
			name := path(g, e)
			text := example(g, e, e.example)
			s, findings := decode("shop.toml", []byte(text))
			if len(findings) > 0 {
				t.Errorf("%s: %s\n%s", name, text, strings.Join(findings[0].Lines(), "\n"))
				continue
			}
			set := slices.DeleteFunc(s.Settings(), func(one Setting) bool { return !strings.HasPrefix(one.From, "shop.toml:") })
			if len(set) != 1 {
				t.Errorf("%s: %d settings are printed as set: %v", name, len(set), set)
				continue
			}
			one, written := set[0], strings.Trim(e.example, `"`)
			switch {
			case !g.row && one.Key != name, g.row && !strings.HasPrefix(one.Key, g.name+" "):
				t.Errorf("%s is printed as %s", name, one.Key)
			case strings.ContainsAny(written, "[{"): // a list or table
			case g.row && (written == "true" || written == "false"):
				if strings.Contains(one.Value, strings.ReplaceAll(e.key, "_", " ")) != (written == "true") {
					t.Errorf("%s = %s is printed as %q", name, written, one.Value)
				}
			case !strings.Contains(one.Key+" "+one.Value, written):
				t.Errorf("%s = %s is printed as %q", name, written, one)
			}
			if !slices.ContainsFunc(strings.Split(template, "\n"), func(line string) bool {
				fields := strings.Fields(line)
				return len(fields) > 2 && fields[0] == "#"+e.key && strings.Contains(line, "= "+e.example) && strings.HasSuffix(line, e.help)
			}) {
				t.Errorf("%s is not in the template", name)
			}
		}
	}
}

// Every entry refuses values of the wrong sort, each at its own place with a cure.
func TestEveryEntryRefusesBadValues(t *testing.T) {
	for _, g := range groups(&Shop{}) {
		for _, e := range g.entries {
			for _, bad := range []string{"[[1]]", "2025-01-01", "-1", "1.5e999", "0x1p4", "inf", "0x10", "1_0", "1e1", `"FILL IN"`, `""`, `"\u001b"`, `"1_000 g"`, `"0x1p4 C"`, `"1e3 mL"`, `"inf %"`, `"nan min"`, `"-5 kg"`} {
				if e.example[0] == '"' && bad[0] == '"' && strings.ContainsAny(bad, "_xeian5") && plainText(g, e) {
					continue // any words will do
				}
				text := example(g, e, bad)
				_, findings := decode("shop.toml", []byte(text))
				if len(findings) == 0 {
					t.Errorf("%s = %s passes", path(g, e), bad)
					continue
				}
				line := slices.IndexFunc(strings.Split(text, "\n"), func(l string) bool { return strings.HasPrefix(l, e.key+" = ") }) + 1
				for _, f := range findings {
					if f.Line != line || f.Cure == "" || f.What == "" {
						t.Errorf("%s = %s: %s", path(g, e), bad, strings.Join(f.Lines(), "\n"))
					}
				}
			}
		}
	}
}

// plainText reports whether an entry takes any words: it reads two that mean nothing.
func plainText(g group, e entry) bool {
	_, findings := decode("shop.toml", []byte(example(g, e, `"zzq qqz"`)))
	return len(findings) == 0
}

// Every entry whose table requires it reports that it is missing.
func TestEveryRequiredEntryIsAskedFor(t *testing.T) {
	n := 0
	for _, g := range groups(&Shop{}) {
		for _, e := range g.entries {
			if e.unset != required {
				continue
			}
			n++
			lines := slices.DeleteFunc(strings.Split(example(g, e, e.example), "\n"), func(l string) bool { return strings.HasPrefix(l, e.key+" = ") })
			_, findings := decode("shop.toml", []byte(strings.Join(lines, "\n")))
			if len(findings) != 1 || !strings.Contains(findings[0].What, "has no "+e.key) || findings[0].Cure != "write "+e.key+" = "+e.example {
				t.Errorf("%s: %v", path(g, e), findings)
			}
		}
	}
	if n == 0 {
		t.Error("no entry is required")
	}
}
