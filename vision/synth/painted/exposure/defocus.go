package exposure

import (
	"math"

	"traygauge/vision/synth/painted/num"
)

// disc is the spread of a lens out of focus: a circle of even light (radius in px), each weight the share of its pixel
// inside, by 8 × 8 places.
func disc(radius float64) (reach int, weight []float32) {
	reach = int(math.Ceil(radius + 0.5))
	side := 2*reach + 1
	weight = make([]float32, side*side)
	var sum float32
	for i := range weight {
		for k := range 64 {
			x := float64(i%side-reach) + (float64(k%8)+0.5)/8 - 0.5
			y := float64(i/side-reach) + (float64(k/8)+0.5)/8 - 0.5
			if x*x+y*y <= radius*radius {
				weight[i]++
			}
		}
		sum += weight[i]
	}
	for i := range weight {
		weight[i] /= sum
	}
	return reach, weight
}

// streak is the spread of a camera that moved while it looked: a straight line of the given length in px and direction in degrees, 0
// to the right and 90 down, each weight the share of the line in its pixel's neighbourhood.
func streak(length, turn float64) (reach int, weight []float32) {
	reach = int(math.Ceil(length/2 + 1))
	side := 2*reach + 1
	weight = make([]float32, side*side)
	sin, cos := math.Sincos(num.Rad(turn))
	const steps = 400
	for k := range steps {
		d := ((float64(k)+0.5)/steps - 0.5) * length
		x, y := d*cos+float64(reach), d*sin+float64(reach)
		i, j := int(x), int(y)
		fx, fy := x-float64(i), y-float64(j)
		for _, c := range [4]struct {
			at int
			w  float64
		}{{j*side + i, (1 - fx) * (1 - fy)}, {j*side + i + 1, fx * (1 - fy)}, {(j+1)*side + i, (1 - fx) * fy}, {(j+1)*side + i + 1, fx * fy}} {
			weight[c.at] += float32(c.w / steps)
		}
	}
	return reach, weight
}

// defocus spreads every point of the picture over a disc.
func (p *Picture) defocus(radius float64) {
	if radius >= 0.3 { // less would be less than a pixel across
		p.spreadOver(disc(radius))
	}
}

// move spreads every point of the picture over a streak.
func (p *Picture) move(length, turn float64) {
	if length >= 0.3 {
		p.spreadOver(streak(length, turn))
	}
}

// spreadOver spreads every point of the picture by weights up to reach pixels away; the picture's edge is continued.
func (p *Picture) spreadOver(reach int, weight []float32) {
	side := 2*reach + 1
	out := make([]float32, len(p.P))
	padded := make([]float32, 3*(p.W+2*reach))
	for from := range p.H { // every row is padded once and added to the rows that it reaches
		src := p.P[3*from*p.W:][:3*p.W]
		copy(padded[3*reach:], src)
		for i := range reach {
			copy(padded[3*i:], src[:3])
			copy(padded[3*(reach+p.W+i):], src[len(src)-3:])
		}
		low, high := from, from
		if from == 0 {
			low = -reach
		}
		if from == p.H-1 {
			high = p.H - 1 + reach
		}
		for at := low; at <= high; at++ { // rows beyond the edge repeat the edge's
			for j := -reach; j <= reach; j++ {
				if y := at + j; y >= 0 && y < p.H {
					spread(out[3*y*p.W:][:3*p.W], padded, weight[(reach-j)*side:][:side])
				}
			}
		}
	}
	p.P = out
}

func spread(row, padded, weight []float32) {
	for i, k := range weight {
		if k == 0 {
			continue
		}
		src := padded[3*i:][:len(row)]
		for x := range row {
			row[x] += k * src[x]
		}
	}
}
