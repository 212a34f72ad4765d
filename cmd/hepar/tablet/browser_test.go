package tablet

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"hepar/cmd/hepar/bench"
	"hepar/journal"
	"hepar/recipe/run"
	"hepar/recipe/safety"
)

// browser starts a real browser, or skips with a message where there is none.
func browser(t *testing.T) context.Context {
	t.Helper()
	program := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if found, err := exec.LookPath(name); err == nil {
			program = found
			break
		}
	}
	if program == "" || testing.Short() {
		t.Skip("no chromium here: the page of the tablet is NOT tried in a browser")
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(program), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.Flag("disable-background-networking", true))
	ctx, end := chromedp.NewExecAllocator(t.Context(), options...)
	t.Cleanup(end)
	ctx, end = chromedp.NewContext(ctx)
	t.Cleanup(end)
	ctx, end = context.WithTimeout(ctx, 4*time.Minute)
	t.Cleanup(end)
	if err := chromedp.Run(ctx); err != nil {
		t.Skipf("the browser does not run here: %v", err)
	}
	return ctx
}

// shots saves what the page looks like on a phone, a tablet and a desk, light and dark, into
// the folder that HEPAR_SHOTS names, for a person to look at; and holds that nothing is wider
// than the screen.
func shots(t *testing.T, ctx context.Context, name string) {
	t.Helper()
	dir := os.Getenv("HEPAR_SHOTS")
	for _, size := range []struct {
		name          string
		width, height int64
	}{{"phone", 390, 844}, {"tablet", 820, 1180}, {"landscape", 1024, 600}, {"desk", 1280, 800}} {
		for _, scheme := range []string{"light", "dark"} {
			var picture []byte
			var wide bool
			err := chromedp.Run(ctx, chromedp.EmulateViewport(size.width, size.height),
				emulation.SetEmulatedMedia().WithFeatures([]*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}),
				chromedp.Evaluate(`document.documentElement.scrollWidth > window.innerWidth + 1`, &wide), chromedp.CaptureScreenshot(&picture))
			if err != nil {
				t.Fatal(err)
			}
			if wide {
				t.Errorf("%s is wider than the screen of a %s", name, size.name)
			}
			if dir != "" {
				if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("%s-%s-%s.png", name, size.name, scheme)), picture, 0o600); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	if err := chromedp.Run(ctx, chromedp.EmulateViewport(820, 1180)); err != nil {
		t.Fatal(err)
	}
}

// checker is the accessibility checker, from npm, for this test only; empty where it cannot
// be had.
func checker(t *testing.T) string {
	t.Helper()
	npm, err := exec.LookPath("npm")
	if err != nil {
		t.Log("no npm here: the accessibility checker does NOT run")
		return ""
	}
	dir := t.TempDir()
	ctx, end := context.WithTimeout(t.Context(), time.Minute)
	defer end()
	c := exec.CommandContext(ctx, npm, "install", "--prefix", dir, "--no-audit", "--no-fund", "--ignore-scripts", "axe-core@4")
	if out, err := c.CombinedOutput(); err != nil {
		t.Logf("the accessibility checker cannot be had and does NOT run: %v %s", err, out)
		return ""
	}
	script, err := os.ReadFile(filepath.Join(dir, "node_modules", "axe-core", "axe.min.js"))
	if err != nil {
		t.Logf("the accessibility checker cannot be read: %v", err)
		return ""
	}
	return string(script)
}

// accessible holds that the checker finds nothing.
func accessible(t *testing.T, ctx context.Context, script, name string) {
	t.Helper()
	if script == "" {
		return
	}
	var found []string
	err := chromedp.Run(ctx, chromedp.Evaluate(script, nil), chromedp.Evaluate(
		`axe.run().then(r => r.violations.map(v => v.id + ": " + v.nodes.map(n => n.html).join(" ")))`, &found, chromedp.EvalAsValue, func(p *runtime.EvaluateParams) *runtime.EvaluateParams { return p.WithAwaitPromise(true) }))
	if err != nil {
		t.Fatalf("%s: the checker does not run: %v", name, err)
	}
	for _, v := range found {
		t.Errorf("%s: %s", name, v)
	}
}

// hand touches the page in a browser.
type hand struct {
	t   *testing.T
	ctx context.Context
}

// do does one thing after the other, within bounds, and says what the page has where it cannot.
func (h hand) do(what string, actions ...chromedp.Action) {
	h.t.Helper()
	bounded, end := context.WithTimeout(h.ctx, 40*time.Second)
	defer end()
	if err := chromedp.Run(bounded, actions...); err != nil {
		var text string
		_ = chromedp.Run(h.ctx, chromedp.Evaluate(`document.body.innerText`, &text))
		h.t.Fatalf("%s: %v; the page says\n%s", what, err, text)
	}
}

func until(expression string) chromedp.Action {
	return chromedp.ActionFunc(func(ctx context.Context) error {
		for ok := false; ; time.Sleep(50 * time.Millisecond) {
			// While a page gives way to the next there is nothing to ask.
			if err := chromedp.Evaluate(expression, &ok).Do(ctx); err == nil && ok {
				return nil
			}
			if ctx.Err() != nil {
				return ctx.Err()
			}
		}
	})
}

func says(text string) chromedp.Action {
	return until(fmt.Sprintf(`document.body.innerText.toUpperCase().includes(%q)`, strings.ToUpper(text)))
}

const hears = `!document.getElementById("go").hasAttribute("aria-disabled")`

// tap touches the large button once it listens again: a second touch counts for nothing.
var tap = chromedp.ActionFunc(func(ctx context.Context) error {
	if err := until(hears).Do(ctx); err != nil {
		return err
	}
	return chromedp.Click("#go").Do(ctx)
})

// other touches the choice that begins so.
func other(text string) chromedp.Action {
	return chromedp.ActionFunc(func(ctx context.Context) error {
		if err := until(hears).Do(ctx); err != nil {
			return err
		}
		return until(fmt.Sprintf(`(() => { const b = [...document.querySelectorAll("#more, #choices button")].find((b) => !b.hidden && b.textContent.startsWith(%q)); if (b) b.click(); return Boolean(b); })()`, text)).Do(ctx)
	})
}

// key types a digit of the temperature.
func key(c string) chromedp.Action {
	return chromedp.Evaluate(fmt.Sprintf(`[...document.querySelectorAll("#degrees button")].find((b) => b.textContent === %q).click()`, c), nil)
}

// TestInABrowser does the whole job in a real browser: review, five loads with a dropped
// connection in the third and the page opened anew in the fourth, the result, a photograph.
func TestInABrowser(t *testing.T) {
	ctx := browser(t)
	s := shopOf(t, "", 20)
	axe := checker(t)
	do := hand{t, ctx}.do
	paired := shopOf(t, "ABCD2345", 20)
	do("a wrong code", chromedp.Navigate(paired.server.URL), says("Pair this tablet"), chromedp.SendKeys("#code", "AAAA-2345"), chromedp.Click("button.go"), says("the code is wrong"))
	accessible(t, ctx, axe, "pairing")
	shots(t, ctx, "pair")
	do("pairing with the code that was scanned", chromedp.Navigate(paired.server.URL+"/pair?code=ABCD2345"), chromedp.Click("button.go"), says(paired.number))
	do("the list", chromedp.EmulateViewport(820, 1180), chromedp.Navigate(s.server.URL), says(s.number))
	accessible(t, ctx, axe, "the list")
	shots(t, ctx, "list")
	do("the run before its review", chromedp.Click(".batch"), says("has no safety review"), tap, says("Before the work"))
	accessible(t, ctx, axe, "the review")
	shots(t, ctx, "review")
	do("the review", chromedp.SendKeys("#by", "Ilse Tamm"), chromedp.SendKeys("#ask-ph", "10,5"), chromedp.SetValue("#ask-capture", "hood"), chromedp.SendKeys("#ask-meter", "lots"),
		chromedp.SendKeys("#ask-second", "marek"), chromedp.SetValue("#ask-sds", "2025-04-30"), chromedp.Click("button.go"), says("meter:"), until(`document.activeElement.id === "ask-meter"`),
		chromedp.Evaluate(`document.getElementById("ask-sds").dispatchEvent(new Event("change"))`, nil), chromedp.Reload(), until(`document.getElementById("ask-ph")?.value === "10,5" && document.getElementById("ask-sds").value === "2025-04-30" && !document.querySelector(":checked[data-code]")`),
		chromedp.SetValue("#ask-meter", "5"), chromedp.Click("button.go"), until(`!document.getElementById("message").innerText.includes("meter")`), says("not confirmed"),
		chromedp.Evaluate(`document.querySelectorAll("[data-code]").forEach((box) => box.click())`, nil), chromedp.Click("button.go"), says("MIX THE BATH"))
	do("the review is there", chromedp.Navigate(s.server.URL+s.path("/review")), says("by Ilse Tamm, pH 10.5; within call: Marek Oja"), chromedp.Navigate(s.server.URL+s.path("")), says("MIX THE BATH"))
	if b, err := s.journal.Get(s.number); err != nil || b.Review.Answers["second"] != "Marek Oja" {
		t.Errorf("the second person is not kept by the full name: %+v, %v", b.Review, err)
	}
	accessible(t, ctx, axe, "mixing")
	shots(t, ctx, "mix")
	do("mixing", tap, says("READ THE TEMPERATURE"))
	accessible(t, ctx, axe, "the temperature")
	shots(t, ctx, "read")
	do("no estimate is taken for a reading", tap, says("no temperature is typed"), until(`document.getElementById("figure").textContent.startsWith("\u2013")`))
	s.down.Store(true)
	do("the temperature, while the connection is down", says("no connection"), key("8"), key("1"), says("81 C"), tap, says("LOAD 1 OF 5"), says("calculated here from the reading of 81 C"), says("not sent yet: 1"))
	s.down.Store(false)
	do("the temperature is sent", until(`document.getElementById("held").hidden`), says("calculated from the last reading"))
	accessible(t, ctx, axe, "load 1")
	shots(t, ctx, "load")
	do("a reading that is asked for stays", other("What else"), other("read the temperature"), says("READ THE TEMPERATURE"), key("7"), chromedp.Sleep(2500*time.Millisecond), key("9"), says("79 C"),
		other("Go back"), says("LOAD 1 OF 5"))
	do("a pause is seen", other("What else"), other("pause"), says("PAUSED"), tap, says("LOAD 1 OF 5"))
	do("load 1", tap, says("GET READY"), says("LOAD 1 IS IN"))
	shots(t, ctx, "in")
	do("load 1 is out", says("OUT NOW"))
	shots(t, ctx, "out")
	do("after load 1", tap, says("LOAD 2 OF 5"))
	do("load 2", tap, says("LOAD 2 IS IN"), says("OUT NOW"), tap, says("LOAD 3 OF 5"))
	do("load 3", tap, says("LOAD 3 IS IN"))
	s.down.Store(true)
	do("the connection drops", says("OUT NOW"), tap, says("not sent yet"), says("LOAD 4 OF 5"))
	shots(t, ctx, "offline")
	b, err := s.journal.Get(s.number)
	if err != nil || len(b.Dip.Loads) != 2 {
		t.Fatalf("while the connection is down the journal has %+v (%v)", b.Dip, err)
	}
	s.down.Store(false)
	do("the connection is back", until(`document.getElementById("held").hidden`), says("LOAD 4 OF 5"))
	do("load 4", tap, says("LOAD 4 IS IN"))
	do("the page is opened anew in the middle of a load", chromedp.Reload(), says("LOAD 4 IS IN"), says("OUT NOW"), tap, says("LOAD 5 OF 5"))
	do("load 5", tap, says("LOAD 5 IS IN"), says("OUT NOW"), tap, says("ALL LOADS ARE OUT"))
	do("what is undone can stand again", other("What else"), other("undo"), says("OUT NOW"), other("What else"), other("it came out after"), says("ALL LOADS ARE OUT"))
	accessible(t, ctx, axe, "the result")
	shots(t, ctx, "result")
	picture := filepath.Join(t.TempDir(), "tokens.jpg")
	var data bytes.Buffer
	if err := jpeg.Encode(&data, image.NewGray(image.Rect(0, 0, 80, 60)), nil); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(picture, data.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	press := func(label string) chromedp.Action {
		return chromedp.Evaluate(fmt.Sprintf(`document.querySelector('button[aria-label=%q]').click()`, label), nil)
	}
	do("the photograph", chromedp.SetUploadFiles("#photo", []string{picture}), says("The photo is kept"))
	do("the result", press("one more: rework"), press("one more: cause: spots"), chromedp.SetValue(`[aria-label="load of the pieces with the cause spots"]`, "2"),
		chromedp.Evaluate(`document.querySelector('[aria-label="load of the pieces with the cause spots"]').dispatchEvent(new Event("change"))`, nil),
		chromedp.SendKeys("#shade", "blue-black"), until(`!document.getElementById("go").hasAttribute("aria-disabled")`), chromedp.Click("#result .go"), says("LOGGED"))
	shots(t, ctx, "logged")
	b, err = s.journal.Get(s.number)
	if err != nil || b.State != journal.Logged || len(b.Dip.Loads) != 5 || b.Good != 19 || b.Causes["spots"] != 1 || b.Dip.Loads[1].Causes["spots"] != 1 || b.Shade != "blue-black" || len(b.Photos) != 1 || b.Photos[0].By != "Ilse Tamm" {
		t.Errorf("the journal has %+v (%v)", b, err)
	}
	for i, l := range b.Dip.Loads {
		if l.Number != i+1 || l.Pieces != 4 || l.Time == nil || float64(*l.Time) < 3 || float64(*l.Time) > 20 {
			t.Errorf("load %d: %+v", i+1, l)
		}
	}
}

// TestLag: over a slow network no answer that is older than what was tapped is shown, and a second
// touch writes down nothing; a load that nobody touches is booked by nobody.
func TestLag(t *testing.T) {
	ctx := browser(t)
	s := shopOf(t, "", 20)
	do := hand{t, ctx}.do
	s.review()
	s.post("/entry", entryOf(run.Mixed, run.Entry{}))
	read := entryOf(run.Read, run.Entry{})
	read.Degrees = "81"
	s.post("/entry", read)
	head := `document.getElementById("head").textContent`
	do("load 1 is in", chromedp.EmulateViewport(820, 1180), chromedp.Navigate(s.server.URL+s.path("")), says("LOAD 1 OF 5"), tap, says("LOAD 1 IS IN"))
	// A state is made at once and heard 900 ms later; an entry is answered after 300 ms.
	s.lag.Store(true)
	var seen []string
	do("Out is tapped just before zero, twice", until(`document.getElementById("figure").textContent === "1 s"`), chromedp.Sleep(800*time.Millisecond),
		chromedp.Evaluate(`window.seen = []; setInterval(() => { const h = `+head+`; if (seen.at(-1) !== h) seen.push(h); }, 10); document.getElementById("go").click()`, nil),
		chromedp.Sleep(300*time.Millisecond), chromedp.Evaluate(`document.getElementById("go").click()`, nil), chromedp.Sleep(3*time.Second), says("LOAD 2 OF 5"), chromedp.Evaluate(`seen`, &seen))
	if len(seen) != 2 || seen[0] != "LOAD 1 IS OUT" || !strings.HasPrefix(seen[1], "LOAD 2 OF 5") {
		t.Errorf("after Out the page shows %q", seen)
	}
	if b, err := s.journal.Get(s.number); err != nil || len(b.Dip.Loads) != 1 || b.Dip.Loads[0].Number != 1 {
		t.Fatalf("the journal has %+v (%v)", b.Dip, err)
	}
	s.lag.Store(false)
	in := func() int {
		b, err := s.journal.Get(s.number)
		if err != nil {
			t.Fatal(err)
		}
		return len(b.Dip.Loads)
	}
	later := chromedp.Evaluate(`(() => { const now = Date.now.bind(Date); Date.now = () => now() + 60000; })()`, nil)
	do("load 2 is tapped by mistake", tap, says("LOAD 2 IS IN"), other("What else"), other("tapped by mistake"), says("LOAD 2 OF 5"))
	do("load 2 is forgotten", tap, says("LOAD 2 IS IN"), chromedp.Sleep(1200*time.Millisecond), later, says("LOAD 2 IS NOT OUT"), chromedp.Sleep(2*time.Second), until(`document.getElementById("go").classList.contains("out")`))
	shots(t, ctx, "forgotten")
	if n := in(); n != 1 {
		t.Fatalf("the page booked a load that nobody touched: %d are out", n)
	}
	do("the list says that it is in", chromedp.Navigate(s.server.URL), says("load 2 is in since"), chromedp.Click(".batch"), until(`document.getElementById("go") !== null`), says("LOAD 2 IS"))
	do("so it is after a reload", chromedp.Reload(), says("LOAD 2 IS IN"), later, says("LOAD 2 IS NOT OUT"), tap, says("WHAT BECAME OF IT?"))
	do("a question that nobody answers gives way to the alarm", later, says("LOAD 2 IS NOT OUT"), tap, says("WHAT BECAME OF IT?"))
	shots(t, ctx, "question")
	if n := in(); n != 1 {
		t.Fatalf("the touch booked it: %d are out", n)
	}
	do("it is answered", other("it came out on time"), says("LOAD 3 OF 5"))
	if n := in(); n != 2 {
		t.Fatalf("%d loads are out", n)
	}
	do("a reading far off is asked for again", other("What else"), other("read the temperature"), says("READ THE TEMPERATURE"), key("7"), tap, says("IS THE READING RIGHT?"), says("7 C is far from the"),
		other("No: read it again"), says("READ THE TEMPERATURE"), key("2"), key("5"), tap, says("IS THE READING RIGHT?"), other("It is right"), says("What to do about it"))
	shots(t, ctx, "cold")
	do("a bath that does not do says so", says("the recipe allows at most"), until(head+` === "THE BATH IS TOO COLD OR TOO WEAK" && document.getElementById("figure").textContent === "" && document.getElementById("pieces").hidden`), says("load 3 of 5: 4 pieces"))
	do("a fresh bath is read about first", tap, other("done: mix a fresh bath"), says("DO THIS FIRST"), says("HOOD ON AND TESTED"), says("1. "))
	shots(t, ctx, "fresh")
	if b, _ := s.journal.Get(s.number); slices.ContainsFunc(b.Bench, func(e run.Entry) bool { return e.Do == run.Acted }) {
		t.Error("a fresh bath is one tap")
	}
	do("then it is done", tap, says("READ THE TEMPERATURE"), says("discard the bath at"), other("What else"), other("end the run here"), other("another reason"), says("8 OF 20 PIECES ARE DONE"))
	count := chromedp.Evaluate(`(() => { const i = document.querySelector('input[aria-label="rework"]'); i.value = "3"; i.dispatchEvent(new Event("change")); })()`, nil)
	do("what was counted outlasts a reload", count, chromedp.Reload(), until(`document.querySelector('input[aria-label="rework"]')?.value === "3" && document.querySelector('input[aria-label="good"]').value === "5"`))
	log := chromedp.ActionFunc(func(ctx context.Context) error {
		if err := until(hears).Do(ctx); err != nil {
			return err
		}
		return chromedp.Click("#result .go").Do(ctx)
	})
	do("causes are asked for once", log, says("have no cause"), log, says("LOGGED"), says("Its waste"))
	do("the list still has it", chromedp.Navigate(s.server.URL), says("its waste is not written down"), chromedp.Click(".batch"), says("LOGGED"))
	do("the waste", until(`document.getElementById("container").value === "W-silver-black"`), chromedp.Click("#waste .go"), until(`document.getElementById("waste").hidden`))
	if b, err := s.journal.Get(s.number); err != nil || len(b.Waste) != 1 || b.Rework != 3 {
		t.Errorf("the journal has %+v (%v)", b.Waste, err)
	}
	do("then the list has not", chromedp.Navigate(s.server.URL), says("No batch is planned"))
}

// TestPairedAgain: hepar bench is started again while a load is in; what is tapped then is kept and
// sent once the tablet is paired.
func TestPairedAgain(t *testing.T) {
	ctx := browser(t)
	s := shopOf(t, "ABCD2345", 20)
	do := hand{t, ctx}.do
	for _, e := range []run.Entry{{Do: run.Mixed}, {Do: run.Read}} {
		if e.Key = "before-" + e.Do; e.Do == run.Mixed {
			kept, err := bench.Reviewed("Ilse Tamm", time.Now(), s.subject(), safety.Review{})
			if err != nil {
				t.Fatal(err)
			}
			if _, err := s.journal.Review(s.number, kept); err != nil {
				t.Fatal(err)
			}
		}
		if _, err := s.journal.Bench(s.number, e, ""); err != nil {
			t.Fatal(err)
		}
	}
	do("load 1 is in", chromedp.Navigate(s.server.URL+s.path("")), says("Pair this tablet"), chromedp.SendKeys("#code", "abcd 2345"), chromedp.Click("button.go"), says(s.number),
		chromedp.Click(".batch"), says("LOAD 1 OF 5"), tap, says("LOAD 1 IS IN"), until(`document.getElementById("held").hidden`), chromedp.Sleep(1100*time.Millisecond))
	s.restart("WXYZ6789")
	do("Out is kept", tap, says("no longer paired"), says("not sent yet: 1"), until(`Boolean(document.querySelector("#message a"))`))
	shots(t, ctx, "unpaired")
	if b, _ := s.journal.Get(s.number); b.Dip != nil && len(b.Dip.Loads) != 0 {
		t.Fatalf("the journal has %+v", b.Dip)
	}
	do("it is paired again", chromedp.Click("#message a"), says("Pair this tablet"), chromedp.SendKeys("#code", "WXYZ 6789"), chromedp.Click("button.go"), says(s.number), chromedp.Click(".batch"), says("LOAD 2 OF 5"))
	if b, _ := s.journal.Get(s.number); b.Dip == nil || len(b.Dip.Loads) != 1 || b.Dip.Loads[0].Time == nil {
		t.Errorf("the journal has %+v", b.Dip)
	}
}

// TestOtherHands: the second person takes over once it is said who stays within call; what is said of a name that did
// not review goes once another is typed.
func TestOtherHands(t *testing.T) {
	ctx := browser(t)
	s := shopOf(t, "", 20)
	do := hand{t, ctx}.do
	entries := func() int {
		b, err := s.journal.Get(s.number)
		if err != nil {
			t.Fatal(err)
		}
		return len(b.Bench)
	}
	named := func(name string) chromedp.Action {
		return chromedp.Tasks{chromedp.Evaluate(`document.getElementById("by").value = ""`, nil), chromedp.SendKeys("#by", name), chromedp.Evaluate(`document.getElementById("by").blur()`, nil)}
	}
	do("a page that is open before the review", chromedp.EmulateViewport(820, 1180), chromedp.Navigate(s.server.URL+s.path("")), says("has no safety review"))
	s.review()
	do("the second person takes over", says("MIX THE BATH"), until(`document.body.dataset.second === "Marek Oja"`), named("marek"), tap, says("WHO STAYS WITHIN CALL?"), says("Marek Oja was the second person"))
	shots(t, ctx, "call")
	if n := entries(); n != 0 {
		t.Fatalf("%d entries are written down before it is said", n)
	}
	do("it is not said", other("Go back"), says("MIX THE BATH"), tap, says("WHO STAYS WITHIN CALL?"), other("yes, Ilse Tamm stays within call"), says("READ THE TEMPERATURE"))
	do("it is asked once", key("8"), key("1"), tap, says("LOAD 1 OF 5"), named("Pia Holm"), tap, says("LOAD 1 IS IN"), says("not by Pia Holm: go through its points first: open Review above"), chromedp.Sleep(1100*time.Millisecond), tap, says("LOAD 1 IS"), until(`document.getElementById("go").textContent.includes("ut")`), says("not by Pia Holm"))
	do("another name is typed", named("Ilse Tamm"), until(`document.getElementById("message").textContent === ""`), chromedp.Sleep(1200*time.Millisecond))
	if b, err := s.journal.Get(s.number); err != nil || b.Bench[len(b.Bench)-1].Do != run.In || b.Bench[len(b.Bench)-1].By != "Ilse Tamm" {
		t.Errorf("the load that is in is not written down under the right name: %+v (%v)", b.Bench, err)
	}
	do("a list hears soon", until(`document.getElementById("held").hidden`), chromedp.Sleep(1200*time.Millisecond), named("Pia Holm"), chromedp.Evaluate(`(() => { const now = Date.now.bind(Date); Date.now = () => now() + 60000; })()`, nil), says("LOAD 1 IS NOT OUT"),
		tap, says("WHAT BECAME OF IT?"), chromedp.Sleep(700*time.Millisecond), other("it comes out now"), says("not by Pia Holm"), named("Ilse Tamm"), says("LOAD 1 IS NOT OUT"),
		tap, says("WHAT BECAME OF IT?"), chromedp.Sleep(700*time.Millisecond), other("it comes out now"), says("LOAD 2 OF 5"))
	do("it is asked anew of the second person", named("Marek Oja"), tap, says("WHO STAYS WITHIN CALL?"), named("Ilse Tamm"), other("Go back"), tap, says("LOAD 2 IS IN"), until(`document.getElementById("held").hidden`), chromedp.Sleep(1100*time.Millisecond))
	s.down.Store(true)
	do("what could not be sent", tap, says("not sent yet: 1"), says("LOAD 3 OF 5"), tap, says("LOAD 3 IS IN"), says("not sent yet: 2"), chromedp.Navigate("about:blank"))
	s.down.Store(false)
	do("is sent from the list", chromedp.Navigate(s.server.URL), says("at the bath, 2 out"), says("load 3 is in since"), until(`document.getElementById("held").hidden`))
	s.down.Store(true)
	queued := `localStorage.setItem("queue-` + s.number + `", JSON.stringify([{ entry: { key: "page-0000000099", do: "out", load: 9, pieces: 4 }, by: "Pia Holm", at_ms: Date.now(), degrees: "" }])); unsent()`
	do("or said there", chromedp.Evaluate(queued, nil), says("1 entry of batch "+s.number+" is not sent yet: no connection, trying again"))
	shots(t, ctx, "unsent")
	s.down.Store(false)
	do("what is refused waits for its page", says("is not sent yet: open batch "+s.number), chromedp.Click(".batch"), says("load 3 is still in the bath: write down when it came out"), until(`document.getElementById("held").hidden`))
}
