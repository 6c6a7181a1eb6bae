package tray

import (
	"math"

	"traygauge/vision/raster"
	"traygauge/vision/scene"
)

// Where a thing goes on, light and colour do not change.
const (
	walkStepMM  = 0.5   // a pixel of the overview
	walkAverage = 3     // steps whose mean is taken, for what is left of grain
	walkDark    = 0.002 // added to light before its logarithm is taken: of paper; less is noise and stray light
)

// walk goes from one place of a tray to another and looks at logarithms of light: red, green and blue.
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

// change walks along so many rays side by side and returns how much logarithms of light change: of the three channels' standard deviations the largest. Each step's is
// the mean of the rays', and neighbouring steps are averaged. It is +Inf where a ray leaves the photo.
func (w *walk) change(rays int, at func(ray, step int) (u, v float64)) (most float64) {
	for step := range w.steps {
		var sum [3]float64
		for ray := range rays {
			i, in := w.o.index(at(ray, step))
			if !in {
				return math.Inf(1)
			}
			for k := range sum {
				sum[k] += w.logs[k][w.o.BGR[i+2-k]]
			}
		}
		for k, v := range sum {
			w.steps[step][k] = v / float64(rays)
		}
	}
	n := len(w.steps) - walkAverage + 1
	for k := range 3 {
		var sum, squares float64
		for i := range n {
			mean := 0.0
			for _, v := range w.steps[i : i+walkAverage] {
				mean += v[k] / walkAverage
			}
			sum, squares = sum+mean, squares+mean*mean
		}
		most = max(most, math.Sqrt(max(0, squares/float64(n)-raster.Sq(sum/float64(n)))))
	}
	return most
}
