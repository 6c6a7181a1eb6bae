package synth

import (
	"image"
	"math"

	"traygauge/vision/card"
	"traygauge/vision/synth/painted/camera"
	"traygauge/vision/synth/painted/canopy"
	"traygauge/vision/synth/painted/canvas"
	"traygauge/vision/synth/painted/exposure"
	"traygauge/vision/synth/painted/num"
	"traygauge/vision/synth/painted/plugs"
	"traygauge/vision/synth/painted/sheet"
)

// Draw makes the picture, upright, and tells what it shows. The same Spec gives the same picture. It works on one core.
func Draw(s Spec) (*image.NRGBA, Truth, error) {
	if err := s.check(); err != nil {
		return nil, Truth{}, err
	}
	v := viewOf(s)
	t := newTruth(s, v)
	p := exposure.NewPicture(v.Width, v.Height)
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
	img := p.Expose(s.Light, num.Mix(s.Seed)^s.Photo)
	s.Phone.Process(img)
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
	return sheet.Laid(dock, sheet.CardPt(dock.X+s.CardX, dock.Y+s.CardY), s.PrintScale, s.CardTurn)
}

// layPrints lays card and tag beside the tray.
func layPrints(s Spec, p *exposure.Picture, v *camera.View) {
	if s.Number != 0 {
		at := sheet.CardPt(card.Width+70, 55)
		if s.Face == card.Roots {
			at.X = -70
		}
		at.X, at.Y = at.X+s.TagX, at.Y+s.TagY
		sheet.Onto(p, v, sheet.Laid(sheet.CardPt(card.TagWidth/2, card.TagHeight/2), at, s.PrintScale, s.TagTurn)).Tag(s.Number)
	}
	if s.Card {
		up := s.Face
		if s.CardUp != 0 {
			up = s.CardUp
		}
		sheet.Onto(p, v, cardPlace(s)).Card(up)
	}
}

func drawLines(s Spec, p *exposure.Picture, v *camera.View) {
	flat := sheet.OnPlane(p, v)
	for _, l := range s.Lines {
		l.InkOn(flat, card.Pt{}, 1)
	}
}

// plantSeed is the habit of what grows in a cell; it is the same on both faces.
func plantSeed(s Spec, row, column int) uint64 {
	if seed := s.Plants[cellName(row, column)].Seed; seed != 0 {
		return seed
	}
	return num.Mix(s.Seed ^ num.Mix(uint64(row)<<8|uint64(column)))
}

// look is the cell's medium: algae gather in some cells.
func (s Spec) look(seed uint64) plugs.MediumLook {
	r := num.Habit(seed, 6)
	return plugs.MediumLook{Wet: s.Wet, Perlite: s.Perlite * num.Between(r, 0.3, 1.7), Algae: math.Min(0.9, s.Algae*2*r.Float64())}
}

func drawRoots(s Spec, p *exposure.Picture, v *camera.View, cells map[string]*CellTruth) {
	var c canvas.Canvas
	medium, roots := plugs.MediumPalette().Lit(s.MediumLight), plugs.RootPalette().Lit(s.RootLight)
	palettes := []*canvas.Palette{medium, medium}
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
			r := num.Habit(seed, 7)
			g := plugs.RoundPlug(r, at.X, at.Y, s.Tray.PlugBottomMM)
			reach := s.Tray.PlugBottomMM*0.56 + 2
			c.Reset(g.X-reach, g.Y-reach, g.X+reach, g.Y+reach, plugs.RootPerMM)
			c.Arc = nil
			texels := g.PaintMedium(&c, r, s.look(seed))
			grown := plugs.RootsOf(g, seed, plant.RootLengthMM, plant.RootBrown)
			plugs.PaintRoots(&c, grown)
			for len(palettes) < len(grown)+2 {
				palettes = append(palettes, roots)
			}
			g.PaintDrops(&c, num.Habit(seed, 9), s.Drops, len(grown)+2)
			cell.countRoots(&c, texels, grown)
			c.Lay(p, v, 0, append(palettes[:len(grown)+2:len(grown)+2], medium), plugs.RootShadow, nil, g.GapShade)
			plant.inkLines(at, sheet.OnPlane(p, v), num.OrOne(s.RootLight), cell)
		}
	}
}

// countRoots reads one plug's truth off its canvas.
func (t *CellTruth) countRoots(c *canvas.Canvas, plugTexels int, roots []*plugs.Root) {
	t.Present, t.PlugPresent = true, true
	seen := plugs.CountRoots(c, plugTexels, roots)
	t.PlugAreaMM2, t.RootAreaMM2, t.BrownRootAreaMM2, t.RootLengthMM = seen.PlugMM2, seen.RootMM2, seen.BrownMM2, seen.LengthMM
}

// shoot is what stands above the plant's plug.
func (p Plant) shoot() canopy.Shoot {
	return canopy.Shoot{Leaves: p.Leaves, LengthMM: p.LeafLengthMM, Yellow: p.Yellow, Interveinal: p.Interveinal, Edge: p.YellowEdge, Tip: p.BrownTip}
}

// drawShoots draws the canopy and returns it, nil for no leaves.
func drawShoots(s Spec, p *exposure.Picture, v *camera.View, cells map[string]*CellTruth) *canopy.Canopy {
	var c canvas.Canvas
	medium := plugs.MediumPalette().Lit(s.MediumLight)
	palettes := []*canvas.Palette{medium, medium}
	var leaves []*canopy.Leaf
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
			r := num.Habit(seed, 8)
			side := topSide(s.Tray)
			g := plugs.SquarePlug(r, at.X, at.Y, side, 5.5)
			c.Reset(g.X-side*0.56, g.Y-side*0.56, g.X+side*0.56, g.Y+side*0.56, canopy.LeafPerMM)
			g.PaintMedium(&c, r, s.look(seed))
			c.Lay(p, v, 0, palettes, canvas.Shadow{}, nil, g.GapShade)
			leaves = append(leaves, canopy.LeavesOf(name, plant.shoot(), seed, at.X, at.Y)...)
		}
	}
	laySticks(s, p, v)
	y := canopy.NewCanopy(append(leaves, neighbourLeaves(s)...))
	if y == nil {
		return nil
	}
	for name, a := range y.Count() {
		cell := cells[name]
		cell.LeafAreaMM2, cell.ChloroticAreaMM2, cell.NecroticAreaMM2, cell.StalkAreaMM2 = a.Leaf, a.Yellow, a.Dead, a.Stalk
		cell.Present = a.Leaf > 0
	}
	y.LayOn(p, v, s.LeafHeight)
	return y
}

// viewOf is the camera over the middle of tray and card, but for its own aim.
func viewOf(s Spec) *camera.View {
	x, y := middle(s)
	return camera.NewView(s.Camera, x, y)
}

// middle is the middle of the smallest upright rectangle that holds tray and card.
func middle(s Spec) (x, y float64) {
	a := s.Face.FromTray(0, 0)
	b := s.Face.FromTray(math.Max(s.Tray.LengthMM, card.Width), s.Tray.WidthMM)
	return (a.X + b.X) / 2, b.Y / 2
}

// inkLines lays the plant's lines on its plug and adds up their truth.
func (p Plant) inkLines(at card.Pt, flat sheet.Sheet, light float64, truth *CellTruth) {
	for _, l := range p.Lines {
		l.InkOn(flat, at, light)
		truth.RootAreaMM2 += l.AreaMM2()
		truth.RootLengthMM += l.LengthMM()
	}
}
