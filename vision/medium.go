package vision

import "math"

// rootCut parts medium from root over a whole photo, in luminance with 1 for paper: it lies a quarter of the way up from medium, which
// is what a plug with few roots shows, to root, which is what the lightest show. It looks at all plugs together, since a
// plug that is all mat shows no medium and a bare one no root: medium is taken from the plugs with the fewest roots, root
// from the lightest hundredth of all plugs.
func rootCut(plugs []*rootCell) float64 {
	var low, all []float32
	for _, c := range plugs {
		in := c.someLuminance()
		if len(in) < 50 {
			continue
		}
		for i := 0; i < len(in); i += 3 {
			all = append(all, in[i])
		}
		low = append(low, float32(quantile(in, 0.25)))
	}
	medium, root := quantile(low, 0.25), math.Max(quantile(all, 0.99), 0.3)
	return medium + 0.25*(root-medium)
}

// someLuminance returns the luminance of one in nine of the plug's pixels: thousands, for quantiles.
func (c *rootCell) someLuminance() []float32 {
	p := c.p
	in := make([]float32, 0, p.n/9+1)
	for y := 0; y < p.h; y += 3 {
		codes := p.row(c.photo, y)
		for x := 0; x < p.w; x += 3 {
			if p.inside[y*p.w+x] {
				in = append(in, c.lum.at(codes, 3*x))
			}
		}
	}
	return in
}

// clearPx is how far a sample of medium keeps from what is light, in pixels.
const clearPx = 2

// sampleMedium takes the plug's own medium from what lies clear of every root and of the plug's rim. A plug with too
// little of it keeps a zero medium, and lendMedium gives it its neighbours'.
func (c *rootCell) sampleMedium(cut float64) {
	p := c.p
	dark := func(codes []uint8, x int) bool { return float64(c.lum.at(codes, 3*x)) <= cut }
	var sum RGB
	var lum, lum2, n float64
	for y := clearPx; y < p.h-clearPx; y += 2 {
		above, codes, below := p.row(c.photo, y-clearPx), p.row(c.photo, y), p.row(c.photo, y+clearPx)
		for x := clearPx; x < p.w-clearPx; x += 2 {
			if p.ring[y*p.w+x] > 0 || !dark(codes, x) || !dark(codes, x-clearPx) || !dark(codes, x+clearPx) || !dark(above, x) || !dark(below, x) ||
				!dark(codes, x-1) || !dark(codes, x+1) {
				continue
			}
			light := c.lightAt(x, y)
			v := float64(light.luminance())
			sum, n, lum, lum2 = sum.plus(light), n+1, lum+v, lum2+v*v
		}
	}
	if n < 25 || 4*n < 0.05*float64(p.n) { // one pixel in four was looked at
		return
	}
	c.medium = sum.times(float32(1 / n))
	c.spread = math.Sqrt(math.Max(0, lum2/n-sq(lum/n)))
}

// lendMedium gives plugs that show no medium of their own the photo's.
func lendMedium(plugs []*rootCell) {
	var all []RGB
	var spread []float64
	for _, c := range plugs {
		if c.spread > 0 {
			all, spread = append(all, c.medium), append(spread, c.spread)
		}
	}
	lent, s := RGB{0.05, 0.04, 0.03}, 0.03 // dark peat; only where every plug of the photo is a mat
	if len(all) > 0 {
		lent, s = medianLight(all), median(spread)
	}
	for _, c := range plugs {
		if c.spread == 0 {
			c.medium, c.spread = lent, s
		}
	}
}

// mediumOf is the photo's usual medium.
func mediumOf(plugs []*rootCell) RGB {
	var all []RGB
	for _, c := range plugs {
		all = append(all, c.medium)
	}
	return medianLight(all)
}
