package relief

import "traygauge/vision/synth/closeup"

// picture lights and labels a whole drawing.
type picture struct {
	shader
	look
	*tubes
	*fuzz
	cast cast
	out  *closeup.Roots
}

func (p *picture) resolve() {
	var patch [across]float32
	for y := range side {
		p.patches.row(2*y, patch[:])
		for x := range side {
			p.texel(x, y, patch[2*x])
		}
	}
}

// texel mixes the light of its samples, and counts what they show.
func (p *picture) texel(x, y int, patch float32) {
	i := y*side + x
	b := p.blocks[i]
	light := rgb{}
	if b == nil {
		light = p.bare(x, y, patch)
	} else {
		light = p.mixed(b, x, y, patch)
	}
	light = light.times(p.cast.at((float32(x)+0.5)*texel, (float32(y)+0.5)*texel))
	p.out.Light[i] = closeup.RGB{light.r, light.g, light.b}
	p.out.Plug[i] = p.plugShare(x, y)
}

// plugShare is the share of a texel's samples in the height map that belong to a plug.
func (p *picture) plugShare(x, y int) float32 {
	if a := p.solid[reliefQuarter(x, y, 0)]; p.uniform(x, y) {
		return plugOrNot(p.palette[a].owner)
	}
	plug := float32(0)
	for q := range 4 {
		plug += 0.25 * plugOrNot(p.palette[p.solid[reliefQuarter(x, y, q)]].owner)
	}
	return plug
}

func plugOrNot(o owner) float32 {
	if o == ofPlug {
		return 1
	}
	return 0
}

// bare is the light of a texel without roots. Where all of it is of one material, two samples do, and one where that is smooth tray.
func (p *picture) bare(x, y int, patch float32) rgb {
	if p.uniform(x, y) {
		light := p.below(x, y, 3, patch)
		if p.palette[p.solid[reliefQuarter(x, y, 0)]].owner == ofPlug {
			light = light.plus(p.below(x, y, 0, patch)).times(0.5)
		}
		return light
	}
	light := rgb{}
	for q := range 4 {
		light = light.plus(p.below(x, y, q, patch))
	}
	return light.times(0.25)
}

// uniform reports whether a texel's samples in the height map are all of one material.
func (p *picture) uniform(x, y int) bool {
	i := reliefQuarter(x, y, 0)
	a := p.solid[i]
	return a == p.solid[i+1] && a == p.solid[i+across] && a == p.solid[i+across+1]
}

// below is the light of what lies below the roots in a texel's quarter, through the fuzz above it.
func (p *picture) below(x, y, q int, patch float32) rgb {
	i := y*side + x
	light := p.ground(2*x+q&1, 2*y+q>>1, i, patch)
	if p.fuzz != nil {
		light = light.toward(p.fuzz.light, p.fuzz.share[i])
	}
	return light
}

// mixed is the light of a texel with roots, and sets its labels.
func (p *picture) mixed(b *block, x, y int, patch float32) rgb {
	c := count{}
	for q := range 4 {
		p.quarter(b, x, y, q, patch, &c)
	}
	i := y*side + x
	p.out.White[i], p.out.Brown[i] = float32(c.white)/subs, float32(c.brown)/subs
	return c.light.times(1.0 / subs)
}

// count adds up what a texel's samples send back and show.
type count struct {
	light        rgb
	white, brown int
}

func (c *count) root(light rgb, brown bool, samples int) {
	c.light = c.light.add(light, float32(samples))
	if brown {
		c.brown += samples
	} else {
		c.white += samples
	}
}

// quarter adds a quarter of a texel: its four samples, those that show the same root's segment lit together.
func (p *picture) quarter(b *block, x, y, q int, patch float32, c *count) {
	first := firstOf(q)
	at := [4]int{first, first + 1, first + sub, first + sub + 1}
	bare := 0
	for _, k := range at {
		if b.segment[k] < 0 {
			bare++
		}
	}
	under := rgb{}
	if bare > 0 || p.clear > 0 {
		under = p.below(x, y, q, patch)
		c.light = c.light.add(under, float32(bare))
	}
	lit := [4]bool{}
	for i, k := range at {
		n := b.segment[k]
		if n < 0 || lit[i] {
			continue
		}
		sumX, sumY, samples := 0, 0, 0
		for j := i; j < 4; j++ {
			if b.segment[at[j]] == n {
				lit[j] = true
				sumX, sumY, samples = sumX+j&1, sumY+j>>1, samples+1
			}
		}
		px := float32((float32(sub*x+first%sub) + 0.5 + float32(sumX)/float32(samples)) * subEvery)
		py := float32((float32(sub*y+first/sub) + 0.5 + float32(sumY)/float32(samples)) * subEvery)
		light, brown := p.root(&p.segments[n], px, py, b.z[k], reliefQuarter(x, y, q), y*side+x, under)
		c.root(light, brown, samples)
	}
}
