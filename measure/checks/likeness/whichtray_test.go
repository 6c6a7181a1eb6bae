package likeness

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"traygauge/measure/correct"
	"traygauge/measure/reading"
	"traygauge/measure/testtray"
)

// grown is a usable reading of a tray of n plugs on a day. Each plant has a size of its own, which it keeps but for a share of chance; from day to day all double.
func grown(t *testing.T, tray, day, n int, view reading.View, chance float64) reading.Reading {
	name := fmt.Sprintf("tray %d day %d %s", tray, day, view)
	r := reading.Reading{Photo: name, SHA256: name, Tray: tray, View: view, TakenFrom: reading.FromPhoto, Taken: testtray.WholePlan(t).DateOf(day).Add(9 * time.Hour)}
	own, now := rand.New(rand.NewPCG(uint64(tray), 1)), rand.New(rand.NewPCG(uint64(tray), uint64(100+day)))
	for range n {
		size := reading.Number(math.Exp2(float64(day)/7) * math.Exp(own.NormFloat64()*0.4+now.NormFloat64()*0.4*chance))
		p := reading.EmptyPlug("")
		p.State, p.LeafAreaMM2, p.RootAreaMM2 = reading.Planted, 100*size, 50*size
		r.Plugs = append(r.Plugs, p)
	}
	at := func(x, y float64) [2]float64 { return [2]float64{x + 20*now.NormFloat64(), y + 20*now.NormFloat64()} }
	r.PlugsAt = &correct.Corners{at(200, 900), at(3800, 900), at(3800, 2800), at(200, 2800)}
	return r
}

// kindsOf lists the kinds of doubt that the readings get, in their order.
func kindsOf(t *testing.T, readings ...reading.Reading) (kinds [][]reading.Kind) {
	p := testtray.WholePlan(t)
	all := slices.Clone(readings)
	Trays(all, p)
	Pictures(all, p)
	for _, r := range all {
		kinds = append(kinds, testtray.Kinds(r))
	}
	return kinds
}

// Six trays, reviewed twice; of how plants differ four fifths is their own and a fifth is chance. Then tray 3 lies the other way round, trays 4
// and 5 have each other's tags, and nothing is said of trays 1, 2 and 6.
func TestPlantsTellWhichTrayItIsAndWhichWayRound(t *testing.T) {
	for _, view := range reading.Views {
		for _, n := range []int{50, 104} {
			var readings []reading.Reading
			for tray := 1; tray <= 6; tray++ {
				readings = append(readings, grown(t, tray, 7, n, view, 0.5))
			}
			for tray := 1; tray <= 6; tray++ {
				readings = append(readings, grown(t, tray, 14, n, view, 0.5))
			}
			for i, kinds := range kindsOf(t, readings...) {
				if len(kinds) > 0 {
					t.Errorf("%s of %d plugs, nothing changed: %s has %v", view, n, readings[i].Photo, kinds)
				}
			}
			slices.Reverse(readings[8].Plugs)
			readings[9].Tray, readings[10].Tray = 5, 4
			for i, kinds := range kindsOf(t, readings...) {
				want := map[int]reading.Kind{8: reading.TrayTurned, 9: reading.LooksLikeOther, 10: reading.LooksLikeOther}[i]
				if want == "" && len(kinds) > 0 || want != "" && !slices.Equal(kinds, []reading.Kind{want}) {
					t.Errorf("%s of %d plugs: %s has %v, want %q", view, n, readings[i].Photo, kinds, want)
				}
			}
		}
	}
}

// Plants whose sizes change by chance alone tell nothing: of 200 trays none is doubted.
func TestPlantsWithoutASizeOfTheirOwnTellNothing(t *testing.T) {
	var readings []reading.Reading
	for tray := 1; tray <= 200; tray++ {
		for _, day := range []int{7, 14} {
			r := grown(t, tray, day, 50, reading.Shoots, 30)
			r.Tray = 1 + (tray-1)%10
			if day == 7 && tray > 10 {
				continue
			}
			readings = append(readings, r)
		}
	}
	for i, kinds := range kindsOf(t, readings...) {
		if slices.Contains(kinds, reading.TrayTurned) || slices.Contains(kinds, reading.LooksLikeOther) {
			t.Errorf("%s has %v", readings[i].Photo, kinds)
		}
	}
}

// Trays beside one window are alike: of how plants differ most is light's, which falls on all from the same side, and little their own. No tray is doubted.
func TestTraysInTheSameLightAreNotDoubted(t *testing.T) {
	var readings []reading.Reading
	for _, day := range []int{7, 14} {
		for tray := 1; tray <= 60; tray++ {
			r := grown(t, tray, day, 50, reading.Shoots, 1.5)
			for i := range r.Plugs {
				column := float64(i % 10)
				r.Plugs[i].LeafAreaMM2 *= reading.Number(math.Exp(0.4 * column)) // 36 times as large on the window's side
			}
			readings = append(readings, r)
		}
	}
	for i, kinds := range kindsOf(t, readings...) {
		if len(kinds) > 0 {
			t.Errorf("%s has %v", readings[i].Photo, kinds)
		}
	}
}

// Plants on the window's side are the largest and are harvested after the first review, from all trays. What is left is largest on the other side: no tray lies the other way
// round for that.
func TestHarvestedPlantsTurnNoTray(t *testing.T) {
	var readings []reading.Reading
	for _, day := range []int{7, 14, 21} {
		for tray := 1; tray <= 6; tray++ {
			r := grown(t, tray, day, 50, reading.Shoots, 0.5)
			for i := range r.Plugs {
				column := i % 10
				r.Plugs[i].LeafAreaMM2 *= reading.Number(math.Exp(-0.2 * float64(column))) // 6 times as large on the window's side
				if day > 7 && column < 5 {
					r.Plugs[i].State, r.Plugs[i].LeafAreaMM2 = reading.Empty, reading.Missing
				}
			}
			readings = append(readings, r)
		}
	}
	for i, kinds := range kindsOf(t, readings...) {
		if len(kinds) > 0 {
			t.Errorf("%s has %v", readings[i].Photo, kinds)
		}
	}
}

// Two trays with the same mats of roots, photographed one after the other under a camera on a stand and against a stop, lie in the pictures alike, and their plugs are as
// large; only which of them are a little larger is each tray's own.
func TestMatsUnderACameraOnAStandAreNotTheSamePicture(t *testing.T) {
	first, second := grown(t, 1, 14, 50, reading.Roots, 0), grown(t, 2, 14, 50, reading.Roots, 0)
	second.PlugsAt = first.PlugsAt
	for _, r := range []reading.Reading{first, second} {
		for i := range r.Plugs {
			size := float64(r.Plugs[i].RootAreaMM2) / 200
			r.Plugs[i].RootAreaMM2 = reading.Number(900 * math.Pow(size, 0.1)) // their sizes differ by 4 %
		}
	}
	if kinds := kindsOf(t, first, second); len(kinds[0])+len(kinds[1]) > 0 {
		t.Errorf("%v", kinds)
	}
}

// Where two other trays fit equally well, the lower number is named, in each run.
func TestTheSameTrayIsNamedEachTime(t *testing.T) {
	own, other := grown(t, 1, 7, 50, reading.Shoots, 0), grown(t, 2, 7, 50, reading.Shoots, 0)
	twin, now := grown(t, 3, 7, 50, reading.Shoots, 0), grown(t, 1, 14, 50, reading.Shoots, 0)
	twin.Plugs, now.Plugs = other.Plugs, other.Plugs
	for range 20 {
		all := []reading.Reading{own, twin, other, now}
		Trays(all, testtray.WholePlan(t))
		if c := testtray.Concern(all[3], reading.LooksLikeOther); !strings.Contains(c.Words, "the ranking by size that tray 2 had") {
			t.Fatalf("%q", c.Words)
		}
	}
}

// Yesterday's photo, cut by 30 pixels and made smaller by a tenth, comes again under another date and under another tray. A second photo of the same tray a week later
// on which nothing grew was taken from another place.
func TestTheSamePictureAgainIsSeen(t *testing.T) {
	first := grown(t, 1, 7, 50, reading.Shoots, 0)
	again := func(tray, day int) reading.Reading {
		r := grown(t, tray, day, 50, reading.Shoots, 0)
		r.Plugs = slices.Clone(first.Plugs)
		for i := range r.Plugs {
			r.Plugs[i].LeafAreaMM2 *= reading.Number(1 + 0.03*math.Sin(float64(i))) // what another saving changes
		}
		at := *first.PlugsAt
		for i := range at {
			at[i][0], at[i][1] = 0.9*(at[i][0]-30), 0.9*(at[i][1]-30)
		}
		r.PlugsAt = &at
		return r
	}
	ungrown := again(1, 14)
	ungrown.PlugsAt = grown(t, 1, 14, 50, reading.Shoots, 0).PlugsAt
	for what, c := range map[string]struct {
		second reading.Reading
		same   bool
	}{
		"another day":              {again(1, 14), true},
		"another tray":             {again(2, 7), true},
		"the tray on the same day": {again(1, 7), false},
		"nothing grew":             {ungrown, false},
		"grown":                    {grown(t, 1, 14, 50, reading.Shoots, 0), false},
	} {
		kinds := kindsOf(t, first, c.second)
		if slices.Contains(kinds[1], reading.SamePicture) != c.same || len(kinds[0]) > 0 {
			t.Errorf("%s: %v", what, kinds)
		}
	}
}
