package canvas

import "traygauge/vision/synth/brush/num"

// Ribbon is a band of varying width along a line of straight pieces of equal length.
type Ribbon struct {
	Points     []num.Vec
	Step       float64   // length of a piece, texels
	Half       []float32 // half width at each point, texels
	Blunt, Cut bool      // whether it starts, and whether it ends, with a straight edge; else round
}

// Touch is what a ribbon does in one texel.
type Touch struct {
	texel  int32
	Along  float32 // how far along the ribbon, texels
	Off    float32 // of the texel's middle from the middle line, texels, positive to the left
	Half   float32 // half width there
	Nx, Ny float32 // unit vector to the left
	cap    float32 // share on the inner side of a straight end
	Line   float32 // middle line in the texel, mm
}

// Share is how much of the texel the ribbon covers.
func (t *Touch) Share() float32 { return float32(strip(t.Off, t.Half, t.Nx, t.Ny) * t.cap) }

// Trace runs lay over every texel that the ribbon touches. Where the ribbon comes back over itself, lay runs for the lower pass
// first; where it only bends, its pieces count together as one.
func (p *Painting) Trace(b *Ribbon, lay func(i int, t *Touch)) {
	p.touches = p.touches[:0]
	for k := range len(b.Points) - 1 {
		p.tracePiece(b, k, lay)
		p.traceLine(b, k)
	}
	for k := range p.touches {
		lay(int(p.touches[k].texel), &p.touches[k])
	}
}

// touchOf returns what the present stroke does in texel i so far, nil if nothing.
func (p *Painting) touchOf(i int) *Touch {
	if k := int(p.slot[i]); k < len(p.touches) && p.touches[k].texel == int32(i) {
		return &p.touches[k]
	}
	return nil
}

func (p *Painting) addTouch(i int, t *Touch) *Touch {
	p.slot[i] = int32(len(p.touches))
	p.touches = append(p.touches, *t)
	return &p.touches[p.slot[i]]
}

// tracePiece notes the touches of the piece from point k to the next.
func (p *Painting) tracePiece(b *Ribbon, k int, lay func(i int, t *Touch)) {
	a, z := b.Points[k], b.Points[k+1]
	d := z.Minus(a).Unit()
	length := float32(b.Step)
	ha, hz := b.Half[k], b.Half[k+1]
	before, after := b.slack(k), b.slack(k+1)
	piece := newSlab(a, d, -before, length+after, max(ha, hz)+0.75)
	ax, dx, dy := piece.ax, piece.dx, piece.dy
	start := float32(b.Step * float64(k))
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
			t := Touch{texel: int32(y*Side + x), Off: off, Nx: -dy, Ny: dx, cap: 1}
			past := max(-along, along-length)
			if past > 0 && !(b.Blunt && k == 0 && along < 0) && !(b.Cut && k == len(b.Points)-2 && along > 0) {
				t.aroundCorner(rx, ry, dx, dy, length, along, off)
			}
			if b.Blunt && k == 0 {
				t.cap = Within(along, dx, dy)
			}
			if b.Cut && k == len(b.Points)-2 {
				t.cap = float32(t.cap * Within(length-along, dx, dy))
			}
			along = min(length, max(0, along))
			t.Half = num.Blend32(ha, hz, along/length)
			if t.Half-max(t.Off, -t.Off) < -0.75 {
				continue
			}
			t.Along = start + along
			p.note(y*Side+x, &t, lay)
		}
	}
}

// aroundCorner measures from the piece's end that the texel lies beyond.
func (t *Touch) aroundCorner(rx, ry, dx, dy, length, along, off float32) {
	if along > length {
		rx, ry = rx-float32(dx*length), ry-float32(dy*length)
	}
	far := num.Sqrt32(float32(rx*rx) + float32(ry*ry))
	if far < 1e-4 {
		return
	}
	if off < 0 {
		far = -far
	}
	t.Off, t.Nx, t.Ny = far, rx/far, ry/far
}

// note keeps the nearest of the touches of one pass, and lays the earlier pass when a later one comes.
func (p *Painting) note(i int, t *Touch, lay func(i int, t *Touch)) {
	was := p.touchOf(i)
	switch {
	case was == nil:
		p.addTouch(i, t)
	case t.Along-was.Along > float32(3*was.Half)+8:
		lay(i, was)
		*was = *t
	case t.Half-max(t.Off, -t.Off) > was.Half-max(was.Off, -was.Off):
		t.Line = was.Line
		*was = *t
	}
}

// slack is how far past point k, along a piece, texels may still be nearest to that piece's end: in the wedge at a bend, or in the
// cap at an end.
func (b *Ribbon) slack(k int) float32 {
	if k == 0 && !b.Blunt || k == len(b.Points)-1 && !b.Cut {
		return b.Half[k] + 0.75
	}
	if k == 0 || k == len(b.Points)-1 {
		return 0.75
	}
	in, out := b.Points[k].Minus(b.Points[k-1]).Unit(), b.Points[k+1].Minus(b.Points[k]).Unit()
	bend := max(0.05, out.Minus(in).Length())
	return float32(bend*float64(b.Half[k])) + 0.1
}

// traceLine adds the middle line of the piece from point k to the texels that it passes, without loss.
func (p *Painting) traceLine(b *Ribbon, k int) {
	a, z := b.Points[k], b.Points[k+1]
	d := z.Minus(a)
	length := d.Length() / PerMM
	for t := 0.0; t < 1; {
		next := min(1, crossing(a.X, d.X, t), crossing(a.Y, d.Y, t))
		mid := a.Along(d, (t+next)/2)
		if mid.X >= 0 && mid.Y >= 0 && mid.X < Side && mid.Y < Side {
			i := int(mid.Y)*Side + int(mid.X)
			of := p.touchOf(i)
			if of == nil { // a tip too thin to cover anything
				of = p.addTouch(i, &Touch{texel: int32(i), Off: 1, Nx: 1, cap: 1, Along: float32(b.Step * float64(k))})
			}
			of.Line += float32(float64((next - t) * length))
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
