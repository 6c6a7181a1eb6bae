package brush

// rootBrush paints the roots of a drawing.
type rootBrush struct {
	*painting
	look   *look
	lamp   *lamp
	ground *ground
	grain  field
	soil   rgb     // of the dirt on roots
	over   float32 // how far roots reach over the plug's rim, texels
	clip   bool    // whether they end there
}

// paint paints one root and its shadow.
func (b *rootBrush) paint(r *root, o *own) {
	if !b.look.even {
		b.castRibbon(&r.ribbon, &shadow{b.look.shadow, b.look.lift, r.bury, b.gone}, b.lamp)
	}
	b.trace(&r.ribbon, func(i int, t *touch) { b.lay(r, o, i, t) })
}

// gone reports whether roots end before a place because it is too far over the rim.
func (b *rootBrush) gone(at vec) bool {
	if at.x < 0 || at.y < 0 || at.x >= side || at.y >= side {
		return false
	}
	return b.clip && b.ground.inside[int(at.y)*side+int(at.x)] < -b.over
}

// lay paints a root's part in one texel.
func (b *rootBrush) lay(r *root, o *own, i int, t *touch) {
	at := float32(t.along / float32(r.step))
	k := min(int(at), len(r.points)-2)
	f := at - float32(k)
	bury := blend32(r.bury[k], r.bury[k+1], f)
	seen := b.seen(i, bury)
	if seen <= 0 {
		return
	}
	colour := mix(r.own[k], r.own[k+1], f)
	if b.look.dirt > 0 {
		colour = b.dirty(colour, i, o)
	}
	light := colour
	if !b.look.even {
		light = times(b.lit(colour, o, i, t), 1-float32(0.55*ease(0.1, 0.9, bury)))
	}
	b.layRoot(i, float32(t.share()*seen), float32(t.line*seen), light, isBrown(colour))
}

// seen is the share of a root that the medium's crumbs and the plug's rim leave to be seen in a texel.
func (b *rootBrush) seen(i int, bury float32) float32 {
	seen := float32(1)
	if bury > 0.15 {
		const edge = 0.07 // of the medium's relief: about a texel
		seen = ease(-edge, edge, 1.2-float32(1.5*bury)-b.ground.cover[i])
	}
	if b.clip {
		seen = float32(seen * within01(b.ground.inside[i]+b.over+0.5))
	}
	return seen
}

// dirty is a root's colour with the soil that sticks to it.
func (b *rootBrush) dirty(colour rgb, i int, o *own) rgb {
	x, y := i%side, i/side
	patch := b.grain.at(float32(x+o.tone[0])*0.17, float32(y+o.tone[1])*0.17) + float32(0.5*b.grain.nearest(x+o.tone[1], y))
	cover := ease(0, 0.7, patch-1.6+float32(3*b.look.dirt))
	return mix(colour, b.soil, float32(0.75*cover))
}

// lit is the light that a root sends back from one texel.
func (b *rootBrush) lit(colour rgb, o *own, i int, t *touch) rgb {
	k := b.look
	u := float32(min(1, max(-1, t.off/t.half)) * min(1, float32(t.half*0.8)))
	grain := b.grain.at(float32(0.22*t.along)+float32(o.tone[0]), float32(0.5*t.off)+float32(o.tone[1]))
	if k.ridges > 0 {
		wave := float32(u*3.3) + float32(0.15*grain)
		wave -= float32(int(wave+8) - 8)
		u += float32(k.ridges * (float32(max(wave-0.5, 0.5-wave)) - 0.25) * 1.2)
		u = min(1, max(-1, u))
	}
	nx, ny := float32(t.nx*u*k.round), float32(t.ny*u*k.round)
	nz := sqrt32(max(0.02, 1-float32(nx*nx)-float32(ny*ny)))
	shade := 1 + float32(k.contrast*(b.lamp.on(nx, ny, nz)-1))
	sq := float32(u * u)
	shade = float32(shade * (1 - float32(k.rim*sq*sq)) * max(0.3, 1+float32(k.grain*grain)))
	light := times(colour, shade)
	if o.clear > 0 {
		clear := float32(o.clear * (0.55 + float32(0.45*sq)))
		below := b.Light[i]
		light = sum(times(light, 1-float32(clear*0.8)), times(below, clear))
		light = times(light, 1+float32(k.core*(1-float32(2*sq))))
	}
	if k.gloss > 0 {
		ux, uy := float32(t.nx*u), float32(t.ny*u)
		m := b.lamp.mirror(ux, uy, sqrt32(max(0, 1-float32(ux*ux)-float32(uy*uy))), k.sharp)
		m = float32(m * k.gloss * within01(0.5+float32(0.6*grain)))
		light = sum(light, rgb{m, m, m})
	}
	return light
}

// hairs paints the faint fuzz of root hairs beside a root; fuzz is no root.
func (b *rootBrush) hairs(r *root, reach float64, amount float32, o *own) {
	fuzz := r.ribbon
	fuzz.half = make([]float32, len(r.half))
	for i, h := range r.half {
		fuzz.half[i] = h + float32(reach*perMM)
	}
	colour := times(r.own[0], 0.9)
	b.trace(&fuzz, func(i int, t *touch) {
		at := min(int(t.along/float32(r.step)), len(r.half)-1)
		far := max(t.off, -t.off) - r.half[at]
		if far < -1 || r.bury[at] > 0.3 {
			return
		}
		hair := b.grain.at(float32(1.9*t.along)+float32(o.tone[1]), float32(0.12*t.off)+float32(o.tone[0]))
		amount := amount
		if b.clip {
			amount = float32(amount * within01(b.ground.inside[i]+b.over+0.5))
		}
		share := float32(float32(amount*t.share()) * within01(0.25+float32(0.8*hair)) * (1 - ease(0, float32(reach*perMM), far)))
		b.Light[i] = mix(b.Light[i], colour, within01(share))
	})
}
