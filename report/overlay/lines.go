package overlay

import (
	"encoding/binary"
	"image"
	"image/color"
	"image/draw"
	"math"
	"slices"
	"traygauge/measure/reading"

	"golang.org/x/image/vector"
)

// lineStyle is how an outline is drawn; lengths are px of the full page.
type lineStyle struct {
	colour color.RGBA
	wide   float64
	dashes []float64 // lengths of line and gap in turn; none for a whole line
}

var (
	cardLine = lineStyle{cardColour, 4, nil}
	tagLine  = lineStyle{cardColour, 4, []float64{10, 7}}
)

// plugLine shows the states by the line's pattern; the word is next to it.
func plugLine(state reading.State) lineStyle {
	switch state {
	case reading.Empty:
		return lineStyle{lineColour, 3, []float64{10, 9}}
	case reading.Hidden:
		return lineStyle{lineColour, 3, []float64{3, 7}}
	case reading.Excluded:
		return lineStyle{lineColour, 3, []float64{16, 5, 4, 5}}
	}
	return lineStyle{lineColour, 2, nil}
}

// line draws a closed outline through points of the page, with a dark edge so that it shows on any ground.
func (s *sketch) line(points []Point, style lineStyle) {
	if len(points) < 2 || slices.ContainsFunc(points, farOff) {
		return
	}
	pieces := dashed(append(points[:len(points):len(points)], points[0]), style.dashes, s.unit)
	s.stroke(pieces, (style.wide+3)*s.unit, haloColour)
	s.stroke(pieces, style.wide*s.unit, style.colour)
}

// farOff reports whether p is no point that an outline on a photo can have, such as one that was never calculated.
func farOff(p Point) bool { return !(math.Abs(p.X) < 1e6 && math.Abs(p.Y) < 1e6) }

type piece struct{ from, to Point }

// dashed cuts a line into the pieces that are drawn.
func dashed(points []Point, dashes []float64, unit float64) []piece {
	var pieces []piece
	k, left := 0, math.Inf(1)
	if len(dashes) > 0 {
		left = dashes[0] * unit
	}
	for i := range len(points) - 1 {
		from, to := points[i], points[i+1]
		length := math.Hypot(to.X-from.X, to.Y-from.Y)
		for done := 0.0; done < length; {
			step := math.Min(left, length-done)
			if k%2 == 0 {
				pieces = append(pieces, piece{along(from, to, done/length), along(from, to, (done+step)/length)})
			}
			done, left = done+step, left-step
			if left <= 0 {
				k = (k + 1) % len(dashes)
				left = dashes[k] * unit
			}
		}
	}
	return pieces
}

func along(from, to Point, share float64) Point {
	return Point{from.X + (to.X-from.X)*share, from.Y + (to.Y-from.Y)*share}
}

// stroke paints pieces of line. All are one shape, so that overlaps are not painted twice.
func (s *sketch) stroke(pieces []piece, wide float64, c color.RGBA) {
	area := s.around(pieces, wide).Intersect(s.page.Rect)
	if area.Empty() {
		return
	}
	z := &s.pen.shape
	z.Reset(area.Dx(), area.Dy())
	z.DrawOp = draw.Src
	at := func(p Point) (float32, float32) {
		return float32(p.X - float64(area.Min.X)), float32(p.Y - float64(area.Min.Y))
	}
	for _, p := range pieces {
		length := math.Hypot(p.to.X-p.from.X, p.to.Y-p.from.Y)
		if length == 0 {
			continue
		}
		ux, uy := (p.to.X-p.from.X)/length*wide/2, (p.to.Y-p.from.Y)/length*wide/2
		// A third of the half width beyond each end closes the joints of a many-sided outline.
		from, to := Point{p.from.X - ux/3, p.from.Y - uy/3}, Point{p.to.X + ux/3, p.to.Y + uy/3}
		z.MoveTo(at(Point{from.X - uy, from.Y + ux}))
		z.LineTo(at(Point{to.X - uy, to.Y + ux}))
		z.LineTo(at(Point{to.X + uy, to.Y - ux}))
		z.LineTo(at(Point{from.X + uy, from.Y - ux}))
		z.ClosePath()
	}
	s.pen.touched = slices.Grow(s.pen.touched[:0], area.Dx()*area.Dy())
	mask := &image.Alpha{Pix: s.pen.touched[:area.Dx()*area.Dy()], Stride: area.Dx(), Rect: image.Rectangle{Max: area.Size()}}
	z.Draw(mask, mask.Rect, image.Opaque, image.Point{})
	s.paintWhere(mask, area.Min, c)
}

// pen is what lines are drawn with; the next line uses its storage again.
type pen struct {
	shape   vector.Rasterizer
	touched []uint8 // how much of each pixel
}

// paintWhere paints the pixels from a corner of the page on by how much of each the mask has: little, mostly, so the rest is passed over quickly.
func (s *sketch) paintWhere(mask *image.Alpha, corner image.Point, c color.RGBA) {
	alpha, red, green, blue := uint32(c.A), uint32(c.R), uint32(c.G), uint32(c.B)
	for y := range mask.Rect.Dy() {
		row := mask.Pix[y*mask.Stride : y*mask.Stride+mask.Rect.Dx()]
		page := s.page.Pix[s.page.PixOffset(corner.X, corner.Y+y):]
		for x := 0; x < len(row); x++ {
			for x+8 <= len(row) && binary.NativeEndian.Uint64(row[x:]) == 0 {
				x += 8
			}
			if x == len(row) || row[x] == 0 {
				continue
			}
			share := (uint32(row[x])*alpha + 127) / 255
			p := page[4*x : 4*x+3 : 4*x+3]
			p[0] = uint8((uint32(p[0])*(255-share) + red*share + 127) / 255)
			p[1] = uint8((uint32(p[1])*(255-share) + green*share + 127) / 255)
			p[2] = uint8((uint32(p[2])*(255-share) + blue*share + 127) / 255)
		}
	}
}

// around returns the pixels that pieces of that width may touch.
func (s *sketch) around(pieces []piece, wide float64) image.Rectangle {
	var area image.Rectangle
	for _, p := range pieces {
		box := image.Rect(int(p.from.X-wide)-1, int(p.from.Y-wide)-1, int(p.from.X+wide)+2, int(p.from.Y+wide)+2)
		area = area.Union(box).Union(image.Rect(int(p.to.X-wide)-1, int(p.to.Y-wide)-1, int(p.to.X+wide)+2, int(p.to.Y+wide)+2))
	}
	return area
}
