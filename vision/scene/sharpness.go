package scene

import (
	"math"

	"traygauge/vision/card"
	"traygauge/vision/photo"
	"traygauge/vision/raster"
)

// Sharpness is how sharp the card's slanted edges are.
type Sharpness struct {
	// MTF50 is the spatial frequency, in cycles per pixel along the edge's normal, at which contrast has fallen to half
	// (ISO 12233:2017, 7.4); NaN where no edge could be read.
	MTF50 float64
	// MTF50PerMM is the same in cycles per mm of the card.
	MTF50PerMM float64
	// LeastPerMM is that of the more blurred of the two directions, which a moved camera leaves far behind the other.
	LeastPerMM float64

	// Halo is how much the paper beside an edge is lighter than paper is, summed up across the edge: mm of the light that paper has over ink. A lens makes none;
	// sharpening does. 0 where no edge could be read.
	Halo float64
	// Lines is how many times wider the card's thinnest lines are than their own width and the blur of its edges make them: 1 whatever blurred or sharpened both alike,
	// more where a program drew edges sharp in a picture that had lost its detail. NaN where too few lines could be read.
	Lines float64
}

// BlurMM returns the blur as the sigma of a Gaussian of the same MTF50, in mm of the card. Where the edge could not be read it is the usual one.
func (s Sharpness) BlurMM() float64 {
	if !(s.MTF50PerMM > 0) {
		return usualBlurMM
	}
	return gaussianSigma(s.MTF50PerMM)
}

// WorstBlurMM returns the blur in the direction that is blurred more; NaN where no edge could be read.
func (s Sharpness) WorstBlurMM() float64 { return gaussianSigma(s.LeastPerMM) }

// gaussianSigma is the sigma of a Gaussian whose contrast falls to half at frequency f: exp(−2π²σ²f²) = ½ at σ = 0.1874/f.
func gaussianSigma(f float64) float64 { return math.Sqrt(math.Ln2/2) / math.Pi / f }

// The blur of a usual sharp photo of a tray, and the least and the greatest that the networks know, in mm: as drawings for training have them,
// blur_plane in vision/train/camera.py.
const (
	usualBlurMM = 0.12
	leastBlurMM = 0.03
	mostBlurMM  = 0.5
)

// BlurPlane is the blur as the networks take it: the logarithm of its ratio to the usual one.
func (s Sharpness) BlurPlane() float32 {
	return float32(math.Log(math.Min(mostBlurMM, math.Max(leastBlurMM, s.BlurMM())) / usualBlurMM))
}

// readSharpness takes the four edges of the card's slanted square and keeps the median.
func (s *Scene) readSharpness() Sharpness {
	var rough [4]raster.Px
	half := card.EdgeSquareSide / 2
	sin, cos := math.Sincos(card.EdgeSquareTurned * math.Pi / 180)
	for i, c := range [4]card.Pt{{X: -half, Y: -half}, {X: half, Y: -half}, {X: half, Y: half}, {X: -half, Y: half}} {
		rough[i] = s.nominalPx(card.Pt{
			X: card.EdgeSquareCentre.X + c.X*cos - c.Y*sin, Y: card.EdgeSquareCentre.Y + c.X*sin + c.Y*cos})
	}
	perMM := s.Plane.PxPerMM(card.Pt{X: card.EdgeSquareCentre.X * s.scale, Y: card.EdgeSquareCentre.Y * s.scale})
	reach := 4 * perMM // paper is plain for 6 mm around the square
	var got, halos []float64
	least := math.NaN()
	for way := range 2 { // opposite edges are blurred alike
		var both []float64
		for _, i := range [2]int{way, way + 2} {
			profile := profileOfEdge(s.Photo, rough[i], rough[(i+1)%4], reach)
			if f := mtf50(profile, edgeBin); !math.IsNaN(f) {
				both = append(both, f)
				halos = append(halos, haloIn(profile)*edgeBin/perMM)
			}
		}
		got = append(got, both...)
		if m := raster.Median(both); math.IsNaN(least) || m < least {
			least = m
		}
	}
	m := raster.Median(got)
	sharp := Sharpness{MTF50: m, MTF50PerMM: m * perMM, LeastPerMM: least * perMM, Lines: math.NaN()}
	if len(halos) > 0 {
		sharp.Halo, sharp.Lines = raster.Median(halos), s.linesOverEdges(sharp.WorstBlurMM())
	}
	return sharp
}

// edgeBin is the width of a bin of the edge profile: a quarter pixel, as ISO 12233 bins.
const edgeBin = 0.25

// profileOfEdge fits a line to one edge from a to b, dark on its right-hand side, and bins all pixels within reach of it by their distance (ISO 12233:2017, annex D);
// nil where the edge cannot be read.
func profileOfEdge(p *photo.Photo, a, b raster.Px, reach float64) []float64 {
	l, ok := fitEdge(p, a, b, math.Min(24, reach/2))
	if !ok {
		return nil
	}
	if l.nx*(b.Y-a.Y)-l.ny*(b.X-a.X) < 0 {
		l = line{-l.nx, -l.ny, -l.c}
	}
	return edgeProfile(p, l, a, b, reach)
}

// edgeEndShare of the edge square's side at each end is left out: corners are not an edge.
const edgeEndShare = 0.15

// edgeProfile returns the mean linear green light by distance from the line, dark to light, in bins of edgeBin; nil where a bin
// stays empty.
func edgeProfile(p *photo.Photo, l line, a, b raster.Px, reach float64) []float64 {
	n := 2 * int(reach/edgeBin)
	sum, count := make([]float64, n), make([]float64, n)
	dx, dy := b.X-a.X, b.Y-a.Y
	length := math.Hypot(dx, dy)
	dx, dy = dx/length, dy/length
	x0, x1 := int(math.Min(a.X, b.X)-reach), int(math.Max(a.X, b.X)+reach)
	y0, y1 := int(math.Min(a.Y, b.Y)-reach), int(math.Max(a.Y, b.Y)+reach)
	for y := max(0, y0); y <= min(p.Height-1, y1); y++ {
		for x := max(0, x0); x <= min(p.Width-1, x1); x++ {
			along := (float64(x)-a.X)*dx + (float64(y)-a.Y)*dy
			if along < edgeEndShare*length || along > (1-edgeEndShare)*length {
				continue
			}
			bin := int(math.Floor((l.nx*float64(x)+l.ny*float64(y)-l.c)/edgeBin)) + n/2
			if bin >= 0 && bin < n {
				sum[bin] += float64(raster.LinearOf[p.BGR[p.At(x, y)+1]])
				count[bin]++
			}
		}
	}
	for i := range sum {
		if count[i] == 0 {
			return nil
		}
		sum[i] /= count[i]
	}
	return sum
}

// mtf50 differentiates an edge profile of the given bin width in pixels, windows the line spread about its peak (Hamming) and
// returns the frequency in cycles per pixel where its normalised transform, the modulus of ISO 12233:2017, annex D, falls through one half. The difference of
// neighbours and the bins' own width blur by sin(πfd)/(πfd) each, which is divided out. NaN without a profile.
func mtf50(profile []float64, bin float64) float64 {
	if profile == nil {
		return math.NaN()
	}
	n := len(profile) - 1
	spread := make([]float64, n)
	var mass, centre float64
	for i := range spread {
		spread[i] = profile[i+1] - profile[i]
		if spread[i] > 0 {
			mass, centre = mass+spread[i], centre+spread[i]*float64(i)
		}
	}
	if mass <= 0 {
		return math.NaN()
	}
	centre /= mass
	for i := range spread {
		d := (float64(i) - centre) / float64(n)
		if math.Abs(d) > 0.5 {
			spread[i] = 0
		} else {
			spread[i] *= 0.54 + 0.46*math.Cos(2*math.Pi*d) // Hamming's window, as ISO 12233 has it
		}
	}
	modulus := func(f float64) float64 {
		var re, im float64
		for i, v := range spread {
			s, c := math.Sincos(2 * math.Pi * f * bin * float64(i))
			re, im = re+v*c, im+v*s
		}
		own := sinc(f*bin) * sinc(f*bin)
		return math.Hypot(re, im) / own
	}
	zero := modulus(0)
	if zero <= 0 {
		return math.NaN()
	}
	before := 1.0
	const step = 0.005
	for f := step; f < 1; f += step {
		now := modulus(f) / zero
		if now <= 0.5 {
			return f - step*(0.5-now)/(before-now)
		}
		before = now
	}
	return 1
}

func sinc(x float64) float64 {
	if x == 0 {
		return 1
	}
	return math.Sin(math.Pi*x) / (math.Pi * x)
}
