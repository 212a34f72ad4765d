package safety

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"hepar/recipe"
	"hepar/recipe/bath/plan"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/metal"
	"hepar/recipe/reagent"
	"hepar/recipe/safety/gas"
)

// Level says what a point asks. What is only to be known is a line to read.
type Level string

// The levels.
const (
	Stop Level = "stop" // must not be done; nothing overrides it
	Do   Level = "do"   // done before the work begins, and confirmed
)

// Point is one thing that follows from what is declared.
type Point struct {
	Code   string `json:"code"` // "acid-sulfide", stable
	Level  Level  `json:"level"`
	Text   string `json:"text"`
	Source string `json:"source"`
	Cure   string `json:"cure,omitempty"` // what to do about it, in one line
}

// Subject is what is to be reviewed: a recipe, and as much of the batch as is known.
type Subject struct {
	Recipe    *recipe.Recipe
	Alloy     *metal.Alloy     // nil where not chosen
	MetalArea measure.SquareCM // of the whole batch; 0 where not known
	Bath      measure.Liters   // 0 where not known
	Reagents  []reagent.Amount // what goes into one bath, as it stands on the shelf; nil where not known
	Plan      []reagent.Amount // what goes into all baths of the plan and strengthens them; nil: one bath

	Room        gas.Room        // zero figures: not given; a small room is then taken for scale
	BathC       measure.Celsius // 0: the temperature of the recipe
	SurfaceCM2  float64         // of the bath, open to the air; 0: reckoned from its volume
	Lid         bool
	DragOutMLM2 float64 // liquid that clings to the pieces, mL/m2; 0: the poor drain of package rinse
	Persons     []Person
	People      []string    // all who work there, as the shop file lists them; nil where it lists nobody
	Shapes      []string    // of the pieces, see [metal.Shapes]
	With        []string    // what the pieces have that a bath may harm: see [Withs]
	Shared      []string    // what acid and sulfide work have in common in this shop: see [Shares]
	Limits      []gas.Limit // of the workshop's own, see [gas.With]
	Vessel      plan.Vessel // of the bath; zero where not known
	Held        *Held       // what it held last; nil where nothing is known

	// Helper recipes through which the pieces go as well: a pickle before, a stop behind.
	Before, After []*recipe.Recipe

	Answers
}

// Answers are what was measured or named before the work. A zero field was not answered.
type Answers struct {
	PH       float64 // of the bath at working temperature, above 0, up to 14
	Capture  string  // one of [Captures]
	MeterPPM float64 // at which the gas meter gives alarm, above 0
	Second   string  // name of the second person
	SDS      string  // day of the data sheet, "2025-04-30"
}

// Person is one who works on it. Each flag adds to a review, none takes away; they are for the
// person to give, and nothing here says who is fit to work.
type Person struct {
	Name     string
	NoSmell  bool // no or little sense of smell
	Pregnant bool
	Lungs    bool // asthma or another disease of the lungs
	Alone    bool // nobody within sight or call
	New      bool // new to this work
}

// Confirmation is one thing done before the work, or a value typed.
type Confirmation struct {
	Code   string `json:"code"`
	Text   string `json:"text"` // at most 25 words
	Ask    string `json:"ask"`  // ph, capture, meter, second, sds: what is typed; empty where a yes is enough
	Answer string `json:"answer,omitempty"`
	Source string `json:"source"`
}

// Line is one thing to read before the work.
type Line struct {
	Code   string `json:"code"`
	Text   string `json:"text"`
	Source string `json:"source"`
}

// Review is the outcome: what to say before anything is mixed.
type Review struct {
	Emergency []string       `json:"emergency"` // three lines
	Points    []Point        `json:"points"`    // stops first
	Confirm   []Confirmation `json:"confirm"`   // at most ten
	Read      []Line         `json:"read"`

	// Substances has the hazards, codes, storage and gloves of each: family defaults.
	Substances []Line `json:"substances"`

	// Gas estimates what could be in the air, and the rest what these figures rest on.
	// Each says within what factor it is right at best.
	Gas          []gas.Estimate     `json:"gas"`
	GramsToLimit []gas.GramsToLimit `json:"grams_to_limit"`
	// AirflowM3H is the air in m3/h that would keep the bath as planned, at the upper end of
	// its band, at the lowest limit for work; nil without a measured pH or a modelled bath.
	AirflowM3H *float64    `json:"airflow_m3_h"`
	Airflow    []gas.Flow  `json:"airflow"`
	Limits     []gas.Limit `json:"limits"` // of the gases in Gas
	Inputs     []gas.Input `json:"inputs"` // what was given and what was assumed
	Note       string      `json:"note"`   // how far to trust the figures
}

// Stops returns the codes of the points that forbid the work.
func (r Review) Stops() []string {
	var codes []string
	for _, p := range r.Points {
		if p.Level == Stop {
			codes = append(codes, p.Code)
		}
	}
	return codes
}

// Assess reviews a recipe and as much of a batch as is known. Amounts must be finite and not
// negative, in the units of their types and names, the pH up to 14, the bath from 0 to 100 C,
// the room one that can be, words among [Withs], [Shares] and [Captures]; nil recipe or
// anything else is an error of kind [fault.Usage]. A review that forbids the work is no error:
// see [Review.Stops] and [Refused].
func Assess(s Subject) (Review, error) {
	if s.Recipe == nil {
		return Review{}, fault.Usagef("no recipe to review").Try("name a recipe or a saved batch")
	}
	if err := s.check(); err != nil {
		return Review{}, err
	}
	w := work{Subject: s, vessels: s.way()}
	var every vessel
	for _, v := range w.vessels {
		every.put(v.agents...)
	}
	w.agents = every.agents
	l := list{points: sequence(w.vessels, s.Alloy)}
	for _, part := range []func(*list){w.shared, w.acidity, w.guarded, w.held, w.pieces} {
		part(&l)
	}
	r := Review{
		Emergency: w.emergency(), Points: l.ranked(), Read: w.read(), Substances: w.substances(),
		Gas: []gas.Estimate{}, GramsToLimit: []gas.GramsToLimit{}, Airflow: []gas.Flow{}, Limits: []gas.Limit{},
	}
	r.Confirm = w.confirm(r.Points)
	if err := w.breathe(&r); err != nil {
		return Review{}, err
	}
	return r, nil
}

// way returns the vessels of the recipe and its helpers, in order; the batch goes into its
// bath.
func (s Subject) way() []vessel {
	vs := line(s.Recipe, slices.Concat(s.Reagents, s.Plan)...)
	for i := range vs {
		vs[i].main = true
	}
	for _, r := range slices.Backward(s.Before) {
		vs = append(line(r), vs...)
	}
	for _, r := range s.After {
		vs = append(vs, line(r)...)
	}
	for i := range vs {
		vs[i].at, vs[i].named = i, len(s.Before)+len(s.After) > 0
	}
	return vs
}

type work struct {
	Subject
	vessels []vessel
	agents  []agent
}

func (w work) any(as func(agent) bool) bool { return slices.ContainsFunc(w.agents, as) }

func (w work) names(as func(agent) bool) string {
	var list []string
	for _, a := range w.agents {
		if as(a) && !slices.Contains(list, a.name) {
			list = append(list, a.name)
		}
	}
	return and(list)
}

// sulfidic tells whether sulfide is in the work, or carried into the bath that stops a finish.
func (w work) sulfidic() bool {
	return w.any(sulfide) || w.Recipe.Kind == recipe.Stop
}

// leavesSulfide tells whether the bath that is mixed here is sulfide waste afterwards.
func (w work) leavesSulfide() bool { return w.bathSulfidic() || w.Recipe.Kind == recipe.Stop }

func (w work) bathAgents() []agent {
	for _, v := range w.vessels {
		if v.bath && v.main {
			return v.agents
		}
	}
	return nil
}

func (w work) bathHas(as func(agent) bool) bool { return slices.ContainsFunc(w.bathAgents(), as) }

func (s Subject) check() error {
	for _, x := range []struct {
		value, most float64
		what, cure  string
	}{
		{float64(s.MetalArea), math.MaxFloat64, "the metal area is not an amount: %v cm2", "give the area of the whole batch, or leave it out"},
		{float64(s.Bath), math.MaxFloat64, "the bath is not an amount: %v L", "give the volume of the bath, or leave it out"},
		{s.PH, 14, "the pH cannot be %v", "give the pH of the bath at working temperature, more than 0 and at most 14, or leave it out"},
		{float64(s.BathC), 100, "a bath of %v C is out of range", "give the temperature of the bath from 0 to 100 C, or leave it out"},
		{s.SurfaceCM2, 1e6, "a bath surface of %v cm2 is out of range", "give the surface open to the air, or leave it out"},
		{s.DragOutMLM2, 1e4, "%v mL/m2 clinging to the pieces is out of range", "give 10 to 1000 mL/m2, or leave it out"},
		{s.MeterPPM, mostPPM, "a gas meter cannot give the alarm at %v ppm", "give what it is set to, such as 5"},
	} {
		if !(x.value >= 0 && x.value <= x.most) {
			return fault.Usagef(x.what, x.value).Try("%s", x.cure)
		}
	}
	if err := cmp.Or(s.Room.Check(), checkWords(s.With, Withs(), "word for pieces", "; for another stone write stone"),
		checkWords(s.Shared, Shares(), "word for a shared thing", ""), checkWords([]string{s.Capture}, Captures(), "word for a capture", "")); err != nil {
		return err
	}
	if s.Capture == "outdoors" && s.Room.VolumeM3 > 0 && !s.Room.Outdoors {
		return fault.Usagef("capture is outdoors and the room has %v m3", s.Room.VolumeM3).Try("give --room outdoors, or the capture in the room: --capture hood or --capture slot")
	}
	for _, a := range slices.Concat(s.Reagents, s.Plan) {
		if !(a.Shown >= 0 && a.Shown <= math.MaxFloat64) {
			return fault.Usagef("%v %s of %s is not an amount", a.Shown, a.Unit(), plain(a.Substance.ID)).Try("give what goes into the bath, or leave it out")
		}
	}
	return nil
}

// list gathers points.
type list struct{ points []Point }

func (l *list) stop(code, text, cure, source string) { l.add(Stop, code, text, cure, source) }
func (l *list) do(code, text, cure, source string)   { l.add(Do, code, text, cure, source) }

func (l *list) add(level Level, code, text, cure, source string) {
	l.points = append(l.points, Point{code, level, sentence(plain(text)), source, cure})
}

// ranked returns the first point of each code, the stops first, and otherwise in the order in
// which they were added.
func (l *list) ranked() []Point {
	slices.SortStableFunc(l.points, func(a, b Point) int { return cmp.Compare(b.Level, a.Level) }) // "stop", "do"
	out := []Point{}
	for _, p := range l.points {
		if !slices.ContainsFunc(out, func(other Point) bool { return other.Code == p.Code }) {
			out = append(out, p)
		}
	}
	return out
}

// Refused returns the error of kind [fault.Safety] with which work ends: all stops, and
// what to do about them. It is nil where no point is a stop.
func Refused(points []Point) error {
	what := ""
	var cures []string
	for _, p := range points {
		if p.Level != Stop {
			continue
		}
		if what == "" {
			what = strings.TrimSuffix(p.Text, ".")
		} else {
			what += "; and " + strings.TrimSuffix(p.Text, ".")
		}
		if !slices.Contains(cures, p.Cure) {
			cures = append(cures, p.Cure)
		}
	}
	if what == "" {
		return nil
	}
	return fault.Safetyf("refused: %s", what).Try("%s", strings.Join(cures, "; "))
}

// sentence makes a whole sentence of a line that starts small and has no full stop.
func sentence(line string) string {
	first, size := utf8.DecodeRuneInString(line)
	return string(unicode.ToUpper(first)) + strings.TrimSuffix(line[size:], ".") + "."
}

func plain(text string) string {
	return strings.Join(strings.Fields(measure.Clean(strings.ToValidUTF8(text, "?"))), " ")
}

// and joins words: "a", "a and b", "a, b and c".
func and(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}
