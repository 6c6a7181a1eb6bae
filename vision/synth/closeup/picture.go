package closeup

import (
	"image"
	"image/color"
	"math"
)

// Picture returns what is seen, as a camera with the sRGB curve would show it with paper at the brightest code.
func (r *Roots) Picture() *image.NRGBA { return seen(r.Side, r.Light) }

// Picture returns what is seen, as for Roots.
func (l *Leaves) Picture() *image.NRGBA { return seen(l.Side, l.Light) }

// Truth returns the labels as a picture to look at: white roots white, brown ones orange, centre lines red, the plug dark grey.
func (r *Roots) Truth() *image.NRGBA {
	return drawn(r.Side, func(i int) RGB {
		white, brown, line := r.White[i], r.Brown[i], min(1, r.Line[i]*float32(r.PerMM))
		ground := 0.04 * r.Plug[i] * (1 - white - brown)
		return RGB{
			(white+brown+ground)*(1-line) + line,
			(white + 0.35*brown + ground) * (1 - line),
			(white + ground) * (1 - line),
		}
	})
}

// Truth returns the labels as a picture to look at: each plant in a colour of its own, dead tissue black, bases as red dots.
func (l *Leaves) Truth() *image.NRGBA {
	img := drawn(l.Side, func(i int) RGB {
		if l.Plant[i] == 0 {
			return RGB{0.02, 0.02, 0.02}
		}
		turn := 2.39996 * float64(l.Plant[i]) // the golden angle, so that neighbours differ
		alive := l.Leaf[i] - l.Dead[i]
		return RGB{
			alive * float32(0.5+0.4*math.Cos(turn)), alive * float32(0.5+0.4*math.Cos(turn+2.1)), alive * float32(0.5+0.4*math.Cos(turn+4.2)),
		}
	})
	for _, b := range l.Bases {
		for dy := -2; dy <= 2; dy++ {
			for dx := -2; dx <= 2; dx++ {
				img.Set(int(b[0])+dx, int(b[1])+dy, color.NRGBA{255, 0, 0, 255})
			}
		}
	}
	return img
}

func seen(side int, light []RGB) *image.NRGBA {
	return drawn(side, func(i int) RGB { return light[i] })
}

func drawn(side int, at func(i int) RGB) *image.NRGBA {
	img := image.NewNRGBA(image.Rect(0, 0, side, side))
	for i := range side * side {
		c := at(i)
		for k := range 3 {
			img.Pix[4*i+k] = code(c[k])
		}
		img.Pix[4*i+3] = 255
	}
	return img
}

// code is the 8-bit sRGB code of linear light (IEC 61966-2-1:1999, 5.2).
func code(l float32) uint8 {
	v := min(1, max(0, float64(l)))
	if v <= 0.0031308 {
		return uint8(255*12.92*v + 0.5)
	}
	return uint8(255*(1.055*math.Pow(v, 1/2.4)-0.055) + 0.5)
}
