package synth

import (
	"fmt"
	"math"
	"math/rand/v2"

	"traygauge/vision/card"
	"traygauge/vision/synth/closeup"
	"traygauge/vision/synth/painted/canopy"
	"traygauge/vision/synth/painted/canvas"
	"traygauge/vision/synth/painted/exposure"
	"traygauge/vision/synth/painted/num"
	"traygauge/vision/synth/painted/plugs"
	"traygauge/vision/synth/painted/sheet"
)

// closeUpFine is how many texels of the canvas lie across one of a close-up.
const closeUpFine = 2

// CloseUpRoots draws one plug's bottom as photos of this package show it, without camera: 512 texels each way, 12 a mm.
func CloseUpRoots(r *rand.Rand) *closeup.Roots {
	const side, perMM = 512, 12
	s := closeUpSpec(r)
	out := closeup.NewRoots(side, perMM)
	name := cellName(1, 1)
	at := s.Face.FromTray(s.Tray.centre(1, 1))
	seed := plantSeed(s, 1, 1)
	habits := num.Habit(seed, 7)
	g := plugs.RoundPlug(habits, at.X, at.Y, s.Tray.PlugBottomMM)
	half := side / 2.0 / perMM
	var c canvas.Canvas
	c.Reset(at.X-half, at.Y-half, at.X+half-1e-6, at.Y+half-1e-6, perMM*closeUpFine)
	palettes := []*canvas.Palette{plugs.MediumPalette().Lit(s.MediumLight), plugs.MediumPalette().Lit(s.MediumLight)}
	plant := s.Plants[name]
	var grown []*plugs.Root
	if plant.Plug {
		g.PaintMedium(&c, habits, s.look(seed))
		grown = plugs.RootsOf(g, seed, plant.RootLengthMM, plant.RootBrown)
		plugs.PaintRoots(&c, grown)
		g.PaintDrops(&c, num.Habit(seed, 9), s.Drops, len(grown)+2)
	}
	for range grown {
		palettes = append(palettes, plugs.RootPalette().Lit(s.RootLight))
	}
	palettes = append(palettes, palettes[0])
	u := &upClose{out: out, c: &c, ground: newGround(s), palettes: palettes, last: len(grown) + 1, plug: g}
	u.look()
	for i, r := range grown {
		u.follow(r, i+2)
	}
	return out
}

// closeUpSpec is a tray of three by three cells of which the middle one is drawn.
func closeUpSpec(r *rand.Rand) Spec {
	s := Defaults(card.Roots)
	s.Tray = Tray{Rows: 3, Columns: 3, LengthMM: 190, WidthMM: 180, PitchMM: 50, FirstU: 45, FirstV: 40, PlugBottomMM: num.Between(r, 30, 37)}
	s.Seed = r.Uint64()
	s.TrayLight, s.RootLight, s.MediumLight = num.Between(r, 0.015, 0.06), num.Between(r, 0.85, 1.2), num.Between(r, 0.7, 1.8)
	s.Wet = r.Float64() < 0.25
	s.Perlite, s.Drops = 14*r.Float64()*r.Float64(), 0
	if r.Float64() < 0.2 {
		s.Drops = num.Between(r, 1, 8)
	}
	if r.Float64() < 0.2 {
		s.Algae = 0.3 * r.Float64()
	}
	p := Plant{Plug: r.Float64() > 0.04, RootLengthMM: num.Between(r, 20, 700)}
	if r.Float64() < 0.25 {
		p.RootLengthMM = num.Between(r, 700, 2600)
	}
	if r.Float64() < 0.5 {
		p.RootBrown = r.Float64()
	}
	s.Plants = map[string]Plant{cellName(1, 1): p}
	return s
}

// upClose turns a canvas into a close-up.
type upClose struct {
	out      *closeup.Roots
	c        *canvas.Canvas
	ground   *ground
	palettes []*canvas.Palette
	last     int // the topmost root's number
	plug     *plugs.Plug
}

func (u *upClose) look() {
	c, n := u.c, float32(closeUpFine*closeUpFine)
	for i, t := range c.T {
		x, y := i%c.W, i/c.W
		to := y/closeUpFine*u.out.Side + x/closeUpFine
		mx, my := c.X0+(float64(x)+0.5)/c.PerMM, c.Y0+(float64(y)+0.5)/c.PerMM
		var light num.RGB
		switch owner := t.Owner(); {
		case owner == 0:
			light = u.ground.at(mx, my, 1/c.PerMM)
		default:
			light = u.lit(i, t).Times(u.plug.GapShade(mx, my))
			u.out.Plug[to] += 1 / n
			if owner >= 2 && owner <= u.last {
				if t.Tone() >= plugs.BrowningAt {
					u.out.Brown[to] += 1 / n
				} else {
					u.out.White[to] += 1 / n
				}
			}
		}
		for k := range light {
			u.out.Light[to][k] += light[k] / n / sheet.Paper
		}
	}
}

// lit is the light of a texel that something lies on, with the shadows of what lies higher.
func (u *upClose) lit(i int, t canvas.Texel) num.RGB {
	gain := float32(t.Shade()) / 128
	for _, d := range plugs.RootShadow.Taps {
		k := i + int(math.Round(d[1]*u.c.PerMM))*u.c.W + int(math.Round(d[0]*u.c.PerMM))
		if k >= 0 && k < len(u.c.T) && u.c.T[k].Owner() > t.Owner() {
			gain *= plugs.RootShadow.Share
		}
	}
	return u.palettes[t.Owner()][t.Tone()].Times(gain)
}

// follow adds a root's centre line where that root is on top.
func (u *upClose) follow(r *plugs.Root, owner int) {
	r.EachVisible(u.c, owner, func(at int, mm float64) {
		u.out.Line[at/u.c.W/closeUpFine*u.out.Side+at%u.c.W/closeUpFine] += float32(mm)
	})
}

// CloseUpLeaves draws a part of a canopy as photos of this package show it, without camera: 1024 texels each way, 6 a mm.
func CloseUpLeaves(r *rand.Rand) *closeup.Leaves {
	const side, perMM = 1024, 6
	s := closeUpCanopy(r)
	s.Camera.Width, s.Camera.Height = side, side
	v := viewOf(s)
	// so high up that all is seen straight on, and by so long a lens that a mm is perMM pixels
	const far = 1e6
	middle := s.Face.FromTray(s.Tray.LengthMM/2, s.Tray.WidthMM/2)
	v.C = [3]float64{middle.X, middle.Y, -far}
	v.F, v.K1 = perMM*far, 0
	p := exposure.NewPicture(side, side)
	newGround(s).draw(p, v)
	out := closeup.NewLeaves(side, perMM)
	cells := map[string]*CellTruth{}
	y := drawShoots(s, p, v, cells)
	for i := range out.Light {
		for k := range 3 {
			out.Light[i][k] = p.P[3*i+k] / sheet.Paper
		}
	}
	px := func(x, y float64) [2]float64 {
		return [2]float64{(x-middle.X)*perMM + side/2.0, (y-middle.Y)*perMM + side/2.0}
	}
	at := s.Face.FromTray(s.Tray.centre(0, 0))
	out.Middle, out.Pitch = px(at.X, at.Y), s.Tray.PitchMM*perMM
	if y != nil {
		label(out, y, middle.X-side/2.0/perMM, middle.Y-side/2.0/perMM, px)
	}
	return out
}

// label fills in what each texel of a close-up shows; (x0, y0) is its corner in mm.
func label(out *closeup.Leaves, y *canopy.Canopy, x0, y0 float64, px func(x, y float64) [2]float64) {
	numbers := map[string]uint8{}
	plants := make([]uint8, len(y.Leaves)+1)
	for i, l := range y.Leaves {
		name := l.Cell
		if name == "" { // of a neighbour tray: each plant has its own base
			name = fmt.Sprint(l.X, l.Y)
		}
		if numbers[name] == 0 {
			out.Bases = append(out.Bases, px(l.X, l.Y))
			numbers[name] = uint8(len(out.Bases))
		}
		plants[i+1] = numbers[name]
	}
	const fine = 3
	for i := range out.Leaf {
		var hits, dead int
		var own num.RGB
		var count [256]uint8
		for k := range fine * fine {
			tx := x0 + (float64(i%out.Side)+(float64(k%fine)+0.5)/fine)/out.PerMM
			ty := y0 + (float64(i/out.Side)+(float64(k/fine)+0.5)/fine)/out.PerMM
			at := y.Index(tx, ty)
			if at < 0 || y.T[at] == 0 {
				continue
			}
			t := y.T[at]
			hits++
			count[plants[t.Owner()]]++
			if t.Tone() >= canopy.NecroticTone && t.Tone() < canopy.StalkTone {
				dead++
			}
			c := y.Palettes[t.Owner()][t.Tone()]
			own = num.RGB{own[0] + c[0], own[1] + c[1], own[2] + c[2]}
		}
		if hits == 0 {
			continue
		}
		out.Leaf[i], out.Dead[i] = float32(hits)/(fine*fine), float32(dead)/(fine*fine)
		out.Own[i] = closeup.RGB(own.Times(1 / float32(hits) / sheet.Paper))
		most := uint8(0)
		for p, n := range count {
			if n > most {
				out.Plant[i], most = uint8(p), n
			}
		}
	}
}

// closeUpCanopy is a tray of which the middle part is drawn.
func closeUpCanopy(r *rand.Rand) Spec {
	s := Defaults(card.Shoots)
	pitch := num.Between(r, 38, 60)
	s.Tray = Tray{Rows: 5, Columns: 5, LengthMM: 5*pitch + 20, WidthMM: 5*pitch + 20, PitchMM: pitch, FirstU: pitch/2 + 10,
		FirstV: pitch/2 + 10, PlugBottomMM: 0.68 * pitch}
	s.Seed, s.Card, s.Number = r.Uint64(), false, 0
	s.TrayLight, s.MediumLight = num.Between(r, 0.015, 0.06), num.Between(r, 0.7, 1.8)
	s.Perlite = 14 * r.Float64()
	if r.Float64() < 0.25 {
		s.Algae = 0.3 * r.Float64()
	}
	if r.Float64() < 0.15 {
		s.Sticks = 2
	}
	length := num.Between(r, 4, 0.9*pitch)
	yellow, veins, tips := 0.0, 0.0, 0.0
	if r.Float64() < 0.5 {
		yellow, veins, tips = r.Float64()*r.Float64(), r.Float64()*r.Float64(), 0.6*r.Float64()*r.Float64()
	}
	s.Plants = map[string]Plant{}
	for _, name := range s.Tray.Cells() {
		if r.Float64() < 0.06 {
			continue
		}
		p := Plant{Plug: true, Leaves: 2 + r.IntN(6), LeafLengthMM: length * num.Between(r, 0.6, 1.3), Yellow: yellow * r.Float64() * 2,
			Interveinal: veins * r.Float64() * 2}
		p.YellowEdge, p.BrownTip = 0.5*veins*r.Float64(), tips*r.Float64()
		if r.Float64() < 0.05 {
			p.Leaves = 0
		}
		s.Plants[name] = p
	}
	return s
}
