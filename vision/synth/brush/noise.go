package brush

// field is a texture of side × side values that repeats in both directions, so that it may be looked up anywhere.
type field []float32

func newField() field { return make(field, side*side) }

// octave adds gradient noise of nx × ny cells over the drawing, about amp in deviation. The fading polynomial is that of Perlin,
// "Improving noise", SIGGRAPH 2002. Along a row everything but the position within the cell is shared, which makes it cheap.
func (f field) octave(d dice, nx, ny int, amp float64) field {
	grads := make([]vec, nx*ny)
	for i := range grads {
		grads[i] = directions[d.IntN(len(directions))]
	}
	column, cx, fx, sx := make([]line, nx+1), make([]int, side), make([]float32, side), make([]float32, side)
	for x := range side {
		cx[x], fx[x], sx[x] = place(x, nx)
	}
	k := float32(amp / 0.27) // gradient noise of unit gradients has a deviation of about 0.27
	for y := range side {
		cy, fy, sy := place(y, ny)
		for i := range column {
			top, bottom := grads[cy*nx+i%nx], grads[(cy+1)%ny*nx+i%nx]
			column[i] = line{
				k * blend32(float32(top.x), float32(bottom.x), sy),
				k * blend32(float32(float32(top.y)*fy), float32(float32(bottom.y)*(fy-1)), sy),
			}
		}
		row := f[y*side : (y+1)*side]
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
	at := float32((float32(x) + 0.5) * float32(n) / side)
	cell = min(int(at), n-1)
	f = at - float32(cell)
	return cell, f, float32(f*f*f) * (float32(f*(float32(f*6)-15)) + 10)
}

// octaves adds several octaves, each with twice the cells and fall times the amplitude of the one before.
func (f field) octaves(d dice, cells, count int, amp, fall float64) field {
	for range count {
		f.octave(d, cells, cells, amp)
		cells, amp = 2*cells, float64(amp*fall)
	}
	return f
}

// ridged turns a field of deviation 1 into ridges: 1 along its zero lines, falling to 0 and below away from them.
func (f field) ridged() field {
	for i, v := range f {
		f[i] = 1 - 2*max(v, -v)
	}
	return f
}

// at looks a field up between texels; x and y are in texels and may lie anywhere within ±8 sides.
func (f field) at(x, y float32) float32 {
	x, y = x+(8*side-0.5), y+(8*side-0.5)
	ix, iy := int(x), int(y)
	fx, fy := x-float32(ix), y-float32(iy)
	x0, x1 := ix&(side-1), (ix+1)&(side-1)
	y0, y1 := iy&(side-1)*side, (iy+1)&(side-1)*side
	return blend32(blend32(f[y0+x0], f[y0+x1], fx), blend32(f[y1+x0], f[y1+x1], fx), fy)
}

// nearest looks a field up at the nearest texel.
func (f field) nearest(x, y int) float32 { return f[y&(side-1)*side+x&(side-1)] }

// directions are the gradients that noise is made of.
var directions = compass(32)

func compass(n int) []vec {
	all := make([]vec, n)
	for i := range all {
		all[i] = toward(2 * 3.14159265358979 * (float64(i) + 0.5) / float64(n))
	}
	return all
}
