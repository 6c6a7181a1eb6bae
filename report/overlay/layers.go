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

// layer tints the page by how much of each of its pixels is of the layer's kind.
func (s *sketch) layer(l Layer) {
	m := s.reduce(l)
	if m.rect.Empty() {
		return
	}
	s.paint(m, l.Kind)
}

// shareMap is a layer at the page's resolution: shares of 0 to 1, row by row.
type shareMap struct {
	rect  image.Rectangle
	share []float32
}

func (m shareMap) at(x, y int) float32 {
	if x < m.rect.Min.X || y < m.rect.Min.Y || x >= m.rect.Max.X || y >= m.rect.Max.Y {
		return 0
	}
	return m.share[(y-m.rect.Min.Y)*m.rect.Dx()+x-m.rect.Min.X]
}

// reduce reads a layer at the page's pixels, between the layer's own by bilinear interpolation.
func (s *sketch) reduce(l Layer) shareMap {
	onPage := func(v float64) float64 { return v * s.scale }
	m := shareMap{rect: image.Rect(
		int(onPage(l.X0)), int(onPage(l.Y0)), int(math.Ceil(onPage(l.X0+l.StepX*float64(l.W)))), int(math.Ceil(onPage(l.Y0+l.StepY*float64(l.H)))),
	).Intersect(s.page.Rect)}
	wide := m.rect.Dx()
	m.share = make([]float32, wide*m.rect.Dy())
	columns := make([]between, wide)
	for x := range columns {
		columns[x] = betweenAt((float64(m.rect.Min.X+x)+0.5)/s.scale, l.X0, l.StepX, l.W)
	}
	above, below := make([]float32, wide), make([]float32, wide)
	for y := range m.rect.Dy() {
		b := betweenAt((float64(m.rect.Min.Y+y)+0.5)/s.scale, l.Y0, l.StepY, l.H)
		some := l.acrossRow(b.first, columns, above)
		some = l.acrossRow(b.first+1, columns, below) || some
		if !some {
			continue
		}
		to := m.share[y*wide : (y+1)*wide]
		for x := range to {
			to[x] = (above[x]*(1-b.part) + below[x]*b.part) / 255
		}
	}
	return m
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

// acrossRow interpolates along one row of the layer; it reports whether there is any of it. Beyond the layer there is none.
func (l *Layer) acrossRow(row int, columns []between, to []float32) (some bool) {
	if row < 0 || row >= l.H || !slices.ContainsFunc(l.A[row*l.W:(row+1)*l.W], func(a uint8) bool { return a > 0 }) {
		clear(to)
		return false
	}
	shares := l.A[row*l.W : (row+1)*l.W]
	at := func(i int) float32 {
		if i < 0 || i >= len(shares) {
			return 0
		}
		return float32(shares[i])
	}
	for x, c := range columns {
		to[x] = at(c.first)*(1-c.part) + at(c.first+1)*c.part
	}
	return true
}

// paint tints the page where m is of the kind.
func (s *sketch) paint(m shareMap, kind LayerKind) {
	for y := m.rect.Min.Y; y < m.rect.Max.Y; y++ {
		for x := m.rect.Min.X; x < m.rect.Max.X; x++ {
			share := m.at(x, y)
			if share <= 0 {
				continue
			}
			switch kind {
			case RootLayer:
				s.tint(x, y, rootColour, rootTint*share)
			case BrownRootLayer:
				if s.onStripe(x, y, 0.6) {
					s.tint(x, y, brownColour, 0.7*share)
				} else {
					s.tint(x, y, color.RGBA{40, 20, 0, 255}, 0.5*share)
				}
			case LeafLayer:
				s.tint(x, y, leafColour, leafTint*share)
				if share >= 0.5 && s.onEdge(m, x, y) {
					s.tint(x, y, leafColour, 0.95)
				}
			case YellowLeafLayer:
				if s.onStripe(x, y, hatchWidth/dashPeriod) {
					s.tint(x, y, yellowColour, hatchTint*min(1, 2*share))
				}
			}
		}
	}
}

// onEdge reports whether the edge of m's kind is within a line's width.
func (s *sketch) onEdge(m shareMap, x, y int) bool {
	reach := max(1, int(s.unit*1.5+0.5))
	for dy := -reach; dy <= reach; dy++ {
		for dx := -reach; dx <= reach; dx++ {
			if dx*dx+dy*dy <= reach*reach && m.at(x+dx, y+dy) < 0.5 {
				return true
			}
		}
	}
	return false
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
