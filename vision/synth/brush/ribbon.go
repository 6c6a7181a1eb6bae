package brush

// ribbon is a band of varying width along a line of straight pieces of equal length.
type ribbon struct {
	points     []vec
	step       float64   // length of a piece, texels
	half       []float32 // half width at each point, texels
	blunt, cut bool      // whether it starts, and whether it ends, with a straight edge; else round
}

// touch is what a ribbon does in one texel.
type touch struct {
	texel  int32
	along  float32 // how far along the ribbon, texels
	off    float32 // of the texel's middle from the middle line, texels, positive to the left
	half   float32 // half width there
	nx, ny float32 // unit vector to the left
	cap    float32 // share on the inner side of a straight end
	line   float32 // middle line in the texel, mm
}

// share is how much of the texel the ribbon covers.
func (t *touch) share() float32 { return float32(strip(t.off, t.half, t.nx, t.ny) * t.cap) }

// trace runs lay over every texel that the ribbon touches. Where the ribbon comes back over itself, lay runs for the lower pass
// first; where it only bends, its pieces count together as one.
func (p *painting) trace(b *ribbon, lay func(i int, t *touch)) {
	p.touches = p.touches[:0]
	for k := range len(b.points) - 1 {
		p.tracePiece(b, k, lay)
		p.traceLine(b, k)
	}
	for k := range p.touches {
		lay(int(p.touches[k].texel), &p.touches[k])
	}
}

// touchOf returns what the present stroke does in texel i so far, nil if nothing.
func (p *painting) touchOf(i int) *touch {
	if k := int(p.slot[i]); k < len(p.touches) && p.touches[k].texel == int32(i) {
		return &p.touches[k]
	}
	return nil
}

func (p *painting) addTouch(i int, t *touch) *touch {
	p.slot[i] = int32(len(p.touches))
	p.touches = append(p.touches, *t)
	return &p.touches[p.slot[i]]
}

// tracePiece notes the touches of the piece from point k to the next.
func (p *painting) tracePiece(b *ribbon, k int, lay func(i int, t *touch)) {
	a, z := b.points[k], b.points[k+1]
	d := z.minus(a).unit()
	length := float32(b.step)
	ha, hz := b.half[k], b.half[k+1]
	before, after := b.slack(k), b.slack(k+1)
	piece := newSlab(a, d, -before, length+after, max(ha, hz)+0.75)
	ax, dx, dy := piece.ax, piece.dx, piece.dy
	start := float32(b.step * float64(k))
	y0, y1 := piece.rows()
	for y := y0; y < y1; y++ {
		x0, x1, ry := piece.row(y)
		for x := x0; x < x1; x++ {
			rx := float32(x) + 0.5 - ax
			along := float32(rx*dx) + float32(ry*dy)
			if along < -before || along > length+after {
				continue
			}
			off := float32(dx*ry) - float32(dy*rx)
			t := touch{texel: int32(y*side + x), off: off, nx: -dy, ny: dx, cap: 1}
			past := max(-along, along-length)
			if past > 0 && !(b.blunt && k == 0 && along < 0) && !(b.cut && k == len(b.points)-2 && along > 0) {
				t.aroundCorner(rx, ry, dx, dy, length, along, off)
			}
			if b.blunt && k == 0 {
				t.cap = within(along, dx, dy)
			}
			if b.cut && k == len(b.points)-2 {
				t.cap = float32(t.cap * within(length-along, dx, dy))
			}
			along = min(length, max(0, along))
			t.half = blend32(ha, hz, along/length)
			if t.half-max(t.off, -t.off) < -0.75 {
				continue
			}
			t.along = start + along
			p.note(y*side+x, &t, lay)
		}
	}
}

// aroundCorner measures from the piece's end that the texel lies beyond.
func (t *touch) aroundCorner(rx, ry, dx, dy, length, along, off float32) {
	if along > length {
		rx, ry = rx-float32(dx*length), ry-float32(dy*length)
	}
	far := sqrt32(float32(rx*rx) + float32(ry*ry))
	if far < 1e-4 {
		return
	}
	if off < 0 {
		far = -far
	}
	t.off, t.nx, t.ny = far, rx/far, ry/far
}

// note keeps the nearest of the touches of one pass, and lays the earlier pass when a later one comes.
func (p *painting) note(i int, t *touch, lay func(i int, t *touch)) {
	was := p.touchOf(i)
	switch {
	case was == nil:
		p.addTouch(i, t)
	case t.along-was.along > float32(3*was.half)+8:
		lay(i, was)
		*was = *t
	case t.half-max(t.off, -t.off) > was.half-max(was.off, -was.off):
		t.line = was.line
		*was = *t
	}
}

// slack is how far past point k, along a piece, texels may still be nearest to that piece's end: in the wedge at a bend, or in the
// cap at an end.
func (b *ribbon) slack(k int) float32 {
	if k == 0 && !b.blunt || k == len(b.points)-1 && !b.cut {
		return b.half[k] + 0.75
	}
	if k == 0 || k == len(b.points)-1 {
		return 0.75
	}
	in, out := b.points[k].minus(b.points[k-1]).unit(), b.points[k+1].minus(b.points[k]).unit()
	bend := max(0.05, out.minus(in).length())
	return float32(bend*float64(b.half[k])) + 0.1
}

// traceLine adds the middle line of the piece from point k to the texels that it passes, without loss.
func (p *painting) traceLine(b *ribbon, k int) {
	a, z := b.points[k], b.points[k+1]
	d := z.minus(a)
	length := d.length() / perMM
	for t := 0.0; t < 1; {
		next := min(1, crossing(a.x, d.x, t), crossing(a.y, d.y, t))
		mid := a.along(d, (t+next)/2)
		if mid.x >= 0 && mid.y >= 0 && mid.x < side && mid.y < side {
			i := int(mid.y)*side + int(mid.x)
			of := p.touchOf(i)
			if of == nil { // a tip too thin to cover anything
				of = p.addTouch(i, &touch{texel: int32(i), off: 1, nx: 1, cap: 1, along: float32(b.step * float64(k))})
			}
			of.line += float32(float64((next - t) * length))
		}
		t = next
	}
}

// crossing is the next t after the given one at which from + d·t passes a whole number.
func crossing(from, d, t float64) float64 {
	if d == 0 {
		return 1
	}
	at := from + float64(d*t)
	next := float64(int(at+1024)-1024) + 1
	if d < 0 {
		next--
		if at-next < 1e-9 {
			next--
		}
	} else if next-at < 1e-9 {
		next++
	}
	return (next - from) / d
}
