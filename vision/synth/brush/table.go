package brush

// table is what loose plugs lie on: a board or a cloth.
type table struct {
	colour rgb
	mottle float32
	weave  float32 // depth of the threads' pattern; 0 for a board
	thread float32 // texels
	turn   vec
}

func newTable(d dice) *table {
	t := &table{mottle: d.between32(0.03, 0.25), turn: d.direction(), thread: d.between32(3, 12)}
	t.colour = tint(d.ratio(0.006, 0.06), d.between(0.85, 1.2), d.between(0.8, 1.2))
	if d.chance(0.25) {
		t.colour = tint(d.ratio(0.05, 0.7), d.between(0.8, 1.35), d.between(0.55, 1.25))
	}
	if d.chance(0.5) {
		t.weave = d.between32(0.1, 0.6)
	}
	return t
}

// paint lays the table under the whole drawing, with the plugs' shadow on it.
func (t *table) paint(p *painting, rim []float32, x *textures, l *lamp, thick float32) {
	away := l.shadowOf(float32(thick * l.direct))
	spread := 2 + float32(l.soft*thick*0.5)
	for i := range p.Light {
		light := times(t.colour, max(0.1, 1+float32(t.mottle*(float32(0.7*x.broad[i])+float32(0.4*x.mid[i])+float32(0.4*x.grain[i])))))
		if t.weave > 0 {
			light = times(light, t.woven(i, x))
		}
		px, py := i%side-int(away.x), i/side-int(away.y)
		px, py = min(side-1, max(0, px)), min(side-1, max(0, py))
		shaded := ease(-spread, spread, rim[py*side+px])
		close := ease(-25, 0, rim[i])
		p.Light[i] = times(light, (1-float32(0.75*shaded))*(1-float32(0.4*close)))
	}
}

// woven is the light on the threads of a plain weave.
func (t *table) woven(i int, x *textures) float32 {
	px, py := float32(i%side)+float32(2*x.warpX[i]), float32(i/side)+float32(2*x.warpY[i])
	tx, ty := float32(t.turn.x), float32(t.turn.y)
	u := (float32(px*tx)+float32(py*ty))/t.thread + 4096
	v := (float32(py*tx)-float32(px*ty))/t.thread + 4096
	iu, iv := int(u), int(v)
	f := v - float32(iv) - 0.5
	if (iu+iv)&1 == 0 {
		f = u - float32(iu) - 0.5
	}
	return 1 + float32(t.weave*(0.6-float32(4.8*f*f)+float32(0.3*x.grain[i])))
}
