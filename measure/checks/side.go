package checks

import (
	"fmt"
	"math"
	"slices"

	"traygauge/measure/reading"
	"traygauge/measure/wording"
	"traygauge/vision"
	"traygauge/vision/card"
)

// Which side of the tray is up, the picture tells by itself. Over drawn trays from seedlings to closed canopies, sick and under algae, the
// network for leaves sees plants on 92 to 100 % of the plugs from above, and on at most 6 % of them from below; a tray of which half failed still
// has 46 %; where algae look like plants from below, there is more root than that. The network for roots sees at least 8 mm² of root a plug from below, and less than 3 mm² on a bare top, which fills its cell.
const (
	greenWorthALook  = 0.003 // seedlings with two leaves of 6 mm are as green as 0.5 % of their tray
	hardlyAnyShare   = 0.1   // of the plugs: so few may be algae
	leastPlantShare  = 0.2   // of the plugs
	cellsLookedAt    = 12
	fewestPlugs      = 3     // of these
	leastRootCover   = 0.004 // of a plug's bottom: 3 mm² of 900
	leastBottomShare = 0.5
	mostBottomShare  = 1.3 // of a plug's usual bottom; tops come out at 1.6 and more
)

func plugBottomMM2(acrossMM float64) float64 { return math.Pi / 4 * acrossMM * acrossMM }

// sideUp holds the card's face against the side of the tray that the picture shows.
func sideUp(e Photo) *reading.Concern {
	if e.Scene.Face == card.Roots {
		return leavesBesideRoots(e)
	}
	return rootsBesideShoots(e)
}

// leavesBesideRoots tells a tray that stands as it grows beside the card's roots face.
func leavesBesideRoots(e Photo) *reading.Concern {
	s, tray, grid := e.Scene, e.Tray, e.Grid
	if vision.GreenShare(s, tray, grid) < greenWorthALook {
		return nil
	}
	n, leafMM2, err := vision.Plants(s, tray, grid)
	cells := e.inView()
	if err != nil || float64(n) < leastPlantShare*float64(cells) || leafMM2 < e.rootMM2() {
		return nil
	}
	return &reading.Concern{Kind: reading.WrongSide, Fatal: true,
		Words:  fmt.Sprintf("the card’s roots face is up, but the photo shows leaves on %d of %d plugs", n, cells),
		Remedy: "turn the card over so that its shoots face is up, put its arrow at the tray’s A1 corner, and take the photo again"}
}

// rootsBesideShoots tells a tray turned over beside the card's shoots face, and doubts one on which hardly anything grows.
func rootsBesideShoots(e Photo) *reading.Concern {
	s, tray, grid := e.Scene, e.Tray, e.Grid
	n, cells := e.Reading.Planted(), e.inView()
	if float64(n) >= leastPlantShare*float64(cells) || cells == 0 {
		return nil
	}
	b, err := vision.SampleRoots(s, tray, grid, cellsLookedAt)
	if err == nil && b.Plugs >= fewestPlugs && b.RootMM2 >= leastRootCover*plugBottomMM2(tray.PlugMM) && b.PlugShare > leastBottomShare && b.PlugShare < mostBottomShare {
		return &reading.Concern{Kind: reading.WrongSide, Fatal: true,
			Words:  fmt.Sprintf("the card’s shoots face is up, but the photo shows plug bottoms: about %.0f mm² of root on each, and leaves on only %d of %d", b.RootMM2, n, cells),
			Remedy: "turn the card over so that its roots face is up, put its arrow at the tray’s A1 corner, and take the photo again"}
	}
	if float64(n) > hardlyAnyShare*float64(cells) {
		return nil
	}
	seen := "not one plant was"
	if n > 0 {
		seen = fmt.Sprintf("only %s", wording.Counted(n, "plant was", "plants were"))
	}
	return &reading.Concern{Kind: reading.HardlyAnyPlants,
		Words:  fmt.Sprintf("%s seen on %d plugs", seen, cells),
		Remedy: "look at the overlay: if there are plants, the light or the side of the tray is wrong; if there are none, ignore this"}
}

// inView counts the plugs that are in the photo.
func (e Photo) inView() (n int) {
	for _, p := range e.Reading.Plugs {
		n += count(p.State != reading.Hidden || !slices.Contains(p.Flags, reading.CutOff))
	}
	return n
}

// rootMM2 is the root on all plugs together.
func (e Photo) rootMM2() (sum float64) {
	for _, p := range e.Reading.Plugs {
		if p.RootAreaMM2.Known() {
			sum += float64(p.RootAreaMM2)
		}
	}
	return sum
}
