package synth

import (
	"math"

	"traygauge/vision/card"
	"traygauge/vision/synth/painted/camera"
	"traygauge/vision/synth/painted/canvas"
	"traygauge/vision/synth/painted/exposure"
	"traygauge/vision/synth/painted/num"
	"traygauge/vision/synth/painted/sheet"
)

// ground is everything flat that carries no truth: board, tray, cups. It is drawn from distances to outlines, each edge a
// pixel wide.
type ground struct {
	s     Spec
	plugs []bool // by cell, row by row: it has a plug
	soft  []float32
	fine  []float32
	seed  uint64
}

func newGround(s Spec) *ground {
	g := &ground{s: s, soft: num.Clouds(), fine: num.Grain(), seed: num.Mix(s.Seed ^ 0x626f617264)}
	for _, name := range s.Tray.Cells() {
		g.plugs = append(g.plugs, s.Plants[name].Plug)
	}
	return g
}

func (g *ground) draw(p *exposure.Picture, v *camera.View) {
	xs, ys := make([]float64, p.W+1), make([]float64, p.W+1)
	var px float64
	for y := range p.H {
		v.PlaneRow(0, y, 0, xs, ys)
		row := p.P[3*y*p.W:]
		for x := range p.W {
			if x%64 == 0 { // it changes slowly
				px = math.Hypot(xs[x+1]-xs[x], ys[x+1]-ys[x])
			}
			c := g.at(xs[x], ys[x], px)
			row[3*x], row[3*x+1], row[3*x+2] = c[0], c[1], c[2]
		}
	}
}

// at is the colour of a point; px is what a pixel measures there in mm.
func (g *ground) at(x, y, px float64) num.RGB {
	if g.s.Lines != nil {
		return linesGround(g.soft, x, y)
	}
	u, v := g.s.Face.ToTray(sheet.CardPt(x, y))
	t := g.s.Tray
	d := boxDistance(u-t.LengthMM/2, v-t.WidthMM/2, t.LengthMM/2, t.WidthMM/2, 5)
	if g.s.NeighbourMM > 0 && v > t.WidthMM+neighbourGapMM {
		return num.RGB{1, 1.02, 1.04}.Times(float32(g.s.TrayLight * (1 + 0.10*num.Cloud(g.soft, x*0.13, y*0.13))))
	}
	if d > 25 { // the shadow does not reach so far
		return g.board(x, y)
	}
	cover := max(0, min(1, 0.5-d/px))
	if cover == 0 {
		return g.board(x, y).Times(g.trayShadow(x, y))
	}
	tray := g.tray(x, y, u, v, d, px)
	if cover == 1 {
		return tray
	}
	return num.Mixed(g.board(x, y).Times(g.trayShadow(x, y)), tray, cover)
}

// boxDistance is the distance to an upright rectangle with round corners about the origin, negative inside.
func boxDistance(x, y, halfX, halfY, corner float64) float64 {
	x, y = math.Abs(x)-halfX+corner, math.Abs(y)-halfY+corner
	if x <= 0 || y <= 0 {
		return max(x, y) - corner
	}
	return math.Sqrt(x*x+y*y) - corner
}

// board is the table's own colour.
func (g *ground) board(x, y float64) num.RGB {
	ox, oy := float64(g.seed&511), float64(g.seed>>9&511)
	switch g.s.Board {
	case BlackCloth:
		weave := math.Sin(x*5.2)*math.Sin(y*5.2)*0.18 + 0.12*num.Cloud(g.soft, x*0.7+ox, y*0.7+oy)
		return num.RGB{0.014, 0.014, 0.016}.Times(float32(max(0.2, 1+weave)))
	case WoodBoard:
		plank := math.Floor(y/95 + 0.3)
		shift := plank * 137
		grain := num.Cloud(g.soft, x*0.045+ox+shift, y*1.3+oy+3*num.Cloud(g.soft, x*0.03+shift, y*0.06))
		fine := num.Cloud(g.soft, x*0.22+shift, y*4)
		seam := math.Abs(y/95+0.3-plank-0.5)*2*95 - 94
		gain := 1 + 0.16*grain + 0.05*fine - 0.6*num.Smooth(seam)
		return num.RGB{0.36, 0.235, 0.13}.Times(float32(max(0.15, gain)))
	default:
		m := 0.06*num.Cloud(g.soft, x*0.15+ox, y*0.15+oy) + 0.05*num.Cloud(g.fine, x*4.3+y*1.1, y*4.3-x*1.1)
		return num.RGB{0.172, 0.176, 0.180}.Times(float32(1 + m))
	}
}

// trayShadow is the soft shadow the tray throws on the board, below right of it.
func (g *ground) trayShadow(x, y float64) float32 {
	u, v := g.s.Face.ToTray(sheet.CardPt(x+canvas.FromUpperLeft[0]*7, y+canvas.FromUpperLeft[1]*7))
	t := g.s.Tray
	d := boxDistance(u-t.LengthMM/2, v-t.WidthMM/2, t.LengthMM/2, t.WidthMM/2, 8)
	return float32(1 - 0.55*num.Smooth(0.5-d/18))
}

// tray is the plastic and the cups in it.
func (g *ground) tray(x, y, u, v, d, px float64) num.RGB {
	gain := 1 + 0.10*num.Cloud(g.soft, x*0.13, y*0.13) + 0.04*num.Cloud(g.fine, x*4, y*4)
	gain += 0.9*bump(d+1.4, 0.7) + 0.35*bump(d+9, 0.5) - 0.3*bump(d+10.5, 0.6)
	t := g.s.Tray
	column := int(math.Round((u - t.FirstU) / t.PitchMM))
	row := int(math.Round((v - t.FirstV) / t.PitchMM))
	plastic := num.RGB{1, 1.02, 1.04}.Times(float32(g.s.TrayLight))
	if row < 0 || column < 0 || row >= t.Rows || column >= t.Columns {
		return plastic.Times(float32(gain))
	}
	mu, mv := t.centre(row, column)
	at := g.s.Face.FromTray(mu, mv)
	dx, dy := x-at.X, y-at.Y
	return g.cup(plastic, gain, dx, dy, px, g.plugs[row*t.Columns+column])
}

// bump is a low ridge of the given half width.
func bump(d, half float64) float64 {
	if d = math.Abs(d) / half / 2; d < 1 {
		return 1 - num.Smooth(d)
	}
	return 0
}

// cup is one cell about its middle: a moulded rim and the dark within.
func (g *ground) cup(plastic num.RGB, gain, dx, dy, px float64, filled bool) num.RGB {
	t := g.s.Tray
	r := math.Sqrt(dx*dx + dy*dy)
	toLamp := (dx*canvas.FromUpperLeft[0] + dy*canvas.FromUpperLeft[1]) / max(r, 1e-9)
	if gain = max(gain, 0.2); g.s.shown() == card.Roots {
		// The cup's bottom stands up as a rounded square with a ring about the hole that shows the plug.
		outer := boxDistance(dx, dy, t.PitchMM*0.43, t.PitchMM*0.43, t.PitchMM*0.2)
		hole := r - t.PlugBottomMM/2 - 1.6
		gain *= 1 + 0.35*num.Smooth(-outer/3) + 0.5*toLamp*bump(outer, 1.3) + 0.55*(0.6+0.4*toLamp)*bump(hole-1.1, 0.6)
		return edge(plastic.Times(float32(gain)), g.inside(r, dx, dy, filled), hole, px)
	}
	half := topSide(t)/2 + 0.8
	hole := boxDistance(dx, dy, half, half, 6)
	gain *= 1 + 0.5*(0.7+0.3*toLamp)*bump(hole-0.9, 0.5)
	return edge(plastic.Times(float32(gain)), g.inside(r, dx, dy, filled), hole, px)
}

// edge goes from outside to inside over a pixel where d changes sign.
func edge(outside, inside num.RGB, d, px float64) num.RGB {
	return num.Mixed(outside, inside, max(0, min(1, 0.5-d/px)))
}

// topSide is the side of the square top of a plug.
func topSide(t Tray) float64 { return t.PitchMM * 0.86 }

// inside is the hollow of a cup: nearly black, a little lighter on the wall the lamp reaches, a drain hole in the middle.
func (g *ground) inside(r, dx, dy float64, filled bool) num.RGB {
	lit := 0.25 - 0.012*(dx*canvas.FromUpperLeft[0]+dy*canvas.FromUpperLeft[1])
	if filled {
		lit = 0.15
	} else {
		lit += 0.3*bump(r-5, 0.5) - 0.12*num.Smooth((5-r)*2)
	}
	return num.RGB{1, 1, 1.03}.Times(float32(g.s.TrayLight * max(lit, 0.06)))
}

// linesGround is the medium's colour, a little uneven.
func linesGround(soft []float32, x, y float64) num.RGB {
	return num.RGB{0.040, 0.026, 0.018}.Times(float32(1 + 0.08*num.Cloud(soft, x*1.3, y*1.3)))
}
