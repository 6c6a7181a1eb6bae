package scene

import (
	"math"
	"slices"

	"traygauge/vision/card"
	"traygauge/vision/raster"
)

// haloIn sums up, over the bins of an edge's profile from dark to light, how far the light side lies above its far end, whose light over the dark side's is 1.
func haloIn(profile []float64) (sum float64) {
	n := len(profile)
	dark, light := raster.Median(slices.Clone(profile[:n/4])), raster.Median(slices.Clone(profile[n*3/4:]))
	for _, v := range profile[n/2:] {
		sum += math.Max(0, (v-light)/math.Max(raster.LeastLight, light-dark))
	}
	return sum
}

// Where the ruler's ticks are looked at, in mm of the card: above the cut edge and below the words.
const (
	tickFrom, tickTo = 97.7, 99.2
	tickReach        = 1.2 // on each side of where it is printed
	tickBeside       = 2.0 // paper reaches that far
	tickStep         = 0.05
	tickRows         = 40
	leastTick        = 0.05 // mm of ink: half of what is lost is still a line
	fewestTicks      = 6
)

// bilinearBlurPx is the blur of a picture that is read between its pixels: of variance f·(1−f) at a share f of a pixel, a sixth over all of them.
var bilinearBlurPx = math.Sqrt(1. / 6)

// linesOverEdges returns how many times wider the ruler's ticks are than the blur of the card's edges, in mm, makes them. A line of ink w wide under a Gaussian blur σ is
// erf(w/(σ·√8)) times as dark in its middle as wide ink; its ink adds up to w however blurred it is. NaN where fewer than half of the ticks can be read.
func (s *Scene) linesOverEdges(blurMM float64) float64 {
	var times []float64
	for _, x := range card.RulerTicks() {
		ink, darkest := s.tick(x)
		if !(ink > leastTick) {
			continue
		}
		blur := math.Hypot(blurMM, bilinearBlurPx/s.Plane.PxPerMM(card.Pt{X: x * s.scale, Y: tickTo * s.scale}))
		times = append(times, math.Erf(ink/blur/math.Sqrt(8))/darkest)
	}
	if len(times) < fewestTicks {
		return math.NaN()
	}
	return raster.Median(times)
}

// tick returns how much ink the tick at x has, in mm, and how dark it is, paper 0 and no light at all 1.
func (s *Scene) tick(x float64) (ink, darkest float64) {
	var profile [2 * tickBeside / tickStep]float64
	var beside []float64
	for i := range profile {
		off := (float64(i)+0.5)*tickStep - tickBeside
		for j := range tickRows {
			q := s.nominalPx(card.Pt{X: x + off, Y: tickFrom + (tickTo-tickFrom)*(float64(j)+0.5)/tickRows})
			light, ok := lightAt(s.Photo, green, q.X, q.Y)
			if !ok {
				return 0, 0
			}
			profile[i] += light / tickRows
		}
		if math.Abs(off) > tickReach {
			beside = append(beside, profile[i])
		}
	}
	paper := math.Max(raster.LeastLight, raster.Median(beside))
	for i, light := range profile {
		if math.Abs((float64(i)+0.5)*tickStep-tickBeside) < tickReach {
			ink += (1 - light/paper) * tickStep
			darkest = math.Max(darkest, 1-light/paper)
		}
	}
	return ink, darkest
}
