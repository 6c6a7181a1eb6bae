package overlay

import (
	"image"
	"image/color"
	"math"
	"slices"
)

// Tints leave what is below them visible.
const (
	rootTint   = 0.6
	leafTint   = 0.12
	hatchTint  = 0.75
	dashPeriod = 14.0 // px of the full page
	hatchWidth = 3.0
)

// layer tints the page by how much of each of its pixels is of the layer's kind. Shares are read at the page's pixels, between the layer's own by
// bilinear interpolation.
func (s *sketch) layer(l Layer) {
	onPage := func(v float64) float64 { return v * s.scale }
	area := image.Rect(
		int(onPage(l.X0)), int(onPage(l.Y0)), int(math.Ceil(onPage(l.X0+l.StepX*float64(l.W)))), int(math.Ceil(onPage(l.Y0+l.StepY*float64(l.H)))),
	).Intersect(s.page.Rect)
	if area.Empty() {
		return
	}
	r := newRowReader(&l, area, s.scale)
	if l.Kind == LeafLayer {
		s.paintLeaves(r)
		return
	}
	shares := make([]float32, area.Dx())
	for y := area.Min.Y; y < area.Max.Y; y++ {
		if r.read(y, shares) {
			s.paint(y, area.Min.X, shares, l.Kind)
		}
	}
}

// rowReader reads a layer at the page's pixels in an area, row after row downwards.
type rowReader struct {
	l       *Layer
	area    image.Rectangle
	scale   float64
	columns []between
	kept    [2]acrossRow // of the layer, that the last row lay between
	padded  []float32
}

// acrossRow is one row of the layer at the page's columns; some reports whether there is anything in it.
type acrossRow struct {
	row    int
	some   bool
	shares []float32
}

func newRowReader(l *Layer, area image.Rectangle, scale float64) *rowReader {
	r := &rowReader{l: l, area: area, scale: scale, columns: make([]between, area.Dx()), padded: make([]float32, l.W+4)}
	for x := range r.columns {
		r.columns[x] = betweenAt((float64(area.Min.X+x)+0.5)/scale, l.X0, l.StepX, l.W)
	}
	for i := range r.kept {
		r.kept[i] = acrossRow{row: math.MinInt, shares: make([]float32, area.Dx())}
	}
	return r
}

// read puts the shares, 0 to 1, along row y of the page into to; it reports whether there are any.
func (r *rowReader) read(y int, to []float32) (some bool) {
	b := betweenAt((float64(y)+0.5)/r.scale, r.l.Y0, r.l.StepY, r.l.H)
	if r.kept[1].row == b.first {
		r.kept[0], r.kept[1] = r.kept[1], r.kept[0]
	}
	r.across(b.first, &r.kept[0])
	r.across(b.first+1, &r.kept[1])
	above, below := r.kept[0].shares[:len(to)], r.kept[1].shares[:len(to)]
	if !r.kept[0].some && !r.kept[1].some {
		return false
	}
	for x := range to {
		to[x] = (above[x]*(1-b.part) + below[x]*b.part) / 255
	}
	return true
}

// across interpolates along one row of the layer. Beyond the layer there is none.
func (r *rowReader) across(row int, kept *acrossRow) {
	if kept.row == row {
		return
	}
	kept.row = row
	var codes []uint8
	if row >= 0 && row < r.l.H {
		codes = r.l.A[row*r.l.W : (row+1)*r.l.W]
	}
	kept.some = slices.ContainsFunc(codes, func(a uint8) bool { return a > 0 })
	if !kept.some {
		clear(kept.shares)
		return
	}
	padded := r.padded[2:] // from −2 to two beyond the layer's width
	for i, a := range codes {
		padded[i] = float32(a)
	}
	for x, c := range r.columns {
		two := r.padded[c.first+2 : c.first+4]
		kept.shares[x] = two[0]*(1-c.part) + two[1]*c.part
	}
}

// between is a place between two neighbours of a row or column of a layer: part of the way from the first to the next.
type between struct {
	first int
	part  float32
}

// betweenAt returns where a place of the photo lies in a layer that begins at from, with n pixels of step each. What is beyond is −2: between nothing.
func betweenAt(place, from, step float64, n int) between {
	at := (place-from)/step - 0.5
	first := math.Floor(at)
	if first < -1 || first >= float64(n) {
		return between{-2, 0}
	}
	return between{int(first), float32(at - first)}
}

// paint tints a row of the page from x0 on.
func (s *sketch) paint(y, x0 int, shares []float32, kind LayerKind) {
	for i, share := range shares {
		if share <= 0 {
			continue
		}
		x := x0 + i
		switch kind {
		case RootLayer:
			s.tint(x, y, rootColour, rootTint*share)
		case BrownRootLayer:
			if s.onStripe(x, y, 0.6) {
				s.tint(x, y, brownColour, 0.7*share)
			} else {
				s.tint(x, y, color.RGBA{40, 20, 0, 255}, 0.5*share)
			}
		case YellowLeafLayer:
			if s.onStripe(x, y, hatchWidth/dashPeriod) {
				s.tint(x, y, yellowColour, hatchTint*min(1, 2*share))
			}
		}
	}
}

// paintLeaves tints leaf and draws its edge: where what is half leaf or more has less than that within a line's width. What is beyond the area is none.
func (s *sketch) paintLeaves(r *rowReader) {
	wide, high := r.area.Dx(), r.area.Dy()
	reach := max(1, int(s.unit*1.5+0.5))
	half := make([]uint8, reach+1) // how far the line reaches to the side, so many rows away
	for d := range half {
		half[d] = uint8(math.Sqrt(float64(reach*reach - d*d)))
	}
	type line struct {
		some   bool
		shares []float32
		far    []uint8 // from the nearest pixel of the row with less than half, reach + 1 at most
	}
	window := make([]line, 2*reach+1)
	for i := range window {
		window[i] = line{shares: make([]float32, wide), far: make([]uint8, wide)}
	}
	at := func(y int) *line { return &window[(y+len(window))%len(window)] }
	fill := func(y int) {
		l := at(y)
		if l.some = y >= 0 && y < high && r.read(r.area.Min.Y+y, l.shares); l.some {
			distances(l.shares, l.far, uint8(reach+1))
		} else {
			clear(l.far)
		}
	}
	for y := -reach; y < reach; y++ {
		fill(y)
	}
	above, below := make([][]uint8, reach), make([][]uint8, reach)
	for y := range high {
		fill(y + reach)
		l := at(y)
		if !l.some {
			continue
		}
		for d := range reach {
			above[d], below[d] = at(y-d-1).far, at(y+d+1).far
		}
		for x, share := range l.shares {
			if share <= 0 {
				continue
			}
			s.tint(r.area.Min.X+x, r.area.Min.Y+y, leafColour, leafTint*share)
			if share < 0.5 {
				continue
			}
			edge := l.far[x] <= half[0]
			for d := 0; d < reach && !edge; d++ {
				edge = above[d][x] <= half[d+1] || below[d][x] <= half[d+1]
			}
			if edge {
				s.tint(r.area.Min.X+x, r.area.Min.Y+y, leafColour, 0.95)
			}
		}
	}
}

// distances puts into far how far each pixel of a row is from the nearest with a share below a half, or most. What is beyond the row's ends is below.
func distances(shares []float32, far []uint8, most uint8) {
	d := uint8(0)
	for x, share := range shares {
		if d = min(d+1, most); share < 0.5 {
			d = 0
		}
		far[x] = d
	}
	d = 0
	for x := len(far) - 1; x >= 0; x-- {
		d = min(d+1, far[x])
		far[x] = d
	}
}

// onStripe reports whether (x, y) lies on a diagonal stripe that takes the given part of the hatching.
func (s *sketch) onStripe(x, y int, part float64) bool {
	period := max(4, int(dashPeriod*s.unit+0.5))
	return float64((x+y)%period) < max(1, part*float64(period))
}

// tint mixes c into a pixel of the page: 0 leaves it, 1 covers it.
func (s *sketch) tint(x, y int, c color.RGBA, share float32) {
	p := s.page.Pix[s.page.PixOffset(x, y):]
	for i, v := range [3]uint8{c.R, c.G, c.B} {
		p[i] = uint8(float32(p[i])*(1-share) + float32(v)*share + 0.5)
	}
}
