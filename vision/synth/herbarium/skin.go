package herbarium

import (
	"math"

	"traygauge/vision/synth/closeup"
)

// rampSteps is how many degrees of yellow a ramp has, from healthy to bleached.
const rampSteps = 17

type ramp [rampSteps]closeup.RGB

// rampOf returns the colours from healthy over full yellow, at three quarters, to bleached.
func rampOf(healthy, full, bleached lch) *ramp {
	r := new(ramp)
	for i := range r {
		k := float64(i) / (rampSteps - 1)
		if k < 0.75 {
			r[i] = healthy.toward(full, k/0.75).light()
		} else {
			r[i] = full.toward(bleached, (k-0.75)/0.25).light()
		}
	}
	return r
}

func (r *ramp) at(degree float64) closeup.RGB {
	v := clamp(degree, 0, 1) * (rampSteps - 1.001)
	i := int(v)
	return blend(r[i], r[i+1], float32(v-float64(i)))
}

// surface is how a crop's leaves are made and shine.
type surface struct {
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
	cup      float64 // slope at the edge beyond that of the sheet, up
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

// skin is one leaf's surface.
type skin struct {
	surface
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
	tube               bool // a stalk or stem
	wander, rich, cell plot
	swell              plot    // of slow rise and fall over the blade
	swollen            float64 // mm of it
	phase              float64
}

// texture is what a skin is at a spot.
type texture struct {
	own   closeup.RGB
	dead  float32
	bump  float32 // mm
	gloss float32 // share of the skin's gloss
	pale  float32 // share that dust covers
}

// at returns the skin at a spot of a blade, inward mm from its edge.
func (k *skin) at(b *blade, at spot, inward, under float64) texture {
	n := tables()
	s, y := at.s, at.y
	half := b.halfAt(s)
	wander, rich := k.wander.in(&n.soft, s, y), k.rich.in(&n.rich, s, y)
	v := b.veins.at(s, y, b.long, half, wander)
	yellow := k.fade.at(s/b.long, inward, &v, s, y, wander, rich)
	var dead, deep, halo float64
	if !k.decay.none() {
		dead, deep, halo = k.decay.at(s, b.long, inward, s, y, wander, rich)
	}
	u, w := k.cell.on(s, y)
	far, wall, kind := n.cells.at(u, w)
	net := 1 - ease(0, 0.35, wall)
	out := texture{dead: float32(dead), gloss: float32(k.shine(rich, wander, u, w) * (1 - 0.8*dead))}
	out.own = k.colour(&v, s/b.long, math.Abs(y)/half, inward, max(yellow, halo), rich, wander, net, under)
	if dead > 0 {
		out.own = blend(out.own, blend(k.dark, k.tan, float32(clamp(deep*0.85+0.3*rich, 0, 1))), float32(dead))
	}
	if k.dust > 0 {
		out.pale = float32(k.dust * ease(0.2, 0.9, 0.5+0.5*rich+0.3*kind))
	}
	out.bump = float32(k.relief(&v, s, y, half, inward, wander, rich, far, dead))
	return out
}

// texelMM is the texel that veins are softened to, in mm.
const texelMM = 1.0 / 6

// drawnShare is how much of a line shows whose edge is the given mm away.
func drawnShare(away float64) float64 { return clamp(0.5-away/texelMM, 0, 1) }

func (k *skin) colour(v *veined, t, out, inward, yellow, rich, wander, net, under float64) closeup.RGB {
	bright := float32(1 + k.mottle*(rich+0.4*wander))
	own := scaled(k.blade.at(yellow), bright)
	if k.paler > 0 {
		own = blend(own, k.vein.at(yellow), float32(k.paler*max(0, 1-1.6*t-out, 0.5-1.5*out)))
	}
	if under > 0 {
		own = blend(own, scaled(k.under.at(yellow), bright), float32(under))
	}
	own = k.mark(own, v, out, inward, rich, wander)
	own = k.redden(own, v, t, inward, rich, wander)
	lines := max(k.rib*drawnShare(v.mid), k.veiny*drawnShare(v.side), k.netted*net)
	if lines > 0 {
		own = blend(own, k.vein.at(yellow*(1-k.keep)), float32(lines))
	}
	for i, v := range own {
		if v > mostReflected {
			own[i] = mostReflected
		}
	}
	return own
}

// redden blends in the second colour.
func (k *skin) redden(own closeup.RGB, v *veined, t, inward, rich, wander float64) closeup.RGB {
	share := 0.0
	switch k.where {
	case noBlush, onVeins:
		return own
	case onEdge:
		share = 1 - ease(0, 1, inward/3+0.4*rich)
	case atBase:
		share = 1 - ease(0, 1, t*2.2+0.3*rich)
	case mottled:
		share = 0.8 * ease(-0.45, 0.8, rich+0.5*wander)
	case allOver:
		share = 0.75 + 0.25*ease(0, 0.6, v.between) + 0.25*rich
	}
	return blend(own, k.blush, float32(clamp(share*k.blushed, 0, 1)))
}

// mark blends in white or cream marks.
func (k *skin) mark(own closeup.RGB, v *veined, out, inward, rich, wander float64) closeup.RGB {
	share := 0.0
	switch k.marked {
	case unmarked:
		return own
	case margin:
		share = 1 - ease(0.9, 1.1, inward/k.margin+0.5*wander+0.3*rich)
	case splashes:
		share = ease(0.3, 0.36, wander*0.6+rich*0.6)
	case besideVeins:
		share = 1 - ease(0.2, 0.5, v.between+0.3*rich)
	}
	return blend(own, k.marks, float32(share))
}

// shine is the share of the gloss that is left of a surface that is not even.
func (k *skin) shine(rich, wander, u, w float64) float64 {
	flecks := float64(tables().soft.at(u*2.7, w*2.7))
	return 1 - k.broken*(1-ease(-0.25, 0.45, 0.7*rich+0.5*flecks+0.2*wander))
}

// relief returns how high the surface lies over the smooth sheet, in mm.
func (k *skin) relief(v *veined, s, y, half, inward, wander, rich, far, dead float64) float64 {
	if k.tube {
		return 0.03 * rich
	}
	h := k.crumple*wander + k.swollen*k.swell.in(&tables().soft, s, y)
	if k.quilt > 0 {
		h += k.quilt * v.between * (2 - v.between) * ease(0, 1.5, v.mid) * (1 + 0.5*rich)
	}
	if sink := 1 - v.mid/1.2; sink > 0 {
		h -= k.sunk * sink * sink
	}
	h -= k.pebble * far * far
	if up := 1 - inward/k.curled; up > 0 {
		h += k.curl * up * up
	}
	if k.ripple > 0 {
		out := min(1.2, math.Abs(y)/half)
		h += k.ripple * out * out * float64(wave(s/k.rippled+k.phase+0.35*wander+0.25*sideways(y)))
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

// wave is a wave of length 1 and height 1, near enough to a sine.
func wave(x float64) float64 {
	x -= math.Floor(x)
	x = 2*x - 1
	return 4 * x * (math.Abs(x) - 1)
}
