package main

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	tea "charm.land/bubbletea/v2"

	"hepar/cmd/hepar/bench"
	"hepar/journal"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/run"
)

// toRead marks a line of a list that is no choice.
const toRead = "to read"

// leadIn is the time from the key to the first piece in.
var leadIn = 3 * time.Second

const (
	warnAt   = 3 * time.Second        // before the time is up
	grace    = 20 * time.Second       // after it: then no clock says any longer when they came out
	alarm    = 2 * time.Second        // between two bells then
	tickTime = 100 * time.Millisecond // of the clock on the screen
	deafTime = 600 * time.Millisecond // after a key that did something: a second press of a wet glove counts for nothing
	lookTime = 2 * time.Second        // how often the screen looks what another hand did, or writes again what could not be written
)

// The states of the screen.
const (
	showing  = iota // a step, waiting for a key
	choosing        // a list is open
	reading         // a temperature that was asked for
	leading         // three, two, one
	counting        // the load is in
)

type dipScreen struct {
	*bench.Bench
	step          run.Step // of the run
	state         int
	since         time.Time // the lead-in or the count runs
	deaf          time.Time // until
	width, height int

	typed   string // of a temperature
	moved   bool   // typed is from the arrows: a digit begins anew
	pieces  int
	anyway  int // load that is dipped though the bath does not do
	list    []run.Choice
	picked  int
	title   string // of the list
	message string

	rang    time.Time   // for a load that is not out
	doubted string      // a reading that lies far from the last
	rung    int         // bells rung: 1 at the warning, 2 at out
	hand    []run.Entry // entries that the journal does not have yet
	writing bool
	cut     bool // left by Ctrl-C
}

type (
	tickMsg    time.Time
	lookMsg    struct{}
	writtenMsg struct {
		batch journal.Batch
		err   error
	}
)

func newDipScreen(b *bench.Bench) *dipScreen {
	s := &dipScreen{Bench: b, width: 80, height: 24}
	s.refresh()
	s.message = s.step.Where
	if o := s.step.Open; o != nil && o.Time != nil && s.Now().Sub(o.At).Seconds() < float64(*o.Time) { // its time is not over: count on
		s.state, s.since = counting, o.At
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
	old := s.step
	if s.step = s.Next(); s.step.Do != old.Do || s.step.Load != old.Load || s.step.Done != old.Done {
		s.pieces, s.typed = s.step.Pieces, ""
	}
	if s.step.Wrong != "" && s.anyway == s.step.Load {
		s.step.Wrong, s.step.First = "", nil
	}
}

// keep takes an entry in hand and writes it down.
func (s *dipScreen) keep(e run.Entry) tea.Cmd {
	if e.By = s.By; e.At.IsZero() {
		e.At = s.Now()
	}
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
		batch, err := j.Bench(id, e, gate)
		return writtenMsg{batch, err}
	}
}

// written drops what cannot be, with its reason; what else failed is tried again.
func (s *dipScreen) written(m writtenMsg) tea.Cmd {
	s.writing = false
	switch kind := fault.KindOf(m.err); {
	case m.err == nil:
		s.Take(m.batch)
		if strings.HasPrefix(s.message, "NOT WRITTEN") {
			s.message = "written down"
		}
	case kind == fault.Usage || kind == fault.Safety:
		_ = s.Reload() // another hand may have written
		if s.message = errorText(m.err); s.state == counting && kind == fault.Usage {
			s.state = showing
		}
	default:
		s.message = fmt.Sprintf("NOT WRITTEN DOWN YET (%s); kept, trying again", oneLine(m.err.Error()))
		return nil
	}
	if s.hand = s.hand[1:]; len(s.hand) == 0 {
		s.refresh()
	}
	return s.store()
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
	left, planned := s.left(), s.step.Time
	switch {
	case s.state == showing && s.step.Do == run.Wait:
		if s.refresh(); s.step.Do != run.Wait {
			return bell(3)
		}
	case s.state == leading && s.Now().Sub(s.since) >= leadIn:
		s.state, s.since, s.rung = counting, s.since.Add(leadIn), 0
		e := run.Of(run.In, s.step.Load, s.pieces, planned)
		e.At = s.since
		return tea.Batch(bell(1), s.keep(*e))
	case s.state != counting || planned == 0:
	case left <= 0 && s.rung < 2:
		s.rung = 2
		return bell(3)
	case left <= warnAt && s.rung < 1 && s.time() > 2*warnAt:
		s.rung = 1
		return bell(1)
	case left < -grace && s.Now().Sub(s.rang) >= alarm:
		s.rang = s.Now()
		return bell(3)
	}
	return nil
}

func (s *dipScreen) time() time.Duration {
	return time.Duration(float64(s.step.Time) * float64(time.Second))
}

// left is what is left of the dip; below zero after it.
func (s *dipScreen) left() time.Duration { return s.time() - s.Now().Sub(s.since) }

// out writes down that the load came out.
func (s *dipScreen) out(given measure.Seconds, note string) tea.Cmd {
	e := run.Of(run.Out, s.step.Load, s.pieces, given)
	e.Note, s.state, s.message = note, showing, "" // what was said at the start is over
	written := s.keep(*e)
	s.deaf = s.deaf.Add(deafTime)
	return tea.Batch(bell(1), written)
}

// key takes a key. Space, Enter and the arrows do everything; Ctrl-C leaves.
func (s *dipScreen) key(k string) tea.Cmd {
	if k == "ctrl+c" {
		s.cut = true
		return tea.Quit
	}
	enter, back, upDown := k == "enter" || k == "space", k == "left" || k == "esc", k == "up" || k == "down"
	switch {
	case s.state == counting:
		if enter && s.step.Time > 0 && s.left() < -grace && len(s.hand) == 0 {
			s.state = showing
			s.refresh()
			return s.goOn()
		}
		if enter && s.Now().Sub(s.since) > time.Second {
			return s.out(bench.Since(s.since, s.Now()), "")
		}
		return nil
	case len(s.hand) > 0: // what happened is not on the disk yet: nothing goes on
		return nil
	case enter && s.Now().Before(s.deaf):
		return nil
	case back && s.state != showing:
		s.state = showing
		return nil
	}
	s.message = ""
	switch {
	case s.state == leading:
	case s.state == choosing && upDown:
		s.picked = (s.picked - arrow(k) + len(s.list)) % len(s.list)
	case s.state == choosing && enter && s.list[s.picked].Word == toRead:
		s.picked++
	case s.state == choosing && enter:
		s.state = showing
		return s.pick(s.list[s.picked])
	case s.state == choosing:
	case s.state == showing && s.step.Do == run.Dip && s.step.Open == nil && strings.Contains("0123456789", k):
		s.state, s.typed = reading, ""
		return s.read(k, false)
	case k == "right" && s.state == showing:
		s.open("WHAT ELSE", append([]run.Choice{{Text: "go back"}}, s.step.Others...))
	case s.state == reading || s.step.Do == run.Read:
		return s.read(k, enter)
	case upDown && (s.step.Do == run.Dip || s.step.Do == run.Coat) && s.step.Open == nil:
		s.pieces = max(min(s.pieces+arrow(k), s.Batch.Made()), 1)
	case enter:
		return s.goOn()
	}
	return nil
}

func arrow(k string) int { return either(k == "up", 1, -1) }

func (s *dipScreen) open(title string, list []run.Choice) {
	s.title, s.list, s.picked, s.state = title, list, 0, choosing
}

// goOn does what the step asks.
func (s *dipScreen) goOn() tea.Cmd {
	switch step := s.step; {
	case len(step.First) > 0:
		s.open(strings.ToUpper(cmp.Or(step.Why, step.Head)), step.First)
	case step.Plain != nil:
		e := *step.Plain
		e.Pieces = either(step.Do == run.Coat, s.pieces, 0)
		return s.keep(e)
	case step.Do == run.Result:
		return tea.Quit
	default:
		s.state, s.since = leading, s.Now()
		return bell(1)
	}
	return nil
}

// read takes the keys of a temperature: arrows move it, digits type it.
func (s *dipScreen) read(k string, enter bool) tea.Cmd {
	switch {
	case k == "up" || k == "down":
		x, err := strconv.ParseFloat(strings.Replace(s.typed, ",", ".", 1), 64)
		if x += float64(arrow(k)); err != nil { // the first press shows where the bath should be
			number, _, _ := strings.Cut(s.Units.Temperature(s.Run.Reading(s.step).At), " ")
			x, _ = strconv.ParseFloat(number, 64)
			x = math.Round(x)
		}
		s.typed, s.moved = measure.Plain(x), true
	case k == "backspace" && s.typed != "":
		s.typed = s.typed[:len(s.typed)-1]
	case len(k) == 1 && strings.Contains("0123456789.,", k) && len(s.typed) < 6:
		s.typed, s.moved = either(s.moved, "", s.typed)+k, false
	case enter && s.typed == "":
		s.message = "no temperature yet: type what the thermometer shows, or set it with UP and DOWN"
	case enter:
		typed := s.typed
		t, err := s.Temperature(typed)
		if s.typed = ""; err != nil {
			s.message = errorText(err)
			return nil
		}
		e := run.Entry{Do: run.Read, Temperature: &t}
		if doubt := s.Run.Doubt(e, s.Now()); doubt != "" && s.doubted != typed {
			s.doubted, s.typed, s.moved = typed, typed, true
			s.message = doubt + " SPACE takes it all the same."
			return nil
		}
		s.state, s.doubted = showing, ""
		return s.keep(*run.Keyed(e))
	}
	return nil
}

// pick does what a choice says, or asks what it asks for first.
func (s *dipScreen) pick(c run.Choice) tea.Cmd {
	switch {
	case c.Why != nil:
		s.open("WHY", c.Why)
		return nil
	case c.Ask == run.AskTemperature:
		s.state, s.typed = reading, ""
		return nil
	case c.Ask == run.AskAnyway:
		s.anyway = s.step.Load
		s.refresh()
		return s.goOn()
	case len(c.Lines) > 0:
		list := []run.Choice{{Text: "go back"}}
		for _, line := range c.Lines {
			list = append(list, run.Choice{Text: line, Word: toRead})
		}
		c.Lines = nil
		s.open("READ AND DO, THEN CHOOSE DONE", append(list, c))
		return nil
	case c.Entry == nil:
		return nil
	}
	e := *c.Entry
	if e.At = s.Now(); c.Ask == run.AskClock {
		e.Time = new(bench.Since(s.step.Open.At, e.At))
	}
	switch e.Do {
	case run.Out:
		return tea.Batch(bell(1), s.keep(e))
	case run.Paused:
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
			body = append(body, strings.Split(measure.Hang(strings.TrimSuffix(text, said), said, width), "\n")...)
		}
	}
	big, seconds := "", func(d time.Duration) string { return fmt.Sprint(int(math.Ceil(d.Seconds()))) }
	step, left := s.step, s.left()
	if s.state == reading {
		step = s.Run.Reading(step)
	}
	head, explain := step.Head, slices.Clone(step.Lines)
	foot := "SPACE goes on   RIGHT what else   CTRL-C leaves, nothing is lost"
	switch {
	case s.state == choosing:
		head, explain, foot = s.title, nil, "UP, DOWN choose   SPACE takes it   LEFT goes back"
		for i, c := range s.list {
			explain = append(explain, either(i == s.picked, ">> ", "   ")+c.Text)
		}
	case s.state == leading:
		head, explain, foot = fmt.Sprintf("LOAD %d: GET READY", step.Load), []string{"the count runs from the first piece in"}, "LEFT stops it"
		big = seconds(leadIn - s.Now().Sub(s.since))
	case s.state == counting:
		head, explain, foot = fmt.Sprintf("LOAD %d IS IN", step.Load), nonEmpty(step.Band, step.Then), "SPACE when they are out"
		big = either(left < 0, when(step.Time > 0, "+")+fmt.Sprint(int(-left.Seconds())), seconds(left))
		if step.Time > 0 && left <= warnAt {
			head = either(left < -grace, fmt.Sprintf("LOAD %d IS NOT OUT", step.Load), either(left <= 0, "OUT NOW, OUT NOW, OUT NOW", "READY TO LIFT"))
		}
	case len(s.hand) > 0:
		head, explain, foot = "WRITING IT DOWN", nil, ""
	case step.Do == run.Read:
		foot = "UP, DOWN or digits   SPACE takes it   " + either(s.state == reading, "LEFT goes back", "RIGHT no thermometer")
		big = cmp.Or(s.typed, "--") + " " + s.Degree()
	case step.Do == run.Dip && step.Open != nil:
		foot = "SPACE what happened   RIGHT what else   CTRL-C leaves"
	case step.Do == run.Dip:
		big, foot = run.Clock(step.Time), "SPACE starts   UP, DOWN pieces   RIGHT what else   CTRL-C leaves"
		head += ": " + strings.ToUpper(plural(s.pieces, "piece"))
		explain = append(explain, step.Then)
		if step.Wrong != "" {
			head = map[string]string{"cold": "THE BATH IS TOO COLD", "hot": "THE BATH IS TOO HOT", "long": "THE BATH IS TOO COLD OR TOO WEAK"}[step.Wrong]
			explain = append([]string{step.Why}, explain...)
			foot = "SPACE what to do about it   RIGHT what else   CTRL-C leaves"
		}
	case step.Do == run.Wait:
		big = run.Clock(step.Time)
	case step.Do == run.Result:
		foot = "SPACE goes on to the result   RIGHT what else   CTRL-C leaves"
	}
	add(s.Batch.Number+": "+oneLine(s.Recipe.Title), "", head, "")
	if big != "" {
		body = append(body, run.Big(big, width)...)
		if s.state == counting && step.Time > 0 {
			body = append(body, s.bar(width))
		}
		add("")
	}
	if s.message != "" {
		explain = append(explain, "", s.message)
	}
	add(explain...)
	body = append(body[:min(len(body), height-2)], make([]string, height)...)
	body = append(body[:height-1], foot)
	for i, line := range body {
		r := []rune(line)
		body[i] = string(r[:min(len(r), width)])
	}
	return body
}

// bar shows the share of the dip that has gone by, without colour.
func (s *dipScreen) bar(width int) string {
	gone := min(max(1-float64(s.left())/float64(s.time()), 0), 1)
	n := int(gone * float64(width-2))
	return "[" + strings.Repeat("#", n) + strings.Repeat(".", width-2-n) + "]"
}
