package vision

import (
	"image"

	"gocv.io/x/gocv"
)

// Perlite, droplets and glints are pale like roots, but round: what is left of the pale pixels when everything thinner than
// thinMM is taken away is as long as it is broad, and ends on all sides in medium. A thick root leaves something long, a mat
// something large, and a crossing something that roots lead away from.
const (
	thinMM      = 0.7
	leastBlob   = 0.8 // mm²: what two thin roots leave where they cross is smaller
	largestBlob = 4.0 // mm across
	blobPale    = 0.5 // share
	blobFilled  = 0.6 // of its upright box; a disc fills π/4
	blobAspect  = 1.6
	blobAlone   = 0.75 // of its surroundings that are medium
)

// blobs marks the round pale things of a plug and the blur around them; nil where there are none.
func (c *rootCell) blobs(all *raster) []bool {
	p := c.p
	pale := gocv.NewMatWithSize(p.h, p.w, gocv.MatTypeCV8U)
	defer pale.Close()
	v, _ := pale.DataPtrUint8()
	for i, s := range all.v {
		v[i] = 0
		if s > blobPale {
			v[i] = 255
		}
	}
	side := 2*int(thinMM/2*c.pxMM+0.5) + 1
	disc := gocv.GetStructuringElement(gocv.MorphEllipse, image.Pt(side, side))
	defer disc.Close()
	open := gocv.NewMat()
	defer open.Close()
	gocv.MorphologyEx(pale, &open, gocv.MorphOpen, disc)
	thick, _ := open.DataPtrUint8()
	on := make([]bool, len(thick))
	for i, t := range thick {
		on[i] = t != 0
	}
	var found []bool
	eachPiece(on, p.w, p.h, func(piece []int32) {
		if c.isBlob(all, piece) {
			if found == nil {
				found = make([]bool, len(on))
			}
			for _, i := range piece {
				found[i] = true
			}
		}
	})
	if found == nil {
		return nil
	}
	return dilate(dilate(found, p.w, p.h), p.w, p.h)
}

// isRound tells whether a pixel belongs to a blob.
func (c *rootCell) isRound(i int) bool { return c.round != nil && c.round[i] }

// isBlob judges one thick piece by its size, its shape and what is around it.
func (c *rootCell) isBlob(all *raster, piece []int32) bool {
	w := c.p.w
	box := extentOf(piece, w)
	across, along := float64(min(box.Dx(), box.Dy())), float64(max(box.Dx(), box.Dy()))
	if n := float64(len(piece)); n < leastBlob*sq(c.pxMM) || along > largestBlob*c.pxMM || along > blobAspect*across || n < blobFilled*across*along {
		return false
	}
	in := make(map[int32]bool, len(piece))
	for _, i := range piece {
		in[i] = true
	}
	medium, around := 0, 0
	const out = 3 // px beyond the piece, clear of its blur
	for y := max(0, box.Min.Y-out); y < min(c.p.h, box.Max.Y+out); y++ {
		for x := max(0, box.Min.X-out); x < min(w, box.Max.X+out); x++ {
			if !in[int32(y*w+x)] && nearPiece(in, x, y, w, out) && !nearPiece(in, x, y, w, out-1) {
				around++
				if all.v[y*w+x] < blobPale/2 {
					medium++
				}
			}
		}
	}
	return float64(medium) > blobAlone*float64(around)
}

// nearPiece tells whether some pixel of in lies no further than radius from (x, y).
func nearPiece(in map[int32]bool, x, y, w, radius int) bool {
	for dy := -radius; dy <= radius; dy++ {
		for dx := -radius; dx <= radius; dx++ {
			if dx*dx+dy*dy <= radius*radius && in[int32((y+dy)*w+x+dx)] {
				return true
			}
		}
	}
	return false
}

// extentOf is the upright box around a piece of a mask w pixels wide.
func extentOf(piece []int32, w int) image.Rectangle {
	x0, y0, x1, y1 := w, int(piece[0])/w, 0, 0
	for _, i := range piece {
		x, y := int(i)%w, int(i)/w
		x0, x1, y0, y1 = min(x0, x), max(x1, x+1), min(y0, y), max(y1, y+1)
	}
	return image.Rect(x0, y0, x1, y1)
}
