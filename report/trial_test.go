package report

import (
	"math"
	"slices"
	"testing"
	"time"

	"traygauge/measure/reading"
	"traygauge/report/testtrial"
)

func TestCollectUsesThePhotoWithoutConcerns(t *testing.T) {
	trial := Collect(testtrial.Plan(), testtrial.Readings())
	row := findTray(t, trial, 10, 7, "roots")
	if row.Photo != "day10/b.jpg" || !slices.Equal(row.Others, []string{"day10/a.jpg"}) {
		t.Errorf("the tray's row is from %s, set aside %v; want the earlier photo without concerns", row.Photo, row.Others)
	}
	// 10, 20.005, 30 and 40: sum 100.005, mean 25.00125, median (20.005 + 30)/2.
	s := row.RootAreaMM2
	closeTo(t, "sum", s.Sum, 100.005)
	closeTo(t, "mean", s.Mean, 25.00125)
	closeTo(t, "median", s.Median, 25.0025)
	if row.Plugs != 6 || row.Planted != 4 || row.Empty != 1 || row.Hidden != 1 || row.Excluded != 0 {
		t.Errorf("stand is %+v", row)
	}
	for _, p := range trial.Plugs {
		if spare := slices.Contains(p.Flags, SparePhoto); spare != (p.Photo == "day10/a.jpg") {
			t.Errorf("%s %s: spare is %v", p.Photo, p.Name, spare)
		}
	}
}

func TestCollectUsesTheLaterOfTwoGoodPhotos(t *testing.T) {
	early := testtrial.Reading("early.jpg", 1, "roots", testtrial.Taken(10, 8, 0), testtrial.RootPlug("A1", 10, 0))
	late := testtrial.Reading("late.jpg", 1, "roots", testtrial.Taken(10, 9, 0), testtrial.RootPlug("A1", 11, 0))
	for _, readings := range [][]reading.Reading{{early, late}, {late, early}} {
		if row := findTray(t, Collect(testtrial.Plan(), readings), 10, 1, "roots"); row.Photo != "late.jpg" {
			t.Errorf("used %s", row.Photo)
		}
	}
}

func TestCollectPutsRowsInOrder(t *testing.T) {
	readings := testtrial.Readings()
	for range 2 {
		var got []string
		for _, p := range Collect(testtrial.Plan(), readings).Plugs {
			got = append(got, p.Photo+" "+p.Name)
		}
		want := []string{
			"day10/d.jpg A1", "day10/a.jpg A1", "day10/b.jpg A1", "day10/b.jpg A2", "day10/b.jpg A3", "day10/b.jpg A4",
			"day10/b.jpg A10", "day10/b.jpg B1", "day10/c.jpg A1", "day10/c.jpg A2", "day10/c.jpg A3", "day17/b.jpg A1",
		}
		if !slices.Equal(got, want) {
			t.Errorf("got  %q\nwant %q", got, want)
		}
		slices.Reverse(readings)
	}
}

func TestCollectKeepsUnusablePhotosApart(t *testing.T) {
	readings := append(testtrial.Readings(), testtrial.Reading("no-tag.jpg", 0, "roots", testtrial.Taken(10, 9, 0), testtrial.RootPlug("A1", 1, 1)))
	trial := Collect(testtrial.Plan(), readings)
	if len(trial.Unused) != 2 || trial.Unused[0].Photo != "day10/no-card.jpg" || trial.Unused[1].Photo != "no-tag.jpg" {
		t.Errorf("unused: %+v", trial.Unused)
	}
}

func TestCollectPutsUndatedPhotosLast(t *testing.T) {
	r := testtrial.Reading("undated.jpg", 1, "roots", time.Time{}, testtrial.RootPlug("A1", 1, 1))
	trial := Collect(testtrial.Plan(), append(testtrial.Readings(), r))
	if last := trial.Trays[len(trial.Trays)-1]; last.Photo != "undated.jpg" || last.takenText() != "" || last.dayNumber().Known() {
		t.Errorf("last row is %+v", last.Shot)
	}
}

func TestSummarise(t *testing.T) {
	// 2, 4, 4, 4, 5, 5, 7, 9: mean 5, squares sum to 32, SD = √(32/7), CV = 100·SD/5.
	s := Summarise([]float64{9, 4, 5, 2, 4, 7, 5, 4})
	closeTo(t, "mean", s.Mean, 5)
	closeTo(t, "median", s.Median, 4.5)
	closeTo(t, "SD", s.SD, math.Sqrt(32.0/7))
	closeTo(t, "CV", s.CVPct(), 20*math.Sqrt(32.0/7))
	if one := Summarise([]float64{3}); one.SD.Known() || one.CVPct().Known() || one.Median != 3 {
		t.Errorf("one value: %+v", one)
	}
	if none := Summarise(nil); none.Sum.Known() || none.Mean.Known() || none.Median.Known() || none.SD.Known() {
		t.Errorf("no values: %+v", none)
	}
	if zero := Summarise([]float64{0, 0}); zero.CVPct().Known() {
		t.Error("a mean of 0 has no CV")
	}
}

func closeTo(t *testing.T, what string, got reading.Number, want float64) {
	t.Helper()
	if !(math.Abs(float64(got)-want) < 1e-9) {
		t.Errorf("%s is %v, want %v", what, got, want)
	}
}

func findTray(t *testing.T, trial *Trial, day, tray int, view string) TrayRow {
	t.Helper()
	for _, r := range trial.Trays {
		if r.Day == day && r.Tray == tray && r.View == view {
			return r
		}
	}
	t.Fatalf("no row for tray %d, day %d, %s", tray, day, view)
	return TrayRow{}
}
