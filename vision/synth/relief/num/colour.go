package num

// RGB is a linear colour in sRGB's primaries: the share of light that a matt surface sends back, or light, with paper at 1.
type RGB struct{ R, G, B float32 }

func (c RGB) Times(k float32) RGB {
	return RGB{float32(c.R * k), float32(c.G * k), float32(c.B * k)}
}

func (c RGB) Through(f RGB) RGB {
	return RGB{float32(c.R * f.R), float32(c.G * f.G), float32(c.B * f.B)}
}

func (c RGB) Plus(a RGB) RGB { return RGB{c.R + a.R, c.G + a.G, c.B + a.B} }

// Add adds k times a.
func (c RGB) Add(a RGB, k float32) RGB {
	return RGB{c.R + float32(a.R*k), c.G + float32(a.G*k), c.B + float32(a.B*k)}
}

func (c RGB) Toward(a RGB, t float32) RGB {
	return RGB{Mix(c.R, a.R, t), Mix(c.G, a.G, t), Mix(c.B, a.B, t)}
}

// Luminance is Y of IEC 61966-2-1.
func (c RGB) Luminance() float32 { return Dot3(c.R, c.G, c.B, 0.2126, 0.7152, 0.0722) }

// Hue is the colour of the given luminance, red/green and blue/green.
func Hue(luminance, red, blue float32) RGB {
	c := RGB{red, 1, blue}
	return c.Times(luminance / c.Luminance())
}

// Varied scatters a colour's luminance by so many doublings, and its hue a quarter as much.
func (d Dice) Varied(c RGB, doublings float32) RGB {
	h := doublings / 4
	red, blue := d.Around(h), d.Around(h)
	return RGB{c.R * red, c.G, c.B * blue}.Times(d.Around(doublings))
}
