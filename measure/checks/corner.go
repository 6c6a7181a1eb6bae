package checks

import (
	"fmt"
	"strings"

	"traygauge/measure/reading"
	"traygauge/vision"
)

// cardAtA1 refuses a photo in which the card lies a plug or more along the tray: then every plug would have another's name.
func cardAtA1(e Photo) *reading.Concern {
	if e.Reading.Grid != nil {
		return nil // somebody set the plugs' places
	}
	columns, rows := vision.OffByCells(e.Scene, e.Tray, e.Grid)
	var off []string
	if columns != 0 {
		off = append(off, "a column")
	}
	if rows != 0 {
		off = append(off, "a row")
	}
	if len(off) == 0 {
		return nil
	}
	return &reading.Concern{Kind: reading.CardNotAtA1, Fatal: true,
		Words:  fmt.Sprintf("the card is not at the A1 corner of the tray: measured from the card, there is %s of plugs too many on one side of the tray and one too few on the other", strings.Join(off, " and ")),
		Remedy: "put the card’s arrow at the A1 corner of the tray and take the photo again, or set the grid by hand"}
}
