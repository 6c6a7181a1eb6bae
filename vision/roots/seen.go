package roots

import (
	"math"

	"traygauge/vision/coverage"
	"traygauge/vision/raster"
)

// seen is the mean of two looks of the network at a patch, the second with the patch turned upside down. For fibres and specks the two differ by chance, for roots
// hardly, so their mean is closer to the truth.
type seen struct {
	in, turned               coverage.Input
	maps                     coverage.Maps
	white, brown, plug, line []float32 // of each prepared pixel: shares, and pixels of centre line
	spread                   [3]float64
}

// The network's maps, each on 2 × 2 prepared pixels as four channels, and after them the logarithms of how far each sum may be off.
const (
	mapWhite = iota
	mapBrown
	mapPlug
	mapLine
	rootMaps
)

// look lets the network look at the patch twice.
func (s *seen) look() error {
	n := 4 * s.in.H * s.in.W
	for _, v := range []*[]float32{&s.white, &s.brown, &s.plug, &s.line} {
		*v = cleared(*v, n)
	}
	s.turned = s.in.Turned(s.turned)
	var logs [3]float64
	for turned, in := range []coverage.Input{s.in, s.turned} {
		var err error
		if s.maps, err = coverage.Roots.Run(in, s.maps); err != nil {
			return err
		}
		s.add(turned == 1)
		for k, v := range spreads(s.maps) {
			logs[k] += v / 2
		}
	}
	for k, v := range logs {
		s.spread[k] = math.Exp(v)
	}
	return nil
}

// add puts half of what the maps say to what is there; those of a turned patch begin at its last pixel.
func (s *seen) add(turned bool) {
	m, w := s.maps, 2*s.maps.W
	i, step := 0, 1
	if turned {
		i, step = len(s.plug)-1, -1
	}
	for y := range 2 * m.H {
		row := m.V[y>>1*m.W*m.Each+2*(y&1):] // from the first map's value of the row's first pixel on
		for x := range w {
			at := (*[4*rootMaps - 3]float32)(row[x>>1*m.Each+x&1:])
			s.white[i] += raster.Sigmoid(at[4*mapWhite]) / 2
			s.brown[i] += raster.Sigmoid(at[4*mapBrown]) / 2
			s.plug[i] += raster.Sigmoid(at[4*mapPlug]) / 2
			s.line[i] += raster.Softplus(at[4*mapLine]) / 2
			i += step
		}
	}
}

// rootAt returns a prepared pixel's share of root and of brown root, which together fill it at most.
func (s *seen) rootAt(i int) (root, brown float32) {
	root, brown = s.white[i]+s.brown[i], s.brown[i]
	if root > 1 {
		return 1, brown / root
	}
	return root, brown
}

// spreads are the logarithms of the standard uncertainties of root area, brown area and length over the sum and its floor: the means of maps.
func spreads(maps coverage.Maps) (u [3]float64) {
	for i := 4 * rootMaps; i < len(maps.V); i += maps.Each {
		for k, v := range maps.V[i : i+len(u)] {
			u[k] += float64(v) / float64(maps.H*maps.W)
		}
	}
	return u
}

// cleared returns n zeros in v's storage, where that is large enough.
func cleared(v []float32, n int) []float32 {
	if cap(v) < n {
		return make([]float32, n)
	}
	v = v[:n]
	clear(v)
	return v
}
