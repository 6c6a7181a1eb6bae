package report

import (
	"fmt"
	"time"

	"traygauge/measure"
	"traygauge/measure/plan"
)

// inventedPlan is a small kale trial: a base feed, and the same with seaweed extract.
func inventedPlan() *plan.Plan {
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

// taken is a time on a day of the invented trial.
func taken(day, hour, minute int) time.Time {
	p := inventedPlan()
	return p.Sown.AddDate(0, 0, day).Add(time.Duration(hour)*time.Hour + time.Duration(minute)*time.Minute)
}

// noPlug has every quantity missing.
func noPlug(name string, state measure.State) measure.Plug {
	m := measure.Missing
	return measure.Plug{Name: name, State: state, RootAreaMM2: m, RootAreaUMM2: m, RootCoverPct: m, RootLengthMM: m,
		RootBrowningPct: m, PlugAreaMM2: m, LeafAreaMM2: m, LeafAreaUMM2: m, ChloroticPct: m, LeafHueDeg: m, DGCI: m}
}

func rootPlug(name string, areaMM2, browningPct float64) measure.Plug {
	p := noPlug(name, measure.Planted)
	p.RootAreaMM2, p.RootAreaUMM2 = measure.Number(areaMM2), measure.Number(areaMM2/20)
	p.PlugAreaMM2, p.RootCoverPct = 450, measure.Number(areaMM2/4.5)
	p.RootLengthMM, p.RootBrowningPct = measure.Number(areaMM2*2), measure.Number(browningPct)
	return p
}

func leafPlug(name string, areaMM2, chloroticPct float64) measure.Plug {
	p := noPlug(name, measure.Planted)
	p.LeafAreaMM2, p.LeafAreaUMM2 = measure.Number(areaMM2), measure.Number(areaMM2/25)
	p.ChloroticPct, p.LeafHueDeg, p.DGCI = measure.Number(chloroticPct), 121.27, 0.5554
	return p
}

func reading(photo string, tray int, view string, at time.Time, plugs ...measure.Plug) measure.Reading {
	return measure.Reading{Photo: photo, SHA256: photo, Version: "0.1", Settings: "5e77", Taken: at, TakenFrom: "photo",
		Tray: tray, View: view, PxPerMM: 6.1234, TiltDeg: 3.26, HeightMM: 700, ResidualPx: 0.2, ResidualMM: 0.03,
		CanopyCoverPct: measure.Missing, Plugs: plugs}
}

// inventedReadings has a tray twice, a photo without card, and plugs out of order.
func inventedReadings() []measure.Reading {
	blurred := reading("day10/a.jpg", 7, "roots", taken(10, 9, 0), rootPlug("A1", 99, 0))
	blurred.Concerns = []measure.Concern{{Kind: "blurred", Words: "the finest root asked for needs a sharper photo",
		Remedy: "hold still and take it again"}}
	noCard := measure.Reading{Photo: "day10/no-card.jpg", Taken: taken(10, 9, 5), Concerns: []measure.Concern{
		{Kind: "no card", Words: "0 of 4 markers found", Remedy: "lay the card beside the tray", Fatal: true}}}
	shoots := reading("day10/c.jpg", 7, "shoots", taken(10, 9, 20), leafPlug("A1", 410.128, 4.5), leafPlug("A2", 380, 0),
		noPlug("A3", measure.Empty))
	shoots.CanopyCoverPct = 12.3456
	return []measure.Reading{
		noCard,
		reading("day17/b.jpg", 7, "roots", taken(17, 9, 0), rootPlug("A1", 60, 1)),
		blurred,
		reading("day10/b.jpg", 7, "roots", taken(10, 8, 0),
			rootPlug("A10", 30, 10), rootPlug("A2", 20.005, 0), rootPlug("B1", 40, 50), noPlug("A3", measure.Empty),
			noPlug("A4", measure.Hidden), rootPlug("A1", 10, 2)),
		shoots,
		reading("day10/d.jpg", 1, "shoots", taken(10, 9, 30), leafPlug("A1", 100, 80)),
	}
}

// wholeTrays are readings of two full trays on two days, for the sheets that are laid out like a tray.
func wholeTrays() []measure.Reading {
	var all []measure.Reading
	for _, day := range []int{10, 17} {
		for _, tray := range []int{1, 7, 12} {
			var roots, leaves []measure.Plug
			for i := range 50 {
				name := fmt.Sprintf("%c%d", 'A'+i/10, 1+i%10)
				if (i*7+tray)%23 == 0 {
					roots, leaves = append(roots, noPlug(name, measure.Empty)), append(leaves, noPlug(name, measure.Empty))
					continue
				}
				size := float64(day*(tray+4)) * (0.6 + float64((i*37+tray*11)%50)/60)
				roots = append(roots, rootPlug(name, size/4, float64(i%9)))
				leaves = append(leaves, leafPlug(name, size*5, float64((i*13)%40)))
			}
			shoots := reading(fmt.Sprintf("day%d/tray%d-shoots.jpg", day, tray), tray, "shoots", taken(day, 9, tray), leaves...)
			shoots.CanopyCoverPct = measure.Number(float64(day) * 2.5)
			all = append(all, shoots, reading(fmt.Sprintf("day%d/tray%d-roots.jpg", day, tray), tray, "roots",
				taken(day, 10, tray), roots...))
		}
	}
	return all
}
