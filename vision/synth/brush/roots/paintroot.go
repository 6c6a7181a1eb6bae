package roots

import (
	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/medium"
	"traygauge/vision/synth/brush/num"
	"traygauge/vision/synth/brush/texture"
)

// rootBrush paints the roots of a drawing.
type rootBrush struct {
	*canvas.Painting
	look   *Look
	lamp   *canvas.Lamp
	ground *medium.Ground
	grain  texture.Field
	soil   num.RGB // of the dirt on roots
	over   float32 // how far roots reach over the plug's rim, texels
	clip   bool    // whether they end there
}

// paint paints one root and its shadow.
func (b *rootBrush) paint(r *root, o *own) {
	if !b.look.even {
		b.CastRibbon(&r.Ribbon, &canvas.Shadow{Depth: b.look.shadow, Lift: b.look.lift, Bury: r.bury, Gone: b.gone}, b.lamp)
	}
	b.Trace(&r.Ribbon, func(i int, t *canvas.Touch) { b.lay(r, o, i, t) })
}

// gone reports whether roots end before a place because it is too far over the rim.
func (b *rootBrush) gone(at num.Vec) bool {
	if at.X < 0 || at.Y < 0 || at.X >= canvas.Side || at.Y >= canvas.Side {
		return false
	}
	return b.clip && b.ground.Inside[int(at.Y)*canvas.Side+int(at.X)] < -b.over
}

// lay paints a root's part in one texel.
func (b *rootBrush) lay(r *root, o *own, i int, t *canvas.Touch) {
	at := float32(t.Along / float32(r.Step))
	k := min(int(at), len(r.Points)-2)
	f := at - float32(k)
	bury := num.Blend32(r.bury[k], r.bury[k+1], f)
	seen := b.seen(i, bury)
	if seen <= 0 {
		return
	}
	colour := num.Mix(r.own[k], r.own[k+1], f)
	if b.look.dirt > 0 {
		colour = b.dirty(colour, i, o)
	}
	light := colour
	if !b.look.even {
		light = num.Times(b.lit(colour, o, i, t), 1-float32(0.55*num.Ease(0.1, 0.9, bury)))
	}
	b.LayRoot(i, float32(t.Share()*seen), float32(t.Line*seen), light, num.IsBrown(colour))
}

// seen is the share of a root that the medium's crumbs and the plug's rim leave to be seen in a texel.
func (b *rootBrush) seen(i int, bury float32) float32 {
	seen := float32(1)
	if bury > 0.15 {
		const edge = 0.07 // of the medium's relief: about a texel
		seen = num.Ease(-edge, edge, 1.2-float32(1.5*bury)-b.ground.Cover[i])
	}
	if b.clip {
		seen = float32(seen * num.Within01(b.ground.Inside[i]+b.over+0.5))
	}
	return seen
}

// dirty is a root's colour with the soil that sticks to it.
func (b *rootBrush) dirty(colour num.RGB, i int, o *own) num.RGB {
	x, y := i%canvas.Side, i/canvas.Side
	patch := b.grain.At(float32(x+o.tone[0])*0.17, float32(y+o.tone[1])*0.17) + float32(0.5*b.grain.Nearest(x+o.tone[1], y))
	cover := num.Ease(0, 0.7, patch-1.6+float32(3*b.look.dirt))
	return num.Mix(colour, b.soil, float32(0.75*cover))
}

// lit is the light that a root sends back from one texel.
func (b *rootBrush) lit(colour num.RGB, o *own, i int, t *canvas.Touch) num.RGB {
	k := b.look
	u := float32(min(1, max(-1, t.Off/t.Half)) * min(1, float32(t.Half*0.8)))
	grain := b.grain.At(float32(0.22*t.Along)+float32(o.tone[0]), float32(0.5*t.Off)+float32(o.tone[1]))
	if k.ridges > 0 {
		wave := float32(u*3.3) + float32(0.15*grain)
		wave -= float32(int(wave+8) - 8)
		u += float32(k.ridges * (float32(max(wave-0.5, 0.5-wave)) - 0.25) * 1.2)
		u = min(1, max(-1, u))
	}
	nx, ny := float32(t.Nx*u*k.round), float32(t.Ny*u*k.round)
	nz := num.Sqrt32(max(0.02, 1-float32(nx*nx)-float32(ny*ny)))
	shade := 1 + float32(k.contrast*(b.lamp.On(nx, ny, nz)-1))
	sq := float32(u * u)
	shade = float32(shade * (1 - float32(k.rim*sq*sq)) * max(0.3, 1+float32(k.grain*grain)))
	light := num.Times(colour, shade)
	if o.clear > 0 {
		clear := float32(o.clear * (0.55 + float32(0.45*sq)))
		below := b.Light[i]
		light = num.Sum(num.Times(light, 1-float32(clear*0.8)), num.Times(below, clear))
		light = num.Times(light, 1+float32(k.core*(1-float32(2*sq))))
	}
	if k.gloss > 0 {
		ux, uy := float32(t.Nx*u), float32(t.Ny*u)
		m := b.lamp.Mirror(ux, uy, num.Sqrt32(max(0, 1-float32(ux*ux)-float32(uy*uy))), k.sharp)
		m = float32(m * k.gloss * num.Within01(0.5+float32(0.6*grain)))
		light = num.Sum(light, num.RGB{m, m, m})
	}
	return light
}

// hairs paints the faint fuzz of root hairs beside a root; fuzz is no root.
func (b *rootBrush) hairs(r *root, reach float64, amount float32, o *own) {
	fuzz := r.Ribbon
	fuzz.Half = make([]float32, len(r.Half))
	for i, h := range r.Half {
		fuzz.Half[i] = h + float32(reach*canvas.PerMM)
	}
	colour := num.Times(r.own[0], 0.9)
	b.Trace(&fuzz, func(i int, t *canvas.Touch) {
		at := min(int(t.Along/float32(r.Step)), len(r.Half)-1)
		far := max(t.Off, -t.Off) - r.Half[at]
		if far < -1 || r.bury[at] > 0.3 {
			return
		}
		hair := b.grain.At(float32(1.9*t.Along)+float32(o.tone[1]), float32(0.12*t.Off)+float32(o.tone[0]))
		amount := amount
		if b.clip {
			amount = float32(amount * num.Within01(b.ground.Inside[i]+b.over+0.5))
		}
		share := float32(float32(amount*t.Share()) * num.Within01(0.25+float32(0.8*hair)) * (1 - num.Ease(0, float32(reach*canvas.PerMM), far)))
		b.Light[i] = num.Mix(b.Light[i], colour, num.Within01(share))
	})
}
