// Package tablet serves the run of a batch to a tablet propped by the bath: the batches, the
// review as a checklist, the sheet, and the run with one large button, load by load.
//
// [New] returns the handler; package main listens. The page (page.html, app.js, app.css)
// loads nothing from outside. What happens at the bench is an entry of package run: entries
// wait in the page while the connection is down; the journal takes the key of each once.
//
// Every request is checked for its Host, every change for its Origin; bodies and times are
// bounded; a picture is decoded and written anew. On another address than the loopback a
// one-time code pairs a tablet.
package tablet

import (
	"bytes"
	"cmp"
	"crypto/rand"
	"crypto/subtle"
	"embed"
	"encoding/json"
	"errors"
	"html/template"
	"io"
	"net/http"
	"slices"
	"strings"
	"sync"
	"time"

	"hepar/cmd/hepar/bench"
	"hepar/journal"
	"hepar/recipe/bath/page"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/safety"
)

//go:embed page.html app.js app.css
var files embed.FS

// pages are the templates of page.html: "list", "run", "review" and "pair".
var pages = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("").Funcs(template.FuncMap{"clean": clean}).ParseFS(files, "page.html"))
})

// Bounds of a request.
const (
	mostJSON  = 64 << 10
	mostPhoto = 16 << 20
)

// Options say what is served and to whom.
type Options struct {
	Journal *journal.Journal
	Hosts   []string                 // that a request may name: "127.0.0.1:8017"
	Full    func(name string) string // the whole name of somebody at the bench
	Code    string                   // that pairs a tablet, once; empty on the loopback
	Photos  string                   // folder for pictures
	Now     func() time.Time
	Open    func(ref string) *bench.Bench        // the run of a batch, reviewed or not; see [fault.Check]
	Subject func(b journal.Batch) safety.Subject // what a review of it looks at; likewise
	Waste   func(ref string, w journal.Waste)    // writes it down; likewise
}

// server is the handler with what it remembers: the paired tablet, and wrong codes.
type server struct {
	Options
	mux *http.ServeMux

	mu    sync.Mutex
	token string      // of the tablet that gave the code; empty until one did
	wrong []time.Time // codes
}

// New returns the handler of the page.
func New(o Options) http.Handler {
	s := &server{Options: o, mux: http.NewServeMux()}
	static := http.FileServerFS(files).ServeHTTP
	runPage := func(w http.ResponseWriter, _ *http.Request, b *bench.Bench) any { return s.show(w, "run", b) }
	state := func(_ http.ResponseWriter, _ *http.Request, b *bench.Bench) any { return stateOf(b) }
	for path, act := range map[string]http.HandlerFunc{
		"GET /{$}":                   s.list,
		"GET /pair":                  func(w http.ResponseWriter, r *http.Request) { s.pairPage(w, http.StatusOK, r.FormValue("code"), "") },
		"POST /pair":                 s.pair,
		"GET /app.js":                static,
		"GET /app.css":               static,
		"GET /batch/{batch}":         s.on(runPage),
		"GET /batch/{batch}/state":   s.on(state),
		"GET /batch/{batch}/sheet":   s.on(s.sheet),
		"GET /batch/{batch}/review":  s.on(s.reviewPage),
		"POST /batch/{batch}/review": s.on(s.review),
		"POST /batch/{batch}/entry":  s.on(s.entry),
		"POST /batch/{batch}/result": s.on(s.result),
		"POST /batch/{batch}/photo":  s.on(s.photo),
		"POST /batch/{batch}/waste":  s.on(s.waste),
	} {
		s.mux.HandleFunc(path, act)
	}
	return s
}

// policy is the content policy of our own pages.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'"

// ServeHTTP checks where a request comes from before anything looks at it.
func (s *server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Content-Security-Policy", policy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "same-origin") // without one, a browser hides the origin of a form
	h.Set("Cache-Control", "no-store")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	isRead := r.Method == http.MethodGet || r.Method == http.MethodHead
	switch open := r.URL.Path == "/pair" || r.URL.Path == "/app.css"; {
	case !slices.Contains(s.Hosts, r.Host):
		http.Error(w, "this page is not served under that name", http.StatusMisdirectedRequest)
	case !isRead && r.Header.Get("Origin") != "http://"+r.Host:
		http.Error(w, "a change must come from the page itself", http.StatusForbidden)
	case !slices.Contains([]string{"", "same-origin", "none"}, r.Header.Get("Sec-Fetch-Site")):
		http.Error(w, "the request comes from another site", http.StatusForbidden)
	case s.Code == "" || open || s.known(r):
		defer func() {
			if recover() != nil {
				http.Error(w, "a fault inside hepar", http.StatusInternalServerError)
			}
		}()
		s.mux.ServeHTTP(w, r)
	case r.Method == http.MethodGet && (r.URL.Path == "/" || strings.Contains(r.Header.Get("Accept"), "text/html")):
		http.Redirect(w, r, "/pair", http.StatusSeeOther)
	default:
		http.Error(w, "this tablet is not paired", http.StatusUnauthorized)
	}
}

const cookieName = "hepar"

func (s *server) known(r *http.Request) bool {
	c, err := r.Cookie(cookieName)
	s.mu.Lock()
	defer s.mu.Unlock()
	return err == nil && s.token != "" && subtle.ConstantTimeCompare([]byte(c.Value), []byte(s.token)) == 1
}

// mostWrong is how many wrong codes a minute takes; ten times as many end the pairing.
const mostWrong = 5

// pair takes the code, once, and gives the tablet a cookie. Guesses are few.
func (s *server) pair(w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, 1<<10)
	if err := r.ParseForm(); err != nil {
		http.Error(w, "the form cannot be read", http.StatusBadRequest)
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	recent := slices.DeleteFunc(slices.Clone(s.wrong), func(t time.Time) bool { return s.Now().Sub(t) > time.Minute })
	if len(recent) >= mostWrong || len(s.wrong) >= 10*mostWrong {
		s.pairPage(w, http.StatusTooManyRequests, "", "Too many wrong codes: wait a minute, or start hepar bench again.")
		return
	}
	given := strings.ToUpper(strings.NewReplacer("-", "", " ", "").Replace(r.PostForm.Get("code")))
	if s.token != "" || s.Code == "" || subtle.ConstantTimeCompare([]byte(given), []byte(s.Code)) != 1 {
		s.wrong = append(s.wrong, s.Now())
		s.pairPage(w, http.StatusForbidden, "", "The code is wrong or already used. For a new one, start hepar bench again.")
		return
	}
	s.token = rand.Text()
	http.SetCookie(w, &http.Cookie{Name: cookieName, Value: s.token, Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode, MaxAge: 12 * 3600})
	http.Redirect(w, r, "/", http.StatusSeeOther)
}

func (s *server) pairPage(w http.ResponseWriter, status int, code, wrong string) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	s.show(w, "pair", map[string]string{"Code": code, "Wrong": wrong})
}

// show fills a page, which is all of the answer.
func (s *server) show(w http.ResponseWriter, name string, data any) any {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_ = pages().ExecuteTemplate(w, name, data)
	return nil
}

func (s *server) list(w http.ResponseWriter, _ *http.Request) {
	var open []journal.Batch
	for b, err := range s.Journal.List(journal.Filter{Limit: 200}) {
		if err != nil && !errors.Is(err, journal.ErrNone) {
			fail(w, err)
			return
		}
		left := b.State == journal.Logged && len(b.Waste) == 0 && b.Dip != nil && b.Logged.Day() == journal.StampOf(s.Now()).Day()
		if (b.State != journal.Logged || left) && b.State != journal.Withdrawn && b.SheetSHA != nil {
			open = append(open, b)
		}
	}
	s.show(w, "list", open)
}

// on answers for the run of the batch that the path names: with JSON, with an error, or, where
// act returns nil, with what it has written itself.
func (s *server) on(act func(http.ResponseWriter, *http.Request, *bench.Bench) any) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		var out any
		err := fault.Caught(func() { out = act(w, r, s.Open(r.PathValue("batch"))) })
		if wrong, is := out.(error); is {
			err = wrong
		}
		if err != nil {
			fail(w, err)
		} else if out != nil {
			answer(w, http.StatusOK, out)
		}
	}
}

func (s *server) sheet(w http.ResponseWriter, _ *http.Request, b *bench.Bench) any {
	out := fault.Must(page.Sheet(b.Sheet, b.Recipe, page.Options{Number: b.Batch.Number, Order: b.Batch.Order, Date: b.Batch.Created.Time().Format("2 January 2006"), Mixed: b.Run.MixedAt(), Units: b.Units}))
	w.Header().Set("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; img-src data:; frame-ancestors 'none'; base-uri 'none'")
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	back := `<body><p class="back"><a href="/batch/` + b.Batch.Number + `">Back to the run</a></p><style>.back{font:22px sans-serif;margin:0;padding:12px 4mm}@media print{.back{display:none}}</style>`
	_, _ = w.Write(bytes.Replace(out, []byte("<body>"), []byte(back), 1))
	return nil
}

// fail answers with what is wrong and what to do, and the status of its kind.
func fail(w http.ResponseWriter, err error) {
	status := map[fault.Kind]int{fault.Usage: http.StatusBadRequest, fault.Safety: http.StatusForbidden, fault.Busy: http.StatusServiceUnavailable}[fault.KindOf(err)]
	do := clean(fault.CureOf(err))
	if strings.Contains(do, "--") {
		do = "at the computer: " + do
	}
	answer(w, cmp.Or(status, http.StatusInternalServerError), map[string]string{"error": clean(err.Error()), "do": do})
}

func clean(text string) string { return measure.Clean(strings.Join(strings.Fields(text), " ")) }

// answer writes JSON and returns nil, for [server.on].
func answer(w http.ResponseWriter, status int, v any) any {
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	_ = json.NewEncoder(w).Encode(v)
	return nil
}

// read decodes the JSON of a request strictly.
func read[T any](w http.ResponseWriter, r *http.Request) (to T) {
	dec := json.NewDecoder(http.MaxBytesReader(w, r.Body, mostJSON))
	dec.DisallowUnknownFields()
	err := dec.Decode(&to)
	if _, more := dec.Token(); err != nil || !errors.Is(more, io.EOF) || r.Header.Get("Content-Type") != "application/json" {
		fault.Check(fault.Usagef("the request cannot be read").Try("use the page"))
	}
	return to
}
