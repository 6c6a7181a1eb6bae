// Package letters draws text on pictures, in the fonts that come with the program.
//
//	in    text, a font face and a position in px
//	out   the text drawn, its width, and text shortened to a width
//
// It must not depend on trials, photos, layouts or colours. Callers make faces from Fonts.
package letters

import (
	"image"
	"image/color"
	"image/draw"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
)

// Fonts returns the regular and the bold type. They are parsed once and only read afterwards.
func Fonts() ([2]*opentype.Font, error) { return parsed() }

var parsed = sync.OnceValues(func() (fonts [2]*opentype.Font, err error) {
	if fonts[0], err = opentype.Parse(goregular.TTF); err != nil {
		return fonts, err
	}
	fonts[1], err = opentype.Parse(gobold.TTF)
	return fonts, err
})

// Write puts words on dst, their base line beginning at (x, y), and returns the x at their end.
func Write(dst draw.Image, face font.Face, x, y int, c color.Color, words string) int {
	d := font.Drawer{Dst: dst, Src: image.NewUniform(c), Face: face, Dot: fixed.P(x, y)}
	d.DrawString(words)
	return d.Dot.X.Ceil()
}

// Width returns how wide words are, in px.
func Width(face font.Face, words string) int { return font.MeasureString(face, words).Ceil() }

// Cut shortens words to a width in px and marks the cut.
func Cut(face font.Face, words string, wide int) string {
	if Width(face, words) <= wide {
		return words
	}
	letters := []rune(words)
	for len(letters) > 0 && Width(face, string(letters)+"…") > wide {
		letters = letters[:len(letters)-1]
	}
	return string(letters) + "…"
}
