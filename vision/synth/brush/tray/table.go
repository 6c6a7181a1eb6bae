package tray

import (
	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/num"
	"traygauge/vision/synth/brush/texture"
)

// Table is what loose plugs lie on: a board or a cloth.
type Table struct {
	Colour num.RGB
	mottle float32
	Weave  float32 // depth of the threads' pattern; 0 for a board
	thread float32 // texels
	turn   num.Vec
}

// NewTable draws a board, or a cloth.
func NewTable(d num.Dice) *Table {
	t := &Table{mottle: d.Between32(0.03, 0.25), turn: d.Direction(), thread: d.Between32(3, 12)}
	t.Colour = num.Tint(d.Ratio(0.006, 0.06), d.Between(0.85, 1.2), d.Between(0.8, 1.2))
	if d.Chance(0.25) {
		t.Colour = num.Tint(d.Ratio(0.05, 0.7), d.Between(0.8, 1.35), d.Between(0.55, 1.25))
	}
	if d.Chance(0.5) {
		t.Weave = d.Between32(0.1, 0.6)
	}
	return t
}

// Paint lays the table under the whole drawing, with the plugs' shadow on it.
func (t *Table) Paint(p *canvas.Painting, rim []float32, x *texture.Textures, l *canvas.Lamp, thick float32) {
	away := l.ShadowOf(float32(thick * l.Direct))
	spread := 2 + float32(l.Soft*thick*0.5)
	for i := range p.Light {
		light := num.Times(t.Colour, max(0.1, 1+float32(t.mottle*(float32(0.7*x.Broad[i])+float32(0.4*x.Mid[i])+float32(0.4*x.Grain[i])))))
		if t.Weave > 0 {
			light = num.Times(light, t.Woven(i, x))
		}
		px, py := i%canvas.Side-int(away.X), i/canvas.Side-int(away.Y)
		px, py = min(canvas.Side-1, max(0, px)), min(canvas.Side-1, max(0, py))
		shaded := num.Ease(-spread, spread, rim[py*canvas.Side+px])
		close := num.Ease(-25, 0, rim[i])
		p.Light[i] = num.Times(light, (1-float32(0.75*shaded))*(1-float32(0.4*close)))
	}
}

// Woven is the light on the threads of a plain weave.
func (t *Table) Woven(i int, x *texture.Textures) float32 {
	px, py := float32(i%canvas.Side)+float32(2*x.WarpX[i]), float32(i/canvas.Side)+float32(2*x.WarpY[i])
	tx, ty := float32(t.turn.X), float32(t.turn.Y)
	u := (float32(px*tx)+float32(py*ty))/t.thread + 4096
	v := (float32(py*tx)-float32(px*ty))/t.thread + 4096
	iu, iv := int(u), int(v)
	f := v - float32(iv) - 0.5
	if (iu+iv)&1 == 0 {
		f = u - float32(iu) - 0.5
	}
	return 1 + float32(t.Weave*(0.6-float32(4.8*f*f)+float32(0.3*x.Grain[i])))
}
