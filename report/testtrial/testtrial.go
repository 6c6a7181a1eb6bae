// Package testtrial provides a small invented kale trial and its readings for the tests in report.
//
//	in    names, days and figures chosen by a test
//	out   a plan, plugs and readings as measure would make them
//
// It must not depend on how they are shown, and has no expected values; those belong in the tests. Only tests import it.
package testtrial

import (
	"fmt"
	"time"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
)

// Plan is a small kale trial: a base feed, and the same with seaweed extract.
func Plan() *plan.Plan {
	zone := time.FixedZone("", 3600)
	return &plan.Plan{
		Title: "Kale, spring", Crop: "kale", Zone: zone, Sown: time.Date(2026, 3, 2, 0, 0, 0, 0, zone),
		Tray: plan.TrayShape{Rows: 5, Columns: 10, LengthMM: 540, WidthMM: 280, PitchMM: 52, FirstU: 36, FirstV: 36,
			PlugBottomMM: 24},
		Card:   plan.Card{RuleMM: 100, RuleU: 0.2},
		Limits: plan.Limits{ChlorosisHueDeg: 105, ChlorosisChroma: 15},
		Volume: plan.Volume{MLPerTray: 1500},
		Treatments: []plan.Treatment{
			{Name: "water only"},
			{Name: "base feed", Gets: []plan.Dose{{Product: "base feed", MLPerL: 2, FromDay: 7}}, CompareWith: []string{"water only"}},
			{Name: "base feed + seaweed extract", Gets: []plan.Dose{{Product: "base feed", MLPerL: 2, FromDay: 7},
				{Product: "seaweed extract", MLPerL: 0.5, Additive: true, FromDay: 10}}, CompareWith: []string{"base feed"}},
		},
		Trays: []plan.Tray{{Number: 1, Treatment: "water only", Position: 3}, {Number: 7, Treatment: "base feed", Position: 1},
			{Number: 12, Treatment: "base feed + seaweed extract", Position: 2}},
		FeedDays: []int{7, 10, 14}, ReviewDays: []int{10, 17},
	}
}

// Taken is a time on a day of the invented trial.
func Taken(day, hour, minute int) time.Time {
	p := Plan()
	return p.Sown.AddDate(0, 0, day).Add(time.Duration(hour)*time.Hour + time.Duration(minute)*time.Minute)
}

// NoPlug has every quantity missing.
func NoPlug(name string, state reading.State) reading.Plug {
	m := reading.Missing
	return reading.Plug{Name: name, State: state, RootAreaMM2: m, RootAreaUMM2: m, RootCoverPct: m, RootLengthMM: m,
		RootBrowningPct: m, PlugAreaMM2: m, LeafAreaMM2: m, LeafAreaUMM2: m, ChloroticPct: m, LeafHueDeg: m, DGCI: m}
}

// RootPlug is a plug as roots show it, with an area in mm² and a brown share in %.
func RootPlug(name string, areaMM2, browningPct float64) reading.Plug {
	p := NoPlug(name, reading.Planted)
	p.RootAreaMM2, p.RootAreaUMM2 = reading.Number(areaMM2), reading.Number(areaMM2/20)
	p.PlugAreaMM2, p.RootCoverPct = 450, reading.Number(areaMM2/4.5)
	p.RootLengthMM, p.RootBrowningPct = reading.Number(areaMM2*2), reading.Number(browningPct)
	return p
}

// LeafPlug is a plug as leaves show it, with an area in mm² and a yellow share in %.
func LeafPlug(name string, areaMM2, chloroticPct float64) reading.Plug {
	p := NoPlug(name, reading.Planted)
	p.LeafAreaMM2, p.LeafAreaUMM2 = reading.Number(areaMM2), reading.Number(areaMM2/25)
	p.ChloroticPct, p.LeafHueDeg, p.DGCI = reading.Number(chloroticPct), 121.27, 0.5554
	return p
}

// Reading is what one photo gave.
func Reading(photo string, tray int, view reading.View, at time.Time, plugs ...reading.Plug) reading.Reading {
	return reading.Reading{Photo: photo, SHA256: photo, Version: "0.1", Settings: "5e77", Taken: at, TakenFrom: "photo",
		Tray: tray, View: view, PxPerMM: 6.1234, TiltDeg: 3.26, HeightMM: 700, ResidualPx: 0.2, ResidualMM: 0.03,
		CanopyCoverPct: reading.Missing, Plugs: plugs}
}

// Readings has a tray twice, a photo without card, and plugs out of order.
func Readings() []reading.Reading {
	blurred := Reading("day10/a.jpg", 7, reading.Roots, Taken(10, 9, 0), RootPlug("A1", 99, 0))
	blurred.Concerns = []reading.Concern{{Kind: reading.Blurred, Words: "the finest root asked for needs a sharper photo",
		Remedy: "hold still and take it again"}}
	noCard := reading.Reading{Photo: "day10/no-card.jpg", Taken: Taken(10, 9, 5), Concerns: []reading.Concern{
		{Kind: reading.NoCard, Words: "0 of 4 markers found", Remedy: "lay the card beside the tray", Fatal: true}}}
	shoots := Reading("day10/c.jpg", 7, reading.Shoots, Taken(10, 9, 20), LeafPlug("A1", 410.128, 4.5), LeafPlug("A2", 380, 0),
		NoPlug("A3", reading.Empty))
	shoots.CanopyCoverPct = 12.3456
	return []reading.Reading{
		noCard,
		Reading("day17/b.jpg", 7, reading.Roots, Taken(17, 9, 0), RootPlug("A1", 60, 1)),
		blurred,
		Reading("day10/b.jpg", 7, reading.Roots, Taken(10, 8, 0),
			RootPlug("A10", 30, 10), RootPlug("A2", 20.005, 0), RootPlug("B1", 40, 50), NoPlug("A3", reading.Empty),
			NoPlug("A4", reading.Hidden), RootPlug("A1", 10, 2)),
		shoots,
		Reading("day10/d.jpg", 1, reading.Shoots, Taken(10, 9, 30), LeafPlug("A1", 100, 80)),
	}
}

// WholeTrays are readings of two full trays on two days, for the sheets that are laid out like a tray.
func WholeTrays() []reading.Reading {
	var all []reading.Reading
	for _, day := range []int{10, 17} {
		for _, tray := range []int{1, 7, 12} {
			var roots, leaves []reading.Plug
			for i := range 50 {
				name := fmt.Sprintf("%c%d", 'A'+i/10, 1+i%10)
				if (i*7+tray)%23 == 0 {
					roots, leaves = append(roots, NoPlug(name, reading.Empty)), append(leaves, NoPlug(name, reading.Empty))
					continue
				}
				size := float64(day*(tray+4)) * (0.6 + float64((i*37+tray*11)%50)/60)
				roots = append(roots, RootPlug(name, size/4, float64(i%9)))
				leaves = append(leaves, LeafPlug(name, size*5, float64((i*13)%40)))
			}
			shoots := Reading(fmt.Sprintf("day%d/tray%d-shoots.jpg", day, tray), tray, reading.Shoots, Taken(day, 9, tray), leaves...)
			shoots.CanopyCoverPct = reading.Number(float64(day) * 2.5)
			all = append(all, shoots, Reading(fmt.Sprintf("day%d/tray%d-roots.jpg", day, tray), tray, reading.Roots,
				Taken(day, 10, tray), roots...))
		}
	}
	return all
}
