package pdf

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"traygauge/measure/plan"
	"traygauge/report"
)

const (
	feedTop     = 50.0
	feedRowHigh = 7.0
	feedFoot    = 42.0 // room for cautions and check line
)

// feedingPages prints, for each feeding day, what each tray gets, with a box to tick.
func (b *book) feedingPages(p *plan.Plan) {
	for _, day := range p.FeedDays {
		products, rows := feedingRows(p, day)
		perPage := int((b.paper.Wd - feedTop - feedFoot) / feedRowHigh)
		for first := 0; first < len(rows); first += perPage {
			b.feedingPage(p, day, products, rows[first:min(first+perPage, len(rows))], first > 0)
		}
	}
}

func (b *book) feedingPage(p *plan.Plan, day int, products []string, rows []feedingRow, continued bool) {
	headline := fmt.Sprintf("Feeding sheet, day %d, %s", day, p.DateOf(day).Format("Monday 2 January 2006"))
	if continued {
		headline += " (continued)"
	}
	b.addPage(true, headline, feedingWords(p, day))
	b.text(pageMargin, 35, 9, false, "fed on (date, time) ______________________     by ______________________     pH ________     EC ________")
	c := feedColumnsFor(b.width-2*pageMargin, len(products))
	b.feedingHead(c, products, p.Volume.MLPerTray > 0)
	for i, r := range rows {
		b.feedingLine(c, feedTop+float64(i)*feedRowHigh, products, r)
	}
	y := b.height - feedFoot + 11
	for _, line := range report.MixingCautions() {
		b.text(pageMargin, y, 8, false, "•  "+line)
		y += 4
	}
}

func feedingWords(p *plan.Plan, day int) string {
	words := "mL of each product for the mix of one tray. Tick a tray when it is fed. Note in log.csv anything that you did differently from the plan."
	if p.Volume.MLPerTray <= 0 {
		words = "The plan has no volume per tray, so doses are in mL per litre of mix. Tick a tray when it is fed."
	}
	if slices.Contains(p.ReviewDays, day) {
		words += " Also a review day: photograph every tray from both sides before you feed."
	}
	return words
}

// feedColumns are the left edges and widths of the table's columns in mm. Too many products to stand side by side are
// listed in words.
type feedColumns struct {
	box, tray, place, treatment, treatmentWide, mix, product, productWide, end float64

	listed bool
	notes  float64 // left edge of what the products leave free, 0 when that is too little to write in
}

func feedColumnsFor(wide float64, products int) feedColumns {
	c := feedColumns{box: pageMargin, tray: pageMargin + 10, place: pageMargin + 28, treatment: pageMargin + 44, treatmentWide: 68}
	c.mix = c.treatment + c.treatmentWide
	c.product = c.mix + 22
	c.end = pageMargin + wide
	c.listed = products > 7
	if c.listed || products == 0 {
		return c
	}
	c.productWide = min(30, (c.end-c.product)/float64(products))
	if end := c.product + float64(products)*c.productWide; c.end-end > 25 {
		c.notes = end
	}
	return c
}

func (b *book) feedingHead(c feedColumns, products []string, volumeKnown bool) {
	y := feedTop - 3.2
	b.text(c.box, y, 8, true, "fed")
	b.text(c.tray, y, 8, true, "tray")
	b.text(c.place, y, 8, true, "position")
	b.text(c.treatment, y, 8, true, "treatment")
	unit := "mL"
	if volumeKnown {
		b.textRight(c.product-3, y, 8, true, "mix, mL")
	} else {
		unit = "mL/L"
	}
	if c.listed {
		b.text(c.product, y, 8, true, "products, "+unit)
	} else {
		for i, name := range products {
			b.productHead(c.product+float64(i+1)*c.productWide-2, y, c.productWide-3, name, unit)
		}
	}
	if c.notes > 0 {
		b.text(c.notes+4, y, 8, true, "notes")
	}
	b.fill(black, upright(pageMargin, feedTop-1.6, c.end-pageMargin, 0.3))
}

// productHead writes a product's name over one or two lines that end at x, the unit in the last.
func (b *book) productHead(x, y, wide float64, name, unit string) {
	b.font(8, true)
	lines := b.lines(name+", "+unit, wide)
	if len(lines) > 3 {
		lines = append(lines[:2], b.fit(strings.Join(lines[2:], " "), wide))
	}
	for i, line := range lines {
		b.textRight(x, y-float64(len(lines)-1-i)*3.4, 8, true, line)
	}
}

func (b *book) feedingLine(c feedColumns, y float64, products []string, r feedingRow) {
	base := y + 4.8
	sum := r.tray.Number == 0
	if sum {
		b.fill(pale, upright(pageMargin, y, c.end-pageMargin, feedRowHigh))
		b.text(c.tray, base, 9, true, fmt.Sprintf("all %d", r.trays))
	} else {
		b.outline(upright(c.box+0.5, y+1.2, 4.4, 4.4), 0.25)
		b.text(c.tray, base, 10, true, strconv.Itoa(r.tray.Number))
		if r.tray.Position > 0 {
			b.text(c.place, base, 9, false, strconv.Itoa(r.tray.Position))
		}
	}
	b.font(9, false)
	b.text(c.treatment, base, 9, false, b.fit(r.treatment, c.treatmentWide-2))
	if r.mixML > 0 {
		b.textRight(c.product-3, base, 9, sum, strconv.FormatFloat(r.mixML, 'f', -1, 64))
	}
	if c.listed {
		b.font(8, false)
		b.text(c.product, base, 8, false, b.fit(listDoses(products, r), c.end-c.product))
	} else {
		for i, d := range r.doses {
			b.textRight(c.product+float64(i+1)*c.productWide-2, base, 9, sum, d.words(r.mixML))
		}
	}
	b.fill(grey, upright(pageMargin, y+feedRowHigh-0.05, c.end-pageMargin, 0.1))
}

// words is the dose in mL, or in mL/L where the mix's volume is not known.
func (d dose) words(mixML float64) string {
	switch {
	case !d.given:
		return "–"
	case mixML > 0:
		return strconv.FormatFloat(d.ml, 'f', 2, 64)
	}
	return strconv.FormatFloat(d.mlPerL, 'f', 2, 64)
}

func listDoses(products []string, r feedingRow) string {
	var parts []string
	for i, d := range r.doses {
		if d.given {
			parts = append(parts, products[i]+" "+d.words(r.mixML))
		}
	}
	return strings.Join(parts, ", ")
}
