package gas

import (
	"strconv"
	"strings"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// trace is the least that is printed, in ppm: a hundredth of what a meter shows.
const trace = 0.001

// Text prints a share of the air in ppm, with a comma between thousands.
func Text(ppm float64, figures int) string {
	if ppm < trace {
		return "<" + measure.Plain(trace)
	}
	text := measure.Figures(ppm, figures)
	if n, err := strconv.Atoi(text); err == nil {
		text = measure.Grouped(n)
	}
	return text
}

// Band prints ppm: a figure, or the band where only that is known, which deserves one figure
// at each end.
func Band(middle *float64, low, high float64) string {
	switch {
	case middle != nil:
		return Text(*middle, 2)
	case high < trace:
		return Text(high, 1)
	}
	return Text(low, 1) + " to " + Text(high, 1)
}

// Read sets the room to a volume, "32 m3", or to the word outdoors.
func (r *Room) Read(text string) error {
	if strings.EqualFold(strings.TrimSpace(text), "outdoors") {
		*r = Room{Outdoors: true}
		return nil
	}
	liters, err := measure.ParseVolume(text)
	if err == nil && liters <= 0 {
		err = fault.Usagef("%q is not above zero", measure.Clean(text)).Try("give length x width x height, as in 32 m3")
	}
	if err == nil {
		r.VolumeM3, r.Outdoors = float64(liters)/1000, false
		err = r.Check()
	}
	return err
}
