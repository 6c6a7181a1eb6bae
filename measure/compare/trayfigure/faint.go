package trayfigure

import (
	"fmt"
	"math"
	"slices"

	"traygauge/measure/reading"
	"traygauge/measure/wording"
)

// detection is how many times its standard uncertainty an amount has to be before it is surely there, with 5 % chances of taking nothing
// for something and something for nothing (Currie 1968, Anal. Chem. 40, 586-593).
const detection = 3.29

// finest is the length in mm that no figure of a plant is finer than: one pixel of those that the networks look at, of which 4.8 take a mm of roots
// and 3 a mm of leaves.
var finest = map[reading.View]float64{reading.Roots: 1 / 4.8, reading.Shoots: 1 / 3.0}

// faint reports whether a tray's mean is too small to measure. An area below that of the finest that is seen, or a length below its length,
// is nothing. Errors of its plants are taken to go one way and not to average out: nothing
// is ever measured below 0. Plants without an error bar say nothing of it, nor do those that have grown into each other: what one of them is given
// too much its neighbour is given too little.
func (t *Trial) faint(q Quantity, day, tray int) bool {
	sum, u, n := 0.0, 0.0, 0.0
	for _, p := range t.plants(q.View, day, tray) {
		if v, bar := q.plug(p); v.Known() {
			sum, n = sum+float64(v), n+1
			if bar.Known() && !slices.Contains(p.Flags, reading.GrownTogether) {
				u += float64(bar) / 2
			}
		}
	}
	return !(sum > n*math.Pow(finest[q.View], float64(q.power))) || sum < detection*u
}

// fromNothing returns the trays that are too small to measure on a day and not on a later one: a rate of growth between the two would be
// any number, and to leave out these trays alone would be to leave out the slowest.
func (t *Trial) fromNothing(q Quantity, day, later int) []int {
	var trays []int
	for _, tray := range t.Plan.Trays {
		_, then := t.FigureOf(q, day, tray.Number)
		_, now := t.FigureOf(q, later, tray.Number)
		if then && now && t.faint(q, day, tray.Number) && !t.faint(q, later, tray.Number) {
			trays = append(trays, tray.Number)
		}
	}
	return trays
}

// grownFrom returns the days of a season from the first on which every tray that grows can be measured, and why those before are left
// out, "" where none is.
func (t *Trial) grownFrom(q Quantity, season []int) (days []int, leftOut string) {
	if len(season) == 0 {
		return nil, ""
	}
	last := season[len(season)-1]
	for i := len(season) - 2; i >= 0; i-- {
		if trays := t.fromNothing(q, season[i], last); len(trays) > 0 {
			days, leftOut = season[i+1:], faintWords(q, season[i], trays)
			if len(days) < leastForSeason {
				return days, leftOut + ", and too few reviews are left for a growth rate over all of them"
			}
			return days, fmt.Sprintf("%s, so growth is counted from day %d", leftOut, days[0])
		}
	}
	return season, ""
}

// mostNamed is how many trays a reason names; of more it says how many.
const mostNamed = 6

func faintWords(q Quantity, day int, trays []int) string {
	which := wording.Counted(len(trays), "tray", "trays")
	if len(trays) <= mostNamed {
		which = wording.Trays(trays)
	}
	return fmt.Sprintf("%s on day %d are too small to measure in %s", q.View.Words(), day, which)
}
