package overlay

import (
	"image"
	"image/color"
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
	tagLine  = lineStyle{cardColour, 4, []float64{24, 8}}
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

// farOff reports whether p is no point that an outline on a photo can have, such as one that was never worked out.
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
	z := vector.NewRasterizer(area.Dx(), area.Dy())
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
	c.R, c.G, c.B = premultiplied(c.R, c.A), premultiplied(c.G, c.A), premultiplied(c.B, c.A)
	z.Draw(s.page, area, image.NewUniform(c), image.Point{})
}

func premultiplied(v, alpha uint8) uint8 { return uint8(int(v) * int(alpha) / 255) }

// around returns the pixels that pieces of that width may touch.
func (s *sketch) around(pieces []piece, wide float64) image.Rectangle {
	var area image.Rectangle
	for _, p := range pieces {
		box := image.Rect(int(p.from.X-wide)-1, int(p.from.Y-wide)-1, int(p.from.X+wide)+2, int(p.from.Y+wide)+2)
		area = area.Union(box).Union(image.Rect(int(p.to.X-wide)-1, int(p.to.Y-wide)-1, int(p.to.X+wide)+2, int(p.to.Y+wide)+2))
	}
	return area
}
