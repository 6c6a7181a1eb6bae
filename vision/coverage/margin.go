package coverage

// #include "convolve.h"
import "C"

// Margin is how far within limits of hue and chroma the colour of light lies: the lesser of how far its a*, b* (CIELAB, CIE 15:2004, 8.2.1.1) lie below the line
// of the hue, a*·sin h − b*·cos h, and of how far its chroma is above the least. It is negative beyond the limits.
type Margin struct {
	OverWhite      [9]float32 // light to X, Y and Z over white's, row by row
	SinHue, CosHue float32
	LeastChroma    float32
	Unit, Most     float32 // it is given in these units, and at most so many either way
}

// Fill writes the margins of each square's four pixels, in reading order, behind its first values beside its light, of which there are so many.
func (m Margin) Fill(in Input, behind int) {
	each := in.channels() - ofLight
	if behind < 0 || behind+4 > each {
		panic("coverage: there is no room for margins")
	}
	c := C.tg_margin{sin_hue: C.float(m.SinHue), cos_hue: C.float(m.CosHue), least_chroma: C.float(m.LeastChroma), unit: C.float(m.Unit), most: C.float(m.Most)}
	for i, v := range m.OverWhite {
		c.over_white[i] = C.float(v)
	}
	C.tg_fill_margins(&c, (*C.float)(&in.Light[0]), C.int(in.H), C.int(in.W), (*C.float)(&in.Also[behind]), C.int(each))
}
