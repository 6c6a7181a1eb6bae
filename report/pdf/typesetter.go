package pdf

import (
	"strings"

	"codeberg.org/go-pdf/fpdf"
)

// typesetter writes and measures text that the font's table may not hold: the library's has room for the first 65,536 characters of Unicode
// only, and emoji are beyond them.
type typesetter struct{ *fpdf.Fpdf }

func (t typesetter) Text(x, y float64, words string) { t.Fpdf.Text(x, y, inFont(words)) }

func (t typesetter) GetStringWidth(words string) float64 { return t.Fpdf.GetStringWidth(inFont(words)) }

// inFont puts a box in the place of each character beyond the font's table.
func inFont(words string) string {
	return strings.Map(func(r rune) rune {
		if r > 0xFFFF {
			return '□'
		}
		return r
	}, words)
}
