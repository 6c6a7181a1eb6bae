package tray

import (
	"math"
	"slices"

	"traygauge/vision/raster"
	"traygauge/vision/scene"
)

// Uneven is how far the light on a tray changes over it, by the tray's own plastic, which is one colour. 1 is even; 0 is not seen.
type Uneven struct {
	Light  float64 // the brightest tenth of the places over the darkest
	Colour float64 // of the tray's parts: the largest of red over green, or blue over green, over the smallest
}

// The tray is looked at in parts of three by two; a part counts with so many places between cells at which the plastic shows.
const (
	partsAlong, partsAcross = 3, 2
	fewestPlaces            = 3
)

// Unevenness compares the light on the tray's parts. leaf is where leaves lie, nil for none: what they cover or border is passed over.
func Unevenness(s *scene.Scene, t Layout, g Grid, leaf *raster.Share) Uneven {
	m := newCoverMap(s, t, g)
	var parts [partsAlong * partsAcross][]raster.RGB
	for _, i := range m.between(t) {
		u, v := g.Place(t, (float64(i%m.w)+0.5)*coverStepMM, (float64(i/m.w)+0.5)*coverStepMM)
		if leaf != nil && leaf.Near(s.Plane.ToPx(s.TrayPoint(u, v)), 8) {
			continue
		}
		c, _ := m.light(i)
		x, y := i%m.w*partsAlong/m.w, i/m.w*partsAcross/m.h
		parts[y*partsAlong+x] = append(parts[y*partsAlong+x], c)
	}
	low, high := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{}
	var bright []float64
	seen := 0
	for _, places := range parts {
		for _, c := range places {
			bright = append(bright, math.Max(raster.LeastLight, float64(c[1])))
		}
		if len(places) < fewestPlaces {
			continue
		}
		seen++
		c := raster.MiddleRGB(places)
		green := math.Max(raster.LeastLight, float64(c[1]))
		for k, v := range [2]float64{float64(c[0]) / green, float64(c[2]) / green} {
			low[k], high[k] = math.Min(low[k], v), math.Max(high[k], v)
		}
	}
	if seen < 2 {
		return Uneven{}
	}
	slices.Sort(bright)
	n := len(bright)
	return Uneven{bright[n*9/10] / bright[n/10], math.Max(high[0]/math.Max(raster.LeastLight, low[0]), high[1]/math.Max(raster.LeastLight, low[1]))}
}

// The tray's darkest hundredth and its lightest two-hundredth: more than dust or a glint, less than a plug.
const darkestShare, lightestShare = 0.01, 0.005

// Extent is how dark and how light a tray gets: green of its darkest and of its lightest places over that of the card's paper.
type Extent struct {
	Dark, Light float64
	Straight    float64 // Dark with the camera's curve, or a haze over all of the photo, undone by the card's greys
	Usual       float64 // the median place
	CellsLight  float64 // the lightest places of the median cell
}

// ExtentOf looks at all of the tray that is in the photo; all are 1 where none is.
func ExtentOf(s *scene.Scene, t Layout, g Grid) Extent {
	m := newCoverMap(s, t, g)
	var all []float64
	cells := make([][]float64, t.Rows*t.Columns)
	for i := range m.w * m.h {
		c, ok := m.light(i)
		if !ok {
			continue
		}
		all = append(all, float64(c[1]))
		row := int(math.Floor(((float64(i/m.w)+0.5)*coverStepMM-t.FirstV)/t.PitchMM + 0.5))
		col := int(math.Floor(((float64(i%m.w)+0.5)*coverStepMM-t.FirstU)/t.PitchMM + 0.5))
		if row >= 0 && col >= 0 && row < t.Rows && col < t.Columns {
			cells[row*t.Columns+col] = append(cells[row*t.Columns+col], float64(c[1]))
		}
	}
	if len(all) == 0 {
		return Extent{1, 1, 1, 1, 1}
	}
	slices.Sort(all)
	last := float64(len(all) - 1)
	e := Extent{Dark: all[int(darkestShare*last)], Light: all[int((1-lightestShare)*last)], Usual: all[int(last/2)], CellsLight: medianLightest(cells)}
	code := 255 * raster.FromLinear(math.Min(1, e.Dark*float64(s.Light.White[1])))
	e.Straight = float64(s.CodeLight()[1][int(code+0.5)])
	return e
}

// lightestOfCell is that share of a cell's places: more than glints, less than a few roots.
const lightestOfCell = 0.01

// medianLightest returns how light the median cell gets; cells without a place in the photo do not count.
func medianLightest(cells [][]float64) float64 {
	var lightest []float64
	for _, places := range cells {
		if len(places) == 0 {
			continue
		}
		slices.Sort(places)
		lightest = append(lightest, places[int((1-lightestOfCell)*float64(len(places)-1))])
	}
	if len(lightest) == 0 {
		return 1
	}
	return raster.Median(lightest)
}
