package roots

import (
	"math"
	"slices"

	"traygauge/vision/raster"
	"traygauge/vision/scene"
)

// A plug hangs in a hole. Its rim lies in the hole's shade, and what is between rim and wall is darker still. The network draws the outline where the eye does,
// and where bright roots end short of the rim that is where the roots end. Here the outline is moved to where the light comes up out of the gap's dark.
//
// A rim too narrow to be seen by itself is as light as the sky that it sees makes it: level with the hole's edge it sees all of the sky; at the foot of a wall
// half, since a wall hides half of the cosine-weighted sky above a level surface. Three quarters is the middle of the two.
const (
	rimSky  = 0.75
	skyWall = 0.5

	gapMost   = 0.8 * skyWall // of the medium's light: what is lighter may be a rim and is no gap
	leastRise = 0.1           // of the medium's light: less above the gap's is noise

	mostOutMM, mostInMM = 0.6, 0.3 // an edge farther from the network's outline is not the plug's
	leastRays           = 0.5      // of the rays must have met the edge
)

// Profiles of light across the rim: from so far inside the network's outline to so far outside, along each ray.
const (
	rimStepMM          = 0.15
	rimInMM, rimOutMM  = 1.95, 1.35
	rimSteps           = 23
	rimZero            = 13 // the step that lies on the network's outline
	everyRay           = 2
	raysBeside         = 2 // rays on each side whose median is taken: single roots and crumbs that stand out are no rim
	gapBeside          = 2 // of these, for the gap's light
	edgeBeside         = 1 // and for where the edge is
	sharpeningRounds   = 20
	mostRimSigma       = 0.45 // mm; a photo that blurred shows no rim
	insideFrom, inside = 1, 2 // steps inside a place that show how light it is there
)

// rims holds the profiles of a plug's rim along each ray; fewRims holds every other ray's, each the median of its neighbours'.
type (
	rims    [outlineRays][rimSteps]float64
	fewRims [outlineRays / everyRay][rimSteps]float64
)

// onRim returns the radii in mm of the outline along each ray, moved from the network's to where the light comes up out of the gap. Where the photo does not show
// that, they are the network's.
func (c *rootCell) onRim(radius []float64, light, plug []float32) []float64 {
	medium := c.mediumLight(light, plug)
	sigma := rimSigma(c.s.Edge)
	if medium == 0 || sigma > mostRimSigma {
		return radius
	}
	seen := c.lightAcross(radius, light)
	sharp := seen.steadied()
	undo := newSharpener(sigma / rimStepMM)
	for i := range sharp {
		undo.sharpen(sharp[i][:])
	}
	return sharp.edges(radius, medium)
}

// rimSigma is the blur of a profile in mm: of the photo, of prepared pixels' own width, and of reading between them.
func rimSigma(e scene.Sharpness) float64 {
	const px = 1.0 / preparedPerMM
	return math.Sqrt(raster.Sq(e.BlurMM()) + px*px/12 + px*px/6)
}

// mediumLight is the light of the plug's bare medium: the median where there is surely no root; 0 where too little is bare.
func (c *rootCell) mediumLight(light, plug []float32) float64 {
	const surely, noRoot, fewest = 0.97, 25, 50
	const steps, most = 1024, 1.0 // it is counted in steps of its root, the lightest together
	var counts [steps]int
	n := 0
	for i, share := range plug {
		if share > surely && c.plug.Root.A[i] < noRoot {
			v := (light[3*i] + light[3*i+1] + light[3*i+2]) / 3
			counts[min(steps-1, int(steps/most*math.Sqrt(float64(v))))]++
			n++
		}
	}
	if n < fewest {
		return 0
	}
	below := 0
	for i, count := range counts {
		if below += count; 2*below >= n {
			return raster.Sq((float64(i) + 0.5) * most / steps)
		}
	}
	return 0
}

// lightAcross reads the light across the outline along each ray, the mean of the three channels.
func (c *rootCell) lightAcross(radius []float64, light []float32) *rims {
	p := c.p
	at := func(q raster.Px) float64 {
		x, y := min(max(q.X-0.5, 0), float64(p.w)-1.001), min(max(q.Y-0.5, 0), float64(p.h)-1.001)
		i, j := int(x), int(y)
		fx, fy := float32(x-float64(i)), float32(y-float64(j))
		top, low := light[3*(j*p.w+i):], light[3*((j+1)*p.w+i):]
		sum := (1-fy)*((1-fx)*(top[0]+top[1]+top[2])+fx*(top[3]+top[4]+top[5])) + fy*((1-fx)*(low[0]+low[1]+low[2])+fx*(low[3]+low[4]+low[5]))
		return float64(sum) / 3
	}
	var r rims
	for i := range r {
		from, to := c.onRay(i, radius[i]-rimInMM), c.onRay(i, radius[i]+rimOutMM)
		for k := range r[i] {
			t := float64(k) / (rimSteps - 1)
			r[i][k] = at(raster.Px{X: from.X + t*(to.X-from.X), Y: from.Y + t*(to.Y-from.Y)})
		}
	}
	return &r
}

// onRay returns the point at a radius on a ray, in prepared pixels.
func (c *rootCell) onRay(ray int, mm float64) raster.Px {
	sin, cos := math.Sincos(2 * math.Pi * float64(ray) / outlineRays)
	return c.p.at(c.s.Plane.ToPx(c.s.TrayPoint(c.u+mm*cos, c.v+mm*sin)))
}

// steadied returns for every other ray the median of its profile and those beside it.
func (r *rims) steadied() *fewRims {
	var out fewRims
	var around [2*raysBeside + 1]float64
	for i := range out {
		for k := range out[i] {
			for d := range around {
				around[d] = r[(i*everyRay+d-raysBeside+outlineRays)%outlineRays][k]
			}
			out[i][k] = raster.Median(around[:])
		}
	}
	return &out
}

// edges returns the radii at which profiles come up out of the gap.
func (r *fewRims) edges(radius []float64, medium float64) []float64 {
	gap, place := make([]float64, len(r)), make([]int, len(r))
	for i := range r {
		gap[i], place[i] = darkest(&r[i])
	}
	gap = medianBeside(gap, gapBeside)
	off, met, rays := make([]float64, len(r)), make([]bool, len(r)), 0
	for i := range r {
		off[i], met[i] = edgeOf(&r[i], place[i], gap[i], medium)
		if met[i] {
			rays++
		}
	}
	if float64(rays) < leastRays*float64(len(r)) {
		return radius
	}
	off = medianBeside(off, edgeBeside)
	for i := range off {
		if !met[i] {
			off[i] = 0
		}
	}
	moved := slices.Clone(radius)
	for i := range moved {
		k := i / everyRay
		t := float64(i%everyRay) / everyRay
		moved[i] += (1-t)*off[k] + t*off[(k+1)%len(off)]
	}
	return moved
}

// darkest returns the light of the gap, the least mean of three steps from the network's outline on outwards, and where it is.
func darkest(profile *[rimSteps]float64) (light float64, at int) {
	light = math.Inf(1)
	for k := rimZero; k+1 < rimSteps; k++ {
		if v := (profile[k-1] + profile[k] + profile[k+1]) / 3; v < light {
			light, at = v, k
		}
	}
	return light, at
}

// edgeOf returns how far beyond the network's outline, in mm, a profile first comes up half-way from the gap to the rim as one walks inwards from the gap. The rim is
// as light as the places just inside, or as the medium in its shade where that is less: then these are roots.
func edgeOf(profile *[rimSteps]float64, from int, gap, medium float64) (mm float64, met bool) {
	if gap > gapMost*medium {
		return 0, false
	}
	for k := from; k > insideFrom+inside; k-- {
		rim := min((profile[k-insideFrom-1]+profile[k-insideFrom-inside])/2, rimSky*medium)
		half := (gap + rim) / 2
		if low, high := profile[k], profile[k-1]; high >= half && high > gap+leastRise*medium {
			between := 0.0
			if low < half {
				between = (half - low) / (high - low)
			}
			mm = (float64(k-rimZero) - between) * rimStepMM
			return mm, mm > -mostInMM && mm < mostOutMM
		}
	}
	return 0, false
}

// medianBeside returns the median of each ray's value and those of so many rays on each side.
func medianBeside(v []float64, beside int) []float64 {
	out := make([]float64, len(v))
	around := make([]float64, 2*beside+1)
	for i := range v {
		for d := range around {
			around[d] = v[(i+d-beside+len(v))%len(v)]
		}
		out[i] = raster.Median(around)
	}
	return out
}

// sharpener undoes a Gaussian blur of profiles (Richardson 1972, Journal of the Optical Society of America 62, 55-59).
type sharpener struct {
	kernel             []float64
	padded, now, ratio []float64
}

func newSharpener(sigma float64) *sharpener {
	half := int(math.Ceil(3 * sigma))
	s := &sharpener{kernel: make([]float64, 2*half+1)}
	sum := 0.0
	for i := range s.kernel {
		s.kernel[i] = math.Exp(-raster.Sq(float64(i-half)/sigma) / 2)
		sum += s.kernel[i]
	}
	for i := range s.kernel {
		s.kernel[i] /= sum
	}
	return s
}

func (s *sharpener) sharpen(v []float64) {
	got := slices.Clone(v)
	s.now, s.ratio = append(s.now[:0], v...), append(s.ratio[:0], v...)
	for range sharpeningRounds {
		s.blur(got, s.now)
		for i := range s.ratio {
			s.ratio[i] = v[i] / max(s.now[i], 1e-6)
		}
		s.blur(s.ratio, s.now)
		for i, f := range s.now {
			got[i] *= f
		}
	}
	copy(v, got)
}

// blur writes v blurred into to. Beyond its ends v goes on as it ends.
func (s *sharpener) blur(v, to []float64) {
	half := len(s.kernel) / 2
	if n := len(v) + 2*half; len(s.padded) != n {
		s.padded = make([]float64, n)
	}
	copy(s.padded[half:], v)
	for i := range half {
		s.padded[i], s.padded[half+len(v)+i] = v[0], v[len(v)-1]
	}
	for i := range to {
		to[i] = s.kernel[half] * s.padded[i+half]
	}
	for j, k := range s.kernel[:half] {
		left, right := s.padded[j:j+len(to)], s.padded[2*half-j:2*half-j+len(to)]
		for i := range to {
			to[i] += k * (left[i] + right[i])
		}
	}
}
