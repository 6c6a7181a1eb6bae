package scene

import (
	"math"

	"traygauge/vision/card"
	"traygauge/vision/kind"
	"traygauge/vision/lens"
	"traygauge/vision/marker"
	"traygauge/vision/photo"
	"traygauge/vision/raster"
)

// CardView is what one photo of the card tells about the lens: the edges of its four markers, in the picture as it lies in the file.
type CardView struct {
	Lens          lens.Key
	width, height int

	edges [4]quadEdges
}

// SeeCard finds the card in a photo, however bent by the lens. A photo without exactly one whole card gives a *Refusal.
func SeeCard(p *photo.Photo) (CardView, error) {
	quads, err := searchMarkers(p)
	if err != nil {
		return CardView{}, err
	}
	cardQuads, _, err := selectCard(quads)
	if err != nil {
		return CardView{}, err
	}
	v := CardView{Lens: lensKey(p)}
	v.width, v.height = lens.Turned(p.Width, p.Height, sensorTurn(p))
	for i := range cardQuads {
		_, edges, err := refineMarker(p, i, cardQuads[i], nil)
		if err != nil {
			return CardView{}, err
		}
		for _, edge := range edges {
			for k, q := range edge {
				edge[k].X, edge[k].Y = lens.Stored(q.X, q.Y, p.Width, p.Height, sensorTurn(p))
			}
		}
		v.edges[i] = edges
	}
	return v, nil
}

// corners returns the markers' sixteen corners in px, their edges straightened by l.
func (v *CardView) corners(l *lens.Curve) (q []raster.Px, ok bool) {
	for _, e := range v.edges {
		four, ok := e.corners(l)
		if !ok {
			return nil, false
		}
		q = append(q, four[:]...)
	}
	return q, true
}

// What a lens's profile takes. Ten photos and more of a target at different angles are what calibration guides ask for (common
// practice, no source); the jackknife below judges what the photos at hand really tell.
const (
	leastViews   = 8
	leastReach   = 0.75 // half diagonals: beyond it the formula is extrapolated
	leastTurnDeg = 15.0 // photos all from one side do not tell the focal length from the distance
	mostBendU    = unknownBendU / 2
)

// unknownBendU is the standard uncertainty of how far a lens that nobody calibrated moves the picture's corners, over their
// distance from the middle: a rectangle of ±1 %, as phones straighten their pictures and makers of camera modules keep what
// remains to about that (common practice, no source).
const unknownBendU = 0.01 / 1.7320508

// FitLens fits a profile to views of the card through one lens. The radial terms are OpenCV's k1 and k2; focal length and
// principal point are fitted with them, and sets too few, too alike or too far from the picture's corners give a *Refusal. Uncertainties
// are by leaving out one photo at a time (the jackknife: Efron & Tibshirani 1993, An Introduction to the Bootstrap, eq. 11.5): a
// card that is not quite flat errs alike in all its corners, which their number must not hide. odd has the numbers of views
// left out because they fit the others badly.
func FitLens(views []CardView) (p lens.Profile, odd []int, err error) {
	f := lensFit{size: 1}
	for i := range views {
		f.add(i, &views[i])
	}
	if err := f.enough(); err != nil {
		return p, nil, err
	}
	camera, fitted, err := f.fit(nil)
	if err != nil {
		return p, nil, err
	}
	if odd = f.dropOdd(fitted); len(odd) > 0 {
		if err := f.enough(); err != nil {
			return p, odd, err
		}
		if camera, fitted, err = f.fit(nil); err != nil {
			return p, odd, err
		}
	}
	p = f.profile(camera, fitted)
	if p.TurnDeg < leastTurnDeg {
		return p, odd, photo.Refuse(kind.PhotosTooAlike, "take some photos with the phone tilted by 20° to 30° to each side of the card",
			"all photos show the card from nearly the same direction (at most %.0f° apart)", p.TurnDeg)
	}
	if err := f.jackknife(&p, camera); err != nil {
		return p, odd, err
	}
	if !(p.BendUPct/100 <= mostBendU) {
		return p, odd, photo.Refuse(kind.LensUncertain, "take more photos, with the card flat and near the picture’s corners, some of them tilted",
			"the photos determine the distortion of the picture’s corners only to ± %.1f %%", 2*p.BendUPct)
	}
	return p, odd, nil
}

// lensFit is a fit at work.
type lensFit struct {
	views         []*CardView
	numbers       []int // of the views among those given
	size          float64
	width, height int
	scales        []float64 // to the first view's size
}

// add takes a view; pictures of one shape in other sizes are scaled to the first.
func (f *lensFit) add(number int, v *CardView) {
	if len(f.views) == 0 {
		f.width, f.height = v.width, v.height
	}
	f.views, f.numbers = append(f.views, v), append(f.numbers, number)
	f.scales = append(f.scales, math.Hypot(float64(f.width), float64(f.height))/math.Hypot(float64(v.width), float64(v.height)))
}

func (f *lensFit) drop(i int) {
	f.views = append(f.views[:i:i], f.views[i+1:]...)
	f.numbers = append(f.numbers[:i:i], f.numbers[i+1:]...)
	f.scales = append(f.scales[:i:i], f.scales[i+1:]...)
}

// seen returns a view's corners at the first view's size, straightened by a lens of that size.
func (f *lensFit) seen(i int, camera *marker.Camera) (q []raster.Px, ok bool) {
	v, s := f.views[i], f.scales[i]
	var l *lens.Curve
	if camera != nil {
		l = lens.Lens{F: camera.F / s, CX: (camera.CX+0.5)/s - 0.5, CY: (camera.CY+0.5)/s - 0.5, K1: camera.K1, K2: camera.K2}.Over(v.width, v.height)
	}
	if q, ok = v.corners(l); !ok {
		return nil, false
	}
	for k := range q {
		q[k] = raster.Px{X: (q[k].X+0.5)*s - 0.5, Y: (q[k].Y+0.5)*s - 0.5}
	}
	return q, true
}

// enough refuses what is too little to fit to.
func (f *lensFit) enough() error {
	if len(f.views) < leastViews {
		return photo.Refuse(kind.TooFewPhotos, "take a dozen from different directions, with the card in all parts of the picture",
			"only %d usable photos of the card; at least %d are needed", len(f.views), leastViews)
	}
	if reach := f.reach(); reach < leastReach {
		return photo.Refuse(kind.CornersNotReached, "take photos with the card in each corner of the picture, the whole card still in view",
			"towards one corner of the picture, the card reaches only %.0f %% of the way from the middle (minimum %.0f %%)", 100*reach, 100*leastReach)
	}
	return nil
}

// reach is how far out, in half diagonals, corners were seen in the quarter of the picture that saw them least far out.
func (f *lensFit) reach() float64 {
	var far [4]float64
	mx, my := float64(f.width-1)/2, float64(f.height-1)/2
	for i := range f.views {
		q, _ := f.seen(i, nil)
		for _, c := range q {
			quarter := 0
			if c.X > mx {
				quarter++
			}
			if c.Y > my {
				quarter += 2
			}
			far[quarter] = math.Max(far[quarter], math.Hypot(c.X-mx, c.Y-my)/math.Hypot(mx, my))
		}
	}
	return math.Min(math.Min(far[0], far[1]), math.Min(far[2], far[3]))
}

// fit fits the camera, from a guess that is all but right or, without one, twice: what the first knows of the lens straightens the
// markers' edges for the second.
func (f *lensFit) fit(guess *marker.Camera) (camera marker.Camera, fitted []marker.Fitted, err error) {
	know, passes := guess, 1
	if guess == nil {
		camera, passes = f.firstGuess(), 2
	} else {
		camera = *guess
	}
	for range passes {
		var targets []marker.View
		for i := range f.views {
			q, ok := f.seen(i, know)
			if !ok {
				return camera, nil, photo.Refuse(kind.CardUnclear, "take the photos again with the card flat and in even light", "a marker’s edges do not cross")
			}
			targets = append(targets, targetOf(q))
		}
		camera, fitted, err = marker.FitCamera(targets, f.width, f.height, camera, marker.CameraModel{Middle: true, K2: true})
		if err != nil {
			return camera, nil, photo.Refuse(kind.LensNotFitted, "take the photos again, each from a different direction", "no lens could be calculated from the photos (%v)", err)
		}
		know = &camera
	}
	if (lens.Lens{F: camera.F, CX: camera.CX, CY: camera.CY, K1: camera.K1, K2: camera.K2}).Over(f.width, f.height) == nil {
		return camera, nil, photo.Refuse(kind.LensNotFitted, "take the photos again, with the card in all parts of the picture", "the photos lead to an impossible lens, which folds the picture")
	}
	return camera, fitted, nil
}

func (f *lensFit) firstGuess() marker.Camera {
	focal, ok := photo.Meta{Focal35: f.views[0].Lens.Focal35}.FocalPx(f.width, f.height)
	if !ok {
		focal, _ = photo.Meta{Focal35: assumedFocal35}.FocalPx(f.width, f.height)
	}
	return marker.Camera{F: focal, CX: float64(f.width-1) / 2, CY: float64(f.height-1) / 2}
}

// targetOf pairs the card's corners with their pixels. The print's scale does not matter here: it is the distance's.
func targetOf(q []raster.Px) (v marker.View) {
	i := 0
	for _, r := range card.Markers() {
		for _, c := range r.Corners() {
			v.Plane = append(v.Plane, [2]float64{c.X, c.Y})
			v.Picture = append(v.Picture, [2]float64{q[i].X, q[i].Y})
			i++
		}
	}
	return v
}

// leastMisfitPx is taken for the middling misfit where that is smaller: views that fit so well are all good.
const leastMisfitPx = 0.05

// dropOdd leaves out views that fit three times worse than the middling one: a card bent, moved or half under a reflection.
func (f *lensFit) dropOdd(fitted []marker.Fitted) (odd []int) {
	var all []float64
	for _, v := range fitted {
		all = append(all, v.MisfitPx)
	}
	limit := outlierTimes * math.Max(raster.Median(append([]float64(nil), all...)), leastMisfitPx)
	for i := len(all) - 1; i >= 0; i-- {
		if all[i] > limit {
			odd = append([]int{f.numbers[i]}, odd...)
			f.drop(i)
		}
	}
	return odd
}

// profile puts a fit into a profile, without its uncertainties.
func (f *lensFit) profile(c marker.Camera, fitted []marker.Fitted) lens.Profile {
	d := math.Hypot(float64(f.width), float64(f.height))
	p := lens.Profile{Key: f.views[0].Lens, Focal: c.F / d, K1: c.K1, K2: c.K2, Photos: len(f.views), Width: f.width, Height: f.height, Reach: f.reach()}
	p.MiddleX, p.MiddleY = (c.CX-float64(f.width-1)/2)/d, (c.CY-float64(f.height-1)/2)/d
	p.BendPct = 100 * cornerBend(p)
	sum := 0.0
	for i, v := range fitted {
		sum += raster.Sq(v.MisfitPx) / float64(len(fitted))
		for _, o := range fitted[:i] {
			p.TurnDeg = math.Max(p.TurnDeg, between(v.Turn, o.Turn))
		}
	}
	p.MisfitPx = math.Sqrt(sum)
	return p
}

// cornerBend is r_d/r_u − 1 at half a diagonal from the picture's middle, where a pinhole shows it.
func cornerBend(p lens.Profile) float64 {
	r2 := raster.Sq(0.5 / p.Focal)
	return r2 * (p.K1 + r2*p.K2)
}

// between is the angle in degrees between the normals of two targets turned by rotation vectors.
func between(a, b [3]float64) float64 {
	u, v := turnedZ(a), turnedZ(b)
	return math.Acos(math.Max(-1, math.Min(1, dot3(u, v)))) * 180 / math.Pi
}

// turnedZ is the z axis turned by a rotation vector (Rodrigues).
func turnedZ(r [3]float64) [3]float64 {
	angle := norm(r)
	if angle < 1e-12 {
		return [3]float64{0, 0, 1}
	}
	k := scaled(r, 1/angle)
	sin, cos := math.Sincos(angle)
	return [3]float64{k[1]*sin + k[0]*k[2]*(1-cos), -k[0]*sin + k[1]*k[2]*(1-cos), cos + k[2]*k[2]*(1-cos)}
}

// jackknife fills in the profile's uncertainties from the fits with each photo left out in turn.
func (f *lensFit) jackknife(p *lens.Profile, camera marker.Camera) error {
	n := len(f.views)
	values := make([][6]float64, n)
	var mean [6]float64
	for i := range n {
		less := *f
		less.drop(i)
		c, fitted, err := less.fit(&camera)
		if err != nil {
			return err
		}
		q := less.profile(c, fitted)
		values[i] = [6]float64{q.Focal, q.MiddleX, q.MiddleY, q.K1, q.K2, q.BendPct}
		for k, v := range values[i] {
			mean[k] += v / float64(n)
		}
	}
	share := float64(n-1) / float64(n)
	for _, v := range values {
		for a := range 5 {
			for b := range 5 {
				p.Covariance[a][b] += share * (v[a] - mean[a]) * (v[b] - mean[b])
			}
		}
		p.BendUPct += share * raster.Sq(v[5]-mean[5])
	}
	p.BendUPct = math.Sqrt(p.BendUPct)
	return nil
}
