package report

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/jpeg"
	"math"

	"github.com/disintegration/imaging"

	"traygauge/measure"
)

// Pictures open a trial's pictures by what its readings call the photos. Either may be nil, and then nothing is shown.
type Pictures struct {
	Photo   func(photo string) (image.Image, error) // upright
	Overlay func(photo string) (image.Image, error) // as DrawOverlay made it
}

// window is the square that is cut out around a plug. All windows of a report have one size in mm and one in px, so that
// everything in it can be compared by eye.
type window struct {
	sideMM float64
	sidePx int
}

func (w window) pxPerMM() float64 { return float64(w.sidePx) / w.sideMM }

// cut returns the window around a plug. The picture is turned by as little as makes the tray's sides upright, never mirrored, so that
// words on it stay readable. What lies outside the picture stays grey. scale and down say how the picture was made of the upright
// photo: reduced by scale, then moved down by so many px.
func (w window) cut(src image.Image, at measure.Place, scale float64, down int) *image.RGBA {
	from := safeToRead(src)
	angle := math.Remainder(math.Atan2(at.AlongY, at.AlongX), math.Pi/2)
	step := at.PxPerMM() * scale / w.pxPerMM() // px of src for one of the window
	sin, cos := math.Sincos(angle)
	x0, y0 := (at.X+0.5)*scale, (at.Y+0.5)*scale+float64(down)
	const samples = 3 // a side; the window is at most a few times coarser than the photo
	out := image.NewRGBA(image.Rect(0, 0, w.sidePx, w.sidePx))
	for py := range w.sidePx {
		for px := range w.sidePx {
			var sum [3]float64
			for s := range samples * samples {
				dx := (float64(px) + (float64(s%samples)+0.5)/samples - float64(w.sidePx)/2) * step
				dy := (float64(py) + (float64(s/samples)+0.5)/samples - float64(w.sidePx)/2) * step
				c := between(from, x0+dx*cos-dy*sin-0.5, y0+dx*sin+dy*cos-0.5)
				for i := range sum {
					sum[i] += c[i]
				}
			}
			o := out.PixOffset(px, py)
			for i := range sum {
				out.Pix[o+i] = uint8(sum[i]/(samples*samples) + 0.5)
			}
			out.Pix[o+3] = 255
		}
	}
	return out
}

const outsidePicture = 128.0

// between returns the colour at a point between pixels, from the four around it.
func between(src *image.RGBA, x, y float64) (c [3]float64) {
	left, top := math.Floor(x), math.Floor(y)
	fx, fy := x-left, y-top
	for k, share := range [4]float64{(1 - fx) * (1 - fy), fx * (1 - fy), (1 - fx) * fy, fx * fy} {
		p := image.Pt(int(left)+k%2, int(top)+k/2)
		for i := range c {
			v := outsidePicture
			if p.In(src.Rect) {
				v = float64(src.Pix[src.PixOffset(p.X, p.Y)+i])
			}
			c[i] += share * v
		}
	}
	return c
}

// safeToRead returns src as RGBA whose first pixel is at (0, 0).
func safeToRead(src image.Image) *image.RGBA {
	if rgba, ok := src.(*image.RGBA); ok && rgba.Rect.Min == (image.Point{}) {
		return rgba
	}
	return rgbaOf(src)
}

// overlayScale says how DrawOverlay reduces a photo of that size, and by how many px its headline moves it down.
func overlayScale(photo image.Rectangle) (scale float64, down int) {
	long := max(photo.Dx(), photo.Dy())
	scale = math.Min(1, float64(overlayLongSide)/float64(long))
	unit := math.Max(0.5, math.Round(float64(long)*scale)/overlayLongSide)
	return scale, int(overlayHead*unit + 0.5)
}

// dataURI writes a picture out anew as JPEG, so that nothing of a photo's file but its pixels is kept: no place, no time, no name.
func dataURI(picture image.Image, quality int) (string, error) {
	var out bytes.Buffer
	if err := jpeg.Encode(&out, picture, &jpeg.Options{Quality: quality}); err != nil {
		return "", err
	}
	return "data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(out.Bytes()), nil
}

// reducedURI is dataURI of the largest reduction that takes no more than most bytes; the smallest one is taken whatever it takes.
func reducedURI(picture image.Image, most int) (uri string, size image.Point, err error) {
	for _, side := range []int{1800, 1400, 1100, 850, 650, 500} {
		small := imaging.Fit(safeToResize(picture), side, side, imaging.Box)
		if uri, err = dataURI(small, 72); err != nil {
			return "", image.Point{}, err
		}
		size = small.Bounds().Size()
		if len(uri) <= most {
			break
		}
	}
	return uri, size, nil
}
