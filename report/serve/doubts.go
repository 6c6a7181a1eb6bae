package serve

import (
	"slices"

	"traygauge/measure/checks"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
)

// amongAll returns the readings with the doubts that only all of them together raise, as reports have them. One about a photo's day is left out while the day is asked.
func amongAll(p *plan.Plan, readings []reading.Reading) []reading.Reading {
	all := checks.Together(p, readings)
	for i := range all {
		if _, asked := dayQuestion(p, all[i]); asked {
			all[i].Concerns = slices.DeleteFunc(all[i].Concerns, func(c reading.Concern) bool { return c.Kind == reading.DayAgainstName })
		}
	}
	return all
}

// doubted returns a reading with the doubts that it raises among all others, whether or not it is one of these.
func doubted(p *plan.Plan, all []reading.Reading, r reading.Reading) reading.Reading {
	others := slices.DeleteFunc(slices.Clone(all), func(o reading.Reading) bool { return o.Photo == r.Photo })
	return amongAll(p, append(others, r))[len(others)]
}

// namingTrays are the doubts whose words say which tray a photo is of, or could be of.
var namingTrays = []reading.Kind{reading.LooksLikeOther, reading.SamePicture}

// withoutTrays removes the doubts that name trays, for those from whom treatments are hidden.
func withoutTrays(r reading.Reading) reading.Reading {
	r.Concerns = slices.DeleteFunc(slices.Clone(r.Concerns), func(c reading.Concern) bool { return slices.Contains(namingTrays, c.Kind) })
	return r
}
