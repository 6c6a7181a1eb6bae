// Package canopy paints the leaves of a tray on one canvas: each plant's shoot by its seed and age, yellowing and dead tips, low leaves
// first. In go shoots and where they stand; out come the leaves' areas by plant, and the leaves and their shade on a picture. It knows
// nothing of plugs and trays.
package canopy

import (
	"math"
	"sort"

	"traygauge/vision/synth/painted/camera"
	"traygauge/vision/synth/painted/canvas"
	"traygauge/vision/synth/painted/exposure"
	"traygauge/vision/synth/painted/num"
)

const LeafPerMM = 10 // texels of the canvas that leaves are counted on

// Tones of a leaf's palette.
const (
	yellowTone   = 199 // 0 is green, 199 yellow
	NecroticTone = 200 // to 223: dead, brown
	StalkTone    = 224 // to 255
)

// Leaf is one leaf in the plane of the leaves, mm.
type Leaf struct {
	Cell           string
	X, Y, azimuth  float64 // where its stalk leaves the stem, and which way it points
	length, stalk  float64 // of the blade and of the stalk
	width          float64
	bend           float64 // 1/mm
	yellow         float64 // 0 to 1, the whole blade
	between, edge  float64 // 0 to 1, yellowing between veins and along the edge
	tip            float64 // share of the blade that is dead
	depth          float64
	seed           uint64
	own            *canvas.Palette
	yellowTones    [256]bool
	sides          [2][leafSteps + 1]float64 // half widths of the blade along it, mm
	sinAz, cosAz   float64
	veinGap, vlean float64
}

const leafSteps = 200

// Shoot is what is known of a plant above its plug.
type Shoot struct {
	Leaves      int     // the two seed leaves counted
	LengthMM    float64 // of the longest leaf's blade
	Yellow      float64 // share of the leaves that have turned yellow, the oldest first
	Interveinal float64 // 0 to 1: yellowing between the veins of the other leaves
	Edge        float64 // 0 to 1: yellowing of their edges
	Tip         float64 // 0 to 1: dead tips
}

// LeavesOf returns a plant's leaves as they are now. A leaf keeps its way and shape while it grows.
func LeavesOf(cell string, p Shoot, seed uint64, x, y float64) []*Leaf {
	r := num.Habit(seed, 3)
	x, y = x+2*r.NormFloat64(), y+2*r.NormFloat64()
	turn, lush, top := num.Between(r, 0, 360), r.NormFloat64(), r.Float64()
	hue, ratio := 131+3*r.NormFloat64(), num.Between(r, 0.5, 0.66)
	leaves := make([]*Leaf, p.Leaves)
	for k := range leaves {
		rk := num.Habit(seed, 4, uint64(k))
		l := &Leaf{Cell: cell, X: x, Y: y, seed: rk.Uint64(), depth: top + float64(k), cosAz: 1}
		l.azimuth = turn + 180*float64(k) + 12*rk.NormFloat64()
		l.width, l.vlean = ratio, num.Between(rk, 0.5, 0.8)
		if k >= 2 { // after the two seed leaves each follows by the golden angle
			l.azimuth = turn + 90 + 137.508*float64(k-2) + 9*rk.NormFloat64()
		}
		l.length = p.LengthMM * leafShare(k, p.Leaves) * num.Between(rk, 0.9, 1.1)
		l.stalk = l.length * num.Between(rk, 0.28, 0.5)
		if k < 2 {
			l.length, l.width = min(l.length, 13), 0.8
			l.stalk = 0.6 * l.length
		}
		l.width *= l.length * num.Between(rk, 0.92, 1.08)
		l.bend = 0.12 * rk.NormFloat64() / l.length
		l.yellow = max(0, min(1, p.Yellow*float64(p.Leaves)-float64(k)))
		l.between, l.edge, l.tip = p.Interveinal, p.Edge, p.Tip*num.Between(rk, 0.5, 1)
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
func (l *Leaf) finish(hue, lightness float64) {
	r := num.Habit(l.seed, 5)
	l.sinAz, l.cosAz = math.Sincos(num.Rad(l.azimuth))
	l.veinGap = max(l.length/6.5, 1.2)
	a, b := num.Between(r, 0.5, 0.75), num.Between(r, 0.55, 0.8)
	peak := math.Pow(a/(a+b), a) * math.Pow(b/(a+b), b)
	frill, waves := num.Between(r, 0, 0.045), math.Round(num.Between(r, 5, 11))
	for side := range l.sides {
		turn := num.Between(r, 0, 2*math.Pi)
		for i := range leafSteps + 1 {
			s := float64(i) / leafSteps
			f := math.Pow(s, a) * math.Pow(1-s, b) / peak
			l.sides[side][i] = l.width / 2 * f * (1 + frill*math.Sin(2*math.Pi*waves*s+turn))
		}
	}
	l.own = leafPalette(hue, lightness)
	for t, c := range l.own {
		chroma, h := num.ChromaHue(c)
		l.yellowTones[t] = h < 105 && chroma > 15
	}
}

// leafPalette goes from a green of the given hue to yellow, then dead tissue, then stalks.
func leafPalette(hue, lightness float64) *canvas.Palette {
	var p canvas.Palette
	for i := range yellowTone + 1 {
		t := float64(i) / yellowTone
		p[i] = num.FromLCh(lightness+(71-lightness)*math.Pow(t, 0.85), 35+19*t, hue+(91-hue)*t)
	}
	for i := NecroticTone; i < StalkTone; i++ {
		p[i] = num.Mixed(num.RGB{0.23, 0.13, 0.055}, num.RGB{0.10, 0.055, 0.028}, float64(i-NecroticTone)/23)
	}
	for i := StalkTone; i < 256; i++ {
		p[i] = num.FromLCh(lightness+14+float64(i-StalkTone)/4, 34, min(hue, 122))
	}
	return &p
}

// paint draws the leaf as thing number owner. Its frame: s along the midrib from the blade's base, t across.
func (l *Leaf) paint(c *canvas.Canvas, owner int) {
	x0, y0, x1, y1 := l.box()
	soft := num.Clouds()
	ox, oy := float64(l.seed&511), float64(l.seed>>9&511)
	for y := max(int((y0-c.Y0)*c.PerMM), 0); y < min(int((y1-c.Y0)*c.PerMM)+1, c.H); y++ {
		my := c.Y0 + (float64(y)+0.5)/c.PerMM - l.Y
		for x := max(int((x0-c.X0)*c.PerMM), 0); x < min(int((x1-c.X0)*c.PerMM)+1, c.W); x++ {
			mx := c.X0 + (float64(x)+0.5)/c.PerMM - l.X
			s := l.cosAz*mx + l.sinAz*my
			t := l.cosAz*my - l.sinAz*mx - l.bend*s*s
			if s < 0 || s > l.stalk+l.length {
				continue
			}
			if tone, gain, ok := l.blade(s-l.stalk, t, func(k float64) float64 { return num.Cloud(soft, ox+mx*k, oy+my*k) }); ok {
				c.T[y*c.W+x] = canvas.NewTexel(owner, tone, canvas.ShadeOf(gain))
			} else if half := l.stalkHalf(); s < l.stalk+0.1*l.length && math.Abs(t) < half {
				c.T[y*c.W+x] = canvas.NewTexel(owner, uint8(StalkTone+20*(1-math.Abs(t)/half)), canvas.ShadeOf(0.95-0.2*t/half*l.lit()))
			}
		}
	}
}

func (l *Leaf) stalkHalf() float64 { return 0.35 + 0.012*l.length }

// lit is how far the lamp stands to the leaf's left, −1 to 1.
func (l *Leaf) lit() float64 {
	return canvas.FromUpperLeft[0]*l.sinAz - canvas.FromUpperLeft[1]*l.cosAz
}

// box holds the leaf, in mm.
func (l *Leaf) box() (x0, y0, x1, y1 float64) {
	reach := l.stalk + l.length
	across := l.width*0.55 + math.Abs(l.bend)*reach*reach + 1
	ex, ey := l.cosAz*reach, l.sinAz*reach
	return l.X + min(0, ex) - across, l.Y + min(0, ey) - across, l.X + max(0, ex) + across, l.Y + max(0, ey) + across
}

// blade returns the tone and gain of a place on the blade, s and t in mm along and across from its base.
func (l *Leaf) blade(s, t float64, patchy func(perMM float64) float64) (tone uint8, gain float64, ok bool) {
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
	yellow := max(l.yellow*0.93, max(l.between*(0.45+0.55*num.Smooth(1.25*from))*num.Smooth(a/rib/2-0.3), l.edge*num.Smooth((margin-0.55)/0.35)))
	yellow = max(0, min(1, yellow+0.035*n))
	gain = 1 + 0.05*n + 0.1*math.Copysign(1, -t)*l.lit() + 0.07*math.Sin(2*math.Pi*phase)*(1-margin) - 0.08*margin*margin
	if from*l.veinGap/2 < 0.13 && margin < 0.92 {
		gain *= 1.1
	}
	if a < rib {
		gain *= 1.22
	}
	if l.tip > 0 && s/l.length+0.25*margin*margin+0.04*n > 1.12-0.45*l.tip {
		return uint8(NecroticTone + max(0, min(23, 11+8*n))), gain, true
	}
	return uint8(yellow * yellowTone), gain, true
}

// Canopy is all leaves of a tray, drawn on one canvas.
type Canopy struct {
	canvas.Canvas
	Leaves   []*Leaf // lowest first; leaf i is thing i + 1
	Palettes []*canvas.Palette
	near     []bool // by squares of 2 mm: a leaf is in it or beside it
	nearW    int
}

const nearMM = 2.0

// NewCanopy paints all leaves; nil for none. It sorts them by height.
func NewCanopy(leaves []*Leaf) *Canopy {
	if len(leaves) == 0 {
		return nil
	}
	sort.SliceStable(leaves, func(i, j int) bool { return leaves[i].depth < leaves[j].depth })
	y := &Canopy{Leaves: leaves, Palettes: make([]*canvas.Palette, len(leaves)+1)}
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, l := range leaves {
		a, b, c, d := l.box()
		x0, y0, x1, y1 = min(x0, a), min(y0, b), max(x1, c), max(y1, d)
	}
	const border = 4 // mm, so that shadows and edges stay on the canvas
	y.Reset(x0-border, y0-border, x1+border, y1+border, LeafPerMM)
	y.nearW = int(float64(y.W)/LeafPerMM/nearMM) + 2
	y.near = make([]bool, y.nearW*(int(float64(y.H)/LeafPerMM/nearMM)+2))
	for i, l := range leaves {
		l.paint(&y.Canvas, i+1)
		y.Palettes[i+1] = l.own
		y.markNear(l)
	}
	return y
}

func (y *Canopy) markNear(l *Leaf) {
	x0, y0, x1, y1 := l.box()
	for j := int((y0 - y.Y0) / nearMM); j <= int((y1-y.Y0)/nearMM); j++ {
		for i := int((x0 - y.X0) / nearMM); i <= int((x1-y.X0)/nearMM); i++ {
			y.near[j*y.nearW+i] = true
		}
	}
}

func (y *Canopy) busy(px, py float64) bool {
	i, j := int((px-y.X0)/nearMM), int((py-y.Y0)/nearMM)
	return px >= y.X0 && py >= y.Y0 && i < y.nearW && j*y.nearW+i < len(y.near) && y.near[j*y.nearW+i]
}

// Areas are what is visible of one plant, mm².
type Areas struct{ Leaf, Yellow, Dead, Stalk float64 }

// Count sums what is visible of every plant, by the name of its cell; a plant without one, of a neighbour tray, is not counted.
func (y *Canopy) Count() map[string]*Areas {
	n := make([][256]int32, len(y.Leaves)+1)
	for _, t := range y.T {
		if t != 0 {
			n[t.Owner()][t.Tone()]++
		}
	}
	cells := map[string]*Areas{}
	for i, l := range y.Leaves {
		if l.Cell == "" {
			continue
		}
		cell := cells[l.Cell]
		if cell == nil {
			cell = &Areas{}
			cells[l.Cell] = cell
		}
		for tone, k := range n[i+1] {
			area := float64(k) * y.TexelMM2()
			cell.Leaf += area
			if l.yellowTones[tone] {
				cell.Yellow += area
			}
			switch {
			case tone >= StalkTone:
				cell.Stalk += area
			case tone >= NecroticTone:
				cell.Dead += area
			}
		}
	}
	return cells
}

// leafShadow is the soft shadow of leaves on lower ones.
var leafShadow = canvas.Shadow{Taps: [][2]float64{{-0.4, -0.5}, {-0.8, -1.1}, {-1.3, -1.7}}, Share: 0.85}

// LayOn lays the leaves on the picture, h mm above the plane, with their shade below.
func (y *Canopy) LayOn(p *exposure.Picture, v *camera.View, h float64) {
	y.shade(p, v, h)
	y.Lay(p, v, -h, y.Palettes, leafShadow, y.busy, nil)
}

// shade darkens what lies under the leaves; they are h mm above it at least.
func (y *Canopy) shade(p *exposure.Picture, v *camera.View, h float64) {
	drop := 1.5 + 0.25*min(h, 20)
	soft := 0.5 + 0.12*min(h, 20)
	var taps [6][2]float64
	for i := range taps {
		sin, cos := math.Sincos(float64(i) * math.Pi / 3)
		taps[i] = [2]float64{canvas.FromUpperLeft[0]*drop + soft*cos, canvas.FromUpperLeft[1]*drop + soft*sin}
	}
	right, bottom := y.X0+float64(y.W)/y.PerMM, y.Y0+float64(y.H)/y.PerMM
	x0, y0, x1, y1 := v.Box(y.X0, y.Y0, right+drop, bottom+drop, 0)
	xs, ys := make([]float64, x1-x0), make([]float64, x1-x0)
	for row := y0; row < y1; row++ {
		v.PlaneRow(x0, row, 0, xs, ys)
		for i := range xs {
			gain := float32(1)
			for _, t := range taps {
				px, py := xs[i]+t[0], ys[i]+t[1]
				if !y.busy(px, py) {
					continue
				}
				if k := y.Index(px, py); k >= 0 && y.T[k] != 0 {
					gain -= 0.09
				}
			}
			if gain < 1 {
				p.Dim(x0+i, row, gain)
			}
		}
	}
}
