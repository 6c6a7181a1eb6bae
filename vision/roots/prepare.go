package roots

import (
	"math"

	"traygauge/vision/card"
	"traygauge/vision/coverage"
	"traygauge/vision/raster"
	"traygauge/vision/scene"
)

// preparedPerMM is the one scale at which the networks see roots, in prepared pixels a mm, whatever the photo's own.
const preparedPerMM = 4.8

// prepared is a part of a photo as the networks see it: light by the card's greys, at one scale. It lies along the photo's own pixels, so
// that every camera pixel's light is kept: each prepared pixel is the mean over the box of camera pixels that it covers.
type prepared struct {
	x0, y0       float64 // the outer corner of the first prepared pixel in the photo, where whole numbers are the corners of pixels
	stepX, stepY float64 // camera pixels across a prepared pixel
	w, h         int     // prepared pixels
	in           coverage.Input
}

// prepareAt cuts out a square of side prepared pixels about a point of the plane. The result is valid until work is used again.
func prepareAt(s *scene.Scene, middle card.Pt, side int, work *seen) *prepared {
	q := s.Plane.ToPx(middle)
	mmX, mmY := s.Plane.PixelMM(q)
	p := &prepared{stepX: 1 / (mmX * preparedPerMM), stepY: 1 / (mmY * preparedPerMM), w: side, h: side}
	p.x0, p.y0 = q.X+0.5-p.stepX*float64(side)/2, q.Y+0.5-p.stepY*float64(side)/2
	work.in = work.in.Sized(side/2, side/2, 1) // the network for roots takes light and how blurred the photo is
	p.in = work.in
	fillPrepared(s, p)
	blur := s.Edge.BlurPlane()
	for i := range p.in.Also {
		p.in.Also[i] = blur
	}
	return p
}

// fillPrepared averages the photo's light over each prepared pixel's box. Beyond the photo its border goes on.
func fillPrepared(s *scene.Scene, p *prepared) {
	clear(p.in.Light)
	columns, rows := boxesOf(p.x0, p.stepX, p.w), boxesOf(p.y0, p.stepY, p.h)
	line := make([]float32, 3*p.w)
	last := math.MinInt
	for _, r := range rows {
		if r.pixel != last {
			last = r.pixel
			averageLine(s, p, r.pixel, columns, line)
		}
		to := p.in.Light[3*p.w*r.box : 3*p.w*(r.box+1)]
		for i, v := range line {
			to[i] += r.share * v
		}
	}
}

// averageLine averages one row of camera pixels over the boxes' columns.
func averageLine(s *scene.Scene, p *prepared, y int, columns []boxShare, line []float32) {
	clear(line)
	light := s.CodeLight()
	at := s.Photo.At(0, min(max(y, 0), s.Photo.Height-1))
	for _, c := range columns {
		i := at + 3*min(max(c.pixel, 0), s.Photo.Width-1)
		px := s.Photo.BGR[i : i+3 : i+3]
		to := line[3*c.box : 3*c.box+3 : 3*c.box+3]
		to[0] += c.share * light[2][px[2]]
		to[1] += c.share * light[1][px[1]]
		to[2] += c.share * light[0][px[0]]
	}
}

// boxShare is the share of a box that a pixel takes.
type boxShare struct {
	pixel, box int
	share      float32
}

// boxesOf lists the shares of n boxes of step pixels each, from x0 on.
func boxesOf(x0, step float64, n int) (list []boxShare) {
	for box := range n {
		from, to := x0+step*float64(box), x0+step*float64(box+1)
		for pixel := int(math.Floor(from)); float64(pixel) < to; pixel++ {
			over := math.Min(to, float64(pixel+1)) - math.Max(from, float64(pixel))
			if over > 1e-9 {
				list = append(list, boxShare{pixel, box, float32(over / step)})
			}
		}
	}
	return list
}

// px returns the middle of a prepared pixel in the photo.
func (p *prepared) px(x, y float64) raster.Px {
	return raster.Px{X: p.x0 + p.stepX*(x+0.5) - 0.5, Y: p.y0 + p.stepY*(y+0.5) - 0.5}
}

// at returns where a point of the photo lies, in prepared pixels from their outer corner.
func (p *prepared) at(q raster.Px) raster.Px {
	return raster.Px{X: (q.X + 0.5 - p.x0) / p.stepX, Y: (q.Y + 0.5 - p.y0) / p.stepY}
}
