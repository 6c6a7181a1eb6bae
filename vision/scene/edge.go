package scene

import (
	"math"

	"traygauge/vision/lens"
	"traygauge/vision/photo"
	"traygauge/vision/raster"
)

// An edge is found where the light is half-way between its two sides, in linear light: a lens spreads light symmetrically,
// so the half-way point stays on the edge however blurred it is, which is not so for the codes of a picture file.

// line is the set of points with nx·x + ny·y = c, (nx, ny) a unit vector.
type line struct{ nx, ny, c float64 }

// meet returns where two lines cross; ok is false for parallel ones.
func (l line) meet(m line) (p raster.Px, ok bool) {
	d := l.nx*m.ny - l.ny*m.nx
	if math.Abs(d) < 1e-6 {
		return raster.Px{}, false
	}
	return raster.Px{X: (l.c*m.ny - m.c*l.ny) / d, Y: (l.nx*m.c - m.nx*l.c) / d}, true
}

// The channels of a pixel. Green alone is used for where things are: a lens shifts the colours against each other.
const (
	blue = iota
	green
	red
)

// lightAt returns the linear light of one channel at a point by bilinear interpolation; ok is false outside the photo.
func lightAt(p *photo.Photo, channel int, x, y float64) (v float64, ok bool) {
	x0, y0 := math.Floor(x), math.Floor(y)
	if x0 < 0 || y0 < 0 || int(x0) >= p.Width-1 || int(y0) >= p.Height-1 {
		return 0, false
	}
	fx, fy := x-x0, y-y0
	i := p.At(int(x0), int(y0)) + channel
	j := i + 3*p.Width
	top := float64(raster.LinearOf[p.BGR[i]])*(1-fx) + float64(raster.LinearOf[p.BGR[i+3]])*fx
	low := float64(raster.LinearOf[p.BGR[j]])*(1-fx) + float64(raster.LinearOf[p.BGR[j+3]])*fx
	return top*(1-fy) + low*fy, true
}

// profileStep is the spacing of samples across an edge, in pixels. Half a pixel loses nothing of a bilinear sample.
const profileStep = 0.5

// Limits on an edge: px along it, light across it (0 to 1), and how far its points' usual distance from the line is taken for at least, px.
const (
	leastEdgePx   = 8.0
	leastEdgeStep = 0.02
	leastOffPx    = 0.02
	cornerShare   = 0.1 // of an edge at each end that is left out: corners round off under blur
	outlierTimes  = 3   // points or photos so many times the median off are left out
)

// fitEdge finds the straight edge near the segment from a to b, dark on its right-hand side as one walks from a to b with
// y down, looking reach pixels to each side. ok is false where too little of an edge is seen.
func fitEdge(p *photo.Photo, a, b raster.Px, reach float64) (line, bool) {
	at := edgePoints(p, a, b, reach)
	if at == nil {
		return line{}, false
	}
	return fitLine(at)
}

// edgePoints returns where an edge crosses, pixel by pixel along the segment from a to b; see fitEdge. It is nil where too little of an edge is seen.
func edgePoints(p *photo.Photo, a, b raster.Px, reach float64) []raster.Px {
	var at []raster.Px
	n := alongEdge(a, b, func(base raster.Px, nx, ny float64) {
		if d, ok := crossing(p, green, base, nx, ny, reach); ok {
			at = append(at, raster.Px{X: base.X + d*nx, Y: base.Y + d*ny})
		}
	})
	if len(at) < n/2 || len(at) < 6 {
		return nil
	}
	return at
}

// alongEdge calls look for points a pixel apart along the segment from a to b, without its outer tenths, with the unit vector that points to
// its light side. It returns the number of steps, or 0 without a call where the segment is too short or too long for an edge.
func alongEdge(a, b raster.Px, look func(base raster.Px, nx, ny float64)) int {
	dx, dy := b.X-a.X, b.Y-a.Y
	length := math.Hypot(dx, dy)
	if !(length >= leastEdgePx && length <= photo.MostPixels) {
		return 0
	}
	dx, dy = dx/length, dy/length
	n := int((1 - 2*cornerShare) * length)
	for i := 0; i <= n; i++ {
		s := length * (cornerShare + (1-2*cornerShare)*float64(i)/float64(n))
		look(raster.Px{X: a.X + s*dx, Y: a.Y + s*dy}, dy, -dx)
	}
	return n
}

// crossing returns how far from base along the unit vector (nx, ny) the light rises through half-way between the levels
// at both ends of the profile.
func crossing(p *photo.Photo, channel int, base raster.Px, nx, ny, reach float64) (float64, bool) {
	n := int(2*reach/profileStep) + 1
	var buf [128]float64
	if n > len(buf) {
		n = len(buf)
	}
	profile := buf[:n]
	start := -float64(n-1) / 2 * profileStep
	for i := range profile {
		d := start + float64(i)*profileStep
		v, ok := lightAt(p, channel, base.X+d*nx, base.Y+d*ny)
		if !ok {
			return 0, false
		}
		profile[i] = v
	}
	ends := max(2, n/5)
	dark, light := mean(profile[:ends]), mean(profile[n-ends:])
	if light-dark < leastEdgeStep {
		return 0, false
	}
	half := (dark + light) / 2
	best, found := 0.0, false
	for i := 1; i < n; i++ {
		if profile[i-1] < half && profile[i] >= half {
			d := start + (float64(i-1)+(half-profile[i-1])/(profile[i]-profile[i-1]))*profileStep
			if !found || math.Abs(d) < math.Abs(best) {
				best, found = d, true
			}
		}
	}
	return best, found
}

func mean(v []float64) float64 {
	s := 0.0
	for _, x := range v {
		s += x
	}
	return s / float64(len(v))
}

// fitLine fits a line by least squares of the perpendicular distance, twice leaving out what lies further off than three
// times the median distance.
func fitLine(at []raster.Px) (line, bool) {
	l := perpendicularFit(at)
	for range 2 {
		off := make([]float64, len(at))
		for i, q := range at {
			off[i] = math.Abs(l.nx*q.X + l.ny*q.Y - l.c)
		}
		limit := outlierTimes * math.Max(raster.Median(append([]float64(nil), off...)), leastOffPx)
		var kept []raster.Px
		for i, q := range at {
			if off[i] <= limit {
				kept = append(kept, q)
			}
		}
		if len(kept) < 4 {
			return l, false
		}
		l = perpendicularFit(kept)
	}
	return l, true
}

func perpendicularFit(at []raster.Px) line {
	var mx, my, xx, xy, yy float64
	for _, q := range at {
		mx, my = mx+q.X/float64(len(at)), my+q.Y/float64(len(at))
	}
	for _, q := range at {
		xx, xy, yy = xx+raster.Sq(q.X-mx), xy+(q.X-mx)*(q.Y-my), yy+raster.Sq(q.Y-my)
	}
	along := 0.5 * math.Atan2(2*xy, xx-yy)
	nx, ny := -math.Sin(along), math.Cos(along)
	return line{nx, ny, nx*mx + ny*my}
}

// quadEdges are the points of a black quadrilateral's four edges, clockwise from its first corner's.
type quadEdges [4][]raster.Px

// refineQuad returns the four corners of a black quadrilateral on paper, given clockwise and about a pixel or two off, from
// the crossings of its edges, which are straight once l, nil for a pinhole, is allowed for. reach is how far from each edge both
// sides are plain.
func refineQuad(p *photo.Photo, rough [4]raster.Px, reach float64, l *lens.Curve) ([4]raster.Px, quadEdges, bool) {
	q := rough
	var edges quadEdges
	for range 2 {
		for i := range 4 {
			if edges[i] = edgePoints(p, q[i], q[(i+1)%4], reach); edges[i] == nil {
				return q, edges, false
			}
		}
		fine, ok := edges.corners(l)
		if !ok {
			return q, edges, false
		}
		for i := range 4 {
			if math.Hypot(fine[i].X-q[i].X, fine[i].Y-q[i].Y) > 2*reach {
				return q, edges, false
			}
		}
		q = fine
	}
	return q, edges, true
}

// corners returns where the edges cross in the photo.
func (e quadEdges) corners(l *lens.Curve) (q [4]raster.Px, ok bool) {
	var sides [4]line
	for i := range 4 {
		if sides[i], ok = fitLine(straightened(l, e[i])); !ok {
			return q, false
		}
	}
	for i := range 4 {
		if q[i], ok = sides[(i+3)%4].meet(sides[i]); !ok {
			return q, false
		}
		if l != nil {
			q[i].X, q[i].Y = l.Bent(q[i].X, q[i].Y)
		}
	}
	return q, true
}
