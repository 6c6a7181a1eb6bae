// Package skin is what a crop's leaves are made of: their colours, relief and gloss, how they yellow and die. In go a leaf's age and size
// and a spot of its blade; out comes what the leaf is there, dead share and all. It does not know where the leaf lies, nor the light.
package skin

import (
	"math"

	"traygauge/vision/synth/closeup"
	"traygauge/vision/synth/herbarium/canvas"
	"traygauge/vision/synth/herbarium/num"
	"traygauge/vision/synth/herbarium/shape"
)

// rampSteps is how many degrees of yellow a ramp has, from healthy to bleached.
const rampSteps = 17

type ramp [rampSteps]closeup.RGB

// rampOf returns the colours from healthy over full yellow, at three quarters, to bleached.
func rampOf(healthy, full, bleached num.LCH) *ramp {
	r := new(ramp)
	for i := range r {
		k := float64(i) / (rampSteps - 1)
		if k < 0.75 {
			r[i] = healthy.Toward(full, k/0.75).Light()
		} else {
			r[i] = full.Toward(bleached, (k-0.75)/0.25).Light()
		}
	}
	return r
}

func (r *ramp) at(degree float64) closeup.RGB {
	v := num.Clamp(degree, 0, 1) * (rampSteps - 1.001)
	i := int(v)
	return num.Blend(r[i], r[i+1], float32(v-float64(i)))
}

// Surface is how a crop's leaves are made and shine.
type Surface struct {
	rolling  float64 // typical slope of the blade's slow rise and fall
	quilt    float64 // mm that the blade swells between its side veins
	sunk     float64 // mm that the midrib lies lower
	crumple  float64 // mm of uneven rise and fall
	crumpled float64 // mm from one to the next
	pebble   float64 // mm of small swellings
	pebbled  float64 // mm from one to the next
	ripple   float64 // mm of waves along the edge
	rippled  float64 // mm from one to the next
	curl     float64 // mm that the outermost edge stands up
	curled   float64 // mm inward that it does
	Cup      float64 // slope at the edge beyond that of the sheet, up
	gloss    float64 // strength of the lamp's reflection
	rough    float64 // spread of the slopes that make it
	broken   float64 // how much of it is broken up
	sheen    float64 // share of the sky's light that is sent back white
	fuzz     float64 // light caught by hairs
	dust     float64 // share of the surface
	through  float64 // share of the lamp's light that goes through
	mottle   float64 // relative scatter of the colour's brightness
	paler    float64 // how much paler the blade is at its base and along the midrib
	veiny    float64 // how much side veins show
	netted   float64 // how much the finest veins show
	rib      float64 // how much the midrib shows
	keep     float64 // how much greener veins stay in a yellow leaf
}

// Skin is one leaf's surface.
type Skin struct {
	Surface
	blade, vein, under *ramp
	lit                closeup.RGB // colour of light that came through
	blush, marks       closeup.RGB
	where              blushing
	blushed            float64
	marked             marking
	margin             float64 // mm that marks on the edge go inward
	dark, tan          closeup.RGB
	fade               fade
	decay              decay
	Tube               bool // a stalk or stem
	wander, rich, cell num.Plot
	swell              num.Plot // of slow rise and fall over the blade
	swollen            float64  // mm of it
	phase              float64
}

// At returns the skin at a spot of a blade, inward mm from its edge.
func (k *Skin) At(b *shape.Blade, at shape.Spot, inward, under float64) canvas.Texture {
	n := num.Tables()
	s, y := at.S, at.Y
	half := b.HalfAt(s)
	wander, rich := k.wander.In(&n.Soft, s, y), k.rich.In(&n.Rich, s, y)
	v := b.Veins.At(s, y, b.Long, half, wander)
	yellow := k.fade.at(s/b.Long, inward, &v, s, y, wander, rich)
	var dead, deep, halo float64
	if !k.decay.none() {
		dead, deep, halo = k.decay.at(s, b.Long, inward, s, y, wander, rich)
	}
	u, w := k.cell.On(s, y)
	far, wall, kind := n.Cells.At(u, w)
	net := 1 - num.Ease(0, 0.35, wall)
	out := canvas.Texture{Dead: float32(dead), Gloss: float32(k.shine(rich, wander, u, w) * (1 - 0.8*dead))}
	out.Own = k.colour(&v, s/b.Long, math.Abs(y)/half, inward, max(yellow, halo), rich, wander, net, under)
	if dead > 0 {
		out.Own = num.Blend(out.Own, num.Blend(k.dark, k.tan, float32(num.Clamp(deep*0.85+0.3*rich, 0, 1))), float32(dead))
	}
	if k.dust > 0 {
		out.Pale = float32(k.dust * num.Ease(0.2, 0.9, 0.5+0.5*rich+0.3*kind))
	}
	out.Bump = float32(k.relief(&v, s, y, half, inward, wander, rich, far, dead))
	return out
}

// texelMM is the texel that veins are softened to, in mm.
const texelMM = 1.0 / 6

// drawnShare is how much of a line shows whose edge is the given mm away.
func drawnShare(away float64) float64 { return num.Clamp(0.5-away/texelMM, 0, 1) }

func (k *Skin) colour(v *shape.Veined, t, out, inward, yellow, rich, wander, net, under float64) closeup.RGB {
	bright := float32(1 + k.mottle*(rich+0.4*wander))
	own := num.Scaled(k.blade.at(yellow), bright)
	if k.paler > 0 {
		own = num.Blend(own, k.vein.at(yellow), float32(k.paler*max(0, 1-1.6*t-out, 0.5-1.5*out)))
	}
	if under > 0 {
		own = num.Blend(own, num.Scaled(k.under.at(yellow), bright), float32(under))
	}
	own = k.mark(own, v, out, inward, rich, wander)
	own = k.redden(own, v, t, inward, rich, wander)
	lines := max(k.rib*drawnShare(v.Mid), k.veiny*drawnShare(v.Side), k.netted*net)
	if lines > 0 {
		own = num.Blend(own, k.vein.at(yellow*(1-k.keep)), float32(lines))
	}
	for i, v := range own {
		if v > num.MostReflected {
			own[i] = num.MostReflected
		}
	}
	return own
}

// redden blends in the second colour.
func (k *Skin) redden(own closeup.RGB, v *shape.Veined, t, inward, rich, wander float64) closeup.RGB {
	share := 0.0
	switch k.where {
	case noBlush, onVeins:
		return own
	case onEdge:
		share = 1 - num.Ease(0, 1, inward/3+0.4*rich)
	case atBase:
		share = 1 - num.Ease(0, 1, t*2.2+0.3*rich)
	case mottled:
		share = 0.8 * num.Ease(-0.45, 0.8, rich+0.5*wander)
	case allOver:
		share = 0.75 + 0.25*num.Ease(0, 0.6, v.Between) + 0.25*rich
	}
	return num.Blend(own, k.blush, float32(num.Clamp(share*k.blushed, 0, 1)))
}

// mark blends in white or cream marks.
func (k *Skin) mark(own closeup.RGB, v *shape.Veined, out, inward, rich, wander float64) closeup.RGB {
	share := 0.0
	switch k.marked {
	case unmarked:
		return own
	case margin:
		share = 1 - num.Ease(0.9, 1.1, inward/k.margin+0.5*wander+0.3*rich)
	case splashes:
		share = num.Ease(0.3, 0.36, wander*0.6+rich*0.6)
	case besideVeins:
		share = 1 - num.Ease(0.2, 0.5, v.Between+0.3*rich)
	}
	return num.Blend(own, k.marks, float32(share))
}

// shine is the share of the gloss that is left of a surface that is not even.
func (k *Skin) shine(rich, wander, u, w float64) float64 {
	flecks := float64(num.Tables().Soft.At(u*2.7, w*2.7))
	return 1 - k.broken*(1-num.Ease(-0.25, 0.45, 0.7*rich+0.5*flecks+0.2*wander))
}

// relief returns how high the surface lies over the smooth sheet, in mm.
func (k *Skin) relief(v *shape.Veined, s, y, half, inward, wander, rich, far, dead float64) float64 {
	if k.Tube {
		return 0.03 * rich
	}
	h := k.crumple*wander + k.swollen*k.swell.In(&num.Tables().Soft, s, y)
	if k.quilt > 0 {
		h += k.quilt * v.Between * (2 - v.Between) * num.Ease(0, 1.5, v.Mid) * (1 + 0.5*rich)
	}
	if sink := 1 - v.Mid/1.2; sink > 0 {
		h -= k.sunk * sink * sink
	}
	h -= k.pebble * far * far
	if up := 1 - inward/k.curled; up > 0 {
		h += k.curl * up * up
	}
	if k.ripple > 0 {
		out := min(1.2, math.Abs(y)/half)
		h += k.ripple * out * out * float64(num.Wave(s/k.rippled+k.phase+0.35*wander+0.25*sideways(y)))
	}
	return h + dead*0.25*rich
}

// sideways tells both sides of a blade apart, so that their edges do not wave alike.
func sideways(y float64) float64 {
	if y < 0 {
		return 1
	}
	return 0
}

// Shadow is how much of the lamp's light goes through, by colour.
func (k *Skin) Shadow() [3]float32 {
	v := float32(0.5 * k.through)
	return [3]float32{v * k.lit[0], v * k.lit[1], v * k.lit[2]}
}

// Hide is what the skin does with light.
func (k *Skin) Hide() *canvas.Hide {
	return &canvas.Hide{Tube: k.Tube, Lit: k.lit, Through: k.through, Gloss: k.gloss, Rough: k.rough, Sheen: k.sheen, Fuzz: k.fuzz}
}

// Alive keeps the whole of it from being dead.
func (k *Skin) Alive() { k.decay.whole = false }

// Level takes away how its edges stand up.
func (k *Skin) Level() { k.Cup = 0 }

// Round is the same skin round a tube.
func (k *Skin) Round() *Skin {
	t := *k
	t.Tube = true
	return &t
}

// Even is a skin of one colour without any relief, for what is to be seen of sheets alone.
func Even(own num.LCH) *Skin {
	r := rampOf(own, own, own)
	return &Skin{Surface: Surface{curled: 1, rippled: 1, rough: 1}, blade: r, vein: r, under: r}
}
