package checks

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"traygauge/measure/reading"
	"traygauge/measure/stats"
	"traygauge/measure/testtray"
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
	p := testtray.WholePlan(t)
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

// A colour space that was lost turns the card's green by 8° (Adobe RGB (1998) read as sRGB): among others of the same card that shows. The first
// of a trial, and four that differ by 2°, are not doubted.
func TestAPhotoWhoseCardDiffersFromTheOthersIsDoubted(t *testing.T) {
	for _, c := range []struct {
		green, chroma []float64
		told          bool // of the first
	}{
		{[]float64{-8, 0, 1, 0, -1}, []float64{0.87, 1, 1, 1, 1}, true},
		{[]float64{0, 0, 1, 0, -1}, []float64{1.4, 1, 1, 1, 1}, true},
		{[]float64{-2, 0, 1, 0, -1}, []float64{0.9, 1, 1, 1, 1}, false},
		{[]float64{-8, -8, -7, -8, -8}, []float64{0.87, 0.87, 0.87, 0.87, 0.87}, false},
		{[]float64{-8, 0}, []float64{0.87, 1}, false},
	} {
		var readings []reading.Reading
		for i := range c.green {
			r := photoOf(t, string(rune('a'+i)), i+1, 14, "roots")
			r.CardGreenOffDeg, r.CardChroma = reading.Number(c.green[i]), reading.Number(c.chroma[i])
			readings = append(readings, r)
		}
		all := Together(testtray.WholePlan(t), readings)
		for i, r := range all {
			if has(&r, reading.ColoursDiffering) != (c.told && i == 0) {
				t.Errorf("%+v: photo %d: %+v", c, i, r.Concerns)
			}
		}
	}
	if got := stats.Median([]float64{3, 1, 2, 10}); math.Abs(got-2.5) > 1e-12 {
		t.Errorf("median %g", got)
	}
}

// A photo that says day 28 and lies in the folder of day 14 is doubted; where it says what its folder says, or the name says nothing, it is not.
func TestADayAgainstItsFolder(t *testing.T) {
	p := testtray.WholePlan(t)
	for name, doubted := range map[string]bool{"day-14/a.jpg": false, "day-07/a.jpg": true, "Day 7/x/a.jpg": true, "a.jpg": false, "monday 7/a.jpg": false, "day-07/day_14 tray.jpg": false} {
		r := photoOf(t, name, 1, 14, "roots")
		if got := Together(p, []reading.Reading{r})[0]; has(&got, reading.DayAgainstName) != doubted {
			t.Errorf("%s: %+v", name, got.Concerns)
		}
	}
}
