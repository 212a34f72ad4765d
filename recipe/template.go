package recipe

import (
	"fmt"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/strict"
)

// Template returns a commented recipe file for a new finish. It is strict TOML; all
// that keeps it from passing the check are the places marked FILL IN.
func Template(slug string) []byte {
	return []byte(strings.ReplaceAll(templateText, "SLUG", slug))
}

// FromExisting returns the file of a recipe, to be changed into a new one: the
// same text under a line of comment that says where it comes from. It returns a
// usage error where slug cannot name a recipe or is the name of r itself.
func FromExisting(r *Recipe, slug string) ([]byte, error) {
	if !ValidSlug(slug) {
		return nil, fault.Usagef("%q cannot be the name of a recipe", strict.Excerpt(slug)).Try("use small letters, digits and hyphens, at most 64")
	}
	if slug == r.Slug {
		return nil, fault.Usagef("the new recipe would have the name of the old one, %s", slug).Try("choose another name")
	}
	head := fmt.Sprintf("# %s: taken from %s, revision %d (%s)\n", slug, r.Slug, r.Revision, strict.Excerpt(r.Title))
	return []byte(head + r.Text), nil
}

const templateText = `# SLUG: a recipe for hepar. Keep the file name: it is the name of the recipe.
# Put your own words and figures wherever FILL IN stands, then: hepar recipe check SLUG.toml
# A quantity is a text with a unit: "75 C", "4.5 g/L", "1 min 30 s". Where sources or
# benches differ, give the limits too: { at = "75 C", from = "71 C", to = "82 C" }.

title    = "FILL IN"    # one line, at most 80 characters: the finish and the metal
revision = 1            # a whole number; add one whenever the recipe changes
kind     = "immersed"   # immersed, brushed, sprayed; or the helpers pickle and stop
alloys   = ["FILL IN"]  # the metals it is for, such as "sterling-925", "copper-c110"
look     = "FILL IN"    # what it looks like when it is right
source   = "FILL IN"    # a published work, or "common practice, no published source"
# plated = true         # made for plated ware, whose silver is thin

[bath]
water      = "FILL IN"  # temperature at work, 0 to 110 C
# works_down_to = "60 C"     # the bath does not work below this temperature
# weakest  = "50 %"          # nor below this share of its strength
# max_load = "2 dm2/L"       # metal in the bath at one time; only with a reason
# max_load_reason = "..."    # why, and who says so
# vessel   = "glass, glazed or plastic; no bare metal"

[[bath.reagent]]             # one for each substance; the first is the limiting one
substance     = "FILL IN"    # such as "liver-of-sulfur"; never an acid with a sulfide
# form        = "lump"       # the state it is weighed in, where there are several
concentration = "FILL IN"    # g/L or mL/L of finished bath; %w/v, oz/US gal, mol/L work too
# note        = "stir until it is clear"

# The order of mixing. Leave it out to add cold water first, then the reagents little
# by little. Name all the water and every reagent; a part is a share such as "2/3".
# Write it out for a bath with ammonia: ammonia first, under the hood, then cold water.
# [[bath.mix]]
# add  = "water"        # or a substance of this bath
# part = "2/3"          # all of it where there is no part
# temperature = "20 C"  # of the water; at most 30 C in a bath with ammonia
# how  = "into the vessel first"

[dip]                   # for immersed, pickle and stop; take it away for the others
time      = "FILL IN"   # for all dips together, such as { at = "10 s", from = "3 s", to = "30 s" }
# dips    = 1           # how many times a piece goes in
# stop_at = "blue-black"
# window  = "-33 % +67 %"    # how much shorter and longer still looks the same; or "10 %"
# window_source = "common practice, no published source"

# [coats]               # for brushed and sprayed, in the place of [dip]
# number = { at = 3, from = 1, to = 5 }
# spread = "80 mL/m2"   # liquid for one coat
# wait   = "30 min"     # between coats

# The steps, in order. The words after do: degrease, matte, heat, pickle, rinse, dip,
# coat, neutralise, dry, relieve, seal, inspect, wait. Always rinse between an acid and a sulfide.
[[step]]
do  = "degrease"
how = "FILL IN"         # with what, until what is seen: "until water runs off in a sheet"

[[step]]
do    = "rinse"
baths = 2               # 1 to 5, one after the other; or running = true

[[step]]
do  = "dip"             # just once for an immersed recipe; a brushed or sprayed one has coat

[[step]]
do    = "rinse"
baths = 2

[[step]]
do = "dry"

[[step]]
do  = "inspect"
how = "FILL IN"         # what to compare with, in what light

[hazards]                   # these add to what hepar says of the substances; they take nothing away
gas         = ["FILL IN"]   # what may come off, such as "hydrogen sulfide"; [] if nothing does
ventilation = "FILL IN"
ppe         = ["FILL IN"]
disposal    = "FILL IN"     # collect and label; the SDS and local rules decide, never the drain by default
# notes     = ["..."]
`
