package lens

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Key is what a photo's EXIF block and its shape say of the lens behind it. A zoom step, another lens of the same phone and a
// picture cut to another shape each have their own. Zero is what the photo does not say.
type Key struct {
	Camera  string  `json:"camera"`          // make and model
	Focal35 float64 `json:"focal_35mm"`      // 35 mm equivalent
	FocalMM float64 `json:"focal_mm"`        // the lens's own
	Aspect  float64 `json:"width_by_height"` // of the picture as it lies in the file
}

// Named reports whether k names a camera and a focal length: without them nothing says which photos a profile is for.
func (k Key) Named() bool { return k.Camera != "" && (k.Focal35 > 0 || k.FocalMM > 0) }

// String names the lens as its user would: "Phone 1, 26 mm".
func (k Key) String() string {
	switch {
	case k.Focal35 > 0:
		return fmt.Sprintf("%s, %g mm", k.Camera, k.Focal35)
	case k.FocalMM > 0:
		return fmt.Sprintf("%s, %.3g mm", k.Camera, k.FocalMM)
	}
	return k.Camera
}

// Same reports whether both keys are of one lens. Shapes may differ by the few pixels that sizes are rounded to, focal lengths by
// their last written digit.
func (k Key) Same(o Key) bool {
	near := func(a, b, within float64) bool { return math.Abs(a-b) <= within*math.Max(a, b) }
	return k.Named() && k.Camera == o.Camera && near(k.Focal35, o.Focal35, 1e-3) && near(k.FocalMM, o.FocalMM, 2e-3) && near(k.Aspect, o.Aspect, 5e-3)
}

// Parameters of a profile: focal length and principal point in picture diagonals, the latter from the picture's middle as it
// lies in the file, then K1 and K2 of Lens.
const (
	focal = iota
	middleX
	middleY
	k1
	k2
	parameters
)

// Profile is what a set of photos of the card told about a lens.
type Profile struct {
	Key
	Focal   float64 `json:"focal_diagonals"`
	MiddleX float64 `json:"middle_x_diagonals"`
	MiddleY float64 `json:"middle_y_diagonals"`
	K1      float64 `json:"k1"`
	K2      float64 `json:"k2"`

	// Covariance of the five above, in their order.
	Covariance [parameters][parameters]float64 `json:"covariance"`

	Photos   int     `json:"photos"`
	MisfitPx float64 `json:"misfit_px"` // root mean square over all corners, in pictures of Width × Height
	Width    int     `json:"width_px"`
	Height   int     `json:"height_px"`
	Reach    float64 `json:"reach"`             // how far out the card was seen in every quarter of the picture, in half diagonals
	TurnDeg  float64 `json:"turn_deg"`          // the widest angle between two photos' views of the card
	BendPct  float64 `json:"corner_bend_pct"`   // how far the picture's corners are moved, in % of their distance from the middle
	BendUPct float64 `json:"corner_bend_u_pct"` // its standard uncertainty
}

// Words says which lens p is of and what it rests on.
func (p Profile) Words() string {
	return fmt.Sprintf("%s: from %d photos of the card, the picture’s corners bent by %.2f ± %.2f %%", p.Key, p.Photos, p.BendPct, 2*p.BendUPct)
}

// values returns the five parameters in their order.
func (p Profile) values() [parameters]float64 {
	return [parameters]float64{p.Focal, p.MiddleX, p.MiddleY, p.K1, p.K2}
}

// In returns the lens of an upright picture of width × height px that its file holds turned by an EXIF orientation.
func (p Profile) In(width, height, orientation int) Lens {
	return lensOf(p.values(), width, height, orientation)
}

// Spread returns lenses one standard deviation off along independent directions, so that the variance of whatever depends on the
// lens is the sum of its squared changes (JCGM 100:2008, 5.2.2, eq. 13, in the covariance's own axes).
func (p Profile) Spread(width, height, orientation int) []Lens {
	cov := mat.NewSymDense(parameters, nil)
	for i := range parameters {
		for j := i; j < parameters; j++ {
			cov.SetSym(i, j, p.Covariance[i][j])
		}
	}
	var axes mat.EigenSym
	if !axes.Factorize(cov, true) {
		return nil
	}
	var vectors mat.Dense
	axes.VectorsTo(&vectors)
	var all []Lens
	for k, variance := range axes.Values(nil) {
		if !(variance > 0) {
			continue
		}
		v := p.values()
		for i := range v {
			v[i] += math.Sqrt(variance) * vectors.At(i, k)
		}
		all = append(all, lensOf(v, width, height, orientation))
	}
	return all
}

// DiagonalPx is the diagonal of the pictures it was fitted in.
func (p Profile) DiagonalPx() float64 { return math.Hypot(float64(p.Width), float64(p.Height)) }

// FocalRelU is the focal length's relative standard uncertainty.
func (p Profile) FocalRelU() float64 { return math.Sqrt(p.Covariance[focal][focal]) / p.Focal }

func lensOf(v [parameters]float64, width, height, orientation int) Lens {
	d := math.Hypot(float64(width), float64(height))
	w, h := Turned(width, height, orientation)
	x, y := upright(float64(w-1)/2+v[middleX]*d, float64(h-1)/2+v[middleY]*d, width, height, orientation)
	return Lens{F: v[focal] * d, CX: x, CY: y, K1: v[k1], K2: v[k2]}
}

// Turned returns the size of a width × height picture before or after it is turned by an EXIF orientation, 1 to 8.
func Turned(width, height, orientation int) (w, h int) {
	if orientation >= 5 && orientation <= 8 {
		return height, width
	}
	return width, height
}

// Stored returns where a point of an upright width × height picture lies in the file that holds it turned by an EXIF orientation
// (CIPA DC-008-2016, 4.6.4, Orientation).
func Stored(x, y float64, width, height, orientation int) (float64, float64) {
	w, h := float64(width-1), float64(height-1)
	switch orientation {
	case 2:
		return w - x, y
	case 3:
		return w - x, h - y
	case 4:
		return x, h - y
	case 5:
		return y, x
	case 6:
		return y, w - x
	case 7:
		return h - y, w - x
	case 8:
		return h - y, x
	}
	return x, y
}

// upright is the inverse of Stored; width and height are the upright picture's.
func upright(x, y float64, width, height, orientation int) (float64, float64) {
	w, h := Turned(width, height, orientation)
	switch orientation {
	case 6:
		orientation = 8
	case 8:
		orientation = 6
	}
	return Stored(x, y, w, h, orientation)
}
