package tablet

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"hash/crc32"
	"image"
	"image/jpeg"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"hepar/cmd/hepar/bench"
	"hepar/journal"
	"hepar/journal/journaltest"
	"hepar/recipe"
	"hepar/recipe/bath"
	"hepar/recipe/bath/job"
	"hepar/recipe/bath/plan"
	"hepar/recipe/fault"
	"hepar/recipe/metal"
	"hepar/recipe/run"
	"hepar/recipe/safety"
	workshop "hepar/recipe/shop"
	"hepar/recipes"
)

// shop is a workshop with one planned batch of three loads, and its page.
type shop struct {
	t       testing.TB
	journal *journal.Journal
	server  *httptest.Server
	host    string
	number  string
	photos  string
	sheet   *bath.Sheet
	down    atomic.Bool // the connection is cut
	lag     atomic.Bool // answers are late, and later than those that were asked for after them
	subject func() safety.Subject
	restart func(code string) // hepar bench is started again
}

func newShop(t testing.TB, code string) *shop { return shopOf(t, code, 12) }

// shopOf has a batch of so many tokens, four to a load.
func shopOf(t testing.TB, code string, pieces int) *shop {
	t.Helper()
	library, _, err := recipe.Load(recipes.FS, "")
	if err != nil {
		t.Fatal(err)
	}
	r, err := library.Get("silver-black")
	if err != nil {
		t.Fatal(err)
	}
	alloy, err := metal.Find("sterling")
	if err != nil {
		t.Fatal(err)
	}
	piece, err := metal.New("disc", alloy, metal.Dimensions{Diameter: 24, Thickness: 1.6})
	if err != nil {
		t.Fatal(err)
	}
	sheet, err := bath.Prepare(bath.Order{Recipe: r, Asked: plan.Asked{Kinds: []job.Kind{{Piece: piece, Pieces: pieces}}, PerLoad: 4, Volume: 1, Start: 82}, Shop: bath.DefaultShop()})
	if err != nil {
		t.Fatal(err)
	}
	frozen, err := json.Marshal(sheet)
	if err != nil {
		t.Fatal(err)
	}
	j := journaltest.Open(t, filepath.Join(t.TempDir(), "journal.db"), journal.Options{By: "Ilse Tamm"})
	b, err := j.Create(journal.Plan{Recipe: journal.Recipe{Slug: r.Slug, Title: `Blue-black <script>alert(1)</script>`, Kind: string(r.Kind), Digest: r.Digest, Text: r.Text},
		Alloy: "sterling-925", Shape: "disc", Pieces: pieces, Order: `"><img src=x onerror=alert(1)>`}, frozen)
	if err != nil {
		t.Fatal(err)
	}
	s := &shop{t: t, journal: j, number: b.Number, photos: filepath.Join(t.TempDir(), "photos"), sheet: sheet}
	o := Options{Journal: j, Code: code, Photos: s.photos, Now: time.Now, Full: workshop.Shop{People: []string{"Ilse Tamm", "Marek Oja"}}.Full,
		Open: func(ref string) *bench.Bench {
			b := &bench.Bench{Journal: j, Now: time.Now, Recipe: r, Sheet: sheet}
			b.Take(fault.Must(j.Get(ref)))
			return b
		},
		Subject: func(journal.Batch) safety.Subject { return s.subject() },
		Waste:   func(ref string, w journal.Waste) { fault.Must(j.AddWaste(ref, w)) },
	}
	s.subject = func() safety.Subject { return safety.Subject{Recipe: r, Alloy: &alloy} }
	s.server = httptest.NewUnstartedServer(nil)
	s.host = s.server.Listener.Addr().String()
	o.Hosts = []string{s.host}
	var handler atomic.Pointer[http.Handler]
	s.restart = func(code string) {
		o.Code = code
		handler.Store(new(New(o)))
	}
	s.restart(code)
	s.server.Config.Handler = http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if s.down.Load() {
			if conn, _, err := w.(http.Hijacker).Hijack(); err == nil {
				conn.Close()
			}
			return
		}
		if s.lag.Load() {
			w = late{w, map[bool]time.Duration{true: 900 * time.Millisecond, false: 300 * time.Millisecond}[strings.HasSuffix(r.URL.Path, "/state")]}
		}
		(*handler.Load()).ServeHTTP(w, r)
	})
	s.server.Config.ReadHeaderTimeout, s.server.Config.ReadTimeout = time.Second, 3*time.Second
	s.server.Start()
	t.Cleanup(s.server.Close)
	return s
}

// late holds back an answer that is made already.
type late struct {
	http.ResponseWriter
	by time.Duration
}

func (l late) WriteHeader(status int) {
	time.Sleep(l.by)
	l.ResponseWriter.WriteHeader(status)
}

// ask sends a request as the page would, changed by change.
func (s *shop) ask(method, path, body string, change func(*http.Request)) (int, string) {
	s.t.Helper()
	r, err := http.NewRequest(method, s.server.URL+path, strings.NewReader(body))
	if err != nil {
		s.t.Fatal(err)
	}
	if method == http.MethodPost {
		r.Header.Set("Origin", "http://"+s.host)
		r.Header.Set("Content-Type", "application/json")
	}
	if change != nil {
		change(r)
	}
	client := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }, Timeout: 10 * time.Second}
	answer, err := client.Do(r)
	if err != nil {
		return 0, err.Error()
	}
	defer answer.Body.Close()
	text, _ := io.ReadAll(answer.Body)
	return answer.StatusCode, string(text)
}

func (s *shop) path(end string) string { return "/batch/" + s.number + end }

// post sends JSON and decodes the state that comes back.
func (s *shop) post(path string, v any) (int, state) {
	s.t.Helper()
	body, err := json.Marshal(v)
	if err != nil {
		s.t.Fatal(err)
	}
	status, text := s.ask("POST", s.path(path), string(body), nil)
	var out state
	if status == http.StatusOK {
		if err := json.Unmarshal([]byte(text), &out); err != nil {
			s.t.Fatalf("%s: %v", text, err)
		}
	}
	return status, out
}

func (s *shop) review() {
	s.t.Helper()
	in := confirmed{By: "Ilse Tamm", Yes: []string{"enemy", "wear", "eye-wash", "fire"}, Answers: map[string]string{"ph": "10.5", "capture": "hood", "meter": "5", "second": "Marek Oja", "sds": "2025-04-30"}}
	if status, _ := s.post("/review", in); status != http.StatusOK {
		s.t.Fatalf("the review is refused: %d", status)
	}
}

var keys int

func entryOf(do string, e run.Entry) sent {
	keys++
	e.Key, e.Do = fmt.Sprintf("page-%08d", keys), do
	return sent{Entry: e, By: "Ilse Tamm"}
}

// TestWholeJobOverHTTP: review, mixing, temperature, three loads, result, photograph.
func TestWholeJobOverHTTP(t *testing.T) {
	s := newShop(t, "")
	if status, _ := s.post("/entry", entryOf(run.Mixed, run.Entry{})); status != http.StatusForbidden {
		t.Errorf("without a review: %d", status)
	}
	for name, in := range map[string]confirmed{
		"nobody":         {Yes: []string{"enemy", "wear", "eye-wash", "fire"}, Answers: map[string]string{"ph": "10.5", "capture": "hood", "meter": "5", "second": "Marek", "sds": "2025-04-30"}},
		"alone":          {By: "marek", Yes: []string{"enemy", "wear", "eye-wash", "fire"}, Answers: map[string]string{"ph": "10.5", "capture": "hood", "meter": "5", "second": "Marek", "sds": "2025-04-30"}},
		"a word":         {By: "y", Yes: []string{"enemy", "wear", "eye-wash", "fire"}, Answers: map[string]string{"ph": "10.5", "capture": "hood", "meter": "5", "second": "Marek", "sds": "2025-04-30"}},
		"nearly alone":   {By: "Marek Oia", Yes: []string{"enemy", "wear", "eye-wash", "fire"}, Answers: map[string]string{"ph": "10.5", "capture": "hood", "meter": "5", "second": "Marek", "sds": "2025-04-30"}},
		"not ticked":     {By: "Ilse", Yes: []string{"enemy"}, Answers: map[string]string{"ph": "10.5", "capture": "hood", "meter": "5", "second": "Marek", "sds": "2025-04-30"}},
		"no pH":          {By: "Ilse", Yes: []string{"enemy", "wear", "eye-wash", "fire"}, Answers: map[string]string{"capture": "hood", "meter": "5", "second": "Marek", "sds": "2025-04-30"}},
		"a pH of 3":      {By: "Ilse", Yes: []string{"enemy", "wear", "eye-wash", "fire"}, Answers: map[string]string{"ph": "3", "capture": "hood", "meter": "5", "second": "Marek", "sds": "2025-04-30"}},
		"without a hood": {By: "Ilse", Yes: []string{"enemy", "wear", "eye-wash", "fire"}, Answers: map[string]string{"ph": "10.5", "capture": "none", "meter": "5", "second": "Marek", "sds": "2025-04-30"}},
	} {
		if status, _ := s.post("/review", in); status == http.StatusOK {
			t.Errorf("%s: the review passes", name)
		}
	}
	old := confirmed{By: "Ilse Tamm", Yes: []string{"enemy", "wear", "eye-wash", "fire"}, Answers: map[string]string{"ph": "10.5", "capture": "hood", "meter": "5", "second": "Marek Oja", "sds": "1991-02-03"}}
	body, _ := json.Marshal(old)
	if _, text := s.ask("POST", s.path("/review"), string(body), nil); !strings.Contains(text, "1991-02-03 is more than 3 years old") {
		t.Errorf("an old data sheet: %s", text)
	}
	s.review()
	takenOver := entryOf(run.Mixed, run.Entry{})
	takenOver.By = "marek"
	if _, st := s.post("/entry", takenOver); !strings.Contains(strings.Join(st.Stand, " "), "Ilse Tamm stays within call") {
		t.Errorf("the second person takes over: %q", strings.Join(st.Stand, " "))
	}
	s.post("/entry", entryOf(run.Undone, run.Entry{Undoes: takenOver.Entry.Key}))
	_, st := s.post("/entry", entryOf(run.Mixed, run.Entry{}))
	if st.Do != run.Read {
		t.Fatalf("after mixing: %s", st.Do)
	}
	in := entryOf(run.Read, run.Entry{})
	in.Degrees = "81,5"
	if _, st = s.post("/entry", in); st.Do != run.Dip || st.Load != 1 || st.Time < 3 {
		t.Fatalf("after reading: %+v", st)
	}
	for st.Do == run.Dip {
		if len(st.Ahead) == 0 || st.Ahead[0].Load != st.Load {
			t.Errorf("ahead of load %d: %+v", st.Load, st.Ahead)
		}
		load, pieces := st.Load, st.Pieces
		first := entryOf(run.In, run.Entry{Load: load, Pieces: pieces})
		for range 3 { // sent again by a page that heard no answer
			_, st = s.post("/entry", first)
		}
		if st.OpenMS == 0 {
			t.Errorf("load %d is not in", load)
		}
		out := entryOf(run.Out, run.Entry{Load: load, Pieces: pieces})
		out.AtMS, out.NowMS = 1_000_000, 1_004_000 // four seconds ago
		_, st = s.post("/entry", out)
	}
	if st.Do != run.Result || st.Pieces != 12 || len(st.Causes) == 0 {
		t.Fatalf("at the end: %+v", st)
	}
	var picture bytes.Buffer
	if err := jpeg.Encode(&picture, image.NewGray(image.Rect(0, 0, 60, 40)), nil); err != nil {
		t.Fatal(err)
	}
	withMark := append(append([]byte{0xff, 0xd8, 0xff, 0xe1, 0, 14}, "Exif\x00\x00GPS-52N"[:12]...), picture.Bytes()[2:]...)
	if status, text := s.ask("POST", s.path("/photo"), string(withMark), nil); status != http.StatusOK {
		t.Errorf("the photograph: %d %s", status, text)
	}
	kept, _ := filepath.Glob(s.photos + "/*.jpg")
	if len(kept) != 1 {
		t.Fatalf("%d photographs are kept", len(kept))
	}
	if data, _ := os.ReadFile(kept[0]); bytes.Contains(data, []byte("GPS")) {
		t.Error("what the camera put beside the picture is kept")
	}
	status, st := s.post("/result", map[string]any{"by": "Ilse Tamm", "good": 11, "rework": 1, "causes": map[string]int{"spots": 1, "patchy": 0}})
	if status != http.StatusOK || st.Logged == "" {
		t.Errorf("the result: %d %+v", status, st)
	}
	b, err := s.journal.Get(s.number)
	if err != nil || b.State != journal.Logged || len(b.Dip.Loads) != 3 || b.Causes["spots"] != 1 || len(b.Photos) != 1 {
		t.Errorf("the journal has %+v (%v)", b, err)
	}
}

// TestTwoHands: two tablets and a terminal write down the same loads at once; each load is
// there once, and each sees what the others did.
func TestTwoHands(t *testing.T) {
	s := newShop(t, "")
	s.review()
	s.post("/entry", entryOf(run.Mixed, run.Entry{}))
	if status, _ := s.post("/entry", entryOf(run.Out, run.Entry{Load: 1, Pieces: 4})); status != http.StatusBadRequest {
		t.Errorf("a load that is not in came out: %d", status)
	}
	for load := 1; load <= 3; load++ {
		s.post("/entry", entryOf(run.In, run.Entry{Load: load, Pieces: 4}))
		if status, _ := s.post("/entry", entryOf(run.Out, run.Entry{Load: load + 1, Pieces: 4})); status != http.StatusBadRequest {
			t.Errorf("load %d came out while load %d is in: %d", load+1, load, status)
		}
		var hands sync.WaitGroup
		taken := make(chan bool, 3)
		for hand := range 3 {
			e := entryOf(run.Out, run.Entry{Load: load, Pieces: 4})
			hands.Go(func() {
				if hand == 2 {
					_, err := s.journal.Bench(s.number, e.Entry, "")
					taken <- err == nil
					return
				}
				status, _ := s.post("/entry", e)
				taken <- status == http.StatusOK
			})
		}
		hands.Wait()
		close(taken)
		n := 0
		for ok := range taken {
			if ok {
				n++
			}
		}
		if n != 1 {
			t.Errorf("load %d was taken %d times", load, n)
		}
		if _, text := s.ask("GET", s.path("/state"), "", nil); !strings.Contains(text, fmt.Sprintf(`"done":%d`, load)) {
			t.Errorf("after load %d the page shows %s", load, text)
		}
	}
}

// bomb is a PNG of a few bytes that says it has so many pixels.
func bomb(width, height uint32) string {
	chunk := func(kind string, data []byte) []byte {
		out := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
		body := append([]byte(kind), data...)
		return binary.BigEndian.AppendUint32(append(out, body...), crc32.ChecksumIEEE(body))
	}
	head := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, width), height)
	var packed bytes.Buffer
	z := zlib.NewWriter(&packed)
	_, _ = z.Write(make([]byte, 1<<20))
	_ = z.Close()
	return "\x89PNG\r\n\x1a\n" + string(chunk("IHDR", append(head, 8, 2, 0, 0, 0))) + string(chunk("IDAT", packed.Bytes())) + string(chunk("IEND", nil))
}

// TestHostileRequests: each is refused or does nothing, and the server still answers.
func TestHostileRequests(t *testing.T) {
	s := newShop(t, "")
	s.review()
	entry := `{"entry":{"key":"page-hostile1","do":"mixed"},"by":"x"}`
	set := func(name, value string) func(*http.Request) {
		return func(r *http.Request) { r.Header.Set(name, value) }
	}
	type request struct {
		name, method, path, body string
		change                   func(*http.Request)
		inert                    bool // it may be answered with 200, and changes nothing
	}
	list := []request{
		{"a foreign host", "GET", "/", "", func(r *http.Request) { r.Host = "evil.example" }, false},
		{"a name that resolves here", "GET", "/", "", func(r *http.Request) { r.Host = "rebind.example:80" }, false},
		{"no host", "GET", "/", "", func(r *http.Request) { r.Host = "0.0.0.0" }, false},
		{"a foreign origin", "POST", s.path("/entry"), entry, set("Origin", "http://evil.example"), false},
		{"the origin null", "POST", s.path("/entry"), entry, set("Origin", "null"), false},
		{"no origin", "POST", s.path("/entry"), entry, func(r *http.Request) { r.Header.Del("Origin") }, false},
		{"the origin with https", "POST", s.path("/entry"), entry, set("Origin", "https://"+s.host), false},
		{"the origin of another port", "POST", s.path("/entry"), entry, set("Origin", "http://127.0.0.1:1"), false},
		{"from another site", "GET", s.path("/state"), "", set("Sec-Fetch-Site", "cross-site"), false},
		{"from the same network name", "GET", s.path("/state"), "", set("Sec-Fetch-Site", "same-site"), false},
		{"a form instead of JSON", "POST", s.path("/entry"), "key=1", set("Content-Type", "application/x-www-form-urlencoded"), false},
		{"plain text", "POST", s.path("/entry"), entry, set("Content-Type", "text/plain"), false},
		{"no JSON", "POST", s.path("/entry"), "{", nil, false},
		{"a list", "POST", s.path("/entry"), "[]", nil, false},
		{"two objects", "POST", s.path("/entry"), entry + entry, nil, false},
		{"an unknown field", "POST", s.path("/entry"), `{"entry":{"key":"page-hostile1","do":"mixed"},"admin":true}`, nil, false},
		{"an oversized body", "POST", s.path("/entry"), `{"by":"` + strings.Repeat("x", 1<<20) + `"}`, nil, false},
		{"deep nesting", "POST", s.path("/entry"), strings.Repeat("[", 50_000), nil, false},
		{"a word that is none", "POST", s.path("/entry"), `{"entry":{"key":"page-hostile1","do":"explode"},"by":"x"}`, nil, false},
		{"no key", "POST", s.path("/entry"), `{"entry":{"do":"mixed"},"by":"x"}`, nil, false},
		{"a key with a path", "POST", s.path("/entry"), `{"entry":{"key":"../../etc/passwd","do":"mixed"},"by":"x"}`, nil, false},
		{"a bath of 900 C", "POST", s.path("/entry"), `{"entry":{"key":"page-hostile1","do":"read"},"degrees":"900","by":"x"}`, nil, false},
		{"a load of a billion", "POST", s.path("/entry"), `{"entry":{"key":"page-hostile1","do":"out","load":1,"pieces":1000000000},"by":"x"}`, nil, false},
		{"a load that is not there", "POST", s.path("/entry"), `{"entry":{"key":"page-hostile1","do":"again","load":99},"by":"x"}`, nil, false},
		{"more pieces than there are", "POST", s.path("/entry"), `{"entry":{"key":"page-hostile1","do":"out","load":1,"pieces":99},"by":"x"}`, nil, false},
		{"script as a note", "POST", s.path("/entry"), `{"entry":{"key":"page-hostile2","do":"skipped","load":1,"note":"<script>alert(1)</script>\u001b[2J"},"by":"Ilse Tamm"}`, nil, false},
		{"script as a name", "POST", s.path("/entry"), `{"entry":{"key":"page-hostile3","do":"paused"},"by":"<img src=x onerror=alert(1)>"}`, nil, false},
		{"control characters as a name", "POST", s.path("/entry"), `{"entry":{"key":"page-hostile4","do":"paused"},"by":"a\u0000b\u001b"}`, nil, false},
		{"a temperature that is script", "POST", s.path("/entry"), `{"entry":{"key":"page-hostile5","do":"read"},"degrees":"<script>","by":"x"}`, nil, false},
		{"a path out of the batch", "GET", "/batch/../../etc/passwd/state", "", nil, false},
		{"an escaped path", "GET", "/batch/%2e%2e%2f%2e%2e%2fetc%2fpasswd", "", nil, false},
		{"a batch that is not there", "GET", "/batch/2026-999/state", "", nil, false},
		{"a batch with a quote", "GET", "/batch/%22%3E%3Cscript%3E/state", "", nil, false},
		{"a file of the program", "GET", "/page.html", "", nil, false},
		{"another method", "DELETE", s.path("/entry"), "", set("Origin", "http://"+s.host), false},
		{"PUT on the photograph", "PUT", s.path("/photo"), "x", set("Origin", "http://"+s.host), false},
		{"a result before the loads with counts that cannot be", "POST", s.path("/result"), `{"by":"x","good":-5,"rework":0,"reject":0}`, nil, false},
		{"a result of more than there are", "POST", s.path("/result"), `{"by":"x","good":5000,"rework":0,"reject":0}`, nil, false},
		{"a cause that is script", "POST", s.path("/result"), `{"by":"x","good":1,"rework":1,"reject":0,"causes":{"<script>":1}}`, nil, false},
		{"a picture that is none", "POST", s.path("/photo"), "GIF89a not a picture", set("Content-Type", "image/jpeg"), false},
		{"script as a picture", "POST", s.path("/photo"), "<svg onload=alert(1)>", set("Content-Type", "image/svg+xml"), false},
		{"a decompression bomb", "POST", s.path("/photo"), bomb(60_000, 60_000), set("Content-Type", "image/png"), false},
		{"a picture cut short", "POST", s.path("/photo"), bomb(1000, 1000)[:200], set("Content-Type", "image/png"), false},
		{"a picture of no width", "POST", s.path("/photo"), bomb(0, 10), set("Content-Type", "image/png"), false},
		{"an oversized picture", "POST", s.path("/photo"), strings.Repeat("\xff\xd8\xff", 7<<20), set("Content-Type", "image/jpeg"), false},
		{"a waste without a volume", "POST", s.path("/waste"), `{"container":"W-1","volume":"","by":"x"}`, nil, false},
		{"a waste of less than nothing", "POST", s.path("/waste"), `{"container":"W-1","volume":"-2 L","by":"x"}`, nil, false},
		{"a review without answers", "POST", s.path("/review"), `{"by":"x"}`, nil, false},
		{"a review with an unknown answer", "POST", s.path("/review"), `{"by":"x","yes":[],"answers":{"ph":"1e400"}}`, nil, false},
		{"a pairing that is not asked for", "POST", "/pair", "code=AAAA", set("Content-Type", "application/x-www-form-urlencoded"), false},
	}
	if len(list) < 40 {
		t.Errorf("only %d hostile requests", len(list))
	}
	for _, r := range list {
		status, text := s.ask(r.method, r.path, r.body, r.change)
		if status < 300 && status != 0 && !strings.Contains(r.name, "script as a n") {
			t.Errorf("%s: answered with %d", r.name, status)
		}
		if status >= 500 && status != http.StatusServiceUnavailable || strings.Contains(text, "goroutine") {
			t.Errorf("%s: %d %s", r.name, status, text)
		}
		if status, _ := s.ask("GET", "/", "", nil); status != http.StatusOK {
			t.Fatalf("after %s the server answers with %d", r.name, status)
		}
	}
	// What was taken as text stays text.
	for _, path := range []string{"/", s.path(""), s.path("/review"), s.path("/sheet")} {
		_, text := s.ask("GET", path, "", nil)
		if strings.Contains(text, "<script>alert") || strings.Contains(text, "<img src=x") || strings.ContainsAny(text, "\x00\x1b") {
			t.Errorf("%s carries a hostile text", path)
		}
	}
	b, err := s.journal.Get(s.number)
	if err != nil || b.Dip != nil && len(b.Dip.Loads) > 0 || b.Result != nil || len(b.Photos) > 0 {
		t.Errorf("the journal has %+v (%v)", b, err)
	}
	// A client that sends its header by drops is dropped, and does not hold the others up.
	slow, err := net.Dial("tcp", s.host)
	if err != nil {
		t.Fatal(err)
	}
	defer slow.Close()
	_, _ = slow.Write([]byte("GET / HTTP/1.1\r\nHost: "))
	if status, _ := s.ask("GET", "/", "", nil); status != http.StatusOK {
		t.Errorf("beside a slow client: %d", status)
	}
	_ = slow.SetReadDeadline(time.Now().Add(5 * time.Second))
	if _, err := io.ReadAll(slow); err != nil {
		t.Errorf("a slow client is not dropped: %v", err)
	}
}

// TestPairing: on a network nothing but the pairing answers; the code works once, guesses
// are few, and the cookie opens the page.
func TestPairing(t *testing.T) {
	s := newShop(t, "ABCD2345")
	form := func(r *http.Request) { r.Header.Set("Content-Type", "application/x-www-form-urlencoded") }
	for _, path := range []string{s.path(""), s.path("/state"), s.path("/sheet"), "/app.js"} {
		if status, _ := s.ask("GET", path, "", nil); status != http.StatusUnauthorized {
			t.Errorf("%s without a code: %d", path, status)
		}
	}
	if status, _ := s.ask("GET", "/", "", nil); status != http.StatusSeeOther {
		t.Errorf("the first page leads to %d", status)
	}
	for i, code := range []string{"", "AAAA0000", "abcd2346", strings.Repeat("A", 500), "' OR 1=1"} {
		if status, _ := s.ask("POST", "/pair", "code="+code, form); status != http.StatusForbidden {
			t.Errorf("guess %d: %d", i, status)
		}
	}
	if status, _ := s.ask("POST", "/pair", "code=ABCD-2345", form); status != http.StatusTooManyRequests {
		t.Errorf("the sixth guess in a minute: %d", status)
	}
	s = newShop(t, "ABCD2345")
	cookie := ""
	r, _ := http.NewRequest("POST", s.server.URL+"/pair", strings.NewReader("code=abcd-2345"))
	form(r)
	r.Header.Set("Origin", "http://"+s.host)
	answer, err := (&http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}).Do(r)
	if err != nil || answer.StatusCode != http.StatusSeeOther {
		t.Fatalf("%v %v", answer, err)
	}
	answer.Body.Close()
	for _, c := range answer.Cookies() {
		if !c.HttpOnly || c.SameSite != http.SameSiteStrictMode {
			t.Errorf("the cookie is %+v", c)
		}
		cookie = c.Name + "=" + c.Value
	}
	if status, _ := s.ask("GET", s.path("/state"), "", func(r *http.Request) { r.Header.Set("Cookie", cookie) }); status != http.StatusOK {
		t.Errorf("with the cookie: %d", status)
	}
	if status, _ := s.ask("GET", s.path("/state"), "", func(r *http.Request) { r.Header.Set("Cookie", "hepar=guessed") }); status != http.StatusUnauthorized {
		t.Errorf("with a guessed cookie: %d", status)
	}
	if status, _ := s.ask("POST", "/pair", "code=ABCD2345", form); status != http.StatusForbidden {
		t.Errorf("the code works twice: %d", status)
	}
}

// TestPagesAreSmallAndOwn: the first paint is under 150 kB and nothing is loaded from outside.
func TestPagesAreSmallAndOwn(t *testing.T) {
	s := newShop(t, "")
	for _, path := range []string{"/", s.path(""), s.path("/review")} {
		_, text := s.ask("GET", path, "", nil)
		size := len(text)
		for _, part := range []string{"/app.js", "/app.css"} {
			_, more := s.ask("GET", part, "", nil)
			size += len(more)
		}
		if size > 150_000 || strings.Contains(text, "http://") || strings.Contains(text, "https://") || strings.Contains(text, "//cdn") {
			t.Errorf("%s: %d bytes, or something from outside", path, size)
		}
	}
}

// BenchmarkAnswer measures the 99th percentile of an answer against that of an empty handler.
func BenchmarkAnswer(b *testing.B) {
	s := newShop(b, "")
	s.review()
	empty := httptest.NewServer(http.HandlerFunc(func(http.ResponseWriter, *http.Request) {}))
	defer empty.Close()
	get := func(url string) time.Duration {
		start := time.Now()
		answer, err := http.Get(url)
		if err != nil {
			b.Fatal(err)
		}
		_, _ = io.Copy(io.Discard, answer.Body)
		answer.Body.Close()
		return time.Since(start)
	}
	var ours, none []time.Duration
	for b.Loop() {
		ours = append(ours, get(s.server.URL+s.path("/state")))
		none = append(none, get(empty.URL))
	}
	b.ReportMetric(percentile(ours)/percentile(none), "p99/empty")
}

func percentile(all []time.Duration) float64 {
	sorted := slices.Sorted(slices.Values(all))
	return float64(sorted[len(sorted)*99/100])
}
