package relief

// rgb is a linear colour in sRGB's primaries: the share of light that a matt surface sends back, or light, with paper at 1.
type rgb struct{ r, g, b float32 }

func (c rgb) times(k float32) rgb {
	return rgb{float32(c.r * k), float32(c.g * k), float32(c.b * k)}
}

func (c rgb) through(f rgb) rgb {
	return rgb{float32(c.r * f.r), float32(c.g * f.g), float32(c.b * f.b)}
}

func (c rgb) plus(a rgb) rgb { return rgb{c.r + a.r, c.g + a.g, c.b + a.b} }

// add adds k times a.
func (c rgb) add(a rgb, k float32) rgb {
	return rgb{c.r + float32(a.r*k), c.g + float32(a.g*k), c.b + float32(a.b*k)}
}

func (c rgb) toward(a rgb, t float32) rgb {
	return rgb{mix(c.r, a.r, t), mix(c.g, a.g, t), mix(c.b, a.b, t)}
}

// luminance is Y of IEC 61966-2-1.
func (c rgb) luminance() float32 { return dot3(c.r, c.g, c.b, 0.2126, 0.7152, 0.0722) }

// hue is the colour of the given luminance, red/green and blue/green.
func hue(luminance, red, blue float32) rgb {
	c := rgb{red, 1, blue}
	return c.times(luminance / c.luminance())
}

// varied scatters a colour's luminance by so many doublings, and its hue a quarter as much.
func (d dice) varied(c rgb, doublings float32) rgb {
	h := doublings / 4
	red, blue := d.around(h), d.around(h)
	return rgb{c.r * red, c.g, c.b * blue}.times(d.around(doublings))
}
