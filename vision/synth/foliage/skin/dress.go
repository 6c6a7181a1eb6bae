package skin

import (
	"math"

	"traygauge/vision/synth/foliage/num"
	"traygauge/vision/synth/foliage/surface"
)

// Looks are what the tissue of all plants of a sort looks like, and what ails them.
type Looks struct {
	Complexion Complexion
	Health     Health
	Wet        float64 // drops for each cm² of leaf; 0 for dry
}

// Tissue is one plant's.
type Tissue struct {
	*Looks
	d       num.Dice
	suffers float64 // 0 to 1, see Health
	shiftL  float64 // its own lightness and hue
	shiftH  float64
}

// NewTissue draws how one plant departs from its sort, and how badly it does.
func (k *Looks) NewTissue(d num.Dice) *Tissue {
	t := &Tissue{Looks: k, d: d}
	t.shiftL, t.shiftH = k.Complexion.scatterL*d.Bell(), k.Complexion.scatterH*d.Bell()
	if d.Chance(k.Health.hit) {
		t.suffers = d.Between(0.05, 1)
	}
	return t
}

// Blade is the skin of a leaf's blade, its age from 0 youngest to 1 oldest, with its length and half-width in mm. Veins hold counts;
// their widths follow from the blade's. Grassy ones have no drawn-out midrib.
func (t *Tissue) Blade(age float64, net Veins, long, half float64, grassy bool) surface.Coat {
	d, c := t.d, t.Complexion
	s := t.baseSkin(long, half)
	fresh := num.Ramp(0.45, 0, age)
	lift, turn := t.shiftL+0.6*c.scatterL*d.Bell(), t.shiftH+0.6*c.scatterH*d.Bell()
	s.top, s.under = c.top.To(c.young, fresh).Shifted(lift, turn), c.under.To(c.young, fresh).Shifted(lift, turn)
	s.veins = net
	s.veins.midrib = num.Clamp(c.veinWide*long*d.Between(0.8, 1.2), 0.15, 2.2)
	s.veins.width = num.Clamp(0.4*s.veins.midrib, 0.1, 0.8)
	if grassy {
		s.veins.midrib = num.Clamp(0.3*half, 0.1, 0.8)
	}
	s.veinColour, s.veinShows = c.veinColour.Shifted(lift, turn), c.veinShows
	s.paleEdge = c.pale
	t.Health.ail(d, s, t.suffers, age)
	if t.Wet > 0 && half > 1.5 {
		s.drops = t.wetting(long, half)
	}
	return s
}

// Stalk is the skin of a stalk or a stem.
func (t *Tissue) Stalk(age, long, wide float64) surface.Coat {
	c := t.Complexion
	s := t.baseSkin(long, wide)
	s.top = c.stalk.Shifted(t.shiftL, t.shiftH)
	s.under = s.top
	s.blushed = c.blushStalk
	t.Health.ail(t.d, s, t.suffers*0.7, age)
	s.dying = death{colour: t.Health.dying.colour, second: t.Health.dying.second}
	s.sick.edge, s.sick.along, s.thin = 0, 0, 0.1
	return s
}

func (t *Tissue) baseSkin(long, half float64) *skin {
	d, c := t.d, t.Complexion
	return &skin{
		length: long, half: half, x: d.Between(0, 256), y: d.Between(0, 256),
		blush: c.blush, blushed: num.Clamp(c.blushed*d.Between(0.7, 1.2), 0, 1), mottle: c.mottle, cells: c.cells, thin: c.thin,
		gloss: c.gloss, rough: c.rough, fuzz: c.fuzz, dust: c.dust * d.Float64(),
		bumps: c.bumps * num.Clamp(half/6, 0.25, 1), mesh: num.Clamp(0.16*half, 0.7, 2.6),
	}
}

// wetting is the drops on a blade.
func (t *Tissue) wetting(long, half float64) []surface.Drop {
	n := int(math.Round(t.Wet * long * half * 1.3 / 100 * t.d.Between(0.3, 1.7)))
	var drops []surface.Drop
	for range min(n, 40) {
		r := t.d.Scaled(0.15, 0.9)
		if t.d.Chance(0.06) {
			r = t.d.Between(0.9, 2)
		}
		drops = append(drops, surface.Drop{A: t.d.Between(0.08, 0.95) * long, B: t.d.Between(-0.85, 0.85) * half, R: min(r, 0.4*half)})
	}
	return drops
}
