package texture

import (
	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/num"
)

// Field is a texture of side × side values that repeats in both directions, so that it may be looked up anywhere.
type Field []float32

// NewField returns a field of zeros.
func NewField() Field { return make(Field, canvas.Side*canvas.Side) }

// octave adds gradient noise of nx × ny cells over the drawing, about amp in deviation. The fading polynomial is that of Perlin,
// "Improving noise", SIGGRAPH 2002. Along a row everything but the position within the cell is shared, which makes it cheap.
func (f Field) octave(d num.Dice, nx, ny int, amp float64) Field {
	grads := make([]num.Vec, nx*ny)
	for i := range grads {
		grads[i] = directions[d.IntN(len(directions))]
	}
	column, cx, fx, sx := make([]line, nx+1), make([]int, canvas.Side), make([]float32, canvas.Side), make([]float32, canvas.Side)
	for x := range canvas.Side {
		cx[x], fx[x], sx[x] = place(x, nx)
	}
	k := float32(amp / 0.27) // gradient noise of unit gradients has a deviation of about 0.27
	for y := range canvas.Side {
		cy, fy, sy := place(y, ny)
		for i := range column {
			top, bottom := grads[cy*nx+i%nx], grads[(cy+1)%ny*nx+i%nx]
			column[i] = line{
				k * num.Blend32(float32(top.X), float32(bottom.X), sy),
				k * num.Blend32(float32(float32(top.Y)*fy), float32(float32(bottom.Y)*(fy-1)), sy),
			}
		}
		row := f[y*canvas.Side : (y+1)*canvas.Side]
		for x := range row {
			l, r := column[cx[x]], column[cx[x]+1]
			a := float32(l.slope*fx[x]) + l.value
			b := float32(r.slope*(fx[x]-1)) + r.value
			row[x] += a + float32((b-a)*sx[x])
		}
	}
	return f
}

// line is a straight line over a cell's width.
type line struct{ slope, value float32 }

// place returns the cell of a texel among n cells over the side, how far into the cell its middle is, and that faded.
func place(x, n int) (cell int, f, s float32) {
	at := float32((float32(x) + 0.5) * float32(n) / canvas.Side)
	cell = min(int(at), n-1)
	f = at - float32(cell)
	return cell, f, float32(f*f*f) * (float32(f*(float32(f*6)-15)) + 10)
}

// Octaves adds several octaves, each with twice the cells and fall times the amplitude of the one before.
func (f Field) Octaves(d num.Dice, cells, count int, amp, fall float64) Field {
	for range count {
		f.octave(d, cells, cells, amp)
		cells, amp = 2*cells, float64(amp*fall)
	}
	return f
}

// Ridged turns a field of deviation 1 into ridges: 1 along its zero lines, falling to 0 and below away from them.
func (f Field) Ridged() Field {
	for i, v := range f {
		f[i] = 1 - 2*max(v, -v)
	}
	return f
}

// At looks a field up between texels; x and y are in texels and may lie anywhere within ±8 sides.
func (f Field) At(x, y float32) float32 {
	x, y = x+(8*canvas.Side-0.5), y+(8*canvas.Side-0.5)
	ix, iy := int(x), int(y)
	fx, fy := x-float32(ix), y-float32(iy)
	x0, x1 := ix&(canvas.Side-1), (ix+1)&(canvas.Side-1)
	y0, y1 := iy&(canvas.Side-1)*canvas.Side, (iy+1)&(canvas.Side-1)*canvas.Side
	return num.Blend32(num.Blend32(f[y0+x0], f[y0+x1], fx), num.Blend32(f[y1+x0], f[y1+x1], fx), fy)
}

// Nearest looks a field up at the nearest texel.
func (f Field) Nearest(x, y int) float32 { return f[y&(canvas.Side-1)*canvas.Side+x&(canvas.Side-1)] }

// directions are the gradients that noise is made of.
var directions = compass(32)

func compass(n int) []num.Vec {
	all := make([]num.Vec, n)
	for i := range all {
		all[i] = num.Toward(2 * 3.14159265358979 * (float64(i) + 0.5) / float64(n))
	}
	return all
}
