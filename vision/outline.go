package vision

import "math"

// The outline of a plug is the closed path around its cell's middle that keeps the most of what looks like plug inside and
// the least of what looks like tray, and does not jump: found by dynamic programming over rays.
const (
	outlineRays = 90
	outlineStep = 0.25 // mm along a ray
)

// outline is a plug's edge: a radius in mm for each ray, the first along the tray's u.
type outline struct {
	radius [outlineRays]float64
}

// at returns the radius in the direction (du, dv).
func (o *outline) at(du, dv float64) float64 {
	a := math.Atan2(dv, du) / (2 * math.Pi) * outlineRays
	if a < 0 {
		a += outlineRays
	}
	k := int(a)
	f := a - float64(k)
	return o.radius[k%outlineRays]*(1-f) + o.radius[(k+1)%outlineRays]*f
}

// areaMM2 is the area of the polygon through the rays' ends.
func (o *outline) areaMM2() float64 {
	sum := 0.0
	for i, r := range o.radius {
		sum += r * o.radius[(i+1)%outlineRays]
	}
	return sum / 2 * math.Sin(2*math.Pi/outlineRays)
}

// points returns the outline as offsets from the cell's centre in mm.
func (o *outline) points() [][2]float64 {
	p := make([][2]float64, outlineRays)
	for i, r := range o.radius {
		s, c := math.Sincos(2 * math.Pi * float64(i) / outlineRays)
		p[i] = [2]float64{r * c, r * s}
	}
	return p
}

// traceOutline finds the outline from a score per pixel, above 0 for plug and below for tray, between two radii in mm.
func traceOutline(p *patch, score []float32, least, most float64) outline {
	steps := int((most - least) / outlineStep)
	sums := raySums(p, score, least, steps)
	return bestRing(sums, least)
}

// raySums returns for each ray the running sum of score times area outward from the least radius.
func raySums(p *patch, score []float32, least float64, steps int) [outlineRays][]float64 {
	var total, count [outlineRays][]float64
	for k := range total {
		total[k], count[k] = make([]float64, steps+1), make([]float64, steps+1)
	}
	for i := range score {
		d := math.Hypot(float64(p.du[i]), float64(p.dv[i]))
		n := int((d - least) / outlineStep)
		if d < least || n >= steps {
			continue
		}
		a := math.Atan2(float64(p.dv[i]), float64(p.du[i]))/(2*math.Pi)*outlineRays + outlineRays + 0.5
		k := int(a) % outlineRays
		total[k][n+1] += float64(score[i])
		count[k][n+1]++
	}
	for k := range total {
		for n := 1; n <= steps; n++ {
			mean := 0.0
			if count[k][n] > 0 {
				mean = total[k][n] / count[k][n]
			}
			total[k][n] = total[k][n-1] + mean*outlineStep
		}
	}
	return total
}

// stiffness is what a step of one outlineStep between neighbouring rays costs, in score × mm.
const stiffness = 0.06

// bestRing maximises the sum over rays of sums[k][n_k] less stiffness·(n_k − n_k+1)². The ring is cut at the ray where
// the choice is clearest, and closed by running around twice.
func bestRing(sums [outlineRays][]float64, least float64) (o outline) {
	steps := len(sums[0])
	const reach = 4
	value := append([]float64(nil), sums[0]...)
	const rounds = 2 * outlineRays
	from := make([][]int8, rounds)
	for k := 1; k < rounds; k++ {
		next := make([]float64, steps)
		from[k] = make([]int8, steps)
		for n := range next {
			best, at := math.Inf(-1), 0
			for d := -reach; d <= reach; d++ {
				if m := n + d; m >= 0 && m < steps {
					if v := value[m] - stiffness*float64(d*d); v > best {
						best, at = v, d
					}
				}
			}
			next[n] = best + sums[k%outlineRays][n]
			from[k][n] = int8(at)
		}
		value = next
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
		n += int(from[k][n])
	}
	return o
}
