package recipe

import (
	"strings"
	"testing"

	"hepar/recipe/strict"
)

// pad repeats a piece of text up to just under the size limit.
func pad(head, piece, tail string) string {
	return head + strings.Repeat(piece, (strict.MaxSize-len(head)-len(tail))/len(piece)) + tail
}

func hostileFiles() map[string]string {
	return map[string]string{
		"a million bytes of [[step]]":     pad("", "[[step]]\n", ""),
		"steps after a good recipe":       pad(good, "[[step]]\ndo = \"dry\"\n", ""),
		"reagents after a good recipe":    pad(good, "[[bath.reagent]]\n", ""),
		"nested lists":                    "x = " + strings.Repeat("[", strict.MaxSize/2-10) + strings.Repeat("]", strict.MaxSize/2-10),
		"open lists":                      pad("x = ", "[", ""),
		"nested tables":                   "x = " + strings.Repeat("{a=", strict.MaxSize/4-10) + "1" + strings.Repeat("}", strict.MaxSize/4-10),
		"open tables":                     pad("x = ", "{a=", ""),
		"a long dotted key":               pad("a", ".a", " = 1"),
		"a long dotted header":            pad("[a", ".a", "]"),
		"a long list":                     pad("alloys = [", "1,", "]"),
		"a long list in a good recipe":    strings.Replace(good, "[hazards]", pad("[hazards]\nx = [", "[],", "]")[:strict.MaxSize-2*len(good)]+"]", 1),
		"many keys":                       manyKeys(),
		"one long line":                   pad("title = \"", "x", "\""),
		"many findings on one line":       pad("[bath]\nreagent = [", "{},", "]"),
		"many comments":                   pad("", "#\n", ""),
		"line ends":                       pad("", "\n", ""),
		"blanks before headers":           pad("", " ", "[x]"),
		"a long key":                      pad("", "k", " = 1"),
		"many dotted keys of one table":   pad("", "a.b.c.d.e.f = 1\n", ""),
		"inline table with many keys":     "x = {" + strings.ReplaceAll(strings.TrimSuffix(manyKeys(), "\n"), "\n", ",")[:strict.MaxSize-100] + "}",
		"17 levels":                       "x = " + strings.Repeat("[", 17) + strings.Repeat("]", 17),
		"17 levels of dots":               "a" + strings.Repeat(".a", 17) + " = 1",
		"17 levels of dots in a header":   "[a" + strings.Repeat(".a", 17) + "]",
		"17 levels shared":                "a.a.a.a.a.a.a.a = {a.a.a.a.a = [[[[[1]]]]]}",
		"tables in lists in tables":       strings.Repeat("x = [{", 1) + strings.Repeat("y=[{", 9) + strings.Repeat("}]", 10),
		"a table where a list was":        "[[a]]\n[a]\n",
		"a list where a table was":        "[a]\n[[a]]\n",
		"a static list as table":          "a = [1]\n[[a]]\n",
		"keys through a list":             "a = [{}]\na.b = 1\n",
		"keys through text":               "a = \"x\"\na.b = 1\n",
		"keys through an inline table":    "a = {}\na.b = 1\n",
		"a table into an inline table":    "a = {b = 1}\n[a.c]\n",
		"NUL":                             good + "\x00",
		"NUL at the start":                "\x00" + good,
		"not UTF-8":                       strings.Replace(good, "even grey", "even gr\xffy", 1),
		"UTF-16":                          "\xff\xfet\x00i\x00",
		"UTF-16 the other way":            "\xfe\xff\x00t",
		"byte order mark":                 "\xef\xbb\xbf" + good,
		"a picture":                       "\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR",
		"a lone carriage return":          strings.Replace(good, "revision = 3\n", "revision = 3\r", 1),
		"a control character":             strings.Replace(good, "even grey", "even\x01grey", 1),
		"a control character in comments": "# \x01\n" + good,
		"no line end in text":             "title = \"x",
		"empty":                           "",
		"only a key":                      "title",
		"only an equals sign":             "=",
		"brackets":                        "[[[",
		"empty header":                    "[]",
		"empty key":                       "\"\" = 1\n" + good,
		"surrogate":                       "title = \"\\ud800\"",
		"too large":                       pad("", "#\n", "") + "####",
	}
}

func manyKeys() string {
	var b strings.Builder
	for i := 0; b.Len() < strict.MaxSize-20; i++ {
		for n := i + 1; n > 0; n /= 26 {
			b.WriteByte(byte('a' + n%26))
		}
		b.WriteString("_=1\n")
	}
	return b.String()
}

// Nothing that is no recipe passes, panics, or gives findings without end. Were
// any of the steps quadratic, the larger of these files would take hours.
func TestHostileFiles(t *testing.T) {
	for name, text := range hostileFiles() {
		t.Run(name, func(t *testing.T) {
			r, findings := Decode("x.toml", []byte(text))
			if r != nil {
				t.Fatal("passed")
			}
			if len(findings) == 0 || len(findings) > strict.MaxFindings+2 {
				t.Fatalf("%d findings", len(findings))
			}
			for _, f := range findings {
				if f.What == "" || f.Cure == "" || len(f.Text) > 300 || len(f.What) > 600 || len(f.Cure) > 1500 {
					t.Fatalf("a poor finding: %+v", f)
				}
				if strings.HasPrefix(f.What, "could not be read") {
					t.Fatalf("a panic was caught: %s", f.What)
				}
			}
		})
	}
}

func TestTooDeepIsSaid(t *testing.T) {
	files := hostileFiles()
	for _, name := range []string{"nested tables", "a long dotted key", "a long dotted header", "17 levels", "17 levels of dots",
		"17 levels of dots in a header", "17 levels shared"} {
		_, findings := Decode("x.toml", []byte(files[name]))
		if len(findings) != 1 || findings[0].Line != 1 {
			t.Errorf("%s: %v", name, findings)
		}
	}
	_, findings := Decode("x.toml", []byte(files["17 levels"]))
	if !strings.Contains(findings[0].What, "too deeply") {
		t.Errorf("%v", findings)
	}
}

func TestNotTextIsSaidAtItsPlace(t *testing.T) {
	files := hostileFiles()
	for name, want := range map[string]string{
		"NUL": "x.toml:84:1: this is not a text file", "not UTF-8": "x.toml:5:20: this is not UTF-8",
		"UTF-16": "x.toml: the file is saved as UTF-16", "byte order mark": "x.toml: the file begins with a byte order mark",
	} {
		_, findings := Decode("x.toml", []byte(files[name]))
		if len(findings) != 1 || !strings.HasPrefix(findings[0].Lines()[0], want) {
			t.Errorf("%s: %+v, wanted %q", name, findings, want)
		}
	}
}
