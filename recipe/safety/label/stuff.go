package label

import (
	"slices"
	"strings"

	"hepar/recipe"
	"hepar/recipe/fault"
	"hepar/recipe/measure"
	"hepar/recipe/reagent"
)

// Content is one thing in a container.
type Content struct {
	Substance string   // id of package reagent; empty for what is not in its table
	Name      string   // in words; empty for the name in the table
	Amount    string   // "4.5 g/L"; may be empty
	Codes     []string // hazard codes from your own SDS; empty for the family defaults
	Signal    string   // signal word from your own SDS: Danger, Warning or empty

	// Family says what it belongs to where the table does not know it; left empty, the
	// name is searched for words such as acid or sulfide. The label shows the symbols of
	// the worst of that family, and that the thing itself is unknown.
	Family []reagent.Group

	sub   reagent.Substance
	known bool
}

// ContentsOf lists what a recipe puts into its bath, with the concentration at which
// the recipe aims. A nil recipe has none.
func ContentsOf(r *recipe.Recipe) []Content {
	if r == nil {
		return nil
	}
	var out []Content
	for _, x := range r.Bath.Reagents {
		amount := ""
		if x.Concentration.At > 0 {
			amount = measure.Figures(x.Concentration.At, 3)
			if strings.Contains(amount, ".") {
				amount = strings.TrimRight(strings.TrimRight(amount, "0"), ".")
			}
			amount += " " + x.Unit
		}
		out = append(out, Content{Substance: x.Substance, Amount: amount})
	}
	return out
}

// mostContents and mostCodes bound what a label is asked to hold.
const (
	mostContents = 20
	mostCodes    = 40
)

// settle cleans the texts of a content and looks it up. What the table does not know
// keeps its name and is known by its family only.
func (c Content) settle() (Content, error) {
	if err := tidy("the name", &c.Name, "the amount", &c.Amount); err != nil {
		return c, err
	}
	id, err := text("the substance", c.Substance)
	if err != nil {
		return c, err
	}
	if s, err := reagent.Find(id); err == nil {
		c.sub, c.known = s, true
	}
	if c.Name == "" {
		c.Name = strings.ReplaceAll(id, "-", " ")
		if c.known {
			c.Name = c.sub.Name
		}
	}
	if !c.known && len(c.Family) == 0 {
		c.Family = guess(c.Name)
	}
	if c.Name == "" {
		return c, fault.Usagef("something on the label has no name").Try("give the substance or its name: a label says what is in the container")
	}
	if len(c.Codes) > mostCodes {
		return c, fault.Usagef("%d hazard codes for %s", len(c.Codes), c.Name).Try("give at most %d", mostCodes)
	}
	var codes []string
	for _, code := range apart(c.Codes) {
		if code, err = text("a hazard code", code); err != nil {
			return c, err
		}
		codes = append(codes, code)
	}
	c.Codes = unique(codes)
	switch word := strings.TrimSpace(c.Signal); {
	case word == "":
		c.Signal = ""
	case strings.EqualFold(word, "danger"):
		c.Signal = "Danger"
	case strings.EqualFold(word, "warning"):
		c.Signal = "Warning"
	default:
		return c, fault.Usagef("the signal word of %s is neither Danger nor Warning", c.Name).Try("take it from your own SDS, section 2, or leave it out")
	}
	return c, nil
}

// guess gives the families that the name of something unknown points to, so that an acid
// is not put with a sulfide for want of an entry in the table.
func guess(name string) []reagent.Group {
	var out []reagent.Group
	name = strings.ToLower(name)
	for _, f := range []struct {
		group reagent.Group
		parts []string
	}{
		{reagent.Sulfide, []string{"sulfide", "sulphide", "liver of sul", "hepar", "lime sul"}},
		{reagent.Cyanide, []string{"cyanid"}},
		{reagent.Hypochlorite, []string{"bleach", "hypochlor"}},
		{reagent.OxidizingAcid, []string{"nitric", "aqua fortis", "aqua regia"}},
		{reagent.Acid, []string{"acid", "vinegar", "pickle", "bisulfate", "bisulphate"}},
		{reagent.Ammonia, []string{"ammonia"}},
		{reagent.Caustic, []string{"caustic", "lye", "hydroxide"}},
	} {
		if slices.ContainsFunc(f.parts, func(part string) bool { return strings.Contains(name, part) }) {
			out = append(out, f.group)
		}
	}
	return out
}

// settleAll does the same for a list and refuses what must not stand in one container.
func settleAll(list []Content) ([]Content, error) {
	if len(list) > mostContents {
		return nil, fault.Usagef("%d contents on one label", len(list)).Try("give at most %d", mostContents)
	}
	var out []Content
	for _, c := range list {
		c, err := c.settle()
		if err != nil {
			return nil, err
		}
		for _, other := range out {
			if why := mustNotMeet(other, c); why != "" {
				return nil, fault.Safetyf("%s with %s in one container: %s", other.Name, c.Name, why).
					Try("keep the two in separate containers, each with a label of its own")
			}
		}
		out = append(out, c)
	}
	return out, nil
}

func mustNotMeet(a, b Content) string {
	if all := reagent.Meetings(a.groups(), b.groups()); len(all) > 0 && all[0].Severity >= reagent.Forbidden {
		return all[0].Why
	}
	return ""
}

func (c Content) groups() []reagent.Group {
	if c.known {
		return c.sub.Groups
	}
	return c.Family
}

func (c Content) in(groups ...reagent.Group) bool {
	return slices.ContainsFunc(groups, func(g reagent.Group) bool { return slices.Contains(c.groups(), g) })
}

// defaults gives the codes of the table: its own, or the worst of its family.
func (c Content) defaults() []string {
	if c.known {
		return c.sub.HCodes
	}
	var out []string
	for _, s := range reagent.All() {
		if s.Banned == "" && slices.ContainsFunc(s.Groups, func(g reagent.Group) bool { return slices.Contains(c.Family, g) }) {
			out = append(out, s.HCodes...)
		}
	}
	return unique(out)
}
