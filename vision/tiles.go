package vision

// tiles hold a running mean over squares of pixels, and read as the mean over a square and its eight neighbours: how something
// changes slowly over a patch, at next to no cost.
type tiles struct {
	side, w, h int
	sum, n     []float32
}

func newTiles(w, h, side int) *tiles {
	side = max(1, side)
	t := &tiles{side: side, w: (w + side - 1) / side, h: (h + side - 1) / side}
	t.sum, t.n = make([]float32, t.w*t.h), make([]float32, t.w*t.h)
	return t
}

func (t *tiles) at(x, y int) int { return y/t.side*t.w + x/t.side }

func (t *tiles) add(x, y int, v float32) {
	k := t.at(x, y)
	t.sum[k] += v
	t.n[k]++
}

// around adds up each tile and its neighbours.
func (t *tiles) around() *tiles {
	out := &tiles{side: t.side, w: t.w, h: t.h, sum: make([]float32, len(t.sum)), n: make([]float32, len(t.n))}
	for y := range t.h {
		for x := range t.w {
			k := y*t.w + x
			for yy := max(0, y-1); yy <= min(t.h-1, y+1); yy++ {
				for xx := max(0, x-1); xx <= min(t.w-1, x+1); xx++ {
					out.sum[k] += t.sum[yy*t.w+xx]
					out.n[k] += t.n[yy*t.w+xx]
				}
			}
		}
	}
	return out
}
