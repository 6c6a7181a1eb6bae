package measure

import (
	"fmt"
	"strings"
	"testing"

	"traygauge/measure/reading"
)

// trayWithPlants is a usable reading of tray 3 of the invented plan on which the first n of ten plugs have something.
func trayWithPlants(t *testing.T, day, n int, view reading.View) reading.Reading {
	r := photoOf(t, fmt.Sprintf("day %d %s", day, view), 3, day, view)
	for i := range 10 {
		state := reading.Planted
		if i >= n {
			state = reading.Empty
		}
		r.Plugs = append(r.Plugs, reading.Plug{Name: fmt.Sprintf("A%d", i+1), State: state})
	}
	return r
}

// Four of ten plants where the review before had nine are doubted with both figures; five are not, nor is a first review, nor the review
// after a loss that has been told.
func TestPlantsThatTheLastReviewHadAreMissed(t *testing.T) {
	p := inventedPlan(t)
	for _, c := range []struct {
		plants []int // on days 7, 14 and 21
		told   []int // days
	}{
		{[]int{9, 9, 9}, nil}, {[]int{9, 4, 9}, []int{14}}, {[]int{9, 5, 9}, nil}, {[]int{2}, nil}, {[]int{9, 2, 2}, []int{14}}, {[]int{3, 1, 0}, nil},
	} {
		var readings []reading.Reading
		for i, n := range c.plants {
			readings = append(readings, trayWithPlants(t, 7*(i+1), n, "shoots"))
		}
		all := Together(p, Together(p, readings))
		var told []int
		for _, r := range all {
			for _, concern := range r.Concerns {
				told = append(told, p.DayOf(r.Taken))
				if !strings.Contains(concern.Words, "only 4 of 10") && c.plants[1] == 4 || !strings.Contains(concern.Words, "day 7 had 9") || !strings.Contains(concern.Remedy, "day 7") {
					t.Errorf("%+v", concern)
				}
			}
		}
		if fmt.Sprint(told) != fmt.Sprint(c.told) {
			t.Errorf("%v plants: told on days %v, want %v", c.plants, told, c.told)
		}
		for _, r := range readings {
			if len(r.Concerns) > 0 {
				t.Errorf("the readings given were changed")
			}
		}
	}
}
