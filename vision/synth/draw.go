package synth

import (
	"image"
	"math"

	"traygauge/vision/card"
)

// Draw makes the picture, upright, and tells what it shows. The same Spec gives the same picture. It works on one core.
func Draw(s Spec) (*image.NRGBA, Truth, error) {
	if err := s.check(); err != nil {
		return nil, Truth{}, err
	}
	v := newView(s)
	t := newTruth(s, v)
	p := newPicture(v.width, v.height)
	newGround(s).draw(p, v)
	layPrints(s, p, v)
	switch {
	case s.Lines != nil:
		drawLines(s, p, v)
	case s.shown() == card.Roots:
		drawRoots(s, p, v, t.Cells)
	default:
		drawShoots(s, p, v, t.Cells)
	}
	layThings(s, p, v)
	if s.Lines == nil {
		t.sum(s.shown(), s.Tray.Cells())
	}
	t.Totals.Face, t.Totals.total = s.shown(), true
	img := p.expose(s.Light, mix(s.Seed)^s.Photo)
	s.Phone.process(img)
	return img, t, nil
}

// shown is the side of the tray that is up.
func (s Spec) shown() card.Face {
	if s.Shows != 0 {
		return s.Shows
	}
	return s.Face
}

// cardPlace is the way from the card's mm to the plane.
func cardPlace(s Spec) func(x, y float64) (float64, float64) {
	dock := s.Face.DockCorner()
	return laid(dock, cardPt(dock.X+s.CardX, dock.Y+s.CardY), s.PrintScale, s.CardTurn)
}

// layPrints lays card and tag beside the tray.
func layPrints(s Spec, p *picture, v *view) {
	if s.Number != 0 {
		at := cardPt(card.Width+70, 55)
		if s.Face == card.Roots {
			at.X = -70
		}
		at.X, at.Y = at.X+s.TagX, at.Y+s.TagY
		sheet{p, v, laid(cardPt(card.TagWidth/2, card.TagHeight/2), at, s.PrintScale, s.TagTurn)}.tag(s.Number)
	}
	if s.Card {
		up := s.Face
		if s.CardUp != 0 {
			up = s.CardUp
		}
		sheet{p, v, cardPlace(s)}.card(up)
	}
}

func drawLines(s Spec, p *picture, v *view) {
	flat := onPlane(p, v)
	for _, l := range s.Lines {
		flat.ink(l.outline(), l.colour())
	}
}

// onPlane is a sheet whose own mm are the plane's.
func onPlane(p *picture, v *view) sheet {
	return sheet{p, v, func(x, y float64) (float64, float64) { return x, y }}
}

// plantSeed is the habit of what grows in a cell; it is the same on both faces.
func plantSeed(s Spec, row, column int) uint64 {
	if seed := s.Plants[cellName(row, column)].Seed; seed != 0 {
		return seed
	}
	return mix(s.Seed ^ mix(uint64(row)<<8|uint64(column)))
}

// look is the cell's medium: algae gather in some cells.
func (s Spec) look(seed uint64) mediumLook {
	r := habit(seed, 6)
	return mediumLook{wet: s.Wet, perlite: s.Perlite * between(r, 0.3, 1.7), algae: math.Min(0.9, s.Algae*2*r.Float64())}
}

func drawRoots(s Spec, p *picture, v *view, cells map[string]*CellTruth) {
	var c canvas
	medium, roots := mediumPalette().lit(s.MediumLight), rootPalette().lit(s.RootLight)
	palettes := []*palette{medium, medium}
	for row := range s.Tray.Rows {
		for column := range s.Tray.Columns {
			name := cellName(row, column)
			cell := &CellTruth{Face: card.Roots}
			cells[name] = cell
			plant := s.Plants[name]
			if !plant.Plug {
				continue
			}
			seed := plantSeed(s, row, column)
			at := s.Face.FromTray(s.Tray.centre(row, column))
			r := habit(seed, 7)
			g := roundPlug(r, at.X, at.Y, s.Tray.PlugBottomMM)
			reach := s.Tray.PlugBottomMM*0.56 + 2
			c.reset(g.x-reach, g.y-reach, g.x+reach, g.y+reach, rootPerMM)
			c.arc = nil
			texels := g.paintMedium(&c, r, s.look(seed))
			grown := rootsOf(g, seed, plant.RootLengthMM, plant.RootBrown)
			paintRoots(&c, grown)
			for len(palettes) < len(grown)+2 {
				palettes = append(palettes, roots)
			}
			g.paintDrops(&c, habit(seed, 9), s.Drops, len(grown)+2)
			cell.countRoots(&c, texels, grown)
			c.lay(p, v, 0, append(palettes[:len(grown)+2:len(grown)+2], medium), rootShadow, nil, g.gapShade)
			plant.inkLines(at, onPlane(p, v), orOne(s.RootLight), cell)
		}
	}
}

// countRoots reads one plug's truth off its canvas.
func (t *CellTruth) countRoots(c *canvas, plugTexels int, roots []*root) {
	t.Present, t.PlugPresent = true, true
	var area, brown int
	for _, x := range c.t {
		if x.owner() >= 2 && x.owner() < len(roots)+2 { // beyond are the mirrors of drops
			area++
			if x.tone() >= browningAt {
				brown++
			}
		}
	}
	t.PlugAreaMM2 = float64(plugTexels) * c.texelMM2()
	t.RootAreaMM2 = float64(area) * c.texelMM2()
	t.BrownRootAreaMM2 = float64(brown) * c.texelMM2()
	for i, r := range roots {
		t.RootLengthMM += r.visibleLength(c, i+2)
	}
}

// gapShade is the shade of the cup's rim on the plug's edge, deeper toward the lamp.
func (p *plug) gapShade(x, y float64) float32 {
	dx, dy := x-p.x, y-p.y
	r := math.Hypot(dx, dy)
	if r < 10 {
		return 1
	}
	in := p.reach(math.Atan2(dy, dx)) - r
	toLamp := (dx*fromUpperLeft[0] + dy*fromUpperLeft[1]) / r
	return float32(1 - (0.22+0.16*toLamp)*(1-smooth(in/(1.5+0.8*toLamp))))
}

// drawShoots draws the canopy and returns it, nil for no leaves.
func drawShoots(s Spec, p *picture, v *view, cells map[string]*CellTruth) *canopy {
	var c canvas
	medium := mediumPalette().lit(s.MediumLight)
	palettes := []*palette{medium, medium}
	var leaves []*leaf
	for row := range s.Tray.Rows {
		for column := range s.Tray.Columns {
			name := cellName(row, column)
			plant := s.Plants[name]
			cells[name] = &CellTruth{Face: card.Shoots, PlugPresent: plant.Plug}
			if !plant.Plug {
				continue
			}
			seed := plantSeed(s, row, column)
			at := s.Face.FromTray(s.Tray.centre(row, column))
			r := habit(seed, 8)
			side := topSide(s.Tray)
			g := squarePlug(r, at.X, at.Y, side, 5.5)
			c.reset(g.x-side*0.56, g.y-side*0.56, g.x+side*0.56, g.y+side*0.56, leafPerMM)
			g.paintMedium(&c, r, s.look(seed))
			c.lay(p, v, 0, palettes, shadow{}, nil, g.gapShade)
			leaves = append(leaves, leavesOf(name, plant, seed, at.X, at.Y)...)
		}
	}
	laySticks(s, p, v)
	y := newCanopy(append(leaves, neighbourLeaves(s)...))
	if y == nil {
		return nil
	}
	y.count(cells)
	y.shade(p, v, s.LeafHeight)
	y.lay(p, v, -s.LeafHeight, y.palettes, leafShadow, y.busy, nil)
	return y
}
