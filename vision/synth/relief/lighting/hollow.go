package lighting

import (
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/solids"
)

// Hollows tells how much of the sky a place sees, from how much lower it lies than the mean height around it, near by and farther
// off. The means are kept a texel each.
type Hollows struct {
	near, mid, far []float32 // mean height within about 0.25, 0.7 and 2 mm
	strength       float32
}

// Hollows makes them from the mean height of each texel, mm.
func (l *Lamp) Hollows(means []float32) Hollows {
	h := Hollows{strength: l.hollow}
	rows := make([]float32, solids.Side*solids.Side)
	h.near = blurred(means, rows, 2)
	h.mid = blurred(h.near, rows, 6)
	h.far = blurred(h.mid, rows, 18)
	return h
}

// Deep is how deep in hollows height z in a texel lies: 0 sees the whole sky, 1 half of it.
func (h *Hollows) Deep(texel int, z float32) float32 {
	pit := max(0, solids.Lowest-z) // which the means leave out
	z = max(z, solids.Lowest)
	return float32(h.strength * (float32(0.35*pit) +
		num.Dot3(max(0, h.near[texel]-z), max(0, h.mid[texel]-z), max(0, h.far[texel]-z), 6, 1.6, 0.5)))
}

// blurred is the mean over squares of 2·reach + 1 texels; at the edge, over what there is of them. It overwrites rows.
func blurred(v, rows []float32, reach int) []float32 {
	for y := range solids.Side {
		slide(v[y*solids.Side:], rows[y*solids.Side:], 1, reach)
	}
	out := make([]float32, solids.Side*solids.Side)
	sum := make([]float32, solids.Side)
	for y := -reach; y < solids.Side; y++ {
		if y+reach < solids.Side {
			addTo(sum, rows[(y+reach)*solids.Side:], 1)
		}
		if y-reach-1 >= 0 {
			addTo(sum, rows[(y-reach-1)*solids.Side:], -1)
		}
		if y >= 0 {
			share := 1 / float32(min(solids.Side-1, y+reach)-max(0, y-reach)+1)
			for x := range solids.Side {
				out[y*solids.Side+x] = sum[x] * share
			}
		}
	}
	return out
}

func addTo(sum, row []float32, sign float32) {
	for x := range sum {
		sum[x] += sign * row[x]
	}
}

// slide writes the running means of one row.
func slide(in, out []float32, every, reach int) {
	sum := float32(0)
	for x := -reach; x < solids.Side; x++ {
		if x+reach < solids.Side {
			sum += in[x+reach]
		}
		if x-reach-1 >= 0 {
			sum -= in[x-reach-1]
		}
		if x >= 0 {
			out[x] = sum / float32(min(solids.Side-1, x+reach)-max(0, x-reach)+1)
		}
	}
}
