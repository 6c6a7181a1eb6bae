package scene

import (
	"math"

	"traygauge/vision/card"
	"traygauge/vision/raster"
)

// colourSpeckle returns by how much of paper's light red or blue scatters against green over the card's three lighter inks, which are grey, as a standard deviation: of spots
// of three pixels each way, which leave little of a sensor's noise.
func (s *Scene) colourSpeckle() float64 {
	const across = 24
	strip := card.ToneStrip()
	var patches []float64
	for _, patch := range strip[1:4] {
		r := patch.Rect.Inset(inset)
		var red, blue []float64
		for j := range across {
			for i := range across {
				c, ok := s.spot(card.Pt{X: r.Min.X + (r.Max.X-r.Min.X)*(float64(i)+0.5)/across, Y: r.Min.Y + (r.Max.Y-r.Min.Y)*(float64(j)+0.5)/across})
				if ok {
					red, blue = append(red, float64(c[0]-c[1])), append(blue, float64(c[2]-c[1]))
				}
			}
		}
		patches = append(patches, math.Max(scatter(red), scatter(blue)))
	}
	return raster.Median(patches)
}

// spot is the mean light of three by three pixels about a place on the card, paper 1; ok is false outside the photo.
func (s *Scene) spot(at card.Pt) (sum raster.RGB, ok bool) {
	q := s.nominalPx(at)
	x, y := int(math.Round(q.X)), int(math.Round(q.Y))
	if x < 1 || y < 1 || x+1 >= s.Photo.Width || y+1 >= s.Photo.Height {
		return sum, false
	}
	for j := -1; j <= 1; j++ {
		for i := -1; i <= 1; i++ {
			for k, v := range s.Photo.Light(s.Photo.At(x+i, y+j)) {
				sum[k] += v / 9
			}
		}
	}
	return sum.Scaled(s.Light.ToPaper), true
}

// scatter is a standard deviation by the median distance from the median, which specks of dirt do not change; 0 for no values. It changes the order of all.
func scatter(all []float64) float64 {
	if len(all) == 0 {
		return 0
	}
	middle := raster.Median(all)
	for i, v := range all {
		all[i] = math.Abs(v - middle)
	}
	return raster.PerMedianOff * raster.Median(all)
}
