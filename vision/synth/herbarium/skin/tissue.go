package skin

import (
	"math"

	"traygauge/vision/synth/herbarium/num"
)

// Tissue is what a crop's leaves are made of.
type Tissue struct {
	Palette
	Surface
}

// Wear is what one leaf has of its own.
type Wear struct {
	Age  float64 // 0 for the youngest to 1 for the oldest
	Ill  float64 // how far its plant has yellowed
	Tone num.LCH // by how much its plant's colour differs from the crop's
	Long float64 // mm, with its stalk
	Seed bool    // a seed leaf
}

// Skins draws the skins of a leaf's blade and stalk.
func (t *Tissue) Skins(d num.Dice, a *Ailment, l Wear) (blade, stem *Skin) {
	colour := func(k num.LCH) num.LCH {
		return num.LCH{L: num.Clamp(k.L+l.Tone.L, 8, 90), C: max(2, k.C+l.Tone.C), H: k.H + l.Tone.H}
	}
	own := colour(t.healthy.Toward(t.young, math.Pow(1-l.Age, 2))).Scattered(d, 1.5, 1.5, 1)
	yellow, dead := a.strike(d, l.Age, l.Ill)
	full := t.full.Scattered(d, 2, 3, 2)
	blade = &Skin{
		Surface: t.Surface, blade: rampOf(own, full, t.bleached), vein: rampOf(colour(t.vein), full, t.bleached),
		under: rampOf(colour(t.under), full, t.bleached), blush: t.blush.Scattered(d, 2, 3, 6).Light(), marks: t.marks.Light(),
		lit:   num.LCH{L: own.L + 16, C: own.C + 22, H: own.H - 8}.Light(),
		where: t.where, blushed: t.blushed * d.Between(0.6, 1.1), marked: t.marked, dark: t.dark.Scattered(d, 4, 3, 5).Light(),
		tan: t.tan.Scattered(d, 6, 4, 4).Light(), fade: yellow, decay: dead, phase: d.Float64(),
	}
	blade.sized(d, l.Long)
	blade.margin = l.Long * d.Between(0.02, 0.07)
	if l.Seed {
		blade.quilt, blade.ripple, blade.netted, blade.veiny, blade.marked = 0, 0, 0, blade.veiny*0.3, unmarked
	}
	return blade, t.stemSkin(d, blade, colour(t.stalks))
}

// sized fits the relief to a leaf of the given length in mm, and lays its noises out anew.
func (k *Skin) sized(d num.Dice, long float64) {
	size := num.Clamp(math.Sqrt(long/40), 0.3, 1.4)
	for _, v := range []*float64{&k.quilt, &k.sunk, &k.crumple, &k.crumpled, &k.ripple, &k.rippled, &k.curl, &k.curled} {
		*v *= size
	}
	k.wander, k.rich = num.PlotOf(d, num.PerWave, k.crumpled), num.PlotOf(d, num.PerWave, d.Wide(3, 9))
	k.cell = num.PlotOf(d, num.PerCell, k.pebbled)
	slow := num.Clamp(long*d.Between(0.3, 0.6), 4, 40) // mm from one rise to the next
	k.swell, k.swollen = num.PlotOf(d, num.PerWave, slow), k.rolling*slow/3
}

func (t *Tissue) stemSkin(d num.Dice, blade *Skin, colour num.LCH) *Skin {
	r := rampOf(colour.Scattered(d, 2, 2, 1.5), t.full, t.bleached)
	s := *blade
	s.blade, s.vein, s.under, s.Tube = r, r, r, true
	s.where, s.marked, s.netted, s.mottle, s.paler, s.curl = noBlush, unmarked, 0, 0.05, 0, 0
	s.fade = fade{whole: 0.7 * blade.fade.whole, plot: blade.fade.plot}
	s.decay = decay{whole: blade.decay.whole, plot: blade.decay.plot}
	return &s
}

// SurfaceOf draws how a crop's leaves are made and shine; straps and threads are smoother than blades.
func SurfaceOf(d num.Dice, narrow bool) Surface {
	s := Surface{
		rolling: d.Wide(0.08, 0.6), quilt: d.Some(0.4, 0.08, 0.55) + d.Between(0, 0.06), sunk: d.Between(0, 0.35), crumple: d.Wide(0.05,
			0.5), crumpled: d.Wide(4, 12),
		pebble: d.Some(0.5, 0.02, 0.12), pebbled: d.Wide(0.7, 2), ripple: d.Some(0.4, 0.15, 1.1), rippled: d.Wide(3, 14),
		Cup: d.Around(0, 0.3), gloss: d.Wide(0.01, 0.5), rough: d.Wide(0.14, 0.55), broken: d.Between(0.3, 1),
		sheen: d.Wide(0.008, 0.07), fuzz: d.Some(0.2, 0.05, 0.35), dust: d.Some(0.1, 0.05, 0.35), through: d.Wide(0.04, 0.5),
		mottle: d.Wide(0.04, 0.15), veiny: d.Between(0.12, 0.75), netted: d.Some(0.5, 0.03, 0.28), rib: d.Between(0.4, 1),
		keep: d.Between(0, 0.7), paler: d.Some(0.6, 0.1, 0.6), curl: d.Around(0, 0.12), curled: d.Wide(0.4, 2.5),
	}
	s.gloss *= num.Clamp(0.2/s.rough, 0.3, 1) // the wider a surface spreads the lamp's light, the less there is of it in one place
	if s.fuzz > 0 {
		s.gloss *= 0.3
	}
	if narrow {
		s.quilt, s.ripple, s.pebble, s.netted, s.crumple = 0, s.ripple*0.3, 0, 0, s.crumple*0.4
		s.veiny *= 0.5
	}
	return s
}
