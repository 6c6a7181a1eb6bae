package plan

import (
	"strings"
	"testing"
)

func leafHeight(t TrayShape, day int) float64 {
	mm, _ := t.LeafHeightOn(day)
	return mm
}

// Between two days named the height is on the straight line: half-way from 16 on day 21 to 28 on day 29 it is 22; before the first it is on one from
// 0 at sowing. After the last it is a guess.
func TestLeafHeightBetweenItsNeighbours(t *testing.T) {
	days := TrayShape{LeafHeightMM: 10, LeafHeightMMDays: map[int]float64{14: 8, 21: 16, 29: 28}}
	for _, c := range []struct {
		shape TrayShape
		day   int
		mm    float64
		sure  bool
	}{
		{days, 14, 8, true}, {days, 21, 16, true}, {days, 25, 22, true}, {days, 7, 4, true}, {days, 0, 0, true}, {days, -3, 0, true},
		{days, 29, 28, true}, {days, 30, 28, false}, {days, 400, 28, false},
		{TrayShape{LeafHeightMM: 10}, 30, 10, true}, {TrayShape{LeafHeightMMDays: map[int]float64{0: 3}}, -1, 3, true},
	} {
		if mm, sure := c.shape.LeafHeightOn(c.day); mm != c.mm || sure != c.sure {
			t.Errorf("%v on day %d: %g, %v; want %g, %v", c.shape.LeafHeightMMDays, c.day, mm, sure, c.mm, c.sure)
		}
	}
}

// A plan's review days without a height of their own are named, with the height that is taken instead; so are leaves as high as a camera.
func TestReviewDaysWithoutALeafHeightAreNamed(t *testing.T) {
	for text, want := range map[string]string{
		"{7: 5, 14: 10, 21: 40}":  "",
		"{7: 5, 21: 40}":          "note: the plan has no leaf height for review day 14: 22.5 mm",
		"{7: 5, 14: 10}":          "warning: the plan has no leaf height for review day 21: the last one, 10 mm",
		"{7: 5, 14: 10, 21: 500}": "warning: leaves 500 mm above the card",
	} {
		_, findings, err := Parse([]byte(strings.Replace(whole, "{7: 5, 14: 19, 21: 40}", text, 1)), FileName)
		if err != nil {
			t.Fatal(err)
		}
		said := list(findings)
		if want == "" && strings.Contains(said, "leaf") || !strings.Contains(said, want) {
			t.Errorf("%s: want %q, got\n%s", text, want, said)
		}
	}
}
