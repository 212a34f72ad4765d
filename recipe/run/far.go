package run

import (
	"fmt"
	"slices"
	"strings"

	"hepar/recipe"
	"hepar/recipe/bath/plan"
	"hepar/recipe/measure"
)

// farTimes is how many times a dip is longer or shorter than any that was planned before it is taken for a slip. Assumed.
const farTimes = 3

// Far says that a temperature or a time is so far from the loads of a sheet, and from the recipe, that it is rather a
// slip; and names the fields of a result that it is about. Nil is not looked at, nor what neither of them gives.
func Far(u measure.System, r *recipe.Recipe, loads []plan.Load, at *measure.Celsius, took *measure.Seconds) (said string, fields []string) {
	w := r.Bath.Water
	temperatures, times := []measure.Celsius{w.From, w.At, w.To, r.Bath.WorksDownTo}, []measure.Seconds{}
	if r.Dip != nil {
		times = append(times, r.Dip.Time.From, r.Dip.Time.At, r.Dip.Time.To)
	}
	for _, l := range loads {
		temperatures = append(temperatures, measure.Celsius(l.BeforeC), measure.Celsius(l.TemperatureC))
		times = append(times, measure.Seconds(l.DipS))
	}
	var all []string
	if low, high := ends(temperatures); at != nil && high > 0 && (*at < low-unlikely || *at > high+unlikely) {
		fields = append(fields, "temperature")
		all = append(all, far(u.Temperature, *at, measure.Celsius(int(low+0.5)), measure.Celsius(int(high+0.5))))
	}
	if low, high := ends(times); took != nil && high > 0 && (*took*farTimes < low || *took > high*farTimes) {
		fields = append(fields, "time")
		all = append(all, far(u.Time, *took, low, high))
	}
	return strings.Join(all, ", and "), fields
}

func far[T ~float64](say func(T) string, is, low, high T) string {
	planned := say(low)
	if high > low {
		planned += " to " + say(high)
	}
	return fmt.Sprintf("%s is far from the %s of the plan", say(is), planned)
}

// ends returns the least and the most of what is given, and 0 where nothing is.
func ends[T ~float64](list []T) (low, high T) {
	list = slices.DeleteFunc(list, func(x T) bool { return x <= 0 })
	if len(list) == 0 {
		return 0, 0
	}
	return slices.Min(list), slices.Max(list)
}
