package pdf

import (
	"cmp"
	"fmt"
	"slices"

	"traygauge/measure/plan"
)

const (
	benchTop = 36.0
	boxGap   = 3.0
	boxHigh  = 26.0
)

// benchPages prints where the trays stand.
func (b *book) benchPages(p *plan.Plan, columns int) {
	places, homeless := benchPlaces(p.Trays)
	if len(places) == 0 && len(homeless) == 0 {
		return
	}
	rows := int((b.paper.Ht - benchTop - 28) / (boxHigh + boxGap))
	for i, tray := range append(places, homeless...) {
		k := i % (columns * rows)
		if k == 0 {
			drawn := ""
			if p.PlacesSeed > 0 {
				drawn = fmt.Sprintf(" Positions were assigned at random with seed %d.", p.PlacesSeed)
			}
			b.addPage(false, "Bench map", fmt.Sprintf("Boxes are in the order of the positions, %d in a row, not to scale. Number the positions on your bench the same way "+
				"before you put the trays on it.%s", columns, drawn))
		}
		wide := (b.width - 2*pageMargin - float64(columns-1)*boxGap) / float64(columns)
		b.benchBox(pageMargin+float64(k%columns)*(wide+boxGap), benchTop+float64(k/columns)*(boxHigh+boxGap), wide, tray)
	}
}

// benchPlaces returns the trays by place, with a tray numbered 0 for a place that stays free, and those without a place.
func benchPlaces(trays []plan.Tray) (places, homeless []plan.Tray) {
	for _, t := range trays {
		if t.Position > 0 {
			places = append(places, t)
		} else {
			homeless = append(homeless, t)
		}
	}
	slices.SortStableFunc(places, func(a, b plan.Tray) int { return cmp.Compare(a.Position, b.Position) })
	if len(places) == 0 || places[len(places)-1].Position > 2*len(places) {
		return places, homeless // numbers with large gaps are names of places rather than a count
	}
	var filled []plan.Tray
	for _, t := range places {
		for free := len(filled) + 1; free < t.Position; free++ {
			filled = append(filled, plan.Tray{Position: free})
		}
		filled = append(filled, t)
	}
	return filled, homeless
}

func (b *book) benchBox(x, y, wide float64, t plan.Tray) {
	b.outline(upright(x, y, wide, boxHigh), 0.25)
	place := fmt.Sprintf("position %d", t.Position)
	if t.Position == 0 {
		place = "no position in the plan"
	}
	b.greyText(x+2, y+4.5, 8, place)
	if t.Number == 0 {
		b.text(x+2, y+12, 9, false, "free")
		return
	}
	b.text(x+2, y+11.5, b.sizeToFit(trayWords(t.Number), wide-4, 15), true, trayWords(t.Number))
	b.font(8, false)
	lines := b.lines(t.Treatment, wide-4)
	for i, line := range lines {
		if i == 2 && len(lines) > 3 {
			line = b.fit(line+" …", wide-4)
		}
		if i > 2 {
			break
		}
		b.text(x+2, y+16+float64(i)*8*lineOfPoint, 8, false, line)
	}
}
