package weave

// field is a noise at the texels, of deviation about 1.
type field []float32

// field sums octaves of noise, the first with patches so many mm wide, each next half as wide and keep as strong.
func (d dice) field(mm float64, octaves int, keep float64) field {
	return d.streaks(mm, mm, octaves, keep)
}

// streaks is a field whose patches are wider one way than the other.
func (d dice) streaks(mmX, mmY float64, octaves int, keep float64) field {
	f := make(field, side*side)
	power, strength := 0.0, 1.0
	for range octaves {
		d.octave(f, max(1, mmX*perMM), max(1, mmY*perMM), float32(strength))
		power += strength * strength
		mmX, mmY, strength = mmX/2, mmY/2, strength*keep
	}
	k := float32(1.45 / sqrt(power))
	if mmX*2*perMM <= 1 {
		k = float32(1 / sqrt(power))
	}
	for i := range f {
		f[i] *= k
	}
	return f
}

// octave adds noise between random numbers at the nodes of a grid.
func (d dice) octave(f field, cellX, cellY float64, strength float32) {
	nx, ny := int(side/cellX)+3, int(side/cellY)+3
	node := make([]float32, nx*ny)
	for i := range node {
		node[i] = strength * float32(d.NormFloat64())
	}
	shiftX, shiftY := d.Float64(), d.Float64()
	at, part := make([]int, side), make([]float32, side)
	for x := range side {
		u := float64(x)/cellX + shiftX
		at[x], part[x] = int(u), ease(0, 1, float32(u)-float32(int(u)))
	}
	row := make([]float32, nx)
	for y := range side {
		v := float64(y)/cellY + shiftY
		j, t := int(v), ease(0, 1, float32(v-float64(int(v))))
		for i := range row {
			row[i] = lerp(node[j*nx+i], node[(j+1)*nx+i], t)
		}
		line := f[y*side : (y+1)*side]
		for x := range line {
			line[x] += lerp(row[at[x]], row[at[x]+1], part[x])
		}
	}
}
