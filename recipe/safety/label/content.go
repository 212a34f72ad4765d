package label

import (
	"cmp"
	"slices"
	"strings"

	"hepar/recipe"
	"hepar/recipe/fault"
	"hepar/recipe/reagent"
)

// Content is one thing in a container.
type Content struct {
	Substance string   // id of package reagent; empty for what is not in its table
	Name      string   // in words; empty for the name in the table
	Form      string   // as it stands on the shelf; empty for the first of the table. It decides the codes: 5 % vinegar is no glacial acid
	Amount    string   // "4.5 g/L"; may be empty
	Codes     []string // hazard codes from your own SDS; empty for the family defaults
	Signal    string   // signal word from your own SDS: Danger, Warning or empty

	sub      reagent.Substance // without an id where it is not known
	families []reagent.Group   // of the substance, or what the name of an unknown one points to
}

// ContentsOf lists what a recipe puts into its bath, as strong as it aims, and what the pieces
// bring into a helper bath: a stop or a strip takes up sulfide, a used pickle copper.
// Forms are those that were weighed, in the order of the recipe; without them they are the recipe's.
func ContentsOf(r *recipe.Recipe, forms ...string) []Content {
	var out []Content
	for i, x := range r.Bath.Reagents {
		amount, form := "", x.Form
		if i < len(forms) {
			form = forms[i]
		}
		if x.Concentration.At.PerL > 0 {
			amount = x.Concentration.At.String()
		}
		out = append(out, Content{Substance: x.Substance, Form: form, Amount: amount})
	}
	switch r.Kind {
	case recipe.Stop:
		out = append(out, Content{Substance: "liver-of-sulfur", Name: "sulfide carried in from the finish"})
	case recipe.Pickle:
		out = append(out, Content{Substance: "copper-sulfate", Name: "copper off the pieces, once used"})
	}
	return out
}

// WasteOf lists what its spent bath and the still rinses after it hold: the neutraliser after the dip too.
func WasteOf(r *recipe.Recipe, forms ...string) []Content {
	out, dipped := ContentsOf(r, forms...), false
	for _, step := range r.Steps {
		dipped = dipped || step.Do == "dip"
		if dipped && step.Do == "neutralise" && step.With != "" && !step.Running {
			out = append(out, Content{Substance: step.With})
		}
	}
	return out
}

// mostContents and mostCodes bound what a label is asked to hold.
const (
	mostContents = 20
	mostCodes    = 40
)

// settle cleans the texts of a content and looks it up.
func (c Content) settle() (Content, error) {
	if err := tidy("the substance", &c.Substance, "the form", &c.Form, "the name", &c.Name, "the amount", &c.Amount); err != nil {
		return c, err
	}
	c.sub, _ = reagent.Find(c.Substance)
	c.Name = cmp.Or(c.Name, c.sub.Name, strings.ReplaceAll(c.Substance, "-", " "))
	if c.Name == "" {
		return c, fault.Usagef("a substance on the label has no name").Try("name it; a label says what is in the container")
	}
	if c.families = c.sub.Groups; !c.known() {
		c.families = reagent.GroupsOf(c.Name)
	}
	if len(c.Codes) > mostCodes {
		return c, fault.Usagef("%s has %d hazard codes", c.Name, len(c.Codes)).Try("list at most %d", mostCodes)
	}
	c.Codes = apart(c.Codes)
	for i := range c.Codes {
		if err := tidy("a hazard code", &c.Codes[i]); err != nil {
			return c, err
		}
	}
	switch word := strings.ToLower(strings.TrimSpace(c.Signal)); word {
	case "", "danger", "warning":
		c.Signal = upper(word)
	default:
		return c, fault.Usagef("the signal word of %s is neither Danger nor Warning", c.Name).Try("copy it from your own SDS, section 2, or leave it out")
	}
	return c, nil
}

// settleAll settles a list and refuses what must not stand in one container. What comes twice
// stands there once, without a figure where the two differ.
func settleAll(list []Content) ([]Content, error) {
	var out []Content
	for _, c := range list {
		c, err := c.settle()
		if err != nil {
			return nil, err
		}
		if i := slices.IndexFunc(out, func(had Content) bool {
			return had.Name == c.Name && had.Form == c.Form && slices.Equal(had.Codes, c.Codes)
		}); i >= 0 {
			if out[i].Amount != c.Amount {
				out[i].Amount = "in several strengths"
			}
			continue
		}
		for _, other := range out {
			if p := reagent.Gravest(other.families, c.families); p.Severity >= reagent.Forbidden {
				return nil, fault.Safetyf("%s and %s must not meet in one container: %s", other.Name, c.Name, p.Why).
					Try("keep them in separate containers, each with its own label")
			}
		}
		if out = append(out, c); len(out) > mostContents {
			return nil, fault.Usagef("the label has more than %d contents", mostContents).Try("list at most %d", mostContents)
		}
	}
	return out, nil
}

func (c Content) known() bool { return c.sub.ID != "" }

func (c Content) in(groups ...reagent.Group) bool {
	return slices.ContainsFunc(groups, func(g reagent.Group) bool { return slices.Contains(c.families, g) })
}

func anyIn(contents []Content, groups ...reagent.Group) bool {
	return slices.ContainsFunc(contents, func(c Content) bool { return c.in(groups...) })
}

// defaults returns the codes of the table: its own, or the worst of its family.
func (c Content) defaults() []string {
	if c.known() {
		_, codes := c.sub.Rating(c.Form)
		return codes
	}
	var out []string
	for _, s := range reagent.All() {
		if s.Banned == "" && c.in(s.Groups...) {
			out = append(out, s.HCodes...)
		}
	}
	return unique(out)
}

func list(contents []Content) (all words) {
	for i, c := range contents {
		if i == 0 {
			all = bold(upper(c.Name))
		} else {
			all += ", " + bold(c.Name)
		}
		if c.Amount != "" {
			all += words(" " + c.Amount)
		}
	}
	return all
}

func unique(list []string) []string {
	var out []string
	for _, s := range list {
		if !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}
