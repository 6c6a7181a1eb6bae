package vision

import "math"

// The outline of a plug is the closed path around its cell's middle that keeps the most of what looks like plug inside and
// the least of what looks like tray, and does not jump: found by dynamic programming over rays.
const (
	outlineRays = 90
	outlineStep = 0.25 // mm along a ray
	raySamples  = 2    // directions looked along for each ray, side by side
)

// outline is a plug's edge: a radius in mm for each ray, the first along the tray's u.
type outline struct {
	radius [outlineRays]float64
}

// areaMM2 is the area of the polygon through the rays' ends.
func (o *outline) areaMM2() float64 {
	sum := 0.0
	for i, r := range o.radius {
		sum += r * o.radius[(i+1)%outlineRays]
	}
	return sum / 2 * math.Sin(2*math.Pi/outlineRays)
}

// points returns the outline, at part of its radius, as offsets from the cell's centre in mm.
func (o *outline) points(part float64) [][2]float64 {
	p := make([][2]float64, outlineRays)
	for i, r := range o.radius {
		s, c := math.Sincos(2 * math.Pi * float64(i) / outlineRays)
		p[i] = [2]float64{r * part * c, r * part * s}
	}
	return p
}

// findOutline traces the plug's edge.
func (c *rootCell) findOutline(s *Scene, o *overview, web surface, t Tray) {
	least, most := 0.25*t.PlugMM, t.PitchMM/2
	score := c.plugness(s, o, web, t)
	steps := int((most - least) / outlineStep)
	var sums [outlineRays][]float64
	for k := range sums {
		sums[k] = make([]float64, steps+1)
	}
	for a := range outlineRays * raySamples {
		sin, cos := math.Sincos(2 * math.Pi * (float64(a) - (raySamples-1)/2.0) / (outlineRays * raySamples))
		sum := sums[a/raySamples]
		for n := range steps {
			r := least + (float64(n)+0.5)*outlineStep
			sum[n+1] += score(r*cos, r*sin) * outlineStep / raySamples
		}
	}
	for k := range sums {
		for n := range steps {
			sums[k][n+1] += sums[k][n]
		}
	}
	c.edge = bestRing(sums, least)
	c.plug.PlugMM2 = c.edge.areaMM2()
}

// plugness returns how much a point of the cell, du and dv mm from its centre, looks like plug (1) or like tray or gap (−1): by
// warmth against the webs', and by light, where what is nearer to the gap's darkness than to the plug's own darker medium is
// gap, on a scale of ratios.
func (c *rootCell) plugness(s *Scene, o *overview, web surface, t Tray) func(du, dv float64) float64 {
	medium, gap := c.mediumAndGap(s, o, t)
	dark := math.Min(0.5*medium, math.Sqrt(medium*math.Max(gap, 1e-3)))
	middle := web.warm + 0.35*(c.core.warm-web.warm)
	perWarmth := 1 / math.Max((c.core.warm-web.warm)/2, leastWarmer/2)
	return func(du, dv float64) float64 {
		light, ok := o.light(s.Plane.ToPx(s.TrayPoint(c.u+du, c.v+dv)))
		if !ok {
			return -1
		}
		light = light.scaled(c.gain)
		warm := (float64(warmth(light[0], light[1], light[2])) - middle) * perWarmth
		if warm <= -1 {
			return -1
		}
		switch l := float64(light.luminance()+1e-4) / dark; {
		case l <= 0.5:
			return -1
		case l < 2:
			warm = math.Min(warm, math.Log2(l))
		}
		return math.Min(1, warm)
	}
}

// mediumAndGap returns the luminance of the plug's darker quarter, and of the darkest around it.
func (c *rootCell) mediumAndGap(s *Scene, o *overview, t Tray) (medium, gap float64) {
	var core, around []float32
	reach := 0.47 * t.PitchMM
	c.lookAround(s, o, reach, func(d float64, light RGB) {
		switch {
		case d < 0.3*t.PlugMM:
			core = append(core, light.luminance())
		case d > 0.45*t.PlugMM && d < reach:
			around = append(around, light.luminance())
		}
	})
	return quantile(core, 0.25), quantile(around, 0.05)
}

// stiffness is what a step of one outlineStep between neighbouring rays costs, in score × mm.
const stiffness = 0.06

// bestRing maximises the sum over rays of sums[k][n_k] less stiffness·(n_k − n_k+1)². The ring is closed by running around twice
// and taking the middle.
func bestRing(sums [outlineRays][]float64, least float64) (o outline) {
	steps := len(sums[0])
	const reach = 4
	value, next := append([]float64(nil), sums[0]...), make([]float64, steps)
	const rounds = 2 * outlineRays
	from := make([]int8, rounds*steps)
	for k := 1; k < rounds; k++ {
		here, back := sums[k%outlineRays], from[k*steps:(k+1)*steps]
		for n := range next {
			best, at := value[n], 0
			for d := -reach; d <= reach; d++ {
				if m := n + d; m >= 0 && m < steps {
					if v := value[m] - stiffness*float64(d*d); v > best {
						best, at = v, d
					}
				}
			}
			next[n] = best + here[n]
			back[n] = int8(at)
		}
		value, next = next, value
	}
	n := 0
	for i, v := range value {
		if v > value[n] {
			n = i
		}
	}
	for k := rounds - 1; k >= 1; k-- {
		if k < rounds-outlineRays/2 && k >= outlineRays/2 {
			o.radius[k%outlineRays] = least + float64(n)*outlineStep
		}
		n += int(from[k*steps+n])
	}
	return o
}
