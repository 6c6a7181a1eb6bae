package photo

// standardLuma is the quantisation table for luminance of ITU-T T.81, table K.1, in zigzag order (figure 5). Quality 50 is these steps
// themselves, as the reference software has it.
var standardLuma = [64]float64{
	16, 11, 12, 14, 12, 10, 16, 14, 13, 14, 18, 17, 16, 19, 24, 40,
	26, 24, 22, 22, 24, 49, 35, 37, 29, 40, 58, 51, 61, 60, 57, 51,
	56, 55, 64, 72, 92, 78, 64, 68, 87, 69, 55, 56, 80, 109, 81, 87,
	95, 98, 103, 104, 103, 62, 77, 113, 121, 112, 100, 120, 92, 101, 103, 99,
}

// jpegQuality returns the quality, 1 to 100, whose steps are on average those of a JPEG's first table; 0 where there is none. Cameras have
// tables of their own, for which it is about right.
func (c *container) jpegQuality() int {
	table := c.firstTable()
	if table == nil {
		return 0
	}
	scale := 0.0
	for i, step := range table {
		scale += float64(step) / standardLuma[i] / 64
	}
	return qualityFor(scale)
}

// qualityFor returns the quality, 1 to 100, whose steps are so many times the standard's.
func qualityFor(scale float64) int {
	quality := 100 - 50*scale
	if scale > 1 {
		quality = 50 / scale
	}
	return min(100, max(1, int(quality+0.5)))
}

// lowestSteps returns the larger of the steps of the two lowest frequencies in a JPEG's first table; 0 where there is none.
func (c *container) lowestSteps() float64 {
	table := c.firstTable()
	if table == nil {
		return 0
	}
	return float64(max(table[1], table[2]))
}

// firstTable returns the steps of table 0 (ITU-T T.81, B.2.4.1), nil where it is missing or not of 8 bits.
func (c *container) firstTable() []byte {
	if c.format != "JPEG" {
		return nil
	}
	for _, p := range c.parts {
		if p.marker() != markDQT {
			continue
		}
		for rest := p.body; len(rest) >= 65; rest = rest[65:] {
			if rest[0] == 0 {
				return rest[1:65]
			}
			if rest[0]>>4 != 0 {
				return nil
			}
		}
	}
	return nil
}
