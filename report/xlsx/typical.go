package xlsx

import (
	"fmt"
	"math"

	"github.com/xuri/excelize/v2"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/report"
	"traygauge/report/table"
)

// The typical plugs' pictures: those of one view are all of one scale in the whole workbook.
const (
	picturePx         = 150
	pictureColumnWide = 30.0 // characters, some 215 px
)

// typicalPicture is the picture of the plug that stands for a tray on a day in a view.
type typicalPicture struct {
	plug report.PlugRow
	jpeg []byte
	side float64 // mm
}

// trayView is a tray on a day in a view.
type trayView struct {
	day, tray int
	view      reading.View
}

// typicalPictures cuts out the typical plugs of the trays on the last day of each. To cut out those of all days would take as long
// as reading all photos.
func (b *workbook) typicalPictures(trays []int) map[trayView]typicalPicture {
	pictures := map[trayView]typicalPicture{}
	if b.o.Crops == nil {
		return pictures
	}
	for _, view := range reading.Views {
		var plugs []report.PlugRow
		for _, tray := range trays {
			for _, day := range b.daysOf(tray) {
				if typical := b.trial.Typical(tray, day, view, 1); len(typical) > 0 {
					plugs = append(plugs, typical[0])
					break
				}
			}
		}
		side := pictureSide(b.trial.Plan.Tray, view)
		for i, picture := range b.o.Crops(plugs, report.CropSize{SideMM: side, SidePx: picturePx}) {
			if picture != nil {
				p := plugs[i]
				pictures[trayView{day: p.Day, tray: p.Tray, view: p.View}] = typicalPicture{p, picture, side}
			}
		}
	}
	return pictures
}

// pictureSide is how much a plug's picture shows in mm, in round numbers: its cell, and from above half as much again, since leaves
// reach over it. 0 where the plan does not say how large a cell is.
func pictureSide(t plan.TrayShape, view reading.View) float64 {
	side := math.Max(t.PitchMM, t.PlugBottomMM)
	if view == reading.Shoots {
		side *= 1.5
	}
	return 5 * math.Ceil(side/5)
}

// beside puts a picture to the right of a block that goes from row top to before row next, and returns the row after both.
func (b *workbook) beside(sheet string, column, top, next int, q quantity, p typicalPicture) (int, error) {
	if err := b.styled(sheet, cell(column, top), "Typical plug: "+p.plug.Name, b.styles.heading); err != nil {
		return 0, err
	}
	caption := fmt.Sprintf("nearest to the median; %s mm wide", table.Plain(p.side))
	if err := b.styled(sheet, cell(column, top+1), caption, b.styles.caption); err != nil {
		return 0, err
	}
	if err := b.file.AddPictureFromBytes(sheet, cell(column, top+2), &excelize.Picture{Extension: ".jpg", File: p.jpeg, Format: &excelize.GraphicOptions{
		AltText: fmt.Sprintf("Plug %s of tray %d on day %d, %s %s %s, nearest to the median of the tray. The picture shows %s × %s mm.",
			p.plug.Name, p.plug.Tray, p.plug.Day, q.title, table.Digits(q.of(p.plug), q.decimals), q.unit, table.Plain(p.side), table.Plain(p.side)),
		Positioning: "oneCell", OffsetX: 4, OffsetY: 4}}); err != nil {
		return 0, err
	}
	// In px: below a block's caption are its column numbers, its rows and a gap.
	for high := 20 + plugRowHigh*4/3*float64(b.trial.Plan.Tray.Rows) + 20; high < picturePx+10; high += 20 {
		next++
	}
	return next, nil
}
