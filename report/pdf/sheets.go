// Package pdf makes the sheets of a trial at exact size: the card, the tags, the bench map and the feeding sheets.
//
//	in    a plan and the paper size
//	out   a PDF, the same bytes for the same plan, and the positions of items of exact size on its pages
//
// It must not depend on photos, readings or results, because it is used before there are any. The geometry of the card comes from
// vision/card.
package pdf

import (
	"fmt"
	"io"

	"codeberg.org/go-pdf/fpdf"

	"traygauge/measure/plan"
	"traygauge/vision/card"
)

// Options says how the sheets are printed. The zero value prints card 1 on A4.
type Options struct {
	Paper        string // "a4" or "letter"; "" is a4
	CardNumber   int    // printed on the card; 0 is 1
	BenchColumns int    // places side by side on the bench map; 0 is 4
}

// Placed says where something printed at exact size lies: the origin of its frame, in mm from the top left corner of its
// page. A card's and a tag's frame begin at their own top left corner, the check line's at its left end.
type Placed struct {
	Kind string // "roots face", "shoots face", "tag" or "check line"
	Tray int    // of a tag, else 0
	Page int    // from 1
	X, Y float64
}

// paperSizes are width and height in mm, upright.
var paperSizes = map[string]fpdf.SizeType{
	"":       {Wd: 210, Ht: 297},
	"a4":     {Wd: 210, Ht: 297},
	"letter": {Wd: 215.9, Ht: 279.4},
}

// Sheets writes a PDF of everything that is printed for a trial, at exact size: the card's two faces, the tags of the
// trial's trays, the bench map, and a feeding sheet for each feeding day. The same plan gives the same bytes. Lengths
// are rounded to 0.01 pt, 0.004 mm.
func Sheets(w io.Writer, p *plan.Plan, o Options) error {
	b, err := layOut(p, o)
	if err != nil {
		return err
	}
	if err := b.pdf.Output(w); err != nil {
		return fmt.Errorf("cannot make the sheets: %w", err)
	}
	return nil
}

// places returns where on the sheets the things of exact size lie, in the order of the pages.
func places(p *plan.Plan, o Options) ([]Placed, error) {
	b, err := layOut(p, o)
	if err != nil {
		return nil, err
	}
	return b.placed, nil
}

func layOut(p *plan.Plan, o Options) (*book, error) {
	size, ok := paperSizes[o.Paper]
	if !ok {
		return nil, fmt.Errorf("unknown paper size %q: use a4 or letter", o.Paper)
	}
	for _, t := range p.Trays {
		if _, err := card.TagID(t.Number); err != nil {
			return nil, err
		}
	}
	if o.CardNumber == 0 {
		o.CardNumber = 1
	}
	if o.BenchColumns <= 0 {
		o.BenchColumns = 4
	}
	b := newBook(size, p)
	for _, face := range []card.Face{card.Roots, card.Shoots} {
		b.facePage(face, o.CardNumber)
	}
	b.tagPages(p.Trays)
	b.benchPages(p, o.BenchColumns)
	b.feedingPages(p)
	return b, nil
}
