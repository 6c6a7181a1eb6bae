package tray

import (
	"math"
	"slices"

	"traygauge/vision/raster"
	"traygauge/vision/scene"
)

// A plug's rim and a cell's wall are walked across strip by strip. Where something lies over them, light and colour stay as they are.
const (
	walkStepMM  = 0.5   // a pixel of the overview
	walkAverage = 3     // steps whose mean is taken, for what is left of grain
	walkDark    = 0.002 // added to light before its logarithm is taken: of paper; less is noise and stray light

	// How much logarithms of light change along a walk, as a standard deviation, in the channel that changes most. Straps, plastic and paper change by 0.01 to 0.05.
	// Coarse cloth and moss change by 0.06 to 0.15, but so does medium where the walk goes over nothing else: coarse things are known by another colour than medium
	// has there. Of 1,956 plugs that two programs drew none has two neighbouring strips of its rim that change less than 0.22, and of 560 cells from above none has two
	// without leaf below 0.15. Large leaves have strips down to 0.015, but of 1,350 cells none has two side by side below 0.02.
	evenChange, coarseChange = 0.055, 0.15
	evenerThanLeaf           = 0.02
	leastOff                 = 0.4              // of logarithms of light from the medium's: half as light again, as much as light changes over a tray that is lit well
	clearChange              = 2 * coarseChange // a tray whose clearer quarter of strips changes less shows neither rims nor walls
)

// Hidden is how much of a cell's rim or walls something goes across, in mm along them where that is longest.
type Hidden struct {
	Any  float64
	Even float64 // by something that is even, which no haze is
	Dark float64 // by something darker than plant labels are
}

// longer returns the longer of each.
func (h Hidden) longer(o Hidden) Hidden {
	return Hidden{max(h.Any, o.Any), max(h.Even, o.Even), max(h.Dark, o.Dark)}
}

// grownBy returns h with one strip more, of which is says what it is.
func (h Hidden) grownBy(mm float64, is thing) Hidden {
	grown := func(run float64, more bool) float64 {
		if !more {
			return 0
		}
		return run + mm
	}
	return Hidden{grown(h.Any, is.any), grown(h.Even, is.even), grown(h.Dark, is.dark)}
}

// upTo returns h with no more than there is.
func (h Hidden) upTo(mm float64) Hidden {
	return Hidden{min(h.Any, mm), min(h.Even, mm), min(h.Dark, mm)}
}

// darkLog is the logarithm of the light of 0.06 of paper, L* 30: coloured and wooden plant labels are lighter.
const darkLog = -2.8

// strip is what a walk went over.
type strip struct {
	change      float64    // +Inf: not in the photo
	first, mean [3]float64 // logarithms of light: red, green and blue
	leaf        float64    // share of leaf
}

// thing says what lies over a strip.
type thing struct{ any, even, dark bool }

// over returns what lies over a strip. A leaf is no thing, unless it is as even as none is.
func (s strip) over(medium [3]float64) thing {
	bare, off := s.leaf < noLeaf, 0.0
	for k, v := range s.mean {
		off = max(off, math.Abs(v-medium[k]))
	}
	even := s.change < evenChange && (bare || s.change < evenerThanLeaf)
	any := even || bare && s.change < coarseChange && off > leastOff
	return thing{any, even, any && bare && max(s.mean[0], s.mean[1], s.mean[2]) < darkLog}
}

// noLeaf is a share of leaf: what has more is taken for leaf.
const noLeaf = 0.1

// usual returns what most walks begin at, where there is no leaf; clear is false where the tray shows too little for walks to tell anything.
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
		medium[k] = raster.Median(firsts[k]) // NaN where there is leaf everywhere: then it is not asked for
	}
	slices.Sort(changes)
	return medium, changes[len(changes)*3/4] >= clearChange
}

// walk goes from one place of a tray to another and looks at logarithms of light.
type walk struct {
	o     overview
	logs  [3][256]float64 // by the photo's codes
	steps [][3]float64
}

// newWalk returns a walk of so many mm.
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

// strip walks along so many rays side by side. Each step is the mean of the rays', and neighbouring steps are averaged.
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
