package synth

import (
	"math"
	"sort"
)

const leafPerMM = 10 // texels of the canvas that leaves are counted on

// Tones of a leaf's palette.
const (
	yellowTone   = 199 // 0 is green, 199 yellow
	necroticTone = 200 // to 223: dead, brown
	stalkTone    = 224 // to 255
)

// leaf is one leaf in the plane of the leaves, mm.
type leaf struct {
	cell           string
	x, y, azimuth  float64 // where its stalk leaves the stem, and which way it points
	length, stalk  float64 // of the blade and of the stalk
	width          float64
	bend           float64 // 1/mm
	yellow         float64 // 0 to 1, the whole blade
	between, edge  float64 // 0 to 1, yellowing between veins and along the edge
	tip            float64 // share of the blade that is dead
	depth          float64
	seed           uint64
	own            *palette
	yellowTones    [256]bool
	sides          [2][leafSteps + 1]float64 // half widths of the blade along it, mm
	sinAz, cosAz   float64
	veinGap, vlean float64
}

const leafSteps = 200

// leavesOf returns a plant's leaves as they are now. A leaf keeps its way and shape while it grows.
func leavesOf(cell string, p Plant, seed uint64, x, y float64) []*leaf {
	r := habit(seed, 3)
	x, y = x+2*r.NormFloat64(), y+2*r.NormFloat64()
	turn, lush, top := between(r, 0, 360), r.NormFloat64(), r.Float64()
	hue, ratio := 131+3*r.NormFloat64(), between(r, 0.5, 0.66)
	leaves := make([]*leaf, p.Leaves)
	for k := range leaves {
		rk := habit(seed, 4, uint64(k))
		l := &leaf{cell: cell, x: x, y: y, seed: rk.Uint64(), depth: top + float64(k), cosAz: 1}
		l.azimuth = turn + 180*float64(k) + 12*rk.NormFloat64()
		l.width, l.vlean = ratio, between(rk, 0.5, 0.8)
		if k >= 2 { // after the two seed leaves each follows by the golden angle
			l.azimuth = turn + 90 + 137.508*float64(k-2) + 9*rk.NormFloat64()
		}
		l.length = p.LeafLengthMM * leafShare(k, p.Leaves) * between(rk, 0.9, 1.1)
		l.stalk = l.length * between(rk, 0.28, 0.5)
		if k < 2 {
			l.length, l.width = min(l.length, 13), 0.8
			l.stalk = 0.6 * l.length
		}
		l.width *= l.length * between(rk, 0.92, 1.08)
		l.bend = 0.12 * rk.NormFloat64() / l.length
		l.yellow = max(0, min(1, p.Yellow*float64(p.Leaves)-float64(k)))
		l.between, l.edge, l.tip = p.Interveinal, p.YellowEdge, p.BrownTip*between(rk, 0.5, 1)
		l.finish(hue, 40+2*lush+2*rk.NormFloat64())
		leaves[k] = l
	}
	return leaves
}

// leafShare is a leaf's size by its place among n: seed leaves stay small, the youngest has yet to grow.
func leafShare(k, n int) float64 {
	if k < 2 {
		return 0.5
	}
	return 1 - 0.6*math.Exp(-float64(n-1-k)/1.1)
}

// finish derives what drawing needs: outline, veins and colours.
func (l *leaf) finish(hue, lightness float64) {
	r := habit(l.seed, 5)
	l.sinAz, l.cosAz = math.Sincos(rad(l.azimuth))
	l.veinGap = max(l.length/6.5, 1.2)
	a, b := between(r, 0.5, 0.75), between(r, 0.55, 0.8)
	peak := math.Pow(a/(a+b), a) * math.Pow(b/(a+b), b)
	frill, waves := between(r, 0, 0.045), math.Round(between(r, 5, 11))
	for side := range l.sides {
		turn := between(r, 0, 2*math.Pi)
		for i := range leafSteps + 1 {
			s := float64(i) / leafSteps
			f := math.Pow(s, a) * math.Pow(1-s, b) / peak
			l.sides[side][i] = l.width / 2 * f * (1 + frill*math.Sin(2*math.Pi*waves*s+turn))
		}
	}
	l.own = leafPalette(hue, lightness)
	for t, c := range l.own {
		chroma, h := chromaHue(c)
		l.yellowTones[t] = h < 105 && chroma > 15
	}
}

// leafPalette goes from a green of the given hue to yellow, then dead tissue, then stalks.
func leafPalette(hue, lightness float64) *palette {
	var p palette
	for i := range yellowTone + 1 {
		t := float64(i) / yellowTone
		p[i] = fromLCh(lightness+(71-lightness)*math.Pow(t, 0.85), 35+19*t, hue+(91-hue)*t)
	}
	for i := necroticTone; i < stalkTone; i++ {
		p[i] = mixed(rgb{0.23, 0.13, 0.055}, rgb{0.10, 0.055, 0.028}, float64(i-necroticTone)/23)
	}
	for i := stalkTone; i < 256; i++ {
		p[i] = fromLCh(lightness+14+float64(i-stalkTone)/4, 34, min(hue, 122))
	}
	return &p
}

// paint draws the leaf as thing number owner. Its frame: s along the midrib from the blade's base, t across.
func (l *leaf) paint(c *canvas, owner int) {
	x0, y0, x1, y1 := l.box()
	soft := clouds()
	ox, oy := float64(l.seed&511), float64(l.seed>>9&511)
	for y := max(int((y0-c.y0)*c.perMM), 0); y < min(int((y1-c.y0)*c.perMM)+1, c.h); y++ {
		my := c.y0 + (float64(y)+0.5)/c.perMM - l.y
		for x := max(int((x0-c.x0)*c.perMM), 0); x < min(int((x1-c.x0)*c.perMM)+1, c.w); x++ {
			mx := c.x0 + (float64(x)+0.5)/c.perMM - l.x
			s := l.cosAz*mx + l.sinAz*my
			t := l.cosAz*my - l.sinAz*mx - l.bend*s*s
			if s < 0 || s > l.stalk+l.length {
				continue
			}
			if tone, gain, ok := l.blade(s-l.stalk, t, func(k float64) float64 { return cloud(soft, ox+mx*k, oy+my*k) }); ok {
				c.t[y*c.w+x] = newTexel(owner, tone, shadeOf(gain))
			} else if half := l.stalkHalf(); s < l.stalk+0.1*l.length && math.Abs(t) < half {
				c.t[y*c.w+x] = newTexel(owner, uint8(stalkTone+20*(1-math.Abs(t)/half)), shadeOf(0.95-0.2*t/half*l.lit()))
			}
		}
	}
}

func (l *leaf) stalkHalf() float64 { return 0.35 + 0.012*l.length }

// lit is how far the lamp stands to the leaf's left, −1 to 1.
func (l *leaf) lit() float64 { return fromUpperLeft[0]*l.sinAz - fromUpperLeft[1]*l.cosAz }

// box holds the leaf, in mm.
func (l *leaf) box() (x0, y0, x1, y1 float64) {
	reach := l.stalk + l.length
	across := l.width*0.55 + math.Abs(l.bend)*reach*reach + 1
	ex, ey := l.cosAz*reach, l.sinAz*reach
	return l.x + min(0, ex) - across, l.y + min(0, ey) - across, l.x + max(0, ex) + across, l.y + max(0, ey) + across
}

// blade returns the tone and gain of a place on the blade, s and t in mm along and across from its base.
func (l *leaf) blade(s, t float64, patchy func(perMM float64) float64) (tone uint8, gain float64, ok bool) {
	if s < 0 || s >= l.length {
		return 0, 0, false
	}
	side := &l.sides[0]
	if t > 0 {
		side = &l.sides[1]
	}
	at := s / l.length * leafSteps
	i := int(at)
	half := side[i] + (side[i+1]-side[i])*(at-float64(i))
	a := math.Abs(t)
	if a >= half {
		return 0, 0, false
	}
	margin := a / half
	// Side veins run forward at a slant; from is the distance to the nearest, 0 to 1 of half the gap.
	phase := (s - l.vlean*a) / l.veinGap
	from := math.Abs(phase-math.Round(phase)) * 2
	rib := 0.22 + 0.012*l.length*(1-s/l.length)
	n := patchy(3)
	yellow := max(l.yellow*0.93, max(l.between*(0.45+0.55*smooth(1.25*from))*smooth(a/rib/2-0.3), l.edge*smooth((margin-0.55)/0.35)))
	yellow = max(0, min(1, yellow+0.035*n))
	gain = 1 + 0.05*n + 0.1*math.Copysign(1, -t)*l.lit() + 0.07*math.Sin(2*math.Pi*phase)*(1-margin) - 0.08*margin*margin
	if from*l.veinGap/2 < 0.13 && margin < 0.92 {
		gain *= 1.1
	}
	if a < rib {
		gain *= 1.22
	}
	if l.tip > 0 && s/l.length+0.25*margin*margin+0.04*n > 1.12-0.45*l.tip {
		return uint8(necroticTone + max(0, min(23, 11+8*n))), gain, true
	}
	return uint8(yellow * yellowTone), gain, true
}

// canopy is all leaves of a tray, drawn on one canvas.
type canopy struct {
	canvas
	leaves   []*leaf // lowest first; leaf i is thing i + 1
	palettes []*palette
	near     []bool // by squares of 2 mm: a leaf is in it or beside it
	nearW    int
}

const nearMM = 2.0

func newCanopy(leaves []*leaf) *canopy {
	if len(leaves) == 0 {
		return nil
	}
	sort.SliceStable(leaves, func(i, j int) bool { return leaves[i].depth < leaves[j].depth })
	y := &canopy{leaves: leaves, palettes: make([]*palette, len(leaves)+1)}
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, l := range leaves {
		a, b, c, d := l.box()
		x0, y0, x1, y1 = min(x0, a), min(y0, b), max(x1, c), max(y1, d)
	}
	const border = 4 // mm, so that shadows and edges stay on the canvas
	y.reset(x0-border, y0-border, x1+border, y1+border, leafPerMM)
	y.nearW = int(float64(y.w)/leafPerMM/nearMM) + 2
	y.near = make([]bool, y.nearW*(int(float64(y.h)/leafPerMM/nearMM)+2))
	for i, l := range leaves {
		l.paint(&y.canvas, i+1)
		y.palettes[i+1] = l.own
		y.markNear(l)
	}
	return y
}

func (y *canopy) markNear(l *leaf) {
	x0, y0, x1, y1 := l.box()
	for j := int((y0 - y.y0) / nearMM); j <= int((y1-y.y0)/nearMM); j++ {
		for i := int((x0 - y.x0) / nearMM); i <= int((x1-y.x0)/nearMM); i++ {
			y.near[j*y.nearW+i] = true
		}
	}
}

func (y *canopy) busy(px, py float64) bool {
	i, j := int((px-y.x0)/nearMM), int((py-y.y0)/nearMM)
	return px >= y.x0 && py >= y.y0 && i < y.nearW && j*y.nearW+i < len(y.near) && y.near[j*y.nearW+i]
}

// count adds what is visible of every plant to the truth.
func (y *canopy) count(cells map[string]*CellTruth) {
	n := make([][256]int32, len(y.leaves)+1)
	for _, t := range y.t {
		if t != 0 {
			n[t.owner()][t.tone()]++
		}
	}
	for i, l := range y.leaves {
		cell := cells[l.cell]
		if cell == nil { // of a neighbour tray
			continue
		}
		for tone, k := range n[i+1] {
			area := float64(k) * y.texelMM2()
			cell.LeafAreaMM2 += area
			if l.yellowTones[tone] {
				cell.ChloroticAreaMM2 += area
			}
			switch {
			case tone >= stalkTone:
				cell.StalkAreaMM2 += area
			case tone >= necroticTone:
				cell.NecroticAreaMM2 += area
			}
		}
	}
	for _, cell := range cells {
		cell.Present = cell.LeafAreaMM2 > 0
	}
}

// leafShadow is the soft shadow of leaves on lower ones.
var leafShadow = shadow{taps: [][2]float64{{-0.4, -0.5}, {-0.8, -1.1}, {-1.3, -1.7}}, share: 0.85}

// shade darkens what lies under the leaves; they are h mm above it at least.
func (y *canopy) shade(p *picture, v *view, h float64) {
	drop := 1.5 + 0.25*min(h, 20)
	soft := 0.5 + 0.12*min(h, 20)
	var taps [6][2]float64
	for i := range taps {
		sin, cos := math.Sincos(float64(i) * math.Pi / 3)
		taps[i] = [2]float64{fromUpperLeft[0]*drop + soft*cos, fromUpperLeft[1]*drop + soft*sin}
	}
	right, bottom := y.x0+float64(y.w)/y.perMM, y.y0+float64(y.h)/y.perMM
	x0, y0, x1, y1 := v.box(y.x0, y.y0, right+drop, bottom+drop, 0)
	xs, ys := make([]float64, x1-x0), make([]float64, x1-x0)
	for row := y0; row < y1; row++ {
		v.planeRow(x0, row, 0, xs, ys)
		for i := range xs {
			gain := float32(1)
			for _, t := range taps {
				px, py := xs[i]+t[0], ys[i]+t[1]
				if !y.busy(px, py) {
					continue
				}
				if k := y.index(px, py); k >= 0 && y.t[k] != 0 {
					gain -= 0.09
				}
			}
			if gain < 1 {
				p.dim(x0+i, row, gain)
			}
		}
	}
}
