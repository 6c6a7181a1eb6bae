package relief

// hollows tells how much of the sky a place sees, from how much lower it lies than the mean height around it, near by and farther
// off. The means are kept a texel each.
type hollows struct {
	near, mid, far []float32 // mean height within about 0.25, 0.7 and 2 mm
	strength       float32
}

func (l *lamp) hollows(means []float32) hollows {
	h := hollows{strength: l.hollow}
	rows := make([]float32, side*side)
	h.near = blurred(means, rows, 2)
	h.mid = blurred(h.near, rows, 6)
	h.far = blurred(h.mid, rows, 18)
	return h
}

// lowest is the height in mm below which means of heights take no notice of depth.
const lowest = -3

// texelMeans is the mean height of each texel, with the roots on it, without the depth of gaps and the height of
// what lies over the tray.
func texelMeans(f *relief, t *tubes) []float32 {
	m := make([]float32, side*side)
	for y := range side {
		top, low := f.z[2*y*across:(2*y+1)*across], f.z[(2*y+1)*across:(2*y+2)*across]
		for x := range side {
			sum := top[2*x] + top[2*x+1] + low[2*x] + low[2*x+1]
			if b := t.blocks[y*side+x]; b != nil {
				sum = b.top(0) + b.top(1) + b.top(2) + b.top(3)
			}
			m[y*side+x] = clamp(sum*0.25, lowest, 4)
		}
	}
	return m
}

// deep is how deep in hollows height z in a texel lies: 0 sees the whole sky, 1 half of it.
func (h *hollows) deep(texel int, z float32) float32 {
	pit := max(0, lowest-z) // which the means leave out
	z = max(z, lowest)
	return float32(h.strength * (float32(0.35*pit) +
		dot3(max(0, h.near[texel]-z), max(0, h.mid[texel]-z), max(0, h.far[texel]-z), 6, 1.6, 0.5)))
}

// blurred is the mean over squares of 2·reach + 1 texels; at the edge, over what there is of them. It overwrites rows.
func blurred(v, rows []float32, reach int) []float32 {
	for y := range side {
		slide(v[y*side:], rows[y*side:], 1, reach)
	}
	out := make([]float32, side*side)
	sum := make([]float32, side)
	for y := -reach; y < side; y++ {
		if y+reach < side {
			addTo(sum, rows[(y+reach)*side:], 1)
		}
		if y-reach-1 >= 0 {
			addTo(sum, rows[(y-reach-1)*side:], -1)
		}
		if y >= 0 {
			share := 1 / float32(min(side-1, y+reach)-max(0, y-reach)+1)
			for x := range side {
				out[y*side+x] = sum[x] * share
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
	for x := -reach; x < side; x++ {
		if x+reach < side {
			sum += in[x+reach]
		}
		if x-reach-1 >= 0 {
			sum -= in[x-reach-1]
		}
		if x >= 0 {
			out[x] = sum / float32(min(side-1, x+reach)-max(0, x-reach)+1)
		}
	}
}
