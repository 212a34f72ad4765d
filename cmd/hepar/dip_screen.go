package main

import (
	"cmp"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	tea "charm.land/bubbletea/v2"

	"hepar/cmd/hepar/bench"
	"hepar/recipe/bath/run"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// leadIn is the time from the key to the first piece in.
var leadIn = 3 * time.Second

const (
	warnAt   = 3 * time.Second        // before the time is up
	grace    = 20 * time.Second       // after it: then the planned time is written down
	tickTime = 100 * time.Millisecond // of the clock on the screen
	deafTime = 600 * time.Millisecond // after a key that did something: a second press of a wet glove counts for nothing
	lookTime = 2 * time.Second        // how often the screen looks what another hand did, or writes again what could not be written
)

// The states of the screen.
const (
	showing  = iota // a step, waiting for a key
	choosing        // a list is open
	leading         // three, two, one
	counting        // the load is in
)

type dipScreen struct {
	*bench.Bench
	next          run.Step // of the run
	step          run.Step // that stands there: next, or a reading that was asked for
	asking        bool     // a reading was asked for
	deaf          time.Time
	state         int
	width, height int

	typed   string // of a temperature
	moved   bool   // typed is from the arrows: a digit begins anew
	pieces  int
	anyway  int // load that is dipped though the bath does not do
	list    []bench.Choice
	picked  int
	title   string // of the list
	message string

	start   time.Time // of the lead-in; then of the count
	in      time.Time
	planned measure.Seconds
	rung    int         // bells rung: 1 at the warning, 2 at out
	hand    []run.Entry // entries that the journal does not have yet
	writing bool
	done    bool // the run is over or was left
	cut     bool // left by Ctrl-C
}

type (
	tickMsg    time.Time
	lookMsg    struct{}
	writtenMsg struct {
		key string
		err error
	}
)

func newDipScreen(b *bench.Bench) *dipScreen {
	s := &dipScreen{Bench: b, width: 80, height: 24}
	s.message = b.Where(b.Run.Next(b.Now()))
	s.refresh()
	if o := s.step.Open; o != nil && o.Time != nil && s.Now().Sub(o.At).Seconds() < float64(*o.Time) { // its time is not over: count on
		s.state, s.in, s.planned, s.pieces = counting, o.At, *o.Time, o.Pieces
	}
	return s
}

// Init starts the clocks.
func (s *dipScreen) Init() tea.Cmd { return tea.Batch(tick(), look()) }

func tick() tea.Cmd { return tea.Tick(tickTime, func(t time.Time) tea.Msg { return tickMsg(t) }) }
func look() tea.Cmd { return tea.Tick(lookTime, func(time.Time) tea.Msg { return lookMsg{} }) }

// bell rings. A bell is no safety device.
func bell(times int) tea.Cmd { return tea.Raw(strings.Repeat("\a", times)) }

// refresh takes the step of now.
func (s *dipScreen) refresh() {
	old := s.next
	if s.next = s.Run.Next(s.Now()); s.next.Do != old.Do || s.next.Load != old.Load || s.next.Done != old.Done {
		s.pieces, s.asking, s.typed = s.next.Pieces, false, ""
	}
	if s.step = s.next; s.asking {
		s.step.Do = run.Read
	}
}

// ask begins a reading that somebody asks for, or ends it.
func (s *dipScreen) ask(on bool) {
	s.asking, s.typed = on, ""
	s.refresh()
}

// keep takes an entry in hand and writes it down.
func (s *dipScreen) keep(e run.Entry) tea.Cmd {
	s.hand, s.deaf = append(s.hand, e), s.Now().Add(deafTime)
	return s.store()
}

func (s *dipScreen) store() tea.Cmd {
	if s.writing || len(s.hand) == 0 {
		return nil
	}
	s.writing = true
	e, j, id, gate := s.hand[0], s.Journal, s.Batch.ID.String(), s.WithoutReview
	return func() tea.Msg {
		_, err := j.Bench(id, e, gate)
		return writtenMsg{e.Key, err}
	}
}

// written drops what cannot be, with its reason; what else failed is tried again.
func (s *dipScreen) written(m writtenMsg) tea.Cmd {
	s.writing = false
	if len(s.hand) == 0 || s.hand[0].Key != m.key {
		return nil
	}
	switch kind := fault.KindOf(m.err); {
	case m.err == nil:
		s.hand = s.hand[1:]
	case kind == fault.Usage || kind == fault.Safety:
		s.hand, s.message = s.hand[1:], errorText(m.err)
		if s.state == counting && kind == fault.Usage {
			s.state = showing
		}
	default:
		s.message = fmt.Sprintf("NOT WRITTEN DOWN YET (%s); kept in hand, trying again", oneLine(m.err.Error()))
		return nil
	}
	if len(s.hand) > 0 {
		return s.store()
	}
	if err := s.Reload(); err != nil {
		s.message = oneLine(err.Error())
		return nil
	}
	if strings.HasPrefix(s.message, "NOT WRITTEN") {
		s.message = "written down"
	}
	s.refresh()
	return nil
}

// Update takes a key, a tick of the clock or an answer of the journal.
func (s *dipScreen) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch m := msg.(type) {
	case tea.WindowSizeMsg:
		s.width, s.height = m.Width, m.Height
	case tickMsg:
		return s, tea.Batch(tick(), s.ticked())
	case lookMsg:
		if s.state == showing && len(s.hand) == 0 && s.Reload() == nil {
			s.refresh()
		}
		return s, tea.Batch(look(), s.store())
	case writtenMsg:
		return s, s.written(m)
	case tea.KeyPressMsg:
		return s, s.key(m.String())
	}
	return s, nil
}

// ticked moves the count on.
func (s *dipScreen) ticked() tea.Cmd {
	now := s.Now()
	switch s.state {
	case showing:
		if s.step.Do == run.Wait {
			if s.refresh(); s.step.Do != run.Wait {
				return bell(3)
			}
		}
	case leading:
		if now.Sub(s.start) < leadIn {
			return nil
		}
		s.state, s.in, s.rung = counting, s.start.Add(leadIn), 0
		e := s.Of(run.In, s.step.Load, s.pieces, s.planned)
		e.At = s.in
		return tea.Batch(bell(1), s.keep(e))
	case counting:
		left := s.left()
		switch {
		case s.planned == 0:
		case left <= 0 && s.rung < 2:
			s.rung = 2
			return bell(3)
		case left <= warnAt && s.rung < 1 && s.time() > 2*warnAt:
			s.rung = 1
			return bell(1)
		case left < -grace:
			return s.out(s.planned, "no key at out: the planned time")
		}
	}
	return nil
}

func (s *dipScreen) time() time.Duration {
	return time.Duration(float64(s.planned) * float64(time.Second))
}

// left is what is left of the dip; below zero after it.
func (s *dipScreen) left() time.Duration { return s.time() - s.Now().Sub(s.in) }

// out writes down that the load came out.
func (s *dipScreen) out(given measure.Seconds, note string) tea.Cmd {
	e := s.Of(run.Out, s.step.Load, s.pieces, given)
	e.Note, s.state = note, showing
	written := s.keep(e)
	s.deaf = s.deaf.Add(deafTime)
	return tea.Batch(bell(1), written)
}

// key takes a key. Space, Enter and the arrows do everything; Ctrl-C leaves.
func (s *dipScreen) key(k string) tea.Cmd {
	if k == "ctrl+c" {
		s.done, s.cut = true, true
		return tea.Quit
	}
	if len(s.hand) > 0 && s.state != counting {
		return nil // what happened is not on the disk yet: nothing goes on
	}
	enter := k == "enter" || k == "space"
	if enter && s.state != counting && s.Now().Before(s.deaf) {
		return nil
	}
	switch s.state {
	case leading:
		if k == "left" || k == "esc" {
			s.state = showing
		}
		return nil
	case counting:
		if enter && s.Now().Sub(s.in) > time.Second {
			return s.out(bench.Since(s.in, s.Now()), "")
		}
		return nil
	case choosing:
		switch {
		case k == "up" || k == "down":
			s.picked = (s.picked - arrow(k) + len(s.list)) % len(s.list)
		case k == "left" || k == "esc":
			s.state = showing
		case enter:
			s.state = showing
			return s.pick(s.list[s.picked])
		}
		return nil
	}
	s.message = ""
	switch {
	case k == "right":
		s.open("WHAT ELSE", append([]bench.Choice{{Text: "go back"}}, s.Others(s.step)...))
	case s.step.Do == run.Read:
		return s.reading(k, enter)
	case (k == "up" || k == "down") && (s.step.Do == run.Dip || s.step.Do == run.Coat) && s.step.Open == nil:
		s.pieces = max(min(s.pieces+arrow(k), s.Batch.Made()), 1)
	case enter:
		return s.go_()
	}
	return nil
}

func arrow(k string) int {
	if k == "up" {
		return 1
	}
	return -1
}

func (s *dipScreen) open(title string, list []bench.Choice) {
	s.title, s.list, s.picked, s.state = title, list, 0, choosing
}

func (s *dipScreen) go_() tea.Cmd {
	if e, ok := s.Plain(s.step); ok {
		if s.step.Do == run.Wait {
			s.open("THE WAIT IS NOT OVER", []bench.Choice{{Text: "wait on"}, {Text: "go on now", Entry: &e}})
			return nil
		}
		if s.step.Do == run.Coat {
			e.Pieces = s.pieces
		}
		return s.keep(e)
	}
	switch s.step.Do {
	case run.Dip:
		if s.step.Open != nil {
			s.open(fmt.Sprintf("LOAD %d WENT IN AT %s AND WAS NOT WRITTEN OUT", s.step.Load, s.step.Open.At.Format("15:04:05")), s.Opened(s.step))
			return nil
		}
		if s.step.Wrong != "" && s.anyway != s.step.Load {
			s.open(strings.ToUpper(s.Wrong(s.step)), s.Cures(s.step))
			return nil
		}
		s.state, s.start, s.planned = leading, s.Now(), s.step.Time
		return bell(1)
	case run.Result:
		s.done = true
		return tea.Quit
	}
	return nil
}

// reading takes the keys of a temperature: arrows move it, digits type it.
func (s *dipScreen) reading(k string, enter bool) tea.Cmd {
	switch {
	case k == "up" || k == "down":
		x, err := strconv.ParseFloat(strings.Replace(s.typed, ",", ".", 1), 64)
		if x += float64(arrow(k)); err != nil { // the first press shows where the bath should be
			x = math.Round(s.Degrees(s.next.At))
		}
		s.typed, s.moved = measure.Plain(x), true
	case k == "backspace" && s.typed != "":
		s.typed = s.typed[:len(s.typed)-1]
	case len(k) == 1 && strings.Contains("0123456789.,", k) && len(s.typed) < 6:
		s.typed, s.moved = either(s.moved, "", s.typed)+k, false
	case s.asking && (k == "left" || k == "esc"):
		s.ask(false)
	case enter:
		t, err := s.Temperature(s.typed)
		switch {
		case s.typed == "":
			s.message = "no temperature yet: type what the thermometer shows, or find it with UP and DOWN"
		case err != nil:
			s.message, s.typed = errorText(err), ""
		default:
			e := s.Entry(run.Read)
			e.Temperature = &t
			s.ask(false)
			return s.keep(e)
		}
	}
	return nil
}

// pick does what a choice says, or asks what it asks for first.
func (s *dipScreen) pick(c bench.Choice) tea.Cmd {
	switch {
	case c.Ask == bench.AskWhy:
		s.open("WHY", mapped(bench.Reasons(), func(why string) bench.Choice {
			e := *c.Entry
			e.Note = why
			return bench.Choice{Text: why, Entry: &e}
		}))
		return nil
	case c.Ask == bench.AskTemperature:
		s.ask(true)
		return nil
	case c.Ask == bench.AskAnyway:
		s.anyway = s.step.Load
		return s.go_()
	case c.Entry == nil:
		return nil
	}
	e := *c.Entry
	if e.At = s.Now(); c.Ask == bench.AskClock {
		e.Time = new(bench.Since(s.step.Open.At, e.At))
	}
	switch e.Do {
	case run.Out:
		return tea.Batch(bell(1), s.keep(e))
	case run.Paused:
		s.done = true
		return tea.Sequence(s.keep(e), tea.Quit)
	}
	return s.keep(e)
}

// View draws the screen. It is never wider or higher than the terminal.
func (s *dipScreen) View() tea.View {
	v := tea.NewView(strings.Join(s.lines(), "\n"))
	v.AltScreen = true
	return v
}

// lines are the rows of the screen, from above.
func (s *dipScreen) lines() []string {
	width, height := max(s.width, 20), max(s.height, 8)
	var body []string
	add := func(texts ...string) {
		for _, text := range texts {
			said := strings.TrimLeft(text, "> ")
			body = append(body, mapped(hang(strings.TrimSuffix(text, said), said, width), func(line string) string { return clip(line, width) })...)
		}
	}
	big, seconds := "", func(d time.Duration) string { return fmt.Sprint(int(math.Ceil(d.Seconds()))) }
	head, explain := s.Task(s.step)
	foot := "SPACE goes on   RIGHT what else   CTRL-C leaves, nothing is lost"
	switch do := s.step.Do; {
	case s.state == choosing:
		head, explain, foot = s.title, nil, "UP, DOWN choose   SPACE takes it   LEFT goes back"
		for i, c := range s.list {
			explain = append(explain, either(i == s.picked, ">> ", "   ")+c.Text)
		}
	case s.state == leading:
		head, explain, foot = fmt.Sprintf("LOAD %d: GET READY", s.step.Load), []string{"the count runs from the first piece in"}, "LEFT stops it"
		big = seconds(leadIn - s.Now().Sub(s.start))
	case s.state == counting:
		head, explain, foot = fmt.Sprintf("LOAD %d IS IN", s.step.Load), nonEmpty(s.Band(s.step), s.Next(s.step)), "SPACE when they are out"
		left := s.left()
		big = either(left < 0, when(s.planned > 0, "+")+fmt.Sprint(int(-left.Seconds())), seconds(left))
		if s.planned > 0 && left <= warnAt {
			head = either(left <= 0, "OUT NOW, OUT NOW, OUT NOW", "READY TO LIFT")
		}
	case len(s.hand) > 0:
		head, explain, foot = "WRITING IT DOWN", nil, ""
	case do == run.Read:
		foot = "UP, DOWN or digits   SPACE takes it   " + either(s.asking, "LEFT goes back", "RIGHT no thermometer")
		big = cmp.Or(s.typed, "--") + " " + s.Degree()
	case do == run.Dip && s.step.Open != nil:
		foot = "SPACE what became of it   RIGHT what else   CTRL-C leaves"
	case do == run.Dip:
		big, foot = clock(s.step.Time), "SPACE starts   UP, DOWN pieces   RIGHT what else   CTRL-C leaves"
		head += ": " + strings.ToUpper(plural(s.pieces, "piece"))
		explain = append(explain, s.Next(s.step))
		if s.step.Wrong != "" && s.anyway != s.step.Load {
			head = map[string]string{"cold": "THE BATH IS TOO COLD", "hot": "THE BATH IS TOO HOT", "long": "THE BATH IS TOO COLD OR TOO WEAK"}[s.step.Wrong]
			explain = append([]string{s.Wrong(s.step)}, explain...)
			foot = "SPACE what to do about it   RIGHT what else   CTRL-C leaves"
		}
	case do == run.Wait:
		big = clock(s.step.Time)
	case do == run.Result:
		foot = "SPACE goes on to the result   RIGHT what else   CTRL-C leaves"
	}
	add(s.Batch.Number+": "+oneLine(s.Recipe.Title), "", head, "")
	if big != "" {
		body = append(body, bigText(big, width)...)
		if s.state == counting && s.planned > 0 {
			body = append(body, s.bar(width))
		}
		add("")
	}
	if s.message != "" {
		explain = append(explain, "", s.message)
	}
	add(explain...)
	body = append(body[:min(len(body), height-2)], make([]string, height)...)
	return append(body[:height-1], clip(foot, width))
}

// clock writes a time for the large digits.
func clock(t measure.Seconds) string {
	return either(t <= 120, fmt.Sprintf("%d s", int(t)), fmt.Sprintf("%d:%02d", int(t)/60, int(t)%60))
}

// bar shows the share of the dip that has gone by, without colour.
func (s *dipScreen) bar(width int) string {
	gone := min(max(1-float64(s.left())/float64(s.time()), 0), 1)
	n := int(gone * float64(width-2))
	return "[" + strings.Repeat("#", n) + strings.Repeat(".", width-2-n) + "]"
}

func clip(text string, width int) string {
	r := []rune(text)
	return string(r[:min(len(r), width)])
}

// bigText draws a short text five rows high. Where it does not fit it stays small.
func bigText(text string, width int) []string {
	if len([]rune(text))*7 > width {
		return []string{"", "   " + text, ""}
	}
	rows := make([]string, 5)
	for _, c := range text {
		for i := range rows {
			row, at := []rune(font[i]), 7*strings.IndexRune(glyphs, c)
			rows[i] += string(row[at:min(at+7, len(row))])
		}
	}
	return rows
}

// The glyphs are drawn in blocks, six wide and a gap, to be read from two metres; the last one is narrow.
const glyphs = "0123456789sCF.,:+- "

var font = []string{
	"██████   ██   ██████ ██████ ██  ██ ██████ ██████ ██████ ██████ ██████        ██████ ██████                                        ",
	"██  ██ ████       ██     ██ ██  ██ ██     ██         ██ ██  ██ ██  ██  █████ ██     ██                     ██     ██              ",
	"██  ██   ██   ██████  █████ ██████ ██████ ██████    ██  ██████ ██████  ██    ██     █████           ██          ██████ ██████     ",
	"██  ██   ██   ██         ██     ██     ██ ██  ██   ██   ██  ██     ██    ██  ██     ██       ██     ██     ██     ██              ",
	"██████ ██████ ██████ ██████     ██ ██████ ██████   ██   ██████ ██████ █████  ██████ ██       ██    ██                             ",
}
