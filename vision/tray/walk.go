package tray

import (
	"math"
	"slices"

	"traygauge/vision/raster"
	"traygauge/vision/scene"
)

// Walks lead across a plug's rim or a cell's wall, strip beside strip. Where something lies over them, light and colour hardly change along the way.
const (
	walkStepMM  = 0.5   // a pixel of the overview
	walkAverage = 3     // steps whose mean is taken, which takes out what is left of grain
	walkDark    = 0.002 // of paper's light, added before logarithms are taken: less is noise and stray light

	// How much natural logarithms of light change along a walk, as a standard deviation, in the channel that changes most. Straps, plastic and paper change by 0.01 to
	// 0.05. Coarse cloth and moss change by 0.06 to 0.15, but so does medium where a walk crosses nothing else; so a coarse thing must have another colour than medium,
	// too. Two programs drew 1,956 plugs: none has two neighbouring strips of its rim that change less than 0.22. Of 560 cells from above none has two without leaf that
	// change less than 0.15. Large leaves have strips down to 0.015, but of 1,350 cells none has two side by side below 0.02 (measured once; no command prints it).
	evenChange, coarseChange = 0.055, 0.15
	evenerThanLeaf           = 0.02
	leastOff                 = 0.4              // from the medium's logarithm of light: half as light again, which is how much light may change over a well lit tray
	clearChange              = 2 * coarseChange // where the clearest quarter of strips changes less, the tray shows neither rims nor walls
)

// Hidden is the longest stretch of a plug's rim, or of one of a cell's walls, that something lies over, in mm.
type Hidden struct {
	Any  float64 // by whatever it is
	Even float64 // by something even, as haze never is
	Dark float64 // by something darker than plant labels
}

// longer returns the longer stretch of each kind.
func (h Hidden) longer(o Hidden) Hidden {
	return Hidden{max(h.Any, o.Any), max(h.Even, o.Even), max(h.Dark, o.Dark)}
}

// grownBy returns the stretches that end with one more strip, mm wide: longer by it where the thing over it is of the kind, else 0.
func (h Hidden) grownBy(mm float64, is thing) Hidden {
	grown := func(run float64, more bool) float64 {
		if !more {
			return 0
		}
		return run + mm
	}
	return Hidden{grown(h.Any, is.any), grown(h.Even, is.even), grown(h.Dark, is.dark)}
}

// upTo returns h with no stretch longer than mm.
func (h Hidden) upTo(mm float64) Hidden {
	return Hidden{min(h.Any, mm), min(h.Even, mm), min(h.Dark, mm)}
}

// darkLog is the logarithm of 0.06 of paper's light, L* 30. Coloured and wooden plant labels are lighter.
const darkLog = -2.8

// strip is what a walk saw.
type strip struct {
	change      float64    // of logarithms of light along the walk, as a standard deviation; +Inf: not wholly in the photo
	first, mean [3]float64 // logarithms of red, green and blue light, paper 0: where the walk begins, and over all of it
	leaf        float64    // share of leaf, 0 to 1
}

// thing says whether something lies over a strip, and whether it is even and dark.
type thing struct{ any, even, dark bool }

// over returns what lies over a strip, by the logarithms of the medium's light. What was taken for leaf is a thing only where it is more even than leaves are.
func (s strip) over(medium [3]float64) thing {
	bare, off := s.leaf < noLeaf, 0.0
	for k, v := range s.mean {
		off = max(off, math.Abs(v-medium[k]))
	}
	even := s.change < evenChange && (bare || s.change < evenerThanLeaf)
	coarse := bare && s.change < coarseChange && off > leastOff
	dark := bare && max(s.mean[0], s.mean[1], s.mean[2]) < darkLog
	return thing{even || coarse, even, (even || coarse) && dark}
}

// noLeaf is the share of leaf from which a strip is taken for leaf.
const noLeaf = 0.1

// usual returns the logarithms of light at which walks without leaf usually begin, which is on medium or roots. clear is false where walks change so little that they
// tell nothing.
func usual(strips []strip) (medium [3]float64, clear bool) {
	var changes []float64
	var firsts [3][]float64
	for _, s := range strips {
		if math.IsInf(s.change, 1) {
			continue
		}
		changes = append(changes, s.change)
		if s.leaf < noLeaf {
			for k, v := range s.first {
				firsts[k] = append(firsts[k], v)
			}
		}
	}
	if len(changes) == 0 {
		return medium, false
	}
	for k := range medium {
		medium[k] = raster.Median(firsts[k]) // NaN where there is leaf everywhere: then no strip is held against it
	}
	slices.Sort(changes)
	return medium, changes[len(changes)*3/4] >= clearChange
}

// walk looks at logarithms of light along ways across a tray, all of the same length.
type walk struct {
	o     overview
	logs  [3][256]float64 // by the photo's codes
	steps [][3]float64
}

// newWalk returns a walk that is mm long.
func newWalk(s *scene.Scene, t Layout, mm float64) *walk {
	w := &walk{o: overviewOf(s, t), steps: make([][3]float64, max(walkAverage+1, int(mm/walkStepMM)))}
	for code, light := range raster.LinearOf {
		c := raster.RGB{light, light, light}.Scaled(s.Light.ToPaper)
		for k, v := range c {
			w.logs[k][code] = math.Log(max(0, float64(v)) + walkDark)
		}
	}
	return w
}

// strip walks along rays side by side; at returns the place of a ray's step in the tray, in mm. The rays' light is averaged at each step, and then that of neighbouring
// steps.
func (w *walk) strip(rays int, at func(ray, step int) (u, v float64)) strip {
	for step := range w.steps {
		var sum [3]float64
		for ray := range rays {
			i, in := w.o.index(at(ray, step))
			if !in {
				return strip{change: math.Inf(1)}
			}
			for k := range sum {
				sum[k] += w.logs[k][w.o.BGR[i+2-k]]
			}
		}
		for k, v := range sum {
			w.steps[step][k] = v / float64(rays)
		}
	}
	var s strip
	n := float64(len(w.steps) - walkAverage + 1)
	for k := range s.mean {
		var sum, squares float64
		for i := range len(w.steps) - walkAverage + 1 {
			mean := 0.0
			for _, v := range w.steps[i : i+walkAverage] {
				mean += v[k] / walkAverage
			}
			if i == 0 {
				s.first[k] = mean
			}
			sum, squares = sum+mean, squares+mean*mean
		}
		s.mean[k] = sum / n
		s.change = max(s.change, math.Sqrt(max(0, squares/n-raster.Sq(s.mean[k]))))
	}
	return s
}
