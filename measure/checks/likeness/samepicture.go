package likeness

import (
	"math"
	"slices"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/stats"
	"traygauge/measure/wording"
)

// A photo that was saved again, cut, made smaller or brighter shows the tray from the same place, and the same sizes. Its plugs' outer corners, moved and scaled, come
// within 0.0034 of the first one's, over all sizes, and half of its plugs within 5 % of their areas (measured once; no command prints it). Held by hand, one in a hundred
// pairs of photos of different trays comes as near, but never with the same sizes. Under a camera on a stand all do, and where roots fill the plugs or leaves the tray,
// sizes are alike too: then plugs must also rank by size as they do in the other photo.
const (
	mostShapeOff = 0.005
	mostSizeOff  = 0.06
	sureOfCopy   = 4.5 // standard deviations, as sureOfTurn
)

// shapeOf is where the plugs' outer corners lie in the photo, about their middle, of sum of squares 1.
func shapeOf(r *reading.Reading) (shape [8]float64, ok bool) {
	if r.PlugsAt == nil {
		return shape, false
	}
	var x, y, squares float64
	for _, c := range r.PlugsAt {
		x, y = x+c[0]/4, y+c[1]/4
	}
	for i, c := range r.PlugsAt {
		shape[2*i], shape[2*i+1] = c[0]-x, c[1]-y
		squares += (c[0]-x)*(c[0]-x) + (c[1]-y)*(c[1]-y)
	}
	for i := range shape {
		shape[i] /= math.Sqrt(squares)
	}
	return shape, squares > 0
}

// shapeOff is how far two shapes are apart, the picture turned upside down or not.
func shapeOff(a, b [8]float64) float64 {
	var same, turned float64
	for i := range a {
		same, turned = same+(a[i]-b[i])*(a[i]-b[i]), turned+(a[i]+b[i])*(a[i]+b[i])
	}
	return math.Sqrt(math.Min(same, turned))
}

// Pictures doubts a reading that shows the same picture as one of another day or tray before it.
func Pictures(all []reading.Reading, p *plan.Plan) {
	type seen struct {
		r     *reading.Reading
		shape [8]float64
	}
	var photos []seen
	for i := range all {
		if r := &all[i]; r.Usable() && r.ExcludedBy() == nil {
			if shape, ok := shapeOf(r); ok {
				photos = append(photos, seen{r, shape})
			}
		}
	}
	slices.SortStableFunc(photos, func(a, b seen) int { return a.r.Taken.Compare(b.r.Taken) })
	for i, b := range photos {
		for _, a := range photos[:i] {
			if math.Abs(math.Abs(a.shape[0])-math.Abs(b.shape[0])) > mostShapeOff { // most pairs end here: there are millions in a long trial
				continue
			}
			if a.r.View != b.r.View || a.r.SHA256 == b.r.SHA256 || shapeOff(a.shape, b.shape) > mostShapeOff || !sameSizes(a.r, b.r) {
				continue
			}
			if a.r.Tray == b.r.Tray && p.DayOf(a.r.Taken) == p.DayOf(b.r.Taken) {
				continue // a tray photographed twice is reported elsewhere
			}
			b.r.Doubt(reading.SamePicture, "remove the copy; if the tray did not grow and the camera did not move, ignore this",
				"looks like the same picture as %s (tray %d, day %d): the same viewpoint and the same plug sizes", wording.Shown(a.r.Photo), a.r.Tray, p.DayOf(a.r.Taken))
			break
		}
	}
}

// sameSizes reports whether half of the plugs have the same areas, and whether they rank alike by them.
func sameSizes(a, b *reading.Reading) bool {
	if len(a.Plugs) != len(b.Plugs) {
		return false
	}
	var off []float64
	for i, p := range a.Plugs {
		if was, is := sizeOf(a.View, p), sizeOf(b.View, b.Plugs[i]); was > 0 && is > 0 {
			off = append(off, math.Abs(math.Log(float64(is/was))))
		}
	}
	if len(off) < fewestAgree || stats.Median(off) > mostSizeOff {
		return false
	}
	of, again := patternOf(a, nil), patternOf(b, nil)
	return of != nil && again != nil && of.agrees(again) > sureOfCopy
}
