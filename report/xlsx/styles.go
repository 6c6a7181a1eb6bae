package xlsx

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"
)

// styles are the workbook's cell styles by number.
type styles struct {
	title, heading, strong, head, headNumber, text, strongText, textWrapped, wrapped, caption, captionWrapped, corner, word int
	number                                                                                                                  [6]int // by decimals
	framed                                                                                                                  [6]int // by decimals, in a tray's picture
}

// bodyFont is what spreadsheets begin with; a style with a font of its own has to name it again.
const bodyFont = "Calibri"

func (b *workbook) makeStyles() error {
	line := func(colour string) []excelize.Border {
		var sides []excelize.Border
		for _, side := range []string{"left", "right", "top", "bottom"} {
			sides = append(sides, excelize.Border{Type: side, Color: colour, Style: 1})
		}
		return sides
	}
	below := []excelize.Border{{Type: "bottom", Color: "000000", Style: 2}}
	middle := &excelize.Alignment{Horizontal: "center", Vertical: "center"}
	words := &excelize.Alignment{Horizontal: "left", Indent: 1, Vertical: "top", WrapText: true}
	row := &excelize.Alignment{Horizontal: "left", Indent: 1, Vertical: "center", WrapText: true}
	shade := excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{"ECECEC"}}
	type wanted struct {
		at    *int
		style excelize.Style
	}
	all := []wanted{
		{&b.styles.title, excelize.Style{Font: &excelize.Font{Family: bodyFont, Bold: true, Size: 15}}},
		{&b.styles.heading, excelize.Style{Font: &excelize.Font{Family: bodyFont, Bold: true, Size: 12}}},
		{&b.styles.head, excelize.Style{Font: &excelize.Font{Family: bodyFont, Bold: true, Size: 10}, Fill: shade, Border: below,
			Alignment: &excelize.Alignment{Horizontal: "left", Indent: 1, Vertical: "bottom", WrapText: true}}},
		{&b.styles.headNumber, excelize.Style{Font: &excelize.Font{Family: bodyFont, Bold: true, Size: 10}, Fill: shade, Border: below,
			Alignment: &excelize.Alignment{Horizontal: "right", Vertical: "bottom", WrapText: true}}},
		{&b.styles.text, excelize.Style{Alignment: &excelize.Alignment{Horizontal: "left", Indent: 1, Vertical: "center"}}},
		{&b.styles.strongText, excelize.Style{Font: &excelize.Font{Family: bodyFont, Bold: true}, Alignment: row}},
		{&b.styles.textWrapped, excelize.Style{Alignment: row}},
		{&b.styles.wrapped, excelize.Style{Alignment: words}},
		{&b.styles.caption, excelize.Style{Font: &excelize.Font{Family: bodyFont, Italic: true, Color: "444444"}}},
		{&b.styles.captionWrapped, excelize.Style{Font: &excelize.Font{Family: bodyFont, Italic: true, Color: "444444"}, Alignment: words}},
		{&b.styles.strong, excelize.Style{Font: &excelize.Font{Family: bodyFont, Bold: true}, Alignment: words}},
		{&b.styles.corner, excelize.Style{Font: &excelize.Font{Family: bodyFont, Bold: true}, Alignment: middle, Fill: shade}},
		{&b.styles.word, excelize.Style{Font: &excelize.Font{Family: bodyFont, Italic: true, Size: 9, Color: "444444"}, Alignment: middle, Border: line("BBBBBB")}},
	}
	for d := range b.styles.number {
		format := strings.TrimSuffix("0."+strings.Repeat("0", d), ".")
		all = append(all,
			wanted{&b.styles.number[d], excelize.Style{CustomNumFmt: &format, Alignment: &excelize.Alignment{Vertical: "center"}}},
			wanted{&b.styles.framed[d], excelize.Style{CustomNumFmt: &format, Alignment: middle, Border: line("BBBBBB")}})
	}
	for _, w := range all {
		id, err := b.file.NewStyle(&w.style)
		if err != nil {
			return fmt.Errorf("style: %w", err)
		}
		*w.at = id
	}
	return nil
}
